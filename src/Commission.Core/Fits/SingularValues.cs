namespace Commission.Core.Fits;

/// <summary>Singular values and right singular vectors of a small matrix, by one-sided Jacobi rotations.</summary>
/// <remarks>Accurate for small values too, which is what a rank test needs. G. H. Golub and C. F. Van Loan, Matrix Computations, 8.6.3 (from memory).</remarks>
internal sealed class SingularValues
{
    private SingularValues(double[] values, double[,] vectors)
    {
        Values = values;
        Vectors = vectors;
    }

    /// <summary>The singular values, largest first.</summary>
    public double[] Values { get; }

    /// <summary>Right singular vectors, one a column, in the order of the values.</summary>
    public double[,] Vectors { get; }

    /// <summary>Decomposes a square matrix.</summary>
    public static SingularValues Of(double[,] matrix)
    {
        var n = matrix.GetLength(1);
        var u = (double[,])matrix.Clone();
        var v = new double[n, n];
        for (var j = 0; j < n; j++) v[j, j] = 1;
        for (var sweep = 0; sweep < 40 && Sweep(u, v); sweep++)
        {
        }

        var norms = Enumerable.Range(0, n).Select(j => Norm(u, j)).ToArray();
        var order = Enumerable.Range(0, n).OrderByDescending(j => norms[j]).ToArray();
        var sorted = new double[n, n];
        for (var j = 0; j < n; j++)
            for (var i = 0; i < n; i++) sorted[i, j] = v[i, order[j]];
        return new SingularValues([.. order.Select(j => norms[j])], sorted);
    }

    private static double Norm(double[,] a, int column)
    {
        var sum = 0.0;
        for (var i = 0; i < a.GetLength(0); i++) sum += a[i, column] * a[i, column];
        return Math.Sqrt(sum);
    }

    private static bool Sweep(double[,] u, double[,] v)
    {
        var turned = false;
        var n = u.GetLength(1);
        for (var p = 0; p < n - 1; p++)
        {
            for (var q = p + 1; q < n; q++)
            {
                double alpha = 0, beta = 0, gamma = 0;
                for (var i = 0; i < u.GetLength(0); i++)
                {
                    alpha += u[i, p] * u[i, p];
                    beta += u[i, q] * u[i, q];
                    gamma += u[i, p] * u[i, q];
                }

                if (Math.Abs(gamma) <= 1e-16 * Math.Sqrt(alpha * beta) || gamma == 0) continue;
                turned = true;
                var zeta = (beta - alpha) / (2 * gamma);
                var t = (zeta >= 0 ? 1 : -1) / (Math.Abs(zeta) + Math.Sqrt(1 + (zeta * zeta)));
                var c = 1 / Math.Sqrt(1 + (t * t));
                Rotate(u, p, q, c, c * t);
                Rotate(v, p, q, c, c * t);
            }
        }

        return turned;
    }

    private static void Rotate(double[,] a, int p, int q, double c, double s)
    {
        for (var i = 0; i < a.GetLength(0); i++)
        {
            var (x, y) = (a[i, p], a[i, q]);
            a[i, p] = (c * x) - (s * y);
            a[i, q] = (s * x) + (c * y);
        }
    }
}
