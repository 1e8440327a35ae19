using System.Globalization;
using Commission.Core.Readings;
using Commission.Core.Quantities;

namespace Commission.Core.Suspects;

/// <summary>Readings that lie further off than the others allow. Named one at a time, never left out.</summary>
public static class Outliers
{
    // Chance that a clean set sets off the residual test. Smaller than the customary 5 %: a question that comes up in one clean set of
    // twenty would soon be waved through, and a slip of 0.5 mm stands far beyond either limit.
    private const double FalseAlarm = 0.005;

    /// <summary>Grubbs' critical value, two-sided (ASTM E178, ISO 5725-2), from Student's t.</summary>
    /// <param name="count">Number of readings, at least 3.</param>
    /// <param name="alpha">Probability of a false alarm in the whole set.</param>
    public static double GrubbsLimit(int count, double alpha = 0.05)
    {
        var t = StudentT.Quantile(1 - alpha / (2 * count), count - 2);
        return (count - 1) / Math.Sqrt(count) * Math.Sqrt(t * t / (count - 2 + t * t));
    }

    /// <summary>Repeats of one thing: the one furthest from the mean, if Grubbs' limit says so. Fewer than four repeats say nothing.</summary>
    public static IEnumerable<Doubt> Grubbs(ReadingTable readings, IReadOnlyList<double> residuals)
    {
        var n = residuals.Count;
        if (n < 4)
            yield break;
        var deviation = Math.Sqrt(residuals.Sum(r => r * r) / (n - 1));
        var worst = Enumerable.Range(0, n).MaxBy(i => Math.Abs(residuals[i]));
        if (deviation > 0 && Math.Abs(residuals[worst]) / deviation > GrubbsLimit(n))
            yield return Named(readings, worst, residuals[worst]);
    }

    /// <summary>Externally studentised residuals against t at alpha / 2n, alpha 0.5 %, the leverage counted (M 2.7).</summary>
    /// <param name="readings">The readings; those used, in order, have the residuals.</param>
    /// <param name="residuals">Residuals.</param>
    /// <param name="leverages">Leverages.</param>
    /// <param name="unknowns">Number of unknowns fitted.</param>
    public static IEnumerable<Doubt> Studentised(ReadingTable readings, IReadOnlyList<double> residuals, IReadOnlyList<double> leverages, int unknowns)
    {
        var n = residuals.Count;
        if (n - unknowns - 1 < 1)
            yield break;
        var limit = StudentT.Quantile(1 - FalseAlarm / (2 * n), n - unknowns - 1);
        var sum = residuals.Sum(r => r * r);
        var sizes = residuals.Select((r, i) => Size(r, leverages[i], sum, n - unknowns - 1)).ToArray();
        var worst = Array.IndexOf(sizes, sizes.Max());
        if (sizes[worst] > limit)
            yield return Named(readings, worst, residuals[worst]);
    }

    private static double Size(double residual, double leverage, double sum, int freedom)
    {
        var free = 1 - leverage;
        if (free < 1e-9)
            return 0;
        var without = (sum - residual * residual / free) / freedom;
        // Rounding of exact data: a residual at the level of the arithmetic is no outlier.
        return sum < 1e-22 || without <= 1e-14 * sum ? (Math.Abs(residual) > 1e-9 ? double.MaxValue : 0) : Math.Abs(residual) / Math.Sqrt(without * free);
    }

    private static Doubt Named(ReadingTable readings, int index, double residual)
    {
        var row = readings.Used.ElementAt(index);
        return new Doubt(row.Number,
            string.Create(CultureInfo.InvariantCulture, $"It lies {residual:+0.000;-0.000} mm off the others, further than their scatter explains."),
            "Measure it again; leave it out only with a reason.");
    }
}
