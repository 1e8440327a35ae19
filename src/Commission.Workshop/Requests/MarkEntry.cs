using Commission.Core;
using Commission.Core.History;
using Commission.Workshop.Ports;
using static System.FormattableString;

namespace Commission.Workshop.Requests;

/// <summary>Leaves a reading out, or writes a note to an entry: each by a new entry that names the old one.</summary>
public sealed class MarkEntry(IJournal journal)
{
    /// <summary>Leaves a reading out of every finding made from now on.</summary>
    /// <param name="number">Sequence of the reading.</param>
    /// <param name="reason">Why, in words.</param>
    /// <param name="by">Handle of the person; null where none is named.</param>
    public Outcome<JournalEntry> Exclude(long number, string reason, string? by = null)
    {
        if (string.IsNullOrWhiteSpace(reason))
            return new Problem("leaving a reading out needs its reason", "Say in a few words what was wrong with it; a value that only looks odd is no reason");
        return Ledger.From(journal.Entries()).Readings.TryGetValue(number, out var reading)
            ? reading.Counts
                ? journal.Append(new EntryBody.Excluded(number, reason) { Machine = reading.Taken.Body.Machine, Operator = by, Run = reading.Taken.Body.Run })
                : new Problem(Invariant($"the reading of entry {number} does not count already"), "Nothing has to be done")
            : new Problem(Invariant($"entry {number} is no reading"), "See history show of the run for its readings");
    }

    /// <summary>Writes a note.</summary>
    /// <param name="machine">The machine of a free note; null for the only one, or none.</param>
    /// <param name="about">Sequence of the entry it speaks of; null for a free note.</param>
    /// <param name="text">The words.</param>
    /// <param name="by">Handle of the person; null where none is named.</param>
    public Outcome<JournalEntry> Note(string? machine, long? about, string text, string? by = null)
    {
        if (string.IsNullOrWhiteSpace(text))
            return new Problem("the note is empty", "Write a few words");
        if (about is not { } number)
            return journal.Append(new EntryBody.Noted(null, text) { Machine = machine, Operator = by });
        return journal.Entries().FirstOrDefault(entry => entry.Sequence == number) is { } named
            ? journal.Append(new EntryBody.Noted(about, text) { Machine = named.Body.Machine, Operator = by, Run = named.Body.Run })
            : new Problem(Invariant($"there is no entry {number}"), "See history list --all");
    }
}
