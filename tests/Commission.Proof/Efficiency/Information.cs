namespace Commission.Proof.Efficiency;

/// <summary>The Cramer-Rao bound of a linear model with equal normal scatter: sigma^2 (A'A)^-1. Own arithmetic, no solver of the program.</summary>
internal static class Information
{
    /// <summary>Least variance of the parameter <paramref name="of"/> that any unbiased method can reach.</summary>
    /// <param name="rows">Partial derivatives of the readings.</param>
    /// <param name="variance">Variance of one reading.</param>
    /// <param name="of">Index of the parameter.</param>
    public static double LeastVariance(IReadOnlyList<double[]> rows, double variance, int of)
    {
        var unit = new double[rows[0].Length];
        unit[of] = 1;
        return variance * Variance(rows, unit);
    }

    /// <summary>Variance of a combination of the unknowns for readings of unit variance; infinite where they do not determine them.</summary>
    /// <param name="rows">Partial derivatives of the readings.</param>
    /// <param name="combination">The combination.</param>
    /// <param name="knowledge">Weight of what is known of each unknown beforehand; null for none.</param>
    public static double Variance(IReadOnlyList<double[]> rows, double[] combination, double[]? knowledge = null)
    {
        var count = rows[0].Length;
        var matrix = new double[count, count + 1];
        foreach (var row in rows)
        {
            for (var i = 0; i < count; i++)
            {
                if (row[i] == 0)
                    continue;
                for (var j = 0; j < count; j++)
                    matrix[i, j] += row[i] * row[j];
            }
        }

        for (var i = 0; i < count; i++)
        {
            matrix[i, i] += knowledge?[i] ?? 0;
            matrix[i, count] = combination[i];
        }

        var solved = Solve(matrix, count);
        var variance = 0.0;
        for (var i = 0; i < count; i++)
            variance += combination[i] == 0 ? 0 : combination[i] * solved[i];
        return variance > 0 ? variance : double.PositiveInfinity;
    }

    // Gauss-Jordan with row exchange: at most some thirty unknowns here.
    private static double[] Solve(double[,] matrix, int count)
    {
        for (var column = 0; column < count; column++)
        {
            var pivot = column;
            for (var row = column + 1; row < count; row++)
            {
                if (Math.Abs(matrix[row, column]) > Math.Abs(matrix[pivot, column]))
                    pivot = row;
            }

            for (var j = 0; j <= count; j++)
                (matrix[column, j], matrix[pivot, j]) = (matrix[pivot, j], matrix[column, j]);
            if (Math.Abs(matrix[column, column]) < 1e-12)
                return [.. Enumerable.Repeat(double.PositiveInfinity, count)];
            for (var row = 0; row < count; row++)
            {
                if (row == column)
                    continue;
                var factor = matrix[row, column] / matrix[column, column];
                for (var j = column; j <= count; j++)
                    matrix[row, j] -= factor * matrix[column, j];
            }
        }

        return [.. Enumerable.Range(0, count).Select(i => matrix[i, count] / matrix[i, i])];
    }
}
