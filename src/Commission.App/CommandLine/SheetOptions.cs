using System.Collections.Immutable;
using System.CommandLine;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Core.Procedures.Aids;
using Commission.Core.Quantities;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary><c>procedure show ID --sheet</c>: this machine's positions with boxes to write into, and the lines and tables that go with them, printed or as files.</summary>
internal sealed class SheetOptions
{
    private readonly Option<bool> sheet = new("--sheet") { Description = "As a sheet to print, with this machine's positions and empty boxes" };
    private readonly Option<string?> axis = Common.Axis("X, Y or Z, for a procedure of one axis");
    private readonly Option<string?> instrument = new("--instrument") { Description = "With --sheet: the instrument that the positions are to suit", HelpName = "NAME" };
    private readonly Option<string?> folder = new("--out") { Description = "With --sheet: a folder for the lines and tables that steps make", HelpName = "DIR" };

    /// <summary>Adds the options to the command.</summary>
    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[sheet, axis, instrument, folder]) command.Add(option);
    }

    /// <summary>Whether a sheet is asked for.</summary>
    public bool Wanted(ParseResult parsed) => parsed.GetValue(sheet);

    /// <summary>The axis that is named; none where it is left out.</summary>
    public Outcome<RunVerb.Maybe<AxisName?>> Axis(ParseResult parsed) => RunVerb.Axis(parsed.GetValue(axis));

    /// <summary>The lines of the sheet; the data are written to files where a folder is named.</summary>
    public Outcome<ImmutableArray<string>> Lines(Workbench bench, ParseResult parsed, Procedure procedure) =>
        bench.Ledger(parsed).Then(ledger => ChooseMachine.From(ledger, parsed.GetValue(Common.Machine))
            .Then(machine => Axis(parsed)
                .Then(chosen => RunVerb.Named(ledger, parsed.GetValue(instrument))
                    .Then(used =>
                    {
                        var setting = new RunSetting { Machine = machine, Axis = chosen.Value, Instrument = used.Value, Owned = [.. ledger.Kit.Select(owned => owned.Kind)], GreatestFeeds = FoundSpeeds.Of(ledger, machine.Name) };
                        return SheetText.Lines(procedure, setting).Then(lines => Written(bench, parsed, procedure, setting).Then<ImmutableArray<string>>(paths => lines.AddRange(paths)));
                    }))));

    private Outcome<ImmutableArray<string>> Written(Workbench bench, ParseResult parsed, Procedure procedure, RunSetting setting)
    {
        if (parsed.GetValue(folder) is not { } into) return ImmutableArray<string>.Empty;
        var paths = ImmutableArray.CreateBuilder<string>();
        foreach (var data in SheetText.Data(procedure, setting))
        {
            if (Write(bench, into, data) is Outcome<string>.Bad bad) return new Outcome<ImmutableArray<string>>.Bad(bad.Problems);
            paths.Add($"Written: {Words.Clean(Path.Combine(into, data.Name))}");
        }

        return paths.ToImmutable();
    }

    private static Outcome<string> Write(Workbench bench, string folder, WorkData data) =>
        bench.Files.Write(Path.Combine(folder, data.Name), string.Join('\n', data.Lines) + "\n");
}
