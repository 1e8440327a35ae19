using System.Globalization;
using System.Text.RegularExpressions;
using Commission.Core.History;
using Commission.Core.Machines.Dialects;
using Commission.Core.Quantities;
using Commission.Core.Upkeep;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>All that explains an entry, in lines: what it rests on, what became of it, in which epoch it stands.</summary>
public static partial class EntryDetails
{
    /// <summary>The lines; empty where the entry's own line says everything.</summary>
    /// <param name="entry">The entry.</param>
    /// <param name="ledger">What the whole chain amounts to.</param>
    /// <param name="units">Units to show lengths in; millimetres, in which they are kept, where not told.</param>
    public static IEnumerable<string> Lines(JournalEntry entry, Ledger ledger, ShownUnits? units = null) =>
        Common(entry, ledger).Concat(Own(entry, ledger, units ?? ShownUnits.Millimetres)).Concat(Became(entry.Sequence, ledger)).Select(Words.Clean);

    /// <summary>What became of an entry, for lists: a withdrawal, an exclusion, a replacement; empty where it stands.</summary>
    public static string Mark(long sequence, Ledger ledger) => Became(sequence, ledger).Select(became => $"  [{became}]").FirstOrDefault("");

    private static IEnumerable<string> Common(JournalEntry entry, Ledger ledger)
    {
        yield return $"entry {entry.Id}";
        if (entry.Body.Machine is { } machine)
            yield return Invariant($"machine: {machine}, in its epoch {ledger.Epoch(machine, entry.Sequence)}");
        if (entry.Body.Operator is { } person)
            yield return $"by: {person}";
        if (entry.Body.Run is { } run)
            yield return Invariant($"in the run of entry {run}{(ledger.Runs.TryGetValue(run, out var begun) ? ": " + begun.Started.Body.Procedure : "")}");
    }

    private static IEnumerable<string> Own(JournalEntry entry, Ledger ledger, ShownUnits units) => entry.Body switch
    {
        EntryBody.RunStarted run => Run(entry.Sequence, run, ledger),
        EntryBody.ReadingTaken reading => Reading(reading, units),
        EntryBody.FindingMade finding => Finding(finding, units).Concat(RestingFacts.Of(ledger, new(entry.Sequence, entry.At, finding)).Select(lost => units.Told(lost.Clause)))
            .Concat(RestingFacts.OtherClass(ledger, finding) is { } other ? [other] : []),
        EntryBody.SettingsSaved saved => saved.Settings.Select(setting => $"{setting.Key} = {setting.Text}{(setting.Name is null ? "" : $"  ({SettingName.OfSaved(setting.Name)}{(setting.Unit is null ? "" : ", " + setting.Unit)})")}"),
        EntryBody.SettingWritten written => Written(written),
        EntryBody.InstrumentDescribed instrument => Instrument(entry.Sequence, instrument, ledger, units),
        EntryBody.MachineDescribed machine => MachineText.Lines(machine.Description).Select(line => Described(line.Trim(), units)),
        EntryBody.ChangeTold change when ChangeWord.Find(change.Change) is { } word => [word.Title, Reach(word.Reach)],
        _ => [],
    };

    private static IEnumerable<string> Run(long number, EntryBody.RunStarted started, Ledger ledger)
    {
        yield return Invariant($"seed {started.Seed}, procedure text {started.ProcedureHash}");
        if (started.Instrument is { } instrument)
            yield return $"instrument: {instrument}";
        foreach (var (name, value) in started.Options)
            yield return name == "plan" ? Invariant($"plan taken: {value.Split(';').Length} readings") : $"{name}: {value}";
        if (ledger.Runs.TryGetValue(number, out var run))
            yield return Invariant($"{run.Readings.Count} readings, {run.Findings.Count} findings, {Standing(run.Standing)}");
    }

    private static IEnumerable<string> Reading(EntryBody.ReadingTaken reading, ShownUnits units)
    {
        var (understood, unit) = units.Show(reading.Value, reading.Unit);
        yield return $"typed \"{reading.Typed}\", understood as {Digits(understood, unit == reading.Unit)} {unit}";
        yield return Invariant($"step {reading.Step}, cell {reading.Cell}, place {units.Told(reading.Place)}");
        yield return $"instrument: {reading.Instrument ?? "none named"}";
        foreach (var (name, given) in reading.Given)
            yield return $"{units.Column(name)} {Digits(units.InColumn(given, name), units.Column(name) == name)}";
        foreach (var (name, value) in reading.Words)
            yield return $"{name} {value}";
    }

    private static IEnumerable<string> Finding(EntryBody.FindingMade made, ShownUnits units)
    {
        yield return $"method {made.Finding.Method}";
        yield return $"instrument: {made.Instrument ?? "none named"}";
        if (made.Configuration is { } configuration)
            yield return $"configuration {configuration}";
        if (made.Options.Tolerance is { } tolerance)
            yield return $"tolerance: {FindingText.Limit(tolerance, made.Finding, units)}";
        yield return made.Readings.IsDefaultOrEmpty ? "no readings in this journal" : Invariant($"from {made.Readings.Length} readings, entries {made.Readings.Min()} to {made.Readings.Max()}");
    }

    private static IEnumerable<string> Written(EntryBody.SettingWritten written)
    {
        yield return Invariant($"before {Number(written.Before)}, after {Number(written.After)}, read back {Number(written.ReadBack)} {SettingUnit.Of(written)}").TrimEnd();
        if (written.Key is { } key)
            yield return $"key {key}";
    }

    private static IEnumerable<string> Instrument(long sequence, EntryBody.InstrumentDescribed described, Ledger ledger, ShownUnits units)
    {
        yield return InstrumentText.Line(described.Description, described.Retired, units);
        var name = described.Description.Name;
        foreach (var study in ledger.Studies.Where(study => study.Body.Study.Instrument == name))
            yield return Invariant($"checked by entry {study.Sequence}, {study.At:yyyy-MM-dd}: {EntryText.What(study.Body, units)}");
        foreach (var change in ledger.Changes.Where(change => change.Counts && change.Told.Body.Change.StartsWith("instrument", StringComparison.Ordinal) && change.Told.Sequence > sequence))
            yield return Invariant($"entry {change.Told.Sequence}, {change.Told.At:yyyy-MM-dd}: {EntryText.What(change.Told.Body)}");
        yield return $"{Words.Counted(ledger.Findings.Values.Count(finding => finding.Made.Body.Instrument == name), "finding rests", "findings rest")} on it";
    }

    private static IEnumerable<string> Became(long sequence, Ledger ledger)
    {
        if (ledger.Withdrawals.TryGetValue(sequence, out var withdrawn))
            yield return Invariant($"withdrawn by entry {withdrawn.Sequence}: {withdrawn.Body.Reason}");
        if (ledger.Readings.TryGetValue(sequence, out var reading))
        {
            if (reading.Standing is ReadingStanding.Excluded left)
                yield return Invariant($"left out by entry {left.Entry}: {left.Reason}");
            if (reading.Standing is ReadingStanding.Superseded old)
                yield return Invariant($"replaced by entry {old.By ?? old.Entry}: {old.Reason}");
        }

        foreach (var note in ledger.Notes.Where(note => note.Body.About == sequence))
            yield return Invariant($"note of entry {note.Sequence}: {note.Body.Text}");
    }

    private static string Reach(ChangeReach reach) => reach switch
    {
        ChangeReach.Machine => "a new epoch of the machine begins here: its checks are made again before anything moves over the link",
        ChangeReach.Baseline => "a new epoch begins for what it makes stale",
        _ => "results may be doubted, series go on",
    };

    private static string Standing(RunStanding standing) => standing switch
    {
        RunStanding.Completed => "carried out to its end",
        RunStanding.PutAside => "put aside",
        RunStanding.Aborted => "given up",
        _ => "not ended",
    };

    // As kept to the last bit; what was converted only as far as it can be told apart.
    private static string Digits(double value, bool asKept) => value.ToString(asKept ? "G17" : "0.######", CultureInfo.InvariantCulture);

    // A line of the machine's file; its lengths, told in inches, stand under a name that is none of the file's.
    private static string Described(string line, ShownUnits units) => units == ShownUnits.Millimetres ? line
        : Lengths().Replace(line, found => $"{found.Groups["name"].Value}, {units.Length.Symbol}: "
            + Numbers().Replace(found.Groups["value"].Value, number => Digits(double.Parse(number.Value, CultureInfo.InvariantCulture) / units.Length.Factor, asKept: false)));

    private static string Number(double? value) => value is { } number ? number.ToString("G17", CultureInfo.InvariantCulture) : "not known";

    [GeneratedRegex(@"\b(?<name>(?!stepsPer)\w+)Mm: (?<value>\[[^\]]*\]|[\d.]+)")]
    private static partial Regex Lengths();

    [GeneratedRegex(@"\d+(\.\d+)?")]
    private static partial Regex Numbers();
}
