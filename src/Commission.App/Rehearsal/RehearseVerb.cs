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
internal sealed class RehearseVerb(Workbench bench, ProcedureLibrary library, IStores stores, ScreenVerbs screens) : IVerb
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
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            var shown = parsed.GetResult(walk) is null && !answer.Json && screens.Refusal is null;
            var outcome = Common.Seed<ulong>(parsed.GetValue(seed)).Then(number => (shown ? ImmutableArray<WalkStation>.Empty : Stations(parsed.GetValue(walk) ?? [])).Then(stations =>
                Journal(parsed.GetValue(keep), parsed.GetValue(Common.Store)).Then(journal => SeedFor(journal, number, parsed.GetResult(seed) is not null).Then(number => shown
                    ? screens.Show(parsed, journal, number)
                    : Walked(journal, stations, number, answer, parsed.GetResult(walk) is null)))));
            return outcome.Match(code => code, problems => answer.Problems(problems));
        });
        return command;
    }

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
