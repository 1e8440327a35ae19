using Commission.Core.Fits;
using Commission.Core.Quantities;

namespace Commission.Core.Characteristics;

/// <summary>A straight line through results over time, with scatter beyond their own uncertainties (method of moments).</summary>
/// <param name="Slope">Change in a day.</param>
/// <param name="SlopeUncertainty">Its standard uncertainty.</param>
/// <param name="Extra">Standard deviation beyond the results' own uncertainties.</param>
/// <param name="Heterogeneity">Sum of squares Q about the plain weighted line.</param>
/// <param name="PlainSlope">Slope without extra scatter.</param>
/// <param name="PlainUncertainty">Its standard uncertainty without extra scatter.</param>
/// <param name="Freedom">Degrees of freedom.</param>
internal sealed record Trend(
    double Slope, double SlopeUncertainty, double Extra, double Heterogeneity, double PlainSlope, double PlainUncertainty, int Freedom)
{
    /// <summary>Whether the slope differs from zero at 95 %.</summary>
    public bool Significant => Math.Abs(Slope) > StudentT.Quantile(0.975, Freedom) * SlopeUncertainty;

    /// <summary>Fits; null for fewer than five results, or a span below three median spacings: no trend may be claimed from them.</summary>
    public static Trend? Of(IReadOnlyList<(double Day, double Value, double Uncertainty)> results)
    {
        if (results.Count < 5)
            return null;
        var gap = SampleStatistics.MedianOf(results.Zip(results.Skip(1), (a, b) => b.Day - a.Day));
        var span = results[^1].Day - results[0].Day;
        return span > 0 && span >= 3 * gap ? Fitted(results) : null;
    }

    private static Trend Fitted(IReadOnlyList<(double Day, double Value, double Uncertainty)> results)
    {
        var freedom = results.Count - 2;
        var plain = Line(results, 0);
        var q = plain.SumOfSquares;
        var trace = results.Select((r, i) => (1 - plain.Leverages[i]) / (r.Uncertainty * r.Uncertainty)).Sum();
        var extra = Math.Sqrt(Math.Max(0, (q - freedom) / trace));
        var robust = Line(results, extra);
        var scale = Math.Sqrt(Math.Max(1, robust.SumOfSquares / freedom));
        return new Trend(robust["slope"], robust.StandardUncertainty("slope") * scale, extra, q, plain["slope"], plain.StandardUncertainty("slope"), freedom);
    }

    private static LeastSquaresSolution Line(IReadOnlyList<(double Day, double Value, double Uncertainty)> results, double extra)
    {
        var system = new AugmentedSystem("level", "slope");
        foreach (var (day, value, u) in results)
            system.Reading([1, day], value, Math.Sqrt(u * u + extra * extra));
        return system.Solve().Require();
    }
}
