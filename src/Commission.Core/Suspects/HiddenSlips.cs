using System.Globalization;
using Commission.Core.Instruments;
using Commission.Core.Quantities;
using Commission.Core.Readings;
using MathNet.Numerics.LinearAlgebra;

namespace Commission.Core.Suspects;

/// <summary>Two or three slips in one set hide each other: each makes the others look like scatter. The operator's own study tells that it is none.</summary>
/// <remarks>
/// Where the residuals scatter further than the study allows, the smallest group of readings is named whose absence brings the scatter back
/// to it. All groups of two and three are tried, so only in sets of at most 24 readings. Own derivation; rates in the proof's table C.
/// </remarks>
public static class HiddenSlips
{
    private const int MostReadings = 24;
    private const int MostSlips = 3;

    // Chance that a clean set begins the search, and that a set without its slips is still called too wide.
    private const double FalseAlarm = 0.01;
    private const double StillTooWide = 0.05;

    /// <summary>The readings that look like slips together.</summary>
    /// <param name="readings">The table; the rows used have design and values in their order.</param>
    /// <param name="design">Coefficients of the unknowns, one row for each reading used.</param>
    /// <param name="values">The readings, mm.</param>
    /// <param name="study">The operator's hand study; without one nothing is named.</param>
    public static IEnumerable<Doubt> Against(ReadingTable readings, IReadOnlyList<double[]> design, IReadOnlyList<double> values, HandStudy? study)
    {
        if (study is not { StandardDeviationMm: > 0, DegreesOfFreedom: > 0 } || design.Count == 0 || design.Count > MostReadings)
            return [];
        var all = Enumerable.Range(0, values.Count).ToArray();
        if (!TooWide(design, values, all, study, FalseAlarm))
            return [];
        for (var slips = 1; slips <= MostSlips && values.Count - slips - design[0].Length >= 2; slips++)
        {
            var best = Groups(values.Count, slips).MinBy(group => Left(design, values, [.. all.Except(group)]))!;
            if (!TooWide(design, values, [.. all.Except(best)], study, StillTooWide))
                return best.Select(index => Named(readings, index, best.Length));
        }

        return [];
    }

    private static bool TooWide(IReadOnlyList<double[]> design, IReadOnlyList<double> values, int[] kept, HandStudy study, double chance)
    {
        var freedom = kept.Length - design[0].Length;
        if (freedom < 1)
            return false;
        var ratio = Left(design, values, kept) / freedom / (study.StandardDeviationMm * study.StandardDeviationMm);
        return ratio > FisherF.Quantile(1 - chance, freedom, study.DegreesOfFreedom);
    }

    /// <summary>Sum of squared residuals of the readings kept; infinite where they do not determine the unknowns.</summary>
    private static double Left(IReadOnlyList<double[]> design, IReadOnlyList<double> values, int[] kept)
    {
        var matrix = Matrix<double>.Build.Dense(kept.Length, design[0].Length, (i, j) => design[kept[i]][j]);
        var wanted = Vector<double>.Build.Dense(kept.Length, i => values[kept[i]]);
        var factor = matrix.QR(MathNet.Numerics.LinearAlgebra.Factorization.QRMethod.Thin);
        var smallest = factor.R.Diagonal().AbsoluteMinimum();
        if (smallest < 1e-9 * factor.R.Diagonal().AbsoluteMaximum())
            return double.PositiveInfinity;
        var residual = wanted - (matrix * factor.Solve(wanted));
        return residual.DotProduct(residual);
    }

    private static IEnumerable<int[]> Groups(int count, int size)
    {
        if (size == 0)
            return [[]];
        return Enumerable.Range(0, count).SelectMany(last => Groups(last, size - 1).Select(group => (int[])[.. group, last]));
    }

    private static Doubt Named(ReadingTable readings, int index, int together) => new(
        readings.Used.ElementAt(index).Number,
        together == 1
            ? "It lies further off the others than your own scatter explains."
            : string.Create(CultureInfo.InvariantCulture, $"It is one of {together} readings without which the rest agree as well as your own scatter lets them."),
        "Measure it again; leave it out only with a reason.");
}
