using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Quantities;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>What a reading is called, on sheets, in the log and in reports: by the number of its row, what it is of, and its place.</summary>
public static class ReadingName
{
    /// <summary>For example <c>reading 7 of scale X, far</c>.</summary>
    /// <param name="reading">The reading.</param>
    /// <param name="ledger">What the chain amounts to: the run is looked up there. Null where it is not at hand.</param>
    /// <param name="units">Units to show it in; millimetres where not told.</param>
    public static string Of(EntryBody.ReadingTaken reading, Ledger? ledger = null, ShownUnits? units = null) =>
        Of(reading, reading.Run is { } run && ledger?.Runs.TryGetValue(run, out var known) == true ? Subject(known.Started.Body) : null, units);

    /// <summary>The same where it is known what the reading is of.</summary>
    /// <param name="reading">The reading.</param>
    /// <param name="subject">What it is of; null where that is not known, or said already.</param>
    /// <param name="units">Units to show it in; millimetres where not told.</param>
    public static string Of(EntryBody.ReadingTaken reading, string? subject, ShownUnits? units) =>
        Invariant($"reading {reading.Number}{(subject is null ? "" : " of " + subject)}, {(units ?? ShownUnits.Millimetres).Told(reading.Place)}");

    /// <summary>What a run finds, with its axis: <c>scale X</c>.</summary>
    public static string Subject(EntryBody.RunStarted run) => ResultName.Of(run.Procedure) + (run.Axis is null ? "" : " " + run.Axis);
}
