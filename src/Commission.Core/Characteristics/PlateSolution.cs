using static Commission.Core.Fits.Products;

namespace Commission.Core.Characteristics;

/// <summary>
/// The plate with marks and holes taken out of its unknowns: eight unknowns, and readings whose covariance says what they share.
/// </summary>
/// <remarks>
/// The same answer as one system with every mark and hole as unknowns with pseudo-observations, but small enough to be solved for each
/// point of the scatter's grid. Normal equations in plain doubles are enough: with their priors the scaled columns are far from dependent
/// (condition below 1e4), and a test compares with the large system to nine digits.
/// </remarks>
internal sealed class PlateSolution
{
    private readonly PlateAbout _about;
    private readonly PlateScatter _scatter;
    private readonly double[,] _factor;
    private readonly double[][] _rows;

    private PlateSolution(PlateAbout about, PlateScatter scatter, double[,] factor, double[][] rows)
    {
        _about = about;
        _scatter = scatter;
        _factor = factor;
        _rows = rows;
    }

    /// <summary>Changes of the unknowns from the point.</summary>
    public required double[] Changes { get; init; }

    /// <summary>Their covariance, what priors leave open included.</summary>
    public required double[,] Covariance { get; init; }

    /// <summary>Logarithms of the determinants of the readings' covariance and of the normal matrix, together.</summary>
    public required double LogDeterminants { get; init; }

    /// <summary>Sum of squares of whitened residuals, priors included.</summary>
    public required double ChiSquare { get; init; }

    /// <summary>Readings less what is fitted to the unknowns, whitened.</summary>
    public required double[] Whitened { get; init; }

    /// <summary>Solves about a point; null where the readings and priors leave something open.</summary>
    public static PlateSolution? Of(PlateAbout about, double[] point, PlateScatter scatter, IReadOnlyList<PlatePrior> priors)
    {
        const int unknowns = 8;
        if (Cholesky(Covariances(about, scatter)) is not { } factor)
            return null;
        var (rows, values) = (Whiten(factor, about.Rows), Lower(factor, about.Values));
        var (normal, right) = (new double[unknowns, unknowns], new double[unknowns]);
        for (var i = 0; i < rows.Length; i++)
        {
            for (var a = 0; a < unknowns; a++)
            {
                right[a] += rows[i][a] * values[i];
                for (var b = 0; b <= a; b++)
                    normal[a, b] += rows[i][a] * rows[i][b];
            }
        }
        foreach (var prior in priors)
        {
            var weight = 1 / (prior.Uncertainty * prior.Uncertainty);
            normal[prior.Index, prior.Index] += weight;
            right[prior.Index] += weight * (prior.Expected - point[prior.Index]);
        }
        if (Cholesky(normal) is not { } triangle)
            return null;
        var inverse = Inverse(triangle);
        var changes = Times(inverse, right);
        double[] left = [.. rows.Select((row, i) => values[i] - Dot(row, changes))];
        return new PlateSolution(about, scatter, factor, rows)
        {
            Changes = changes,
            Covariance = inverse,
            LogDeterminants = LogDeterminant(factor) + LogDeterminant(triangle),
            ChiSquare = Dot(left, left) + priors.Sum(p => Math.Pow((point[p.Index] + changes[p.Index] - p.Expected) / p.Uncertainty, 2)),
            Whitened = left,
        };
    }

    /// <summary>What the readings say of marks: residuals, leverages, and where each mark lies.</summary>
    public PlateMarks Marks(int degreesOfFreedom)
    {
        var (readings, n) = (_about.Model.Readings, _rows.Length);
        var weighted = Upper(_factor, Whitened);
        var variance = _scatter.Reading * _scatter.Reading;
        var (residuals, leverages) = (new double[n], new double[n]);
        for (var i = 0; i < n; i++)
        {
            var unit = new double[n];
            unit[i] = 1;
            residuals[i] = variance * weighted[i];
            leverages[i] = Math.Clamp(1 - variance * Left(unit), 0, 1);
        }
        var offsets = new List<PlateOffset>();
        for (var mark = 0; mark < _about.Model.Marks.Count; mark++)
        {
            for (var axis = 0; axis < 2; axis++)
            {
                var column = new double[n];
                for (var i = 0; i < n; i++)
                {
                    var along = axis == 0 ? _about.Directions[i].X : _about.Directions[i].Y;
                    column[i] = along * ((readings[i].To == mark ? 1 : 0) - (readings[i].From == mark ? 1 : 0));
                }
                var square = _scatter.Mark * _scatter.Mark;
                offsets.Add(new PlateOffset(mark, square * Dot(column, weighted), square * Math.Sqrt(Math.Max(Left(column), 0))));
            }
        }
        return new PlateMarks(residuals, leverages, offsets, ChiSquare, degreesOfFreedom);
    }

    /// <summary>z' P z, where P is what the inverse covariance of the readings becomes once the unknowns are fitted.</summary>
    private double Left(double[] z)
    {
        var white = Lower(_factor, z);
        var onto = new double[8];
        for (var i = 0; i < white.Length; i++)
        {
            for (var c = 0; c < 8; c++)
                onto[c] += _rows[i][c] * white[i];
        }
        return Dot(white, white) - Dot(onto, Times(Covariance, onto));
    }

    private static double[,] Covariances(PlateAbout about, PlateScatter s)
    {
        var n = about.Rows.Length;
        var (reading, mark, hole) = (s.Reading * s.Reading, s.Mark * s.Mark, s.Hole * s.Hole);
        var v = new double[n, n];
        for (var i = 0; i < n; i++)
        {
            for (var j = 0; j <= i; j++)
                v[i, j] = (i == j ? reading : 0) + mark * about.MarksShared[i, j] + hole * about.HolesShared[i, j];
        }
        return v;
    }

    /// <summary>Lower triangle L with L L' = the matrix, of which only the lower triangle is read; null where a pivot vanishes.</summary>
    private static double[,]? Cholesky(double[,] a)
    {
        var n = a.GetLength(0);
        var l = new double[n, n];
        for (var j = 0; j < n; j++)
        {
            for (var i = j; i < n; i++)
            {
                var sum = a[i, j];
                for (var k = 0; k < j; k++)
                    sum -= l[i, k] * l[j, k];
                if (i > j)
                    l[i, j] = sum / l[j, j];
                else if (sum > 1e-13 * a[j, j])
                    l[j, j] = Math.Sqrt(sum);
                else
                    return null;
            }
        }
        return l;
    }

    private static double[][] Whiten(double[,] l, double[][] rows)
    {
        var white = new double[rows.Length][];
        for (var i = 0; i < rows.Length; i++)
        {
            var row = (double[])rows[i].Clone();
            for (var k = 0; k < i; k++)
            {
                for (var c = 0; c < row.Length; c++)
                    row[c] -= l[i, k] * white[k][c];
            }
            for (var c = 0; c < row.Length; c++)
                row[c] /= l[i, i];
            white[i] = row;
        }
        return white;
    }

    private static double[] Lower(double[,] l, double[] right)
    {
        var x = (double[])right.Clone();
        for (var i = 0; i < x.Length; i++)
        {
            for (var k = 0; k < i; k++)
                x[i] -= l[i, k] * x[k];
            x[i] /= l[i, i];
        }
        return x;
    }

    private static double[] Upper(double[,] l, double[] right)
    {
        var x = (double[])right.Clone();
        for (var i = x.Length - 1; i >= 0; i--)
        {
            for (var k = i + 1; k < x.Length; k++)
                x[i] -= l[k, i] * x[k];
            x[i] /= l[i, i];
        }
        return x;
    }

    private static double[,] Inverse(double[,] l)
    {
        var n = l.GetLength(0);
        var inverse = new double[n, n];
        for (var c = 0; c < n; c++)
        {
            var unit = new double[n];
            unit[c] = 1;
            var column = Upper(l, Lower(l, unit));
            for (var i = c; i < n; i++)
                inverse[i, c] = inverse[c, i] = column[i];
        }
        return inverse;
    }

    private static double LogDeterminant(double[,] l)
    {
        var sum = 0.0;
        for (var i = 0; i < l.GetLength(0); i++)
            sum += Math.Log(l[i, i]);
        return 2 * sum;
    }
}

/// <summary>Where a mark lies on one axis.</summary>
/// <param name="Mark">Number of the mark, from 0.</param>
/// <param name="Value">Estimated offset, mm.</param>
/// <param name="Deviation">Standard deviation that such an estimate has where the mark scatters as assumed, mm.</param>
internal sealed record PlateOffset(int Mark, double Value, double Deviation);

/// <summary>What the readings say of themselves and of the marks, for residuals and suspects.</summary>
/// <param name="Residuals">Readings less what unknowns, marks and holes explain, mm.</param>
/// <param name="Leverages">Share of each reading's own weight in what is fitted to it, 0 to 1.</param>
/// <param name="Offsets">Each mark on each axis.</param>
/// <param name="ChiSquare">Sum of squares over all, priors included.</param>
/// <param name="DegreesOfFreedom">Readings and priors less unknowns.</param>
internal sealed record PlateMarks(double[] Residuals, double[] Leverages, IReadOnlyList<PlateOffset> Offsets, double ChiSquare, int DegreesOfFreedom);
