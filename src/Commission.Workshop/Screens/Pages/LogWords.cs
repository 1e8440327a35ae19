using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Entries of the journal in the words of the log.</summary>
public static class LogWords
{
    private const string Practice = "practice machine:";

    /// <summary>Whether an entry is an event in the machine's life: what somebody who comes back wants to read first.</summary>
    public static bool IsEvent(EntryBody body) => body is EntryBody.FindingMade or EntryBody.ChangeTold or EntryBody.SettingWritten or EntryBody.Stopped or EntryBody.Skipped or EntryBody.Withdrawn;

    /// <summary>An entry in a few words, with what is at hand on a desk.</summary>
    public static string Of(EntryBody body, Desk desk) => IsHidden(body, desk) && body is EntryBody.ReadingTaken reading
        ? $"reading {reading.Number}{(Subject(reading, desk.EntryAt) is { } of ? " of " + of : "")}, hidden until the study ends: {Told(reading.Place, desk.Units)}" : Of(body, desk.Units, desk.Ledger, desk.Means.Procedures, desk.EntryAt);

    /// <summary>Whether an entry is a reading of a study of the hand that has not ended: who sees it reads towards it.</summary>
    internal static bool IsHidden(EntryBody body, Desk desk) => body is EntryBody.ReadingTaken { Run: { } number } && desk.Ledger.Runs.TryGetValue(number, out var run) && run.Standing is RunStanding.Open or RunStanding.PutAside
        && desk.Means.Procedures.FirstOrDefault(procedure => procedure.Id == run.Started.Body.Procedure)?.IsBlind() == true;

    /// <summary>An entry in a few words.</summary>
    /// <param name="body">The entry.</param>
    /// <param name="units">Units to show it in; millimetres where not told.</param>
    /// <param name="ledger">What the journal amounts to: units of settings are read there. Null where it is not at hand.</param>
    /// <param name="procedures">Procedures at hand: units of numbers that were told stand in their steps. Null where none are.</param>
    /// <param name="at">Finds an entry by its sequence, so that one that names another tells which; null where none is at hand.</param>
    public static string Of(EntryBody body, ShownUnits? units = null, Ledger? ledger = null, IReadOnlyList<Procedure>? procedures = null, Func<long, JournalEntry?>? at = null) => body switch
    {
        _ when body.Begun() is { } move => EntryBody.Noted.MoveBegun + Told(move, units),
        EntryBody.StoreBorn born => $"store begun, {(born.Nature == StoreNature.Practice ? "practice" : "real")}",
        EntryBody.MachineDescribed described => $"machine {described.Description.Name} described",
        EntryBody.InstrumentDescribed described => $"instrument {described.Description.Name}",
        EntryBody.RunStarted run => $"{Plain(run.Procedure)}{(run.Axis is { } axis ? " " + axis : "")} begun",
        EntryBody.RunEnded ended => $"run {ended.How.Replace('-', ' ')}{(ended.Reason is null ? "" : ": " + ended.Reason)}",
        EntryBody.ReadingTaken reading => $"{ReadingName.Of(reading, Subject(reading, at), units)}: {Shown.Reading(reading, units)}",
        EntryBody.Superseded superseded => $"{Reading(superseded.Reading, units, at)} replaced: {Told(superseded.Reason, units)}",
        EntryBody.Excluded excluded => $"{Reading(excluded.Reading, units, at)} left out: {excluded.Reason}",
        EntryBody.FindingMade made => $"finding {FindingPage.Named(made)}: {Shown.Parameter(Signs.Told(made.Finding.Headline), units: units)}",
        // What the practice machine really is stands in its first note, so that a kept store goes on with it; reading it would tell the answers.
        EntryBody.Noted { Text: var text } when text.StartsWith(Practice, StringComparison.Ordinal) => "note: the practice machine as it was set up",
        EntryBody.Noted { Text: var text } when text.StartsWith(SessionReplay.Question, StringComparison.Ordinal) => "note: " + Told(text, units),
        EntryBody.Noted { Run: not null, Text: EntryBody.Noted.TakenBack, About: { } answer } => $"answer taken back: {Other(answer, units, ledger, procedures, at)}",
        EntryBody.Noted { Text: EntryBody.Noted.TakenBack, About: { } undone } => $"taken back: {Other(undone, units, ledger, procedures, at)}",
        EntryBody.Noted noted => "note: " + noted.Text,
        EntryBody.Checked check => $"check {Plain(check.Check)}: {CheckText.Found(check, units ?? ShownUnits.Millimetres)}, {(check.Passed ? "in" : "OUT")}",
        EntryBody.Skipped skipped => $"skipped {Plain(skipped.Check ?? skipped.Step)}: {skipped.Reason}",
        EntryBody.ChangeTold change => "change, " + Told(change),
        EntryBody.SettingWritten written => string.Create(CultureInfo.InvariantCulture, $"setting {SettingName.InWords(written.Name, written.Axis)}: {written.After:0.####}{(ledger is null ? "" : SettingWords.UnitOf(ledger, written))} ({StageOf(written)})"),
        EntryBody.Stopped stopped => $"STOP: {Told(stopped.Why, units)}{(stopped.Answer is { } answer ? "; " + answer : "")}",
        EntryBody.Confirmed { Step: "hazards" } => "hazards read, and what they ask is done",
        EntryBody.Confirmed { Answer: SessionReplay.Done or SessionReplay.Set } confirmed => "done: " + Plain(confirmed.Step),
        // What was set stands in an entry of its own, with its unit.
        EntryBody.Confirmed { Answer: var set } confirmed when set.StartsWith(SessionReplay.Set + " ", StringComparison.Ordinal) => "done: " + Plain(confirmed.Step),
        EntryBody.Confirmed confirmed => $"told: {Plain(confirmed.Step)}, {Fact(confirmed, units, procedures)}",
        EntryBody.Moved moved => "moved " + Told(moved.Move, units),
        EntryBody.StudyMade study => $"hand study of {study.Study.Operator} with {study.Study.Instrument}",
        EntryBody.Withdrawn withdrawn => $"taken back, {withdrawn.Reason}: {Other(withdrawn.Finding, units, ledger, procedures, at)}",
        EntryBody.SettingsSaved saved => string.Create(CultureInfo.InvariantCulture, $"{saved.Settings.Length} settings saved"),
        EntryBody.OperatorEntered person => $"at the keys: {person.Handle}",
        _ => "entry",
    };

    private static string? Subject(EntryBody.ReadingTaken reading, Func<long, JournalEntry?>? at) =>
        reading.Run is { } run && at?.Invoke(run)?.Body is EntryBody.RunStarted started ? ReadingName.Subject(started) : null;

    private static string Reading(long sequence, ShownUnits? units, Func<long, JournalEntry?>? at) =>
        at?.Invoke(sequence)?.Body is EntryBody.ReadingTaken reading ? ReadingName.Of(reading, Subject(reading, at), units) : "reading";

    // An entry that is named, in its own words; where it is not at hand, by its number.
    private static string Other(long sequence, ShownUnits? units, Ledger? ledger, IReadOnlyList<Procedure>? procedures, Func<long, JournalEntry?>? at) =>
        at?.Invoke(sequence) is { Body: not (EntryBody.Withdrawn or EntryBody.Noted { Text: EntryBody.Noted.TakenBack }) } other ? Of(other.Body, units, ledger, procedures, at) : string.Create(CultureInfo.InvariantCulture, $"entry {sequence}");

    private static string Told(string text, ShownUnits? units) => (units ?? ShownUnits.Millimetres).Told(text);

    // Names of steps, checks and procedures as words; of a step that comes once for each axis, or again and again, which one.
    private static string Plain(string name)
    {
        var parts = name.Split('/');
        var which = string.Concat(parts[..^1].Where(part => part is "X" or "Y" or "Z" || int.TryParse(part, NumberStyles.None, CultureInfo.InvariantCulture, out _)).Select(part => " " + part));
        return parts[^1].Replace('-', ' ') + which;
    }

    // A number that is a fact of the machine has the unit of that fact.
    private static string Fact(EntryBody.Confirmed confirmed, ShownUnits? units, IReadOnlyList<Procedure>? procedures)
    {
        var step = confirmed.Step.Split('/')[^1];
        var kept = procedures?.SelectMany(procedure => procedure.AllSteps).OfType<Step.Set>().Where(set => set.Name == step).Select(set => MachineFacts.All.GetValueOrDefault(set.Fact)?.Unit).OfType<string>().Where(unit => unit.Length > 0).Distinct().ToList();
        if (kept is not [var unit] || !double.TryParse(confirmed.Answer, NumberStyles.Float, CultureInfo.InvariantCulture, out var value))
            return confirmed.Answer;
        var (shown, symbol) = (units ?? ShownUnits.Millimetres).Show(value, unit);
        return string.Create(CultureInfo.InvariantCulture, $"{shown:0.######} {symbol}");
    }

    private static string StageOf(EntryBody.SettingWritten written) => written.Stage switch
    {
        EntryBody.SettingWritten.Intended => "about to be written",
        "read-back" => "written and read back",
        _ => "told",
    };

    // Where nobody said more than the list does its title is not said twice.
    private static string Told(EntryBody.ChangeTold change)
    {
        var title = ChangeWord.TitleOf(change.Change);
        return $"{Words.Small(title)}{(change.Axis is { } axis ? ", " + axis : "")}{(change.Text == title ? "" : ": " + change.Text)}";
    }
}
