using System.CommandLine;
using System.Text;
using Commission.Adapters.Storage;
using Commission.App.CommandLine;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Pages;

namespace Commission.App.Screens;

/// <summary>The two ways into the screens: no verb at all, and <c>rehearse</c>.</summary>
internal sealed class ScreenVerbs(Workbench bench, ProcedureLibrary library, IStores stores)
{
    /// <summary>Why the screens cannot be shown; null where they can.</summary>
    public Problem? Refusal => TerminalCheck.Refusal(
        bench.Here.InputIsTerminal && bench.Here.OutputIsTerminal ? TerminalCheck.Here() : TerminalCheck.Here() with { Attached = false });

    /// <summary>The screens over the store that is meant; the terminal is looked at first: a refusal must not leave an empty store behind.</summary>
    public Task<int> Open(ParseResult parsed, CancellationToken cancellation)
    {
        var answer = bench.Answer(parsed);
        return Task.FromResult(Refusal is { } refusal
            ? answer.Problems([refusal])
            : stores.Open(bench.Folder(parsed), StoreNature.Real, write: true).Then(store => Show(parsed, store, 0)).Match(code => code, problems => answer.Problems(problems)));
    }

    /// <summary>The screens over a journal, which is closed afterwards.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="journal">The journal.</param>
    /// <param name="seed">Seed of the practice machine; a real one has none.</param>
    /// <param name="start">The procedure whose card is shown first; null for the bench.</param>
    public Outcome<int> Show(ParseResult parsed, IJournal journal, ulong seed, ScreenStart? start = null)
    {
        using (journal)
        {
            // The procedures are read while the terminal is taken: each is half of the way to the first screen.
            var shelf = Task.Run(library.All);
            var shown = ScreenProgram.Run(parsed.GetValue(Common.Plain), () => new ScreenOptions
            {
                Journal = journal, Seed = seed, Start = start, Operator = start?.Operator, KnownPorts = Ports(journal, start?.Controller), Files = bench.Files, Link = start?.Controller is { } named ? Link() with { Addresses = () => [named] } : Link(), Machine = parsed.GetValue(Common.Machine),
                Units = parsed.GetValue(Common.Units) is { } unit ? MachineWords.Units[unit] : null,
                Procedures = [.. shelf.GetAwaiter().GetResult().Entries.Select(entry => entry.Procedure).OrderBy(procedure => OrderOfWork.Place(procedure.Id))],
                Hash = procedure => HashOf(library.All().Entries.First(entry => entry.Procedure.Id == procedure.Id).Text.Text),
                Shipped = library.Shipped,
            });
            bench.Tell(parsed, library.All().Problems);
            return shown;
        }
    }

    private static IKnownPorts? Ports(IJournal journal, ControllerAddress? named)
    {
        var kept = journal is IStoreFolder { Folder: var folder } && journal.ReadOnlyReason is null ? new KnownPortsFile(folder) : null;
        return named is null ? kept : new NamedPort(named, kept);
    }

    // Ports that exist with the dialects that ship; none is opened by being listed.
    private LinkMeans Link()
    {
        var connect = new ConnectController(bench.Here.Ports, bench.Files, bench.Here.Clock);
        return new LinkMeans
        {
            Make = (tell, journal, machine) => new LinkDesk(connect, tell, journal, machine),
            Named = name => IsThere(name, OperatingSystem.IsWindows() ? bench.Here.PortNames.List() : null) ? [.. ShippedDialects.Names.Select(dialect => new ControllerAddress(name, dialect))] : [],
            Addresses = () => [.. bench.Here.PortNames.List().SelectMany(port => ShippedDialects.Names.Select(dialect => new ControllerAddress(port.Name, dialect)))],
        };
    }

    /// <summary>Whether a port is there.</summary>
    /// <param name="name">Its name, or its path.</param>
    /// <param name="listed">The ports of a system where ports are no files, in capitals or not; null where they are.</param>
    internal static bool IsThere(string name, IReadOnlyList<PortName>? listed) =>
        listed is null ? File.Exists(name) : listed.Any(port => port.Name.Equals(name, StringComparison.OrdinalIgnoreCase));

    private static string HashOf(string text)
    {
        Span<byte> hash = stackalloc byte[32];
        Sha256.Hash(Encoding.UTF8.GetBytes(text), hash);
        return Convert.ToHexStringLower(hash);
    }
}
