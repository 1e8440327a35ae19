using Commission.Core.Fits;

namespace Commission.Core.Suspects;

/// <summary>A reading of an axis, for a first look.</summary>
/// <param name="Commanded">Commanded position, mm.</param>
/// <param name="Measured">Reading, mm.</param>
/// <param name="Direction">+1 or -1 for the sense of the last approach; 0 where it is not told.</param>
public readonly record struct AxisPoint(double Commanded, double Measured, int Direction);

/// <summary>A line that a few slips do not turn: median of the slopes of pairs (Theil and Sen), medians for the zero of each direction.</summary>
/// <param name="Slope">Reading for one mm commanded.</param>
/// <param name="ZeroUp">Zero of readings approached in + direction, or of all, mm.</param>
/// <param name="ZeroDown">Zero of readings approached in - direction, mm.</param>
/// <param name="Scatter">Robust standard deviation of one reading, mm: 1.4826 times the median residual, widened for small sets, at least half the resolution.</param>
public sealed record RobustLine(double Slope, double ZeroUp, double ZeroDown, double Scatter)
{
    private const int MostPairs = 60;

    /// <summary>What a reading should be.</summary>
    public double At(double commanded, int direction) => Slope * commanded + (direction < 0 ? ZeroDown : ZeroUp);

    /// <summary>The line; null for fewer than four readings or fewer than two positions.</summary>
    /// <param name="points">The readings.</param>
    /// <param name="resolution">Last digit of the instrument, mm; 0 where it is not known.</param>
    /// <param name="study">Standard deviation of the operator's study, mm; 0 without one. The scatter is not taken to be smaller.</param>
    public static RobustLine? Of(IReadOnlyList<AxisPoint> points, double resolution = 0, double study = 0)
    {
        var some = Thinned(points);
        var slopes = new List<double>();
        for (var i = 0; i < some.Count; i++)
        {
            for (var j = 0; j < i; j++)
            {
                if (some[i].Commanded != some[j].Commanded && some[i].Direction == some[j].Direction)
                    slopes.Add((some[i].Measured - some[j].Measured) / (some[i].Commanded - some[j].Commanded));
            }
        }
        if (points.Count < 4 || slopes.Count == 0)
            return null;
        var slope = SampleStatistics.MedianOf(slopes);
        var (up, down) = (Zero(points.Where(p => p.Direction >= 0), slope), Zero(points.Where(p => p.Direction < 0), slope));
        var line = new RobustLine(slope, up ?? down!.Value, down ?? up!.Value, 0);
        double[] off = [.. points.Select(p => Math.Abs(p.Measured - line.At(p.Commanded, p.Direction)))];
        // The medians pull the line towards the readings; a small set looks quieter than it is.
        var unknowns = up is null || down is null ? 2.0 : 3.0;
        var widened = 1.4826 * SampleStatistics.MedianOf(off) * Math.Sqrt(off.Length / Math.Max(off.Length - unknowns, 1)) * (1 + 2.0 / off.Length);
        return line with { Scatter = Math.Max(Math.Max(widened, study), resolution / 2) };
    }

    private static List<AxisPoint> Thinned(IReadOnlyList<AxisPoint> points)
    {
        var step = Math.Max(1, (points.Count + MostPairs - 1) / MostPairs);
        return [.. points.Where((_, i) => i % step == 0)];
    }

    private static double? Zero(IEnumerable<AxisPoint> points, double slope)
    {
        double[] zeros = [.. points.Select(p => p.Measured - slope * p.Commanded)];
        return zeros.Length == 0 ? null : SampleStatistics.MedianOf(zeros);
    }
}
