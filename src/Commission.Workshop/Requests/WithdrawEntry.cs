using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Upkeep;
using Commission.Workshop.Ports;
using static System.FormattableString;

namespace Commission.Workshop.Requests;

/// <summary>Takes back a finding, a hand study, a change, a setting that was told, an exclusion or a replacement: by a new entry that names the old one. What stood before counts again.</summary>
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
        if (!Takes(named.Body))
            return named.Body is EntryBody.SettingWritten
                ? new Problem(Invariant($"entry {number} is what was written to the controller, and is not taken back by words"), "Put the old number back over the link, or tell the number that holds now")
                : new Problem(Invariant($"entry {number} is neither a finding nor a change nor an exclusion"), "Exclude or replace a reading instead; what was done stays in the journal");
        Outcome<JournalEntry> Withdrawn(JournalEntry entry) =>
            journal.Append(new EntryBody.Withdrawn(entry.Sequence, reason) { Machine = entry.Body.Machine, Operator = by, Run = entry.Body.Run });
        return OtherHalf(named) is { } other ? Withdrawn(other).Then(_ => Withdrawn(named)) : Withdrawn(named);
    }

    /// <summary>Whether an entry can be taken back: what was found, judged or told. What was done in the world cannot.</summary>
    public static bool Takes(EntryBody body) =>
        body is EntryBody.FindingMade or EntryBody.StudyMade or EntryBody.ChangeTold or EntryBody.Excluded or EntryBody.Superseded || (body is EntryBody.SettingWritten setting && setting.IsTold());

    /// <summary>What a ratio that was told and taken back still stands in: a description of the machine that was entered after it, with its number. A sentence, or nothing.</summary>
    /// <param name="ledger">The ledger after the withdrawal.</param>
    /// <param name="entry">What was taken back.</param>
    public static string StillDescribed(Ledger ledger, JournalEntry entry) => entry.Body is EntryBody.SettingWritten { Machine: { } name } told
        && StaleTable.ChangeOf(told.Name) == ChangedNumber.StepsChanged && MachineWords.Axis(told.Axis) is { } axis
        && ledger.Machines.TryGetValue(name, out var machine) && machine.Described.Sequence > entry.Sequence && machine.Description[axis].StepsPerMm is { } ratio
            ? Invariant($"{name} is still described with {ratio:0.######} steps per mm on {axis}.") : "";

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
