using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Workshop.Ports;
using static System.FormattableString;

namespace Commission.Workshop.Requests;

/// <summary>Takes back a finding, a hand study, a change, an exclusion or a replacement: by a new entry that names the old one. What stood before counts again.</summary>
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
        if (named.Body is not (EntryBody.FindingMade or EntryBody.StudyMade or EntryBody.ChangeTold or EntryBody.Excluded or EntryBody.Superseded))
            return new Problem(Invariant($"entry {number} is neither a finding nor a change nor an exclusion"), "Exclude or replace a reading instead; what was done stays in the journal");
        Outcome<JournalEntry> Withdrawn(JournalEntry entry) =>
            journal.Append(new EntryBody.Withdrawn(entry.Sequence, reason) { Machine = entry.Body.Machine, Operator = by, Run = entry.Body.Run });
        return OtherHalf(named) is { } other ? Withdrawn(other).Then(_ => Withdrawn(named)) : Withdrawn(named);
    }

    // A hand study stands in the journal twice: as the finding, and under operator and instrument, where later fits look for it. Neither counts without the other.
    private JournalEntry? OtherHalf(JournalEntry named)
    {
        var study = named.Body is EntryBody.StudyMade;
        if (named.Body.Run is not { } run || !(study || IsHandStudy(named.Body)))
            return null;
        var ofRun = journal.Entries(run).Where(entry => entry.Body.Run == run || entry.Body is EntryBody.Withdrawn).ToList();
        return ofRun.Find(entry => (study ? IsHandStudy(entry.Body) : entry.Body is EntryBody.StudyMade)
            && !ofRun.Exists(back => back.Body is EntryBody.Withdrawn withdrawn && withdrawn.Finding == entry.Sequence));
    }

    private static bool IsHandStudy(EntryBody body) => body is EntryBody.FindingMade made && CharacteristicKinds.Find(made.Characteristic) is { IsHandStudy: true };
}
