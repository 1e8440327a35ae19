using Commission.Core.Fits;

namespace Commission.Workshop.Screens;

/// <summary>A point of the line that is seen while readings are taken.</summary>
/// <param name="At">Commanded position, mm.</param>
/// <param name="Increasing">Whether it was come to with increasing position.</param>
/// <param name="Reading">The reading, mm.</param>
/// <param name="Zero">Word of the zero it belongs to; empty where the set-up was never disturbed before it.</param>
public readonly record struct LinePoint(double At, bool Increasing, double Reading, string Zero = "");

/// <summary>A robust line through the readings so far, each direction with its own height: it shows slips and scatter, never the value.</summary>
/// <remarks>Slope: median of the slopes of all pairs of one direction (Theil 1950, Sen 1968); heights: medians.</remarks>
public sealed record RunningLine(double Slope, double HeightIncreasing, double HeightDecreasing)
{
    private Dictionary<string, double> Zeros { get; init; } = [];

    /// <summary>How many numbers were taken from the readings: the slope, a height for each approach that was read, and each zero after the first. So many readings tell nothing of their scatter.</summary>
    public int Taken { get; private init; }

    /// <summary>Fewest readings at which a line is drawn.</summary>
    public const int Fewest = 3;

    /// <summary>The line; null where the readings do not determine one.</summary>
    public static RunningLine? Through(IReadOnlyList<LinePoint> points)
    {
        if (points.Count < Fewest)
            return null;
        var slopes = points.SelectMany((p, i) => points.Skip(i + 1)
            .Where(q => q.Increasing == p.Increasing && q.Zero == p.Zero && Math.Abs(q.At - p.At) > 1e-6).Select(q => (q.Reading - p.Reading) / (q.At - p.At))).ToList();
        if (slopes.Count == 0)
            return null;
        var slope = SampleStatistics.MedianOf(slopes);
        var first = points[0].Zero;
        double? Height(bool increasing) => points.Where(p => p.Zero == first && p.Increasing == increasing).Select(p => p.Reading - (slope * p.At)).ToList() is { Count: > 0 } heights ? SampleStatistics.MedianOf(heights) : null;
        var (up, down) = (Height(true), Height(false));
        var line = new RunningLine(slope, up ?? down!.Value, down ?? up!.Value);
        // A zero that moved shifts all readings after it by the same amount.
        var zeros = points.Where(p => p.Zero != first).GroupBy(p => p.Zero).ToDictionary(group => group.Key, group => SampleStatistics.MedianOf(group.Select(line.Off)));
        return line with { Zeros = zeros, Taken = (up is null || down is null ? 2 : 3) + zeros.Count };
    }

    /// <summary>Distance of a point from the line, mm, positive where it reads more.</summary>
    public double Off(LinePoint point) => point.Reading - (Slope * point.At) - (point.Increasing ? HeightIncreasing : HeightDecreasing) - Zeros.GetValueOrDefault(point.Zero);
}
