using Commission.Core.Fits;

namespace Commission.Core.Suspects;

/// <summary>A reading of an axis that the others speak against.</summary>
/// <param name="Index">Its index in the list.</param>
/// <param name="Expected">What the others let expect, mm.</param>
/// <param name="Within">How near to it a meant value must come, mm.</param>
public sealed record OddReading(int Index, double Expected, double Within);

/// <summary>Tells, while readings of an axis come in, which one does not belong to the others as soon as that can be known, whichever was read last.</summary>
/// <remarks>
/// Two ways. Most readings that move as commanded vouch for each other from the third one on, and say what a far one should have been: no
/// line with another slope passes through two places at their commanded distance. What is smaller than lost motion and scale errors may be is
/// seen against a robust line through all others, once there are enough of them. Limits are our own choice; how often clean sets are
/// questioned is simulated in the tests.
/// </remarks>
public static class OddOneOut
{
    // What lost motion, a wrong scale and a hand may do together: not a slip.
    private const double ReversalMm = 2, Deviations = 6;
    internal const double PlayMm = 1, Scale = 0.01;

    // Two places at least so many times the play apart tell a slope near 1 from others.
    private const double Reach = 10;

    private const int FewestOfLine = 6;
    private const double LeastOffLineMm = 0.1, OffLine = 6, NearMm = 0.25, StandsOut = 2.5, WellApart = 4, Spread = 1.4826;

    /// <summary>The reading that is most at odds with the others; null where none is, or where nobody can know which.</summary>
    /// <param name="points">The readings in the order they were taken.</param>
    /// <param name="scatter">Standard deviation of one reading, mm, positive.</param>
    public static OddReading? Among(IReadOnlyList<AxisPoint> points, double scatter) => AgainstCommand(points, scatter) ?? AgainstLine(points, scatter);

    /// <summary>The reading that lies far from where those that move as commanded put it.</summary>
    private static OddReading? AgainstCommand(IReadOnlyList<AxisPoint> points, double scatter)
    {
        var play = Math.Max(PlayMm, Deviations * scatter);
        var (together, span) = points.Select((point, i) => Agreeing(points, i, play) is var set ? (Set: set, Span: Span(points, set, point.Direction)) : default)
            .Where(some => 2 * some.Set.Length > points.Count && some.Span >= Reach * play).OrderByDescending(some => some.Set.Length).FirstOrDefault();
        if (together is null)
            return null;
        var slope = Scale + (play / span);
        var worst = Enumerable.Range(0, points.Count).Except(together)
            .Select(i => (Index: i, Off: together.Min(j => Math.Abs(Offset(points[i]) - Offset(points[j])) - Allowed(points[i], points[j], play, slope)))).Where(pair => pair.Off > 0)
            .OrderByDescending(pair => pair.Off).Select(pair => (int?)pair.Index).FirstOrDefault();
        return worst is { } odd ? new OddReading(odd, Expected(points, together, points[odd]), Math.Max(NearMm, 3 * scatter)) : null;
    }

    private static int[] Agreeing(IReadOnlyList<AxisPoint> points, int with, double play) => [.. Enumerable.Range(0, points.Count)
        .Where(i => Math.Abs(Offset(points[i]) - Offset(points[with])) <= (i == with ? 0 : Allowed(points[i], points[with], play, Scale)))];

    // Only what was come to from one side tells the slope: lost motion is not in it.
    private static double Span(IReadOnlyList<AxisPoint> points, int[] set, int direction)
    {
        var places = set.Where(i => points[i].Direction == direction).Select(i => points[i].Commanded).ToArray();
        return places.Max() - places.Min();
    }

    private static double Allowed(AxisPoint one, AxisPoint other, double play, double slope) =>
        play + (one.Direction * other.Direction < 0 ? ReversalMm : 0) + (slope * Math.Abs(one.Commanded - other.Commanded));

    private static double Offset(AxisPoint point) => point.Measured - point.Commanded;

    // Between the neighbours among those that agree, come to from the same side where there are such.
    private static double Expected(IReadOnlyList<AxisPoint> points, int[] together, AxisPoint odd)
    {
        var same = together.Where(i => points[i].Direction == odd.Direction).ToArray();
        var some = (same.Length > 0 ? same : together).Select(i => points[i]).ToArray();
        var below = some.Where(point => point.Commanded <= odd.Commanded).OrderByDescending(point => point.Commanded).ToArray();
        var above = some.Where(point => point.Commanded >= odd.Commanded).OrderBy(point => point.Commanded).ToArray();
        if (below.Length == 0 || above.Length == 0 || below[0].Commanded == above[0].Commanded)
            return odd.Commanded + Offset(below.Concat(above).MinBy(point => Math.Abs(point.Commanded - odd.Commanded)));
        var share = (odd.Commanded - below[0].Commanded) / (above[0].Commanded - below[0].Commanded);
        return odd.Commanded + Offset(below[0]) + (share * (Offset(above[0]) - Offset(below[0])));
    }

    /// <summary>The reading that lies furthest off a robust line through all the others, in its own limits.</summary>
    private static OddReading? AgainstLine(IReadOnlyList<AxisPoint> points, double scatter)
    {
        if (points.Count < FewestOfLine)
            return null;
        var (worst, most) = ((OddReading?)null, 1.0);
        for (var i = 0; i < points.Count; i++)
        {
            AxisPoint[] others = [.. points.Where((_, k) => k != i)];
            if (!Covers(others, points[i]) || Residuals(others, points[i]) is not { } left)
                continue;
            var off = Math.Abs(left[^1]);
            var spread = Spread * SampleStatistics.MedianOf(left[..^1].Select(Math.Abs));
            var beyond = off / Math.Max(LeastOffLineMm, OffLine * Math.Max(spread, scatter));

            // Where another one were at fault the rest would not lie so much nearer.
            if (beyond > most && left[..^1].All(one => StandsOut * Math.Abs(one) < off))
                (worst, most) = (new OddReading(i, points[i].Measured - left[^1], Math.Max(LeastOffLineMm / 2, 3 * Math.Max(spread, scatter))), beyond);
        }

        return worst;
    }

    // Median of the slopes between places well apart (Theil and Sen), a height for each direction; the last residual is that of the point itself.
    private static double[]? Residuals(AxisPoint[] others, AxisPoint point)
    {
        var apart = (others.Max(one => one.Commanded) - others.Min(one => one.Commanded)) / WellApart;
        double[] slopes = [.. from i in Enumerable.Range(0, others.Length)
                              from j in Enumerable.Range(0, i)
                              let length = others[i].Commanded - others[j].Commanded
                              where others[i].Direction == others[j].Direction && Math.Abs(length) > apart
                              select (others[i].Measured - others[j].Measured) / length];
        if (slopes.Length == 0)
            return null;
        var slope = SampleStatistics.MedianOf(slopes);
        var heights = others.GroupBy(one => one.Direction).ToDictionary(side => side.Key, side => SampleStatistics.MedianOf(side.Select(one => one.Measured - (slope * one.Commanded))));
        return [.. others.Append(point).Select(one => one.Measured - (slope * one.Commanded) - heights[one.Direction])];
    }

    // A line says nothing beyond its ends, and the height of a direction is not known from one reading.
    private static bool Covers(AxisPoint[] others, AxisPoint point)
    {
        var reach = (others.Max(one => one.Commanded) - others.Min(one => one.Commanded)) / Reach;
        return others.Count(one => one.Direction == point.Direction) >= 2
            && point.Commanded >= others.Min(one => one.Commanded) - reach && point.Commanded <= others.Max(one => one.Commanded) + reach;
    }
}
