using System.Globalization;
using Commission.Core.Readings;

namespace Commission.Core.Suspects;

/// <summary>Mistakes that show in a whole series and not in one reading (our own catalogue of slips). Each sounds on fewer than one clean set in a hundred.</summary>
public static class Patterns
{
    /// <summary>Repeats without any scatter, or with less than a tenth of the last digit: typed from a display of commanded values, or not measured.</summary>
    public static IEnumerable<Doubt> TooGood(IReadOnlyList<double> residuals, int unknowns, double? resolution)
    {
        var freedom = residuals.Count - unknowns;
        if (freedom < 3)
            yield break;
        var deviation = Math.Sqrt(residuals.Sum(r => r * r) / freedom);
        if (deviation < 1e-9 || deviation < resolution / 10)
        {
            yield return new Doubt(0, "The readings agree better than the instrument can show.",
                "Were they read from an instrument? What a controller displays is the commanded value, never a measurement.");
        }
    }

    /// <summary>The same value in every row, or the given value repeated to the last digit.</summary>
    public static IEnumerable<Doubt> Copied(ReadingTable readings, string given, string read)
    {
        var rows = readings.Used.Where(row => row.Maybe(given) is not null && row.Maybe(read) is not null).ToArray();
        if (rows.Length < 3 || rows.All(row => row[given] == rows[0][given]))
            yield break;
        if (rows.All(row => row[read] == rows[0][read]))
            yield return new Doubt(0, "All rows hold the same reading.", "Was the instrument read each time, and is it switched on?");
        else if (rows.All(row => row[read] == row[given]) && !rows.All(row => IsCoarse(row, read)))
            yield return new Doubt(0, "Every reading equals the commanded position to the last digit.", "A commanded position, or a display of it, is not a measurement: read an instrument.");
    }

    // On a rule a good axis reads just what it was told, to the millimetre.
    private static bool IsCoarse(ReadingRow row, string read) =>
        row.Typed.TryGetValue(read, out var typed) && typed.Trim() is var text && text.IndexOf('.', StringComparison.Ordinal) is var point && (point < 0 || text.Length - point - 1 < 2);

    /// <summary>Trials that repeat each other digit by digit over three objects or more: copied, not measured.</summary>
    public static IEnumerable<Doubt> CopiedTrials(ReadingTable readings)
    {
        var objects = readings.Used.GroupBy(row => row.Words.GetValueOrDefault("object", "")).Where(g => g.Count() > 1).ToArray();
        if (objects.Length >= 3 && objects.All(g => g.All(row => row["reading_mm"] == g.First()["reading_mm"])))
            yield return new Doubt(0, "The trials repeat each other digit by digit.", "Open, zero and close the instrument before each trial, without looking at the one before.");
    }

    /// <summary>All last digits 0 or 5 in eight readings or more: an instrument read to half its last digit, or rounded by the eye.</summary>
    public static IEnumerable<Doubt> LastDigits(ReadingTable readings, string column)
    {
        var typed = readings.Used.Select(row => row.Typed.GetValueOrDefault(column, "")).Where(t => t.IndexOfAny(['.', ',']) >= 0).ToArray();
        if (typed.Length >= 8 && typed.All(t => t[^1] is '0' or '5') && typed.Any(t => t[^1] == '5'))
            yield return new Doubt(0, "All last digits are 0 or 5.", "Read the last digit as it stands, or give the resolution as five of it.");
    }

    /// <summary>Residuals in two heaps, far apart: the direction of approach was not kept. For series without a direction.</summary>
    public static IEnumerable<Doubt> TwoHeaps(IReadOnlyList<double> residuals)
    {
        if (residuals.Count < 6)
            yield break;
        double[] sorted = [.. residuals.Order()];
        var cut = Enumerable.Range(2, sorted.Length - 3).MaxBy(i => sorted[i] - sorted[i - 1]);
        var within = Math.Sqrt((Squares(sorted[..cut]) + Squares(sorted[cut..])) / (sorted.Length - 2));
        // The note has four times the scatter within; short series gape further by chance (simulated: some 0.1 % of clean sets).
        var limit = Math.Max(5, 6.5 * Math.Pow(10.0 / sorted.Length, 1.7));
        if (within > 0 && sorted[cut] - sorted[cut - 1] > limit * within)
        {
            yield return new Doubt(0, string.Create(CultureInfo.InvariantCulture, $"The residuals fall into two heaps {sorted[cut..].Average() - sorted[..cut].Average():0.000} mm apart."),
                "Was every position approached from the same side?");
        }
    }

    /// <summary>One reading off by just the lost motion: the target was overrun and stepped back.</summary>
    public static IEnumerable<Doubt> SteppedBack(ReadingTable readings, IReadOnlyList<double> residuals, double reversal, double scatter)
    {
        if (scatter <= 0 || Math.Abs(reversal) < 6 * scatter)
            yield break;
        var off = Enumerable.Range(0, residuals.Count).Where(i => Math.Abs(residuals[i]) > 4 * scatter).ToArray();
        if (off.Length == 1 && Math.Abs(Math.Abs(residuals[off[0]]) - Math.Abs(reversal)) < 3 * scatter)
            yield return new Doubt(readings.Used.ElementAt(off[0]).Number, "It is off by just the lost motion.", "Was the target overrun and stepped back? Approach it again from the side it says.");
    }

    /// <summary>Readings shifted by a row: each fits the row before it, or after it, far better than its own.</summary>
    /// <param name="given">Commanded positions in order.</param>
    /// <param name="read">Readings in order.</param>
    public static IEnumerable<Doubt> Shifted(IReadOnlyList<double> given, IReadOnlyList<double> read)
    {
        var n = given.Count;
        if (n < 6)
            yield break;
        var own = LineLeft([.. given], [.. read]);
        var before = LineLeft([.. given.Take(n - 1)], [.. read.Skip(1)]);
        var after = LineLeft([.. given.Skip(1)], [.. read.Take(n - 1)]);
        if (Math.Min(before, after) < 1e-4 * own)
            yield return new Doubt(0, "The readings fit the rows next to their own.", "Is the list of readings shifted by one row?");
    }

    /// <summary>The last four readings or more stand still although the positions move on: the instrument has reached its end.</summary>
    public static IEnumerable<Doubt> Bottomed(ReadingTable readings, string column, IReadOnlyList<double> fitted, double scatter)
    {
        double[] values = [.. readings.Used.Select(row => row[column])];
        var still = values.Reverse().TakeWhile(v => v == values[^1]).Count();
        if (still < 4 || still == values.Length)
            yield break;
        var span = fitted.Skip(values.Length - still).Max() - fitted.Skip(values.Length - still).Min();
        if (span > 6 * Math.Max(scatter, 1e-6))
            yield return new Doubt(readings.Used.ElementAt(values.Length - still).Number, "From here on the reading stands still.", "Has the indicator reached the end of its travel?");
    }

    private static double LineLeft(double[] x, double[] y)
    {
        var (mx, my) = (x.Average(), y.Average());
        var sxx = x.Sum(v => (v - mx) * (v - mx));
        var sxy = x.Zip(y, (a, b) => (a - mx) * (b - my)).Sum();
        var syy = y.Sum(v => (v - my) * (v - my));
        return sxx == 0 ? syy : Math.Max(0, syy - sxy * sxy / sxx);
    }

    private static double Squares(double[] values)
    {
        var mean = values.Average();
        return values.Sum(v => (v - mean) * (v - mean));
    }
}
