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
/// <param name="Sequence">Sequence of the reading.</param>
public sealed record SlipNotice(string Reason, double? Suggestion, long Sequence)
{
    /// <summary>Sequence of the earlier reading that it contradicts, where nothing tells which of the two is off; null where it is known which.</summary>
    public long? Earlier { get; init; }
}

/// <summary>Looks at the readings of a step when another one is on the medium: far from the line of the others along an axis, or far from what was read at the same place.
/// What came later may tell that an earlier one is the odd one.</summary>
public static class SlipWatch
{
    // Fewer readings draw no line worth a question.
    private const int Fewest = 4;

    // Five standard deviations, and never less than this: a question about hundredths would be asked too often.
    private const double LeastDistanceMm = 0.08;
    private const double Deviations = 5;

    // More play than this a builder feels by hand (our choice).
    private const double MostPlayMm = 1;

    // A scale that is further off than this is found before any is fitted (our choice).
    private const double LikelyScale = 0.002;

    // Of three repeats the range is 1.7 standard deviations in the mean (d2 = 1.693 of the tables for control charts, from memory): four of them are about seven.
    private const int FewestRepeats = 3;
    private const double Ranges = 4;
    private const int FewestInLine = 2;
    private const string HeightColumn = "reading_mm";
    private const string Trial = "trial", SoFar = "the line of the readings so far";

    // Of two readings of one length only the gross is asked about: nothing is known of their scatter yet.
    private const double GrossMm = 0.5, GrossDeviations = 10, GrossShare = 0.003;
    private static readonly string[] WholeLengths = ["measured_mm", "distance_mm", "diameter_mm"];

    // What a dial reads anew at its place by the same way: only a turn, or a number of something else, lies so far off.
    private const string DeviationColumn = "reading_mm";

    // Trials of other things tell how one hand scatters, once there are some of them (our choice).
    private const int FewestFreedom = 5;
    private const string ThingWord = "object";

    /// <summary>A notice about the reading of a step that looks odd now that another one was taken; null where nothing is odd.</summary>
    /// <param name="run">The run with the reading in it.</param>
    /// <param name="sequence">Sequence of the reading that was taken last.</param>
    public static SlipNotice? About(ProcedureRun run, long sequence)
    {
        var reading = run.Readings.FirstOrDefault(one => one.Sequence == sequence && one.Stands);
        if (reading is null || !reading.Column.EndsWith("_mm", StringComparison.Ordinal)) return null;

        // What was kept though asked about is settled, and vouches for nothing.
        var others = run.Readings
            .Where(one => one.Stands && one.Excluded is null && !one.KeptThoughQuestioned && one.Step == reading.Step && one.Sequence != sequence && one.Zero == reading.Zero && !LiesWithKept(run, one))
            .ToImmutableArray();
        var units = run.Machine.Units.Shown();
        if (reading.Cell.Given.ContainsKey("commanded_mm"))
        {
            // What was read again and shows the same was looked at twice: it is not asked about once more, but vouches for the others.
            var kept = reading.KeptThoughQuestioned || LiesWithKept(run, reading);
            var settled = kept || run.ReadsTheSame(reading, LeastDistanceMm);
            var odd = Odd(run, kept ? others : others.Add(reading), units);
            if (settled && odd?.Sequence == sequence) odd = Odd(run, others, units);
            return odd ?? (settled ? null : FromLine(run, reading, others, units));
        }

        ImmutableArray<TakenReading> repeats = [.. others.Where(one => Repeats(one.Cell, reading.Cell))];
        if (reading.KeptThoughQuestioned) return null;
        if (DistanceWatch.About(run, reading, units) is { } far) return far;
        return repeats.Length >= FewestRepeats
            ? FromRepeats(run, reading, [.. repeats.Select(one => one.Value)], units)
            : FromFew(run, reading, repeats, units) ?? (repeats.IsEmpty ? FromNeighbours(run, reading, others, units) : null);
    }

    /// <summary>Whether a reading lies as far off as one that was kept though it was asked about: then both lie on one zero, and that was answered.</summary>
    /// <param name="run">The run.</param>
    /// <param name="reading">The reading.</param>
    public static bool LiesWithKept(ProcedureRun run, TakenReading reading) => reading.Cell.Given.ContainsKey("commanded_mm") && run.Readings.Any(kept =>
        kept is { Stands: true, Excluded: null, KeptThoughQuestioned: true } && kept.Step == reading.Step && kept.Sequence != reading.Sequence && kept.Zero == reading.Zero
        && Math.Abs(Offset(kept) - Offset(reading)) <= Math.Max(LeastDistanceMm, Deviations * Scatter(run)) + (Direction(kept.Cell) == Direction(reading.Cell) ? 0 : MostPlayMm / 4)
            + (LikelyScale * Math.Abs(kept.Cell.Given["commanded_mm"] - reading.Cell.Given["commanded_mm"])));

    private static double Offset(TakenReading reading) => reading.Value - reading.Cell.Given["commanded_mm"];

    private static SlipNotice? Odd(ProcedureRun run, ImmutableArray<TakenReading> readings, ShownUnits units)
    {
        var points = readings.Select(one => new AxisPoint(one.Cell.Given["commanded_mm"], one.Value, Direction(one.Cell))).ToImmutableArray();
        if (OddOneOut.Among(points, Scatter(run)) is not { } odd) return null;
        var reading = readings[odd.Index];
        return Notice(run, reading, odd.Expected, odd.Index == readings.Length - 1 ? SoFar : "where the others put it", odd.Within, units);
    }

    private static int Direction(PlanCell cell) => cell.Words.GetValueOrDefault("direction") switch { "+" => 1, "-" => -1, _ => 0 };

    // Of two that differ the later one is at hand; one that reads the same again is none, then it is the earlier.
    private static SlipNotice? FromFew(ProcedureRun run, TakenReading reading, ImmutableArray<TakenReading> repeats, ShownUnits units)
    {
        var deviation = reading.Column == DeviationColumn && !IsThing(run, reading);
        if (repeats.IsEmpty || !(deviation || WholeLengths.Contains(reading.Column) || IsThing(run, reading))) return null;
        var unknown = run.Setting.Instrument is null ? GrossShare * Math.Abs(reading.Value) : 0;
        var limit = OfHand(run, reading) is { } hand ? Math.Max(LeastDistanceMm, GrossDeviations * Math.Max(Scatter(run), hand))
            : Math.Max(deviation ? MostPlayMm : GrossMm, Math.Max(unknown, GrossDeviations * Math.Max(Scatter(run), LastDigitMm(reading, units))));
        bool Far(TakenReading one, TakenReading other) => Math.Abs(one.Value - other.Value) > limit;
        var far = repeats.Where(one => Far(one, reading)).ToImmutableArray();
        if (far.IsEmpty || (repeats.Length == 2 && far.Length == 2 && Far(repeats[0], repeats[1]))) return null;
        var later = repeats.Length == far.Length && !run.ReadsTheSame(reading, limit / 2);
        // Two that contradict each other: either may be the one. What would explain the later one turns it wrong where the earlier is, so no slip is near enough.
        if (later && repeats is [var earlier] && !deviation && !IsThing(run, reading))
            return Notice(run, reading, earlier.Value, $"reading {earlier.CellIndex + 1}, {PlainText.Of(earlier.Typed).Replace(',', '.')}, of the same place; either may be off", within: -1, units) with { Earlier = earlier.Sequence };
        var (odd, expected) = later ? (reading, repeats[^1].Value) : (far[0], reading.Value);
        return Notice(run, odd, expected, IsThing(run, reading) ? OtherReadings(repeats.Length) : later ? "what it read there before" : "what it reads there now", limit / 2, units);
    }

    private static bool IsThing(ProcedureRun run, TakenReading reading) => reading.Cell.Words.ContainsKey(ThingWord) && run.IsBlind(reading.Group);

    private static string OtherReadings(int count) => count == 1 ? "the other reading of this thing" : "the other readings of this thing";

    // Standard deviation of one reading about the mean of its thing, over all things of the study but this reading; null where nobody can tell it yet.
    private static double? OfHand(ProcedureRun run, TakenReading reading)
    {
        if (!IsThing(run, reading)) return null;
        var things = run.Readings.Where(one => one is { Stands: true, Excluded: null, KeptThoughQuestioned: false } && one.Group == reading.Group && one.Cell.Words[ThingWord] != reading.Cell.Words[ThingWord])
            .GroupBy(one => one.Cell.Words[ThingWord]).Select(group => group.Select(one => one.Value).ToArray()).ToArray();
        var freedom = things.Sum(values => values.Length - 1);
        return freedom < FewestFreedom ? null : Math.Sqrt(things.Sum(values => values.Sum(value => Math.Pow(value - values.Average(), 2))) / freedom);
    }

    private static double LastDigitMm(TakenReading reading, ShownUnits units) => TypedNumber.Read(reading.Typed.Split(" at ", 2)[0], units.Length.Symbol) switch
    {
        NumberReading.Clear clear => clear.Number.LastDigitIn("mm") / 2,
        _ => 0,
    };

    // The same cell read once more: all but the count of the trial is the same.
    private static bool Repeats(PlanCell one, PlanCell other) => one.Approach == other.Approach
        && one.Given.Remove(Trial).SequenceEqual(other.Given.Remove(Trial)) && one.Words.Remove(Trial).SequenceEqual(other.Words.Remove(Trial));

    // What scatters is what many of these tests are for: only what lies several times farther off than all others among themselves is asked about.
    private static SlipNotice? FromRepeats(ProcedureRun run, TakenReading reading, ImmutableArray<double> others, ShownUnits units)
    {
        if (others.Length < FewestRepeats) return null;
        var (expected, range, scatter) = (SampleStatistics.MedianOf(others), others.Max() - others.Min(), Scatter(run));
        if (Math.Abs(reading.Value - expected) <= Math.Max(LeastDistanceMm, Math.Max(Deviations * scatter, Ranges * range))) return null;
        return Notice(run, reading, expected, IsThing(run, reading) ? OtherReadings(others.Length) : "what it read there before", Math.Max(LeastDistanceMm, Math.Max(3 * scatter, range)), units);
    }

    // Heights at other places of one set-up differ, and smoothly: several times farther off than they lie among themselves is gross. What is set anew at each place has no neighbours.
    private static SlipNotice? FromNeighbours(ProcedureRun run, TakenReading reading, ImmutableArray<TakenReading> others, ShownUnits units)
    {
        if (reading.Column != HeightColumn || reading.Cell.Given.ContainsKey("place_mm") || IsThing(run, reading)) return null;
        double[] values = [.. others.Select(one => one.Value)];
        if (values.Length < (reading.Cell.Given.ContainsKey("position_mm") && !IsTurned(run, reading) ? FewestInLine : FewestRepeats)) return null;
        var (low, high) = (values.Min(), values.Max());
        var nearest = Math.Clamp(reading.Value, low, high);
        if (Math.Abs(reading.Value - nearest) <= Math.Max(GrossMm, Math.Max(GrossDeviations * Scatter(run), Ranges * (high - low)))) return null;
        return Notice(run, reading, nearest, "the others of this set-up", Math.Max(LeastDistanceMm, high - low), units);
    }

    private static bool IsTurned(ProcedureRun run, TakenReading reading) => run.Items.Any(item => item.Name == reading.Step && item.Step is Step.Read { Grid: Grid.Angles });

    private static SlipNotice Notice(ProcedureRun run, TakenReading reading, double expected, string from, double within, ShownUnits units)
    {
        var explained = TypingSlips.Explain(reading.Value, expected, within, units, meant => InstrumentWatch.CanShow(run, reading, meant));
        var distance = Math.Abs(reading.Value - expected);
        // To the last digit it would tell what was read before: where that stays hidden only its size is said.
        var far = run.IsBlind(reading.Group) ? $"about {Coarse(distance / units.Length.Factor)} {units.Length.Symbol}" : distance.ToString(distance < 1 ? "F3" : "F2", CultureInfo.InvariantCulture) + " mm";
        var words = $"{PlainText.Of(reading.Typed).Replace(',', '.')} lies {far} from {from}";
        return new SlipNotice(explained is { } slip ? $"{words}; perhaps {slip.Slip}" : words, explained?.Meant, reading.Sequence);
    }

    // One digit of it.
    private static string Coarse(double distance)
    {
        var size = Math.Pow(10, Math.Floor(Math.Log10(distance)));
        return (Math.Round(distance / size) * size).ToString("0.####", CultureInfo.InvariantCulture);
    }

    private static double Scatter(ProcedureRun run) =>
        Math.Max(run.Setting.HandSdMm ?? 0.02, (run.Setting.Instrument?.ResolutionMm ?? 0.01) / 2);

    private static SlipNotice? FromLine(ProcedureRun run, TakenReading reading, ImmutableArray<TakenReading> others, ShownUnits units)
    {
        var scatter = Scatter(run);
        var points = others.Select(one => (C: one.Cell.Given["commanded_mm"], M: one.Value)).ToImmutableArray();
        if (points.Length < Fewest || Line(points) is not { } line) return null;
        var expected = line.Start + (line.Slope * reading.Cell.Given["commanded_mm"]);
        var distance = Math.Abs(reading.Value - expected);

        // Lost motion and curvature lie in the residuals of the others: what they do is no slip.
        var spread = 1.4826 * SampleStatistics.MedianOf(points.Select(point => Math.Abs(point.M - line.Start - (line.Slope * point.C))));
        // The first reading of an approach is off the others' line by the whole lost motion, which nobody knows yet.
        var play = others.Any(one => Direction(one.Cell) == Direction(reading.Cell)) ? 0 : MostPlayMm;
        if (distance <= Math.Max(Math.Max(LeastDistanceMm, play), Deviations * Math.Max(scatter, spread))) return null;
        return Notice(run, reading, expected, SoFar, Math.Max(LeastDistanceMm, 3 * Math.Max(scatter, spread)), units);
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
