using Commission.Core.Quantities;

namespace Commission.Core.Fits;

/// <summary>
/// QR factor of a tall matrix by Householder reflections, with solutions of the augmented system
/// <c>[I A; A' 0] [r; x] = [f; g]</c> refined by residuals in double-double.
/// </summary>
/// <remarks>A. Björck, "Iterative refinement of linear least squares solutions", BIT 7 (1967): one factor in double serves estimates (g = 0) and columns of the covariance (f = 0) alike.</remarks>
internal sealed class HouseholderFactor
{
    private const int MostSteps = 10;
    private readonly DoubleDouble[,] exact;
    private readonly double[,] a;
    private readonly double[] diagonal;
    private readonly double[] beta;
    private readonly int rows;
    private readonly int columns;

    /// <summary>Factors a matrix with at least as many rows as columns.</summary>
    public HouseholderFactor(DoubleDouble[,] matrix)
    {
        exact = matrix;
        rows = matrix.GetLength(0);
        columns = matrix.GetLength(1);
        a = new double[rows, columns];
        for (var i = 0; i < rows; i++)
            for (var j = 0; j < columns; j++) a[i, j] = matrix[i, j].ToDouble();
        diagonal = new double[columns];
        beta = new double[columns];
        for (var k = 0; k < columns; k++) Eliminate(k);
    }

    /// <summary>The triangular factor.</summary>
    public double[,] Triangle()
    {
        var r = new double[columns, columns];
        for (var k = 0; k < columns; k++)
        {
            r[k, k] = diagonal[k];
            for (var j = k + 1; j < columns; j++) r[k, j] = a[k, j];
        }

        return r;
    }

    /// <summary>Solves the augmented system.</summary>
    /// <param name="f">Upper right side, one a row.</param>
    /// <param name="g">Lower right side, one a column.</param>
    /// <param name="leastSteps">Steps of refinement made in any case; more follow while they still change the answer.</param>
    /// <returns>The residuals r and the unknowns x.</returns>
    public (DoubleDouble[] Residuals, DoubleDouble[] Unknowns) Solve(DoubleDouble[] f, DoubleDouble[] g, int leastSteps)
    {
        var r = new DoubleDouble[rows];
        var x = new DoubleDouble[columns];
        var top = Array.ConvertAll(f, v => v.ToDouble());
        var bottom = Array.ConvertAll(g, v => v.ToDouble());
        for (var step = 0; ; step++)
        {
            var change = Once(top, bottom);
            double moved = 0, size = 0;
            for (var j = 0; j < columns; j++)
            {
                x[j] += change[j];
                moved = Math.Max(moved, Math.Abs(change[j]));
                size = Math.Max(size, Math.Abs(x[j].High));
            }

            for (var i = 0; i < rows; i++) r[i] += top[i];
            if (step >= MostSteps || (step >= leastSteps && moved <= 1e-15 * size)) return (r, x);
            Remaining(f, g, r, x, top, bottom);
        }
    }

    // What the present solution leaves of both right sides, summed in double-double.
    private void Remaining(DoubleDouble[] f, DoubleDouble[] g, DoubleDouble[] r, DoubleDouble[] x, double[] top, double[] bottom)
    {
        var below = (DoubleDouble[])g.Clone();
        for (var i = 0; i < rows; i++)
        {
            var rest = f[i] - r[i];
            for (var j = 0; j < columns; j++)
            {
                rest -= exact[i, j] * x[j];
                below[j] -= exact[i, j] * r[i];
            }

            top[i] = rest.ToDouble();
        }

        for (var j = 0; j < columns; j++) bottom[j] = below[j].ToDouble();
    }

    // One solution in double; overwrites f with r and returns x.
    private double[] Once(double[] f, double[] g)
    {
        for (var k = 0; k < columns; k++) Reflect(k, f);
        var z = new double[columns];
        for (var k = 0; k < columns; k++)
        {
            var sum = g[k];
            for (var j = 0; j < k; j++) sum -= a[j, k] * z[j];
            z[k] = sum / diagonal[k];
        }

        var x = new double[columns];
        for (var k = columns - 1; k >= 0; k--)
        {
            var sum = f[k] - z[k];
            for (var j = k + 1; j < columns; j++) sum -= a[k, j] * x[j];
            x[k] = sum / diagonal[k];
        }

        Array.Copy(z, f, columns);
        for (var k = columns - 1; k >= 0; k--) Reflect(k, f);
        return x;
    }

    private void Eliminate(int k)
    {
        var norm = 0.0;
        for (var i = k; i < rows; i++) norm += a[i, k] * a[i, k];
        norm = Math.Sqrt(norm);
        if (norm == 0) return;
        diagonal[k] = a[k, k] > 0 ? -norm : norm;
        a[k, k] -= diagonal[k];
        var square = 0.0;
        for (var i = k; i < rows; i++) square += a[i, k] * a[i, k];
        beta[k] = 2 / square;
        for (var j = k + 1; j < columns; j++)
        {
            var sum = 0.0;
            for (var i = k; i < rows; i++) sum += a[i, k] * a[i, j];
            sum *= beta[k];
            for (var i = k; i < rows; i++) a[i, j] -= sum * a[i, k];
        }
    }

    private void Reflect(int k, double[] b)
    {
        var sum = 0.0;
        for (var i = k; i < rows; i++) sum += a[i, k] * b[i];
        sum *= beta[k];
        for (var i = k; i < rows; i++) b[i] -= sum * a[i, k];
    }
}
