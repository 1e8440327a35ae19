using Commission.Core.Fits;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>A drilled mark.</summary>
/// <param name="X">Commanded X, mm.</param>
/// <param name="Y">Commanded Y, mm.</param>
/// <param name="P">Last approach in X, +1 or -1.</param>
/// <param name="Q">Last approach in Y.</param>
internal sealed record PlateMark(double X, double Y, int P, int Q);

/// <summary>A distance measured between two marks.</summary>
/// <param name="Row">The row.</param>
/// <param name="From">Number of the first mark, from 0.</param>
/// <param name="To">Number of the second mark.</param>
/// <param name="Edge">+1 over the outer walls, -1 over the inner ones, 0 from centre to centre.</param>
/// <param name="Value">Reading, mm.</param>
internal sealed record PlateReading(ReadingRow Row, int From, int To, int Edge, double Value);

/// <summary>Standard deviations of one reading, of a mark's place on each axis, and of a hole's diameter, mm.</summary>
internal sealed record PlateScatter(double Reading, double Mark, double Hole);

/// <summary>The exact model of one plate (plate note 1.1): unknowns in the order of <see cref="Names"/>.</summary>
internal sealed class PlateModel(IReadOnlyList<PlateMark> marks, IReadOnlyList<PlateReading> readings)
{
    /// <summary>Names of the unknowns, for sentences.</summary>
    public static readonly string[] Names =
    [
        "squareness", "the scale error of X", "the scale error of Y", "the lost motion of X", "the lost motion of Y", "the hole's diameter",
        "the scale of the caliper", "the inside jaws",
    ];

    /// <summary>Marks.</summary>
    public IReadOnlyList<PlateMark> Marks => marks;

    /// <summary>Readings.</summary>
    public IReadOnlyList<PlateReading> Readings => readings;

    /// <summary>Predicted reading, its derivatives by the eight unknowns, and the direction from first to second mark.</summary>
    public (double Value, double[] Derivatives, double Nx, double Ny) At(PlateReading reading, double[] b)
    {
        var (i, j) = (marks[reading.From], marks[reading.To]);
        var (dx, dy, a, c) = (j.X - i.X, j.Y - i.Y, (j.P - i.P) / 2.0, (j.Q - i.Q) / 2.0);
        var (u, v) = ((1 + b[1]) * dx + a * b[3], (1 + b[2]) * dy + c * b[4]);
        var (sine, cosine) = (Math.Sin(b[0]), Math.Cos(b[0]));
        var d = Math.Sqrt(u * u + v * v + 2 * u * v * sine);
        var (nx, ny, scale) = ((u + v * sine) / d, (v + u * sine) / d, 1 + b[6]);
        var inside = reading.Edge > 0 ? 1.0 : 0.0;
        var length = d + reading.Edge * b[5];
        return (scale * length + inside * b[7],
            [scale * u * v * cosine / d, scale * nx * dx, scale * ny * dy, scale * a * nx, scale * c * ny, scale * reading.Edge, length, inside], nx, ny);
    }

    /// <summary>Covariance of the readings: their own scatter, and what readings share through a mark (plate note 1.2).</summary>
    public double[,] Covariance(double[] b, PlateScatter s)
    {
        var n = readings.Count;
        var directions = readings.Select(r => At(r, b)).ToArray();
        var v = new double[n, n];
        for (var i = 0; i < n; i++)
        {
            for (var j = i; j < n; j++)
            {
                var (p, q) = (readings[i], readings[j]);
                var along = directions[i].Nx * directions[j].Nx + directions[i].Ny * directions[j].Ny;
                var shared = Same(p.From, q.From) + Same(p.To, q.To) - Same(p.From, q.To) - Same(p.To, q.From);
                var holes = (Same(p.From, q.From) + Same(p.To, q.To) + Same(p.From, q.To) + Same(p.To, q.From)) * p.Edge * q.Edge / 4.0;
                v[i, j] = v[j, i] = (i == j ? s.Reading * s.Reading : 0) + s.Mark * s.Mark * along * shared + s.Hole * s.Hole * holes;
            }
        }
        return v;
    }

    /// <summary>Readings with the covariance taken out (whitened by its Cholesky factor), about a point.</summary>
    /// <returns>The system, and the logarithm of the covariance's determinant.</returns>
    public (AugmentedSystem System, double LogDeterminant) Whitened(double[] b, PlateScatter s, Action<AugmentedSystem, double[]> priors)
    {
        var n = readings.Count;
        var factor = MathNet.Numerics.LinearAlgebra.Matrix<double>.Build.DenseOfArray(Covariance(b, s)).Cholesky().Factor;
        var at = readings.Select(r => At(r, b)).ToArray();
        var rows = new double[n][];
        var values = new double[n];
        for (var i = 0; i < n; i++)
        {
            var (row, value) = ((double[])at[i].Derivatives.Clone(), readings[i].Value - at[i].Value);
            for (var k = 0; k < i; k++)
            {
                var weight = factor[i, k];
                if (weight == 0)
                    continue;
                value -= weight * values[k];
                for (var c = 0; c < row.Length; c++)
                    row[c] -= weight * rows[k][c];
            }
            for (var c = 0; c < row.Length; c++)
                row[c] /= factor[i, i];
            (rows[i], values[i]) = (row, value / factor[i, i]);
        }
        var system = new AugmentedSystem(Names);
        for (var i = 0; i < n; i++)
            system.Reading(rows[i], values[i]);
        priors(system, b);
        return (system, 2 * Enumerable.Range(0, n).Sum(i => Math.Log(factor[i, i])));
    }

    /// <summary>The same problem with every mark and hole as unknowns with pseudo-observations: tells where each mark lies.</summary>
    public AugmentedSystem WithMarks(double[] b, PlateScatter s, Action<AugmentedSystem, double[]> priors)
    {
        var system = new AugmentedSystem([.. Names, .. marks.SelectMany((_, i) => new[] { $"mark {i + 1} in X", $"mark {i + 1} in Y", $"hole {i + 1}" })]);
        foreach (var reading in readings)
        {
            var (value, derivatives, nx, ny) = At(reading, b);
            double[] row = [.. derivatives, .. new double[3 * marks.Count]];
            var (from, to) = (Names.Length + 3 * reading.From, Names.Length + 3 * reading.To);
            (row[from], row[from + 1], row[from + 2]) = (-nx, -ny, reading.Edge / 2.0);
            (row[to], row[to + 1], row[to + 2]) = (nx, ny, reading.Edge / 2.0);
            system.Reading(row, reading.Value - value, s.Reading);
        }
        priors(system, b);
        for (var i = 0; i < marks.Count; i++)
        {
            system.Pseudo($"mark {i + 1} in X", 0, s.Mark, "scatter of the marks", shared: false);
            system.Pseudo($"mark {i + 1} in Y", 0, s.Mark, "scatter of the marks", shared: false);
            system.Pseudo($"hole {i + 1}", 0, s.Hole, "scatter of the holes", shared: false);
        }
        return system;
    }

    private static int Same(int a, int b) => a == b ? 1 : 0;
}
