using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Fits;
using Commission.Core.Machines;
using Commission.Core.Plans;
using Commission.Core.Quantities;
using Commission.Core.Suspects;

namespace Commission.Core.Procedures;

/// <summary>A reading that looks like a slip.</summary>
/// <param name="Reason">What it looks like, a clause.</param>
/// <param name="Suggestion">What it may have meant, in its unit; null where nothing is near.</param>
public sealed record SlipNotice(string Reason, double? Suggestion);

/// <summary>Looks at a reading when it is on the medium: far from the line of the others along an axis, or far from the repeats of the same cell's column.</summary>
public static class SlipWatch
{
    // Fewer readings draw no line worth a question.
    private const int Fewest = 4;

    // Five standard deviations, and never less than this: a question about hundredths would be asked too often.
    private const double LeastDistanceMm = 0.08;
    private const double Deviations = 5;

    // Of three repeats the range is 1.7 standard deviations in the mean (d2 = 1.693 of the tables for control charts, from memory): four of them are about seven.
    private const int FewestRepeats = 3;
    private const double Ranges = 4;
    private const string Trial = "trial";

    /// <summary>A notice about the run's newest reading; null where nothing is odd.</summary>
    /// <param name="run">The run with the reading in it.</param>
    /// <param name="sequence">Sequence of the reading.</param>
    public static SlipNotice? About(ProcedureRun run, long sequence)
    {
        var reading = run.Readings.FirstOrDefault(one => one.Sequence == sequence && one.Stands);
        if (reading is null || !reading.Column.EndsWith("_mm", StringComparison.Ordinal)) return null;
        var others = run.Readings
            .Where(one => one.Stands && one.Excluded is null && one.Step == reading.Step && one.Sequence != sequence && one.Zero == reading.Zero)
            .ToImmutableArray();
        var units = ShownUnits.Of(run.Machine.Units == LengthUnit.Inch);
        return reading.Cell.Given.ContainsKey("commanded_mm")
            ? FromLine(reading, others, Scatter(run), units)
            : FromRepeats(reading, [.. others.Where(one => Repeats(one.Cell, reading.Cell)).Select(one => one.Value)], Scatter(run), units);
    }

    // The same cell read once more: all but the count of the trial is the same.
    private static bool Repeats(PlanCell one, PlanCell other) => one.Approach == other.Approach
        && one.Given.Remove(Trial).SequenceEqual(other.Given.Remove(Trial)) && one.Words.Remove(Trial).SequenceEqual(other.Words.Remove(Trial));

    // What scatters is what many of these tests are for: only what lies several times farther off than all others among themselves is asked about.
    private static SlipNotice? FromRepeats(TakenReading reading, ImmutableArray<double> others, double scatter, ShownUnits units)
    {
        if (others.Length < FewestRepeats) return null;
        var expected = SampleStatistics.MedianOf(others);
        var range = others.Max() - others.Min();
        var distance = Math.Abs(reading.Value - expected);
        if (distance <= Math.Max(LeastDistanceMm, Math.Max(Deviations * scatter, Ranges * range))) return null;
        return Notice(reading, expected, distance, "what it read there before", Math.Max(LeastDistanceMm, Math.Max(3 * scatter, range)), units);
    }

    private static SlipNotice Notice(TakenReading reading, double expected, double distance, string from, double within, ShownUnits units)
    {
        var explained = TypingSlips.Explain(reading.Value, expected, within, units);
        var words = string.Create(CultureInfo.InvariantCulture, $"{PlainText.Of(reading.Typed)} lies {distance:F3} mm from {from}");
        return new SlipNotice(explained is { } slip ? $"{words}; perhaps {slip.Slip}" : words, explained?.Meant);
    }

    private static double Scatter(ProcedureRun run) =>
        Math.Max(run.Setting.HandSdMm ?? 0.02, (run.Setting.Instrument?.ResolutionMm ?? 0.01) / 2);

    private static SlipNotice? FromLine(TakenReading reading, ImmutableArray<TakenReading> others, double scatter, ShownUnits units)
    {
        var points = others.Select(one => (C: one.Cell.Given["commanded_mm"], M: one.Value)).ToImmutableArray();
        if (points.Length < Fewest || Line(points) is not { } line) return null;
        var expected = line.Start + (line.Slope * reading.Cell.Given["commanded_mm"]);
        var distance = Math.Abs(reading.Value - expected);

        // Lost motion and curvature lie in the residuals of the others: what they do is no slip.
        var spread = 1.4826 * SampleStatistics.MedianOf(points.Select(point => Math.Abs(point.M - line.Start - (line.Slope * point.C))));
        if (distance <= Math.Max(LeastDistanceMm, Deviations * Math.Max(scatter, spread))) return null;
        return Notice(reading, expected, distance, "the line of the readings so far", Math.Max(LeastDistanceMm, 3 * Math.Max(scatter, spread)), units);
    }

    // Theil and Sen: the median of the slopes between places, which a single wrong reading cannot move far.
    private static (double Start, double Slope)? Line(ImmutableArray<(double C, double M)> points)
    {
        var slopes = (from i in Enumerable.Range(0, points.Length)
                      from j in Enumerable.Range(i + 1, points.Length - i - 1)
                      where Math.Abs(points[j].C - points[i].C) > 10
                      select (points[j].M - points[i].M) / (points[j].C - points[i].C)).ToImmutableArray();
        if (slopes.IsEmpty) return null;
        var slope = SampleStatistics.MedianOf(slopes);
        return (SampleStatistics.MedianOf(points.Select(point => point.M - (slope * point.C))), slope);
    }
}
