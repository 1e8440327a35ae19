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

/// <summary>The exact model of one plate, own derivation (law of cosines between axes that are not square): unknowns in the order of <see cref="Names"/>.</summary>
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

    /// <summary>The plate about a point: what is linear in the unknowns, and what readings share through marks and holes (own derivation).</summary>
    public PlateAbout About(double[] b)
    {
        var n = readings.Count;
        var at = readings.Select(r => At(r, b)).ToArray();
        var (marksShared, holesShared) = (new double[n, n], new double[n, n]);
        for (var i = 0; i < n; i++)
        {
            for (var j = i; j < n; j++)
            {
                var (p, q) = (readings[i], readings[j]);
                var along = at[i].Nx * at[j].Nx + at[i].Ny * at[j].Ny;
                var (same, crossed) = (Same(p.From, q.From) + Same(p.To, q.To), Same(p.From, q.To) + Same(p.To, q.From));
                marksShared[i, j] = marksShared[j, i] = along * (same - crossed);
                holesShared[i, j] = holesShared[j, i] = (same + crossed) * p.Edge * q.Edge / 4.0;
            }
        }
        return new PlateAbout(this, [.. at.Select(a => a.Derivatives)], [.. readings.Select((r, i) => r.Value - at[i].Value)],
            marksShared, holesShared, [.. at.Select(a => (a.Nx, a.Ny))]);
    }

    private static int Same(int a, int b) => a == b ? 1 : 0;
}

/// <summary>A plate about a point of its unknowns.</summary>
/// <param name="Model">The plate.</param>
/// <param name="Rows">Derivatives of each reading.</param>
/// <param name="Values">Readings less what the point predicts, mm.</param>
/// <param name="MarksShared">Covariance of the readings for marks of unit scatter.</param>
/// <param name="HolesShared">Covariance of the readings for holes of unit scatter.</param>
/// <param name="Directions">Direction from first to second mark of each reading.</param>
internal sealed record PlateAbout(
    PlateModel Model, double[][] Rows, double[] Values, double[,] MarksShared, double[,] HolesShared, (double X, double Y)[] Directions);

/// <summary>What is known of one unknown besides the readings.</summary>
/// <param name="Index">Its place in <see cref="PlateModel.Names"/>.</param>
/// <param name="Expected">What is expected of it.</param>
/// <param name="Uncertainty">Standard uncertainty of that.</param>
internal readonly record struct PlatePrior(int Index, double Expected, double Uncertainty);
