using Commission.Core;
using Commission.Core.History;
using Commission.Workshop.Ports;
using static System.FormattableString;

namespace Commission.Workshop.Requests;

/// <summary>Takes back a finding, a change, an exclusion or a replacement: by a new entry that names the old one. What stood before counts again.</summary>
public sealed class WithdrawEntry(IJournal journal)
{
    /// <summary>Takes an entry back.</summary>
    /// <param name="number">Sequence of the entry.</param>
    /// <param name="reason">Why, in words.</param>
    /// <param name="by">Handle of the person; null where none is named.</param>
    public Outcome<JournalEntry> Run(long number, string reason, string? by = null)
    {
        if (string.IsNullOrWhiteSpace(reason))
            return new Problem("a withdrawal needs its reason", "Say in a few words why the entry does not count");
        // What names an entry stands after it.
        var entries = journal.Entries(number).ToList();
        if (entries.Find(entry => entry.Sequence == number) is not { } named)
            return new Problem(Invariant($"there is no entry {number}"), "See history list --all");
        if (entries.Exists(entry => entry.Body is EntryBody.Withdrawn before && before.Finding == number))
            return new Problem(Invariant($"entry {number} was withdrawn before"), "Nothing has to be done");
        return named.Body is EntryBody.FindingMade or EntryBody.ChangeTold or EntryBody.Excluded or EntryBody.Superseded
            ? journal.Append(new EntryBody.Withdrawn(number, reason) { Machine = named.Body.Machine, Operator = by, Run = named.Body.Run })
            : new Problem(Invariant($"entry {number} is neither a finding nor a change nor an exclusion"), "Exclude or replace a reading instead; what was done stays in the journal");
    }
}
