using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;
using static Commission.Core.Fits.Products;

namespace Commission.Core.Suspects;

/// <summary>What leaving out groups of readings does to a linear fit, without fitting again: by how much the sum of squares falls, and how far the group lies off the rest.</summary>
internal sealed class SlipGroups
{
    // Less than this share of a reading left free by the rest of the fit: without it the others no longer determine the unknowns.
    private const double LeastFree = 1e-9;

    private readonly double[][] _spanned;

    /// <summary>Fits once.</summary>
    /// <param name="design">Coefficients of the unknowns, one row for each reading.</param>
    /// <param name="values">The readings.</param>
    public SlipGroups(IReadOnlyList<double[]> design, IReadOnlyList<double> values)
    {
        // Columns of size one: only what they span counts.
        var matrix = Matrix<double>.Build.Dense(design.Count, design[0].Length, (i, j) => design[i][j]);
        _spanned = matrix.NormalizeColumns(2).QR(QRMethod.Thin).Q.ToRowArrays();
        var along = new double[design[0].Length];
        for (var i = 0; i < values.Count; i++)
        {
            for (var c = 0; c < along.Length; c++)
                along[c] += _spanned[i][c] * values[i];
        }

        Residuals = [.. values.Select((value, i) => value - Dot(_spanned[i], along))];
        Sum = Residuals.Sum(r => r * r);
    }

    /// <summary>What the fit to all leaves.</summary>
    public double[] Residuals { get; }

    /// <summary>Sum of their squares.</summary>
    public double Sum { get; }

    /// <summary>Of each size up to <paramref name="most"/> the group without which the rest agree best, with the fall of the sum of squares; the first entry is the empty group.</summary>
    public (int[] Group, double Fall)[] Best(int most)
    {
        var count = Residuals.Length;
        var best = new (int[] Group, double Fall)[most + 1];
        Array.Fill(best, ([], 0));
        var free = new double[count][];
        for (var i = 0; i < count; i++)
            free[i] = [.. Enumerable.Range(0, count).Select(j => Free(i, j))];
        Descend(free, Residuals, new int[most], 0, 0, best);
        return best;
    }

    /// <summary>By how much the sum of squares falls when a group is left out; 0 where the others do not determine the unknowns without it.</summary>
    public double Fall(int[] group)
    {
        var (left, rest) = (Block(group), group.Select(i => Residuals[i]).ToArray());
        var fall = 0.0;
        for (var k = 0; k < group.Length; k++)
        {
            if (left[k][k] < LeastFree)
                return 0;
            fall += rest[k] * rest[k] / left[k][k];
            Eliminate(left, rest, k, left, rest);
        }

        return fall;
    }

    /// <summary>How far each reading of a group lies off what the others let expect.</summary>
    public double[] Off(int[] group) =>
        [.. Matrix<double>.Build.DenseOfRowArrays(Block(group)).Solve(Vector<double>.Build.Dense(group.Length, k => Residuals[group[k]]))];

    // Every group in order of its members; what eliminating the first members leaves is shared by all groups that begin with them.
    private static void Descend(double[][] free, double[] residuals, int[] group, int depth, double fall, (int[] Group, double Fall)[] best)
    {
        for (var i = depth == 0 ? 0 : group[depth - 1] + 1; i < residuals.Length; i++)
        {
            if (free[i][i] < LeastFree)
                continue;
            group[depth] = i;
            var here = fall + (residuals[i] * residuals[i] / free[i][i]);
            if (here > best[depth + 1].Fall)
                best[depth + 1] = (group[..(depth + 1)], here);
            if (depth + 1 == group.Length)
                continue;
            var (left, rest) = (new double[free.Length][], new double[free.Length]);
            for (var j = i + 1; j < free.Length; j++)
                left[j] = new double[free.Length];
            Eliminate(free, residuals, i, left, rest);
            Descend(left, rest, group, depth + 1, here, best);
        }
    }

    private static void Eliminate(double[][] free, double[] residuals, int pivot, double[][] left, double[] rest)
    {
        for (var j = pivot + 1; j < residuals.Length; j++)
        {
            var factor = free[j][pivot] / free[pivot][pivot];
            for (var k = pivot + 1; k < residuals.Length; k++)
                left[j][k] = free[j][k] - (factor * free[pivot][k]);
            rest[j] = residuals[j] - (factor * residuals[pivot]);
        }
    }

    private double[][] Block(int[] group) => [.. group.Select(i => group.Select(j => Free(i, j)).ToArray())];

    private double Free(int i, int j) => (i == j ? 1 : 0) - Dot(_spanned[i], _spanned[j]);
}
