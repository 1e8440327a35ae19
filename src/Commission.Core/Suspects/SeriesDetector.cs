using System.Collections.Immutable;
using Commission.Core.Quantities;

namespace Commission.Core.Suspects;

/// <summary>Looks for a slip that a whole series shares: wrong unit, sign, datum, order.</summary>
public static class SeriesDetector
{
    private const double WrongSlope = 0.01;
    private const double TooWide = 4;

    private static readonly ImmutableArray<(string Reason, string Suggestion, Func<double[], double[], double[]> Meant)> Hypotheses =
    [
        ("The readings look like inches.", "Were they typed in inches?", (_, m) => [.. m.Select(v => v * Inch.Mm)]),
        ("The readings look like millimetres typed where inches were expected.", "Which unit does the instrument show?", (_, m) => [.. m.Select(v => v / Inch.Mm)]),
        ("The readings are ten times too small.", "Where does the decimal sign stand?", (_, m) => [.. m.Select(v => v * 10)]),
        ("The readings are ten times too large.", "Where does the decimal sign stand?", (_, m) => [.. m.Select(v => v / 10)]),
        ("The readings are half of what was commanded.", "Are radii typed for diameters, or is a factor of two in the machine's ratio?", (_, m) => [.. m.Select(v => v * 2)]),
        ("The readings are twice what was commanded.", "Are diameters typed for radii, or is a factor of two in the machine's ratio?", (_, m) => [.. m.Select(v => v / 2)]),
        ("The readings have the wrong sign, or were taken from the far end.", "From which end was measured, and which way counts as positive?", (_, m) => [.. m.Select(v => -v)]),
        ("The readings look like steps from one position to the next.", "Type positions from one datum, not differences.", (_, m) => Cumulative(m)),
        ("The readings fit the positions in reverse order.", "Was the list typed from its end?", (_, m) => [.. m.Reverse()]),
    ];

    /// <summary>Looks at a series. Nothing is said while the readings follow the commanded positions within 1 %.</summary>
    /// <param name="points">The readings in their order.</param>
    /// <param name="scatter">Usual standard deviation of one reading, mm.</param>
    public static ImmutableArray<Doubt> LookAt(IReadOnlyList<AxisPoint> points, double scatter)
    {
        double[] commanded = [.. points.Select(p => p.Commanded)], measured = [.. points.Select(p => p.Measured)];
        if (points.Count < 4 || commanded.Distinct().Count() < 3 || Math.Abs(Fit(commanded, measured).Slope - 1) <= WrongSlope)
            return [];
        return [.. Hypotheses.Where(h =>
        {
            var (slope, deviation) = Fit(commanded, h.Meant(commanded, measured));
            return Math.Abs(slope - 1) <= WrongSlope && deviation < TooWide * scatter;
        }).Select(h => new Doubt(0, h.Reason, h.Suggestion))];
    }

    private static double[] Cumulative(double[] m)
    {
        var sum = 0.0;
        return [.. m.Select(v => sum += v)];
    }

    private static (double Slope, double Deviation) Fit(double[] x, double[] y)
    {
        var (mx, my) = (x.Average(), y.Average());
        var sxx = x.Sum(v => (v - mx) * (v - mx));
        var slope = x.Zip(y, (a, b) => (a - mx) * (b - my)).Sum() / sxx;
        var left = x.Zip(y, (a, b) => Math.Pow(b - my - slope * (a - mx), 2)).Sum();
        return (slope, Math.Sqrt(left / Math.Max(x.Length - 2, 1)));
    }
}
