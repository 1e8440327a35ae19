using System.Globalization;
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

    /// <summary>The reading that lies furthest off, if it lies further than chance allows, with what it may have been meant to be.</summary>
    internal static IEnumerable<Doubt> In(Series series) =>
        series.Unknowns == 1 ? Grubbs(series) : Studentised(series);

    /// <summary>Repeats of one thing: the one furthest from the mean, if Grubbs' limit says so. Fewer than four repeats say nothing.</summary>
    private static IEnumerable<Doubt> Grubbs(Series series)
    {
        var residuals = series.Residuals;
        var n = residuals.Count;
        if (n < 4)
            yield break;
        var deviation = Math.Max(Rounding(series), Math.Sqrt(residuals.Sum(r => r * r) / (n - 1)));
        var worst = Enumerable.Range(0, n).MaxBy(i => Math.Abs(residuals[i]));
        if (deviation > 0 && Math.Abs(residuals[worst]) / deviation > GrubbsLimit(n, FalseAlarm))
            yield return Named(series, worst);
    }

    /// <summary>Externally studentised residuals against t at alpha / 2n, alpha 0.5 %, the leverage counted; the share of 0.5 % is our choice.</summary>
    private static IEnumerable<Doubt> Studentised(Series series)
    {
        var (residuals, freedom) = (series.Residuals, series.Residuals.Count - series.Unknowns - 1);
        if (freedom < 1)
            yield break;
        var limit = StudentT.Quantile(1 - FalseAlarm / (2 * residuals.Count), freedom);
        var sum = residuals.Sum(r => r * r);
        var sizes = residuals.Select((r, i) => Size(r, series.Leverages[i], sum, freedom, Rounding(series))).ToArray();
        var (worst, alike) = (sizes.Max(), Enumerable.Range(0, sizes.Length).Where(i => IsAlike(sizes[i], sizes.Max())).Reverse().ToArray());
        if (worst <= limit)
            yield break;
        foreach (var index in alike)
            yield return Named(series, index, alike.Length > 1);
    }

    // Of three on a line, or of two of one thing, each lies as far off as the other: the arithmetic alone tells them apart.
    internal static bool IsAlike(double size, double largest) => size >= largest * (1 - 1e-6);

    // Readings that agree by chance scatter no less than rounding makes them: a last digit alone is never an outlier.
    private static double Rounding(Series series) => (series.Resolution ?? 0) / Math.Sqrt(12);

    private static double Size(double residual, double leverage, double sum, int freedom, double rounding)
    {
        var free = 1 - leverage;
        if (free < 1e-9)
            return 0;
        var without = Math.Max(rounding * rounding, (sum - residual * residual / free) / freedom);
        // Rounding of exact data: a residual at the level of the arithmetic is no outlier.
        return sum < 1e-22 || without <= 1e-14 * sum ? (Math.Abs(residual) > 1e-9 ? double.MaxValue : 0) : Math.Abs(residual) / Math.Sqrt(without * free);
    }

    /// <summary>What is said of a reading where another one may as well be the one that is off.</summary>
    internal static string OneOfAlike(double off) =>
        string.Create(CultureInfo.InvariantCulture, $"It lies {off:+0.000;-0.000} mm off the others, or one of them is off: nothing tells which.");

    /// <summary>What the others let expect is the reading less r / (1 - h); a known slip that leads there is offered.</summary>
    private static Doubt Named(Series series, int index, bool amongAlike = false)
    {
        var row = series.Readings.Used.ElementAt(index);
        var (residual, free) = (series.Residuals[index], Math.Max(1 - series.Leverages[index], 1e-9));
        var without = Math.Max(0, series.Residuals.Sum(r => r * r) - residual * residual / free) / Math.Max(1, series.Residuals.Count - series.Unknowns - 1);
        var scatter = Math.Max(Math.Sqrt(without), (series.Resolution ?? 0) / 2);
        var read = row[series.Column];
        var question = SlipDetector.LookAt(read, read - residual / free, scatter, row.Typed.GetValueOrDefault(series.Column));
        return new Doubt(row.Number,
            amongAlike ? OneOfAlike(residual / free) : string.Create(CultureInfo.InvariantCulture, $"It lies {residual / free:+0.000;-0.000} mm off the others, further than their scatter explains."),
            question is { Candidates.IsEmpty: false } ? question.Words : "Measure it again; leave it out only with a reason.");
    }
}
