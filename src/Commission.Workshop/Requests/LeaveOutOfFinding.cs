using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>Leaves a reading out that a finding names, and makes the finding anew from the rest. Both are new entries; the old finding stays readable.</summary>
/// <param name="journal">The journal.</param>
/// <param name="kinds">Finds a kind of characteristic by id.</param>
public sealed class LeaveOutOfFinding(IJournal journal, Func<string, CharacteristicKind?> kinds)
{
    /// <summary>Leaves it out. Where the rest gives no finding nothing is written.</summary>
    /// <param name="made">The finding.</param>
    /// <param name="reading">Sequence of the reading.</param>
    /// <param name="reason">Why, in words.</param>
    /// <param name="by">Handle of the person; null where none is named.</param>
    /// <returns>The entry of the new finding.</returns>
    public Outcome<JournalEntry> Run(Entered<EntryBody.FindingMade> made, long reading, string reason, string? by)
    {
        if (string.IsNullOrWhiteSpace(reason))
            return new Problem("leaving a reading out needs its reason", "Say in a few words what was wrong with it; a value that only looks odd is no reason");
        var ledger = Ledger.From(journal.Entries());
        var readings = made.Body.Readings.Select(sequence => ledger.Readings.GetValueOrDefault(sequence)).OfType<ReadingRecord>()
            .Select(one => one.Sequence == reading ? one with { Standing = new ReadingStanding.Excluded(long.MaxValue, reason) } : one).ToList();
        if (kinds(made.Body.Finding.Kind) is not { } kind || readings.Count != made.Body.Readings.Length)
            return new Problem("the readings of the finding are not at hand", "Begin the procedure anew");
        var machine = made.Body.Machine is { } name && ledger.Machines.TryGetValue(name, out var known) ? known.Description : null;
        return new JudgeReadings(ledger, machine) { OfRun = made.Body.Run, InsteadOf = made.Sequence }.Run(kind, Recompute.Table(made, readings, kind, since: true), made.Body.Options)
            .Then(judged => new MarkEntry(journal).Exclude(reading, reason, by)
                .Then(_ => journal.Append(made.Body with { Finding = judged.Finding, Options = judged.Options, Operator = by })));
    }
}
