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
        var count = rows[0].Length;
        var matrix = new double[count, count + 1];
        foreach (var row in rows)
        {
            for (var i = 0; i < count; i++)
            {
                for (var j = 0; j < count; j++)
                    matrix[i, j] += row[i] * row[j];
            }
        }

        matrix[of, count] = 1;
        return variance * Solve(matrix, count)[of];
    }

    // Gauss-Jordan with row exchange: at most four unknowns here.
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
            if (matrix[column, column] == 0)
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
