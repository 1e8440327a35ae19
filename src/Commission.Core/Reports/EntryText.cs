using System.Diagnostics;
using Commission.Core.History;
using Commission.Core.Machines.Dialects;
using Commission.Core.Quantities;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>A journal entry in one line for people.</summary>
public static class EntryText
{
    /// <summary>For example <c>12  2026-03-01 10:20:30 +01:00  reading 3 of scale X, far: 20.01 mm</c>.</summary>
    /// <param name="entry">The entry.</param>
    /// <param name="units">Units to show it in; millimetres where not told.</param>
    /// <param name="ledger">What the chain amounts to: what a reading is of stands there. Null where it is not at hand.</param>
    public static string Line(JournalEntry entry, ShownUnits? units = null, Ledger? ledger = null) =>
        Words.Clean(Invariant($"{entry.Sequence,6}  {entry.At:yyyy-MM-dd HH:mm:ss zzz}  {What(entry.Body, units, ledger)}"));

    /// <summary>What an entry says, without its place.</summary>
    /// <param name="body">The entry.</param>
    /// <param name="units">Units to show it in; millimetres where not told.</param>
    /// <param name="ledger">What the chain amounts to; null where it is not at hand.</param>
    public static string What(EntryBody body, ShownUnits? units = null, Ledger? ledger = null) => body switch
    {
        _ when body.Begun() is { } move => EntryBody.Noted.MoveBegun + Told(move, units),
        EntryBody.StoreBorn born => $"store {born.Store} begun ({(born.Nature == StoreNature.Practice ? "practice" : "real")})",
        EntryBody.MachineDescribed machine => $"machine {machine.Description.Name} {(machine.Retired ? "retired" : "described")}",
        EntryBody.InstrumentDescribed instrument => $"instrument {instrument.Description.Name} {(instrument.Retired ? "retired" : "described")}",
        EntryBody.OperatorEntered person => $"operator {person.Handle}",
        EntryBody.StudyMade study => Told(Invariant($"hand study of {study.Study.Operator} with {study.Study.Instrument}: standard deviation {study.Study.StandardDeviationMm:0.####} mm, {study.Study.DegreesOfFreedom:0.#} degrees of freedom"), units),
        EntryBody.RunStarted run => $"procedure {run.Procedure} begun{(run.Axis is null ? "" : " for " + run.Axis)}",
        EntryBody.Confirmed confirmed => $"confirmed {confirmed.Step}: {confirmed.Answer}",
        EntryBody.Checked check => $"check {check.Check} {(check.Passed ? "passed" : "failed")}: {(units is null ? check.Typed : CheckText.Found(check, units))} (limit {Told(check.Limit, units)})",
        EntryBody.Skipped skip => $"skipped {skip.Check ?? skip.Step}: {skip.Reason}",
        EntryBody.ReadingTaken reading => Reading(reading, units ?? ShownUnits.Millimetres, ledger),
        EntryBody.Superseded old => Invariant($"{Named(old.Reading, units, ledger)} replaced{(old.By is null ? "" : Invariant($" by entry {old.By}"))}: {Told(old.Reason, units)}"),
        EntryBody.Excluded left => Invariant($"{Named(left.Reading, units, ledger)} left out: {left.Reason}"),
        EntryBody.Noted note => note.About is null ? $"note: {note.Text}" : Invariant($"about entry {note.About}: {note.Text}"),
        EntryBody.FindingMade finding => Finding(finding, units),
        EntryBody.Withdrawn back => Invariant($"entry {back.Finding} withdrawn: {back.Reason}"),
        EntryBody.ChangeTold change => $"change {change.Change}{(change.Axis is null ? "" : " of " + change.Axis)}: {change.Text}",
        EntryBody.SettingsSaved saved => Invariant($"{saved.Settings.Length} settings of the controller saved"),
        EntryBody.SettingWritten written => Invariant($"setting {SettingName.InWords(written.Name)}{(written.Axis is null ? "" : " of " + written.Axis)} {Stage(written)}: {written.After:0.######} {SettingUnit.Of(written)}").TrimEnd(),
        EntryBody.Moved moved => $"moved: {Told(moved.Move, units)}",
        EntryBody.Stopped stopped => $"stopped: {stopped.Why}{(stopped.Answer is null ? "" : "; " + stopped.Answer)}",
        EntryBody.RunEnded ended => $"run {ended.How}{(ended.Reason is null ? "" : ": " + ended.Reason)}",
        EntryBody.Unknown unknown => $"an entry of a type this version does not know: {unknown.Type}",
        _ => throw new UnreachableException(),
    };

    private static string Reading(EntryBody.ReadingTaken reading, ShownUnits units, Ledger? ledger)
    {
        var (value, unit) = units.Show(reading.Value, reading.Unit);
        return Invariant($"{ReadingName.Of(reading, ledger, units)}: {value:0.######} {unit} (typed {reading.Typed})");
    }

    private static string Named(long reading, ShownUnits? units, Ledger? ledger) => ledger?.Readings.GetValueOrDefault(reading) is { } known
        ? Invariant($"{ReadingName.Of(known.Taken.Body, ledger, units)} (entry {reading})") : Invariant($"reading of entry {reading}");

    private static string Told(string text, ShownUnits? units) => (units ?? ShownUnits.Millimetres).Told(text);

    private static string Finding(EntryBody.FindingMade made, ShownUnits? units)
    {
        var key = made.Characteristic + (made.Axis is null ? "" : " " + made.Axis) + (made.Place is null ? "" : ", " + made.Place);
        return $"finding {key}: {FindingText.Parameter(made.Finding.Headline, made.Options.Coverage, units, made.Finding.Kind)}, "
            + $"{FindingWords.Of(made.Finding.Verdict)}, {FindingWords.Of(made.Finding.Advice.Action)}";
    }

    private static string Stage(EntryBody.SettingWritten written) => written.Stage switch
    {
        EntryBody.SettingWritten.Intended => "about to be written",
        "read-back" => "written and read back",
        _ => "told by the owner",
    };
}
