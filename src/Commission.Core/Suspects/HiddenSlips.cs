using System.Globalization;
using Commission.Core.Instruments;
using Commission.Core.Quantities;
using Commission.Core.Readings;
using MathNet.Numerics.LinearAlgebra;

namespace Commission.Core.Suspects;

/// <summary>Slips in one set hide each other: each makes the others look like scatter. The operator's own study tells that it is none.</summary>
/// <remarks>
/// The procedure of B. Rosner, "Percentage points for a generalized ESD many-outlier procedure", Technometrics 25 (1983), for a linear
/// model, with two changes of our own: of each size the group is taken without which the rest agree best (all are tried, none is hidden by
/// another), and scatter is that of the rest pooled with the operator's study. The largest group whose last member still stands out is
/// named. Rates on clean sets and on sets with slips are measured in table C of the proof.
/// </remarks>
public static class HiddenSlips
{
    // All groups are tried, and there are 10 626 of four in a set of 24.
    private const int MostReadings = 24;
    private const int MostSlips = 4;

    // Chance that a clean set is asked about. With the checks of the order in time beside it fewer than one clean set in a hundred is (M E).
    private const double FalseAlarm = 0.005;

    /// <summary>The readings that look like slips together.</summary>
    /// <param name="readings">The table; the rows used have design and values in their order.</param>
    /// <param name="design">Coefficients of the unknowns, one row for each reading used.</param>
    /// <param name="values">The readings, mm.</param>
    /// <param name="study">The operator's hand study; without one nothing is named.</param>
    /// <param name="column">Column that the instrument was read for, so that a known slip can be offered; null offers none.</param>
    public static IEnumerable<Doubt> Against(
        ReadingTable readings, IReadOnlyList<double[]> design, IReadOnlyList<double> values, HandStudy? study, string? column = null)
    {
        if (study is null || !Judges(design, study))
            return [];
        var (count, unknowns) = (design.Count, design[0].Length);
        var free = Free(design);
        double[] residuals = [.. Enumerable.Range(0, count).Select(i => Enumerable.Range(0, count).Sum(j => free[i, j] * values[j]))];
        var known = study.DegreesOfFreedom * study.StandardDeviationMm * study.StandardDeviationMm;
        var most = Math.Min(MostSlips, count - unknowns - 2);
        var (groups, explained) = (new int[most + 1][], new double[most + 1]);
        for (var size = 1; size <= most; size++)
        {
            foreach (var group in Groups(count, size))
            {
                if (Explains(free, residuals, group) is var gain && (groups[size] is null || gain > explained[size]))
                    (groups[size], explained[size]) = (group, gain);
            }
        }

        var sum = residuals.Sum(r => r * r);
        for (var size = most; size >= 1; size--)
        {
            var freedom = count - unknowns - size + study.DegreesOfFreedom;
            var variance = (Math.Max(0, sum - explained[size]) + known) / freedom;
            var limit = StudentT.Quantile(1 - (FalseAlarm / (2 * (count - size + 1))), freedom);
            if (explained[size] - explained[size - 1] <= limit * limit * variance)
                continue;
            var off = Off(free, residuals, groups[size]);
            return groups[size].Select((index, i) => Named(readings, index, size, off[i], Math.Sqrt(variance), column));
        }

        return [];
    }

    /// <summary>Whether a set with this design is judged against the study at all: a study, and neither too many nor too few readings.</summary>
    public static bool Judges(IReadOnlyList<double[]> design, HandStudy? study) => study is { StandardDeviationMm: > 0, DegreesOfFreedom: > 0 }
        && design.Count <= MostReadings && design.Count > 0 && design.Count >= design[0].Length + 3;

    /// <summary>What a fit leaves of each reading: one less the matrix that maps readings onto what is fitted to them.</summary>
    private static double[,] Free(IReadOnlyList<double[]> design)
    {
        // Columns of size one: only what they span counts.
        var matrix = Matrix<double>.Build.Dense(design.Count, design[0].Length, (i, j) => design[i][j]);
        var q = matrix.NormalizeColumns(2).QR(MathNet.Numerics.LinearAlgebra.Factorization.QRMethod.Thin).Q;
        return (Matrix<double>.Build.DenseIdentity(design.Count) - (q * q.Transpose())).ToArray();
    }

    /// <summary>By how much the sum of squares falls when a group is left out; 0 where the others do not determine the unknowns without it.</summary>
    private static double Explains(double[,] free, double[] residuals, int[] group)
    {
        // r' M^-1 r for the group's own block of M, by elimination; the block is symmetric and hardly ever larger than 4 by 4.
        var size = group.Length;
        var block = new double[size, size + 1];
        for (var i = 0; i < size; i++)
        {
            for (var j = 0; j < size; j++)
                block[i, j] = free[group[i], group[j]];
            block[i, size] = residuals[group[i]];
        }

        var gain = 0.0;
        for (var k = 0; k < size; k++)
        {
            if (block[k, k] < 1e-9)
                return 0;
            gain += block[k, size] * block[k, size] / block[k, k];
            for (var i = k + 1; i < size; i++)
            {
                var factor = block[i, k] / block[k, k];
                for (var j = k; j <= size; j++)
                    block[i, j] -= factor * block[k, j];
            }
        }

        return gain;
    }

    /// <summary>How far each reading of a group lies off what the others let expect.</summary>
    private static double[] Off(double[,] free, double[] residuals, int[] group)
    {
        var block = Matrix<double>.Build.Dense(group.Length, group.Length, (i, j) => free[group[i], group[j]]);
        return [.. block.Solve(Vector<double>.Build.Dense(group.Length, i => residuals[group[i]]))];
    }

    private static IEnumerable<int[]> Groups(int count, int size)
    {
        if (size == 0)
            return [[]];
        return Enumerable.Range(0, count).SelectMany(last => Groups(last, size - 1).Select(group => (int[])[.. group, last]));
    }

    private static Doubt Named(ReadingTable readings, int index, int together, double off, double scatter, string? column)
    {
        var row = readings.Used.ElementAt(index);
        var question = column is null ? null : SlipDetector.LookAt(row[column], row[column] - off, scatter, row.Typed.GetValueOrDefault(column));
        return new Doubt(
            row.Number,
            together == 1
                ? string.Create(CultureInfo.InvariantCulture, $"It lies {off:+0.000;-0.000} mm off the others, further than your own scatter explains.")
                : string.Create(CultureInfo.InvariantCulture, $"It is one of {together} readings without which the rest agree as well as your own scatter lets them."),
            question is { Candidates.IsEmpty: false } ? question.Words : "Measure it again; leave it out only with a reason.");
    }
}
