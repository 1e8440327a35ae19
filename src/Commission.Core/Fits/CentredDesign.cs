using System.Collections.Immutable;
using Commission.Core.Quantities;

namespace Commission.Core.Fits;

/// <summary>
/// A design matrix made easy to solve: columns less their mean where one column is constant, rows divided by their standard deviation,
/// columns scaled by powers of two. All three are undone exactly afterwards.
/// </summary>
internal sealed class CentredDesign
{
    private CentredDesign(DoubleDouble[,] matrix, int constant, double[] means, double[] scales)
    {
        Matrix = matrix;
        Constant = constant;
        Means = means;
        Scales = scales;
    }

    /// <summary>The matrix to factor.</summary>
    public DoubleDouble[,] Matrix { get; }

    /// <summary>The constant column; -1 where there is none.</summary>
    public int Constant { get; }

    /// <summary>What was subtracted from each column, in multiples of the constant one.</summary>
    public double[] Means { get; }

    /// <summary>Powers of two by which the columns were multiplied.</summary>
    public double[] Scales { get; }

    /// <summary>Builds the matrix of rows.</summary>
    public static CentredDesign Of(ImmutableArray<AugmentedSystem.Row> rows, int columns)
    {
        var constant = ConstantColumn(rows, columns);
        var means = new double[columns];
        if (constant >= 0)
        {
            var readings = rows.Where(row => row.Source is null).ToArray();
            for (var j = 0; j < columns; j++) means[j] = j == constant ? 0 : readings.Average(row => row.Coefficients[j].High);
        }

        var matrix = new DoubleDouble[Math.Max(rows.Length, columns), columns];
        var scales = new double[columns];
        for (var j = 0; j < columns; j++)
        {
            var largest = 0.0;
            for (var i = 0; i < rows.Length; i++)
            {
                var row = rows[i];
                var centred = means[j] == 0 ? row.Coefficients[j] : row.Coefficients[j] - (row.Coefficients[constant] * means[j]);
                matrix[i, j] = row.Sigma == 1 ? centred : centred * row.Scale;
                largest = Math.Max(largest, Math.Abs(matrix[i, j].High));
            }

            scales[j] = largest == 0 ? 1 : Math.ScaleB(1, -Math.ILogB(largest));
            for (var i = 0; i < rows.Length; i++) matrix[i, j] = new(matrix[i, j].High * scales[j], matrix[i, j].Low * scales[j]);
        }

        return new CentredDesign(matrix, constant, means, scales);
    }

    /// <summary>Undoes scaling and centring of a vector of unknowns.</summary>
    public DoubleDouble[] Restore(DoubleDouble[] unknowns)
    {
        var restored = new DoubleDouble[unknowns.Length];
        for (var j = 0; j < unknowns.Length; j++) restored[j] = unknowns[j] * Scales[j];
        if (Constant >= 0)
            for (var j = 0; j < unknowns.Length; j++) restored[Constant] -= restored[j] * Means[j];
        return restored;
    }

    /// <summary>A unit vector of the original unknowns, carried into the scaled and centred ones as a right side.</summary>
    public DoubleDouble[] Functional(int column)
    {
        // b_constant = b'_constant - sum of mean_j b'_j; every other unknown is itself.
        var functional = new DoubleDouble[Scales.Length];
        functional[column] = Scales[column];
        if (column == Constant)
            for (var j = 0; j < Scales.Length; j++)
                if (j != Constant) functional[j] = -DoubleDouble.Product(Means[j], Scales[j]);
        return functional;
    }

    private static int ConstantColumn(ImmutableArray<AugmentedSystem.Row> rows, int columns)
    {
        for (var j = 0; j < columns; j++)
            if (rows.Any(row => row.Source is null) && rows.All(row => row.Source is not null || row.Coefficients[j] == new DoubleDouble(1)))
                return j;
        return -1;
    }
}
