using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Upkeep;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>How a machine's results stand, and what to do next.</summary>
/// <param name="Machine">The machine.</param>
/// <param name="States">All states in the order of work.</param>
/// <param name="Next">What is to be done, first things first.</param>
/// <param name="Skips">Skips that nothing has made good yet.</param>
/// <param name="WorkArea">Position error at the worst corner of the work area.</param>
/// <param name="CrossChecks">Results of different procedures for one quantity.</param>
public sealed record Standings(
    Machine Machine, ImmutableArray<ResultState> States, ImmutableArray<NextWork> Next, ImmutableArray<SkipRecord> Skips, WorkArea WorkArea, ImmutableArray<CrossCheck> CrossChecks);

/// <summary>Answers how the results of a machine stand at an instant.</summary>
public sealed class WhatIsNext(IJournal journal)
{
    /// <summary>The standings.</summary>
    /// <param name="machine">The machine; null for the only one.</param>
    /// <param name="at">The instant; only age depends on it.</param>
    public Outcome<Standings> Run(string? machine, DateTimeOffset at) => ChooseMachine.Present(journal, machine).Then<Standings>(chosen =>
    {
        var (described, present) = chosen;
        var upkeep = new MachineUpkeep(present.Upkeep, described, at, journal.Limits);
        return new Standings(described, upkeep.All, NextWork.For(upkeep), [.. present.Ledger.OpenSkips.Where(skip => skip.Made.Body.Machine == described.Name)],
            WorkArea.Of(present.Ledger, described, journal.Limits).By(upkeep), CrossCheck.All(present.Ledger, described.Name));
    });
}
