using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Procedures;

namespace Commission.Workshop.Sessions;

/// <content>What an entry was to be followed by when the program ended between the two.</content>
public sealed partial class ProcedureSession
{
    private const string Corrected = "corrected: ";

    /// <summary>A reading that was left out, or taken back, counts again: by an entry that names the one it undoes.</summary>
    /// <param name="sequence">Sequence of the reading.</param>
    public Outcome<ProcedureRun> PutBack(long sequence) =>
        journal.Entries().LastOrDefault(entry => entry.Body is EntryBody.Excluded left && left.Reading == sequence || entry.Body is EntryBody.Superseded old && old.Reading == sequence) is { } undone
            ? Happening(new RunEvent.PutBack(sequence), () => new EntryBody.Withdrawn(undone.Sequence, "undone"))
            : new Problem("there is nothing to put back", "Answer what is asked");

    // One answer may make two entries. Where only the first reached the medium, the second is written when the run is taken up.
    private Outcome<ProcedureRun> Recovered(ImmutableArray<JournalEntry> own)
    {
        foreach (var entry in Unnamed(own))
        {
            if (Append(entry) is Outcome<JournalEntry>.Bad bad) return new Outcome<ProcedureRun>.Bad(bad.Problems);
        }

        return Following(endIsToBeTold: true);
    }

    // Facts are told again only if nothing else was told since: a description edited afterwards is newer than the run.
    private static Machine Settled(ProcedureRun fresh, RunRecord open, ImmutableArray<JournalEntry> entries)
    {
        var settled = entries.LastOrDefault(entry => entry.Body is EntryBody.MachineDescribed || entry.Body.Run != open.Sequence)?.Sequence ?? 0;
        return SessionReplay.Replayed(fresh, entries.Where(entry => entry.Body.Run == open.Sequence && entry.Sequence <= settled)).Machine;
    }

    // Corrected readings stand in the journal before the entry that says which one they take the place of.
    private IEnumerable<EntryBody.Superseded> Unnamed(ImmutableArray<JournalEntry> own)
    {
        var named = own.Select(entry => entry.Body).OfType<EntryBody.Superseded>().Select(superseded => superseded.Reading).ToHashSet();
        return from reading in Run.Readings
               where reading.Superseded?.StartsWith(Corrected, StringComparison.Ordinal) == true && !named.Contains(reading.Sequence)
               let taking = Run.Readings.First(one => one.Sequence > reading.Sequence && one.Step == reading.Step && one.CellIndex == reading.CellIndex)
               select new EntryBody.Superseded(reading.Sequence, taking.Sequence, reading.Superseded!);
    }
}
