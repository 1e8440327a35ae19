using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using System.Text;
using Commission.App.CommandLine;
using Commission.App.Screens;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;

namespace Commission.App.Rehearsal;

/// <summary><c>rehearse</c>: the program used on the practice machine, in a store that is thrown away unless it is kept.</summary>
internal sealed class RehearseVerb(Workbench bench, ProcedureLibrary library, IStores stores, ScreenVerbs screens, Func<Surroundings, IStores, Line> compose) : IVerb
{
    /// <inheritdoc/>
    public Command Declare()
    {
        var seed = new Option<string?>("--seed") { Description = "Seed of the practice machine and its operator", HelpName = "N" };
        var walk = Common.Offering(new Option<string[]?>("--walk")
        {
            Description = "Carry out the procedures named with the simulated operator; none named: the whole order of work",
            HelpName = "ID",
            Arity = ArgumentArity.ZeroOrMore,
            AllowMultipleArgumentsPerToken = true,
        }, () => OrderOfWork.Ids);
        var keep = new Option<bool>("--keep") { Description = "Keep the practice store in the folder named with --store" };
        var command = new Command("rehearse", "Use the program on the practice machine") { seed, walk, keep };
        command.SetAction((parsed, cancellation) => RunAsync(parsed, new Told(seed, walk, keep), cancellation));
        return command;
    }

    // Whoever reads: a person at the screens, a person at the questions, or the simulated one.
    private Task<int> RunAsync(ParseResult parsed, Told told, CancellationToken cancellation)
    {
        var answer = bench.Answer(parsed);
        var person = parsed.GetResult(told.Walk) is null && !answer.Json;
        var plain = person && parsed.GetValue(Common.Plain) && (bench.Here.InputIsTerminal || bench.Here.IsAnswered);
        var shown = person && !parsed.GetValue(Common.Plain) && screens.Refusal is null;
        return Common.Seed<ulong>(parsed.GetValue(told.Seed))
            .Then(number => (plain || shown ? ImmutableArray<WalkStation>.Empty : Stations(parsed.GetValue(told.Walk) ?? []))
                .Then(stations => Journal(parsed.GetValue(told.Keep), parsed.GetValue(Common.Store))
                    .Then(journal => SeedFor(journal, number, parsed.GetResult(told.Seed) is not null).Then<Func<Task<Outcome<int>>>>(seed =>
                        new Outcome<Func<Task<Outcome<int>>>>.Good(async () => plain ? await AnsweredAsync(parsed, journal, seed, cancellation).ConfigureAwait(false)
                            : shown ? screens.Show(parsed, journal, seed)
                            : Walked(journal, stations, seed, answer, person))))))
            .Match(
                async carried => (await carried().ConfigureAwait(false)).Match(code => code, problems => answer.Problems(problems)),
                problems => Task.FromResult(answer.Problems(problems)));
    }

    private async Task<int> AnsweredAsync(ParseResult parsed, IJournal journal, ulong seed, CancellationToken cancellation)
    {
        if (journal.ReadOnlyReason is { } reason)
        {
            journal.Dispose();
            return bench.Answer(parsed).Problem("the practice store can only be read: " + reason, "Close the other program, or practise in another folder", ExitCode.Failed);
        }

        var room = PracticeRoom.Of(journal, seed, stores, bench.Here.Clock, bench.Here.PracticeScale);
        var here = bench.Here with { Practice = room, Ports = room.Port, PortNames = room };
        string[] units = parsed.GetValue(Common.Units) is { } named ? ["--units", named] : [];
        string[] agreed = parsed.GetValue(Common.Yes) ? ["--yes"] : [];
        return await compose(here, room).RunAsync(["--plain", .. units, .. agreed], cancellation).ConfigureAwait(false);
    }

    private sealed record Told(Option<string?> Seed, Option<string[]?> Walk, Option<bool> Keep);

    private Outcome<int> Walked(IJournal journal, ImmutableArray<WalkStation> stations, ulong seed, Answer answer, bool screensWanted)
    {
        using (journal)
        {
            if (screensWanted)
                bench.Here.Out.WriteLine("Without a usable terminal the simulated operator walks.");
            return new Walk(journal, bench.Here.Out).Run(stations, PracticeRecord.Bench(journal.Present(null).Ledger, seed), seed).Then<int>(results =>
            {
                if (answer.Json)
                    bench.Here.Out.WriteLine(WalkDocument.Write(seed, results));
                return ExitCode.Done;
            });
        }
    }

    private Outcome<IJournal> Journal(bool keep, string? folder)
    {
        if (!keep)
            return new MemoryJournal(StoreNature.Practice, "practice", ProgramVersion.Number, bench.Here.Clock);
        return folder is null
            ? new Problem("a practice store that is kept needs a folder of its own", "Name it with --store DIR")
            : stores.Open(folder, StoreNature.Practice, write: true).Then<IJournal>(store => new Outcome<IJournal>.Good(store));
    }

    // A kept store belongs to one machine: its seed goes on.
    private static Outcome<ulong> SeedFor(IJournal journal, ulong asked, bool typed)
    {
        if (PracticeRecord.SeedOf(journal.Present(null).Ledger) is not { } kept || (typed && kept == asked))
            return asked;
        if (!typed)
            return kept;
        journal.Dispose();
        return new Problem($"the practice store belongs to the machine of seed {kept}", "Leave --seed out, or name another folder with --store");
    }

    // None named: everything of the order of work that the library holds.
    private Outcome<ImmutableArray<WalkStation>> Stations(string[] named)
    {
        var shelf = library.All();
        var ids = named.Length > 0 ? named : [.. OrderOfWork.Ids.Where(id => shelf.Entries.Any(entry => entry.Procedure.Id == id))];
        var problems = new List<Problem>();
        var stations = ImmutableArray.CreateBuilder<WalkStation>();
        foreach (var id in ids)
        {
            shelf.Find(id).Match(
                entry => { stations.Add(new WalkStation(entry.Procedure, Sha256.Hex(Encoding.UTF8.GetBytes(entry.Text.Text)))); return 0; },
                bad => { problems.AddRange(bad); return 0; });
        }

        return problems.Count > 0 ? new Outcome<ImmutableArray<WalkStation>>.Bad([.. problems]) : stations.ToImmutable();
    }
}
