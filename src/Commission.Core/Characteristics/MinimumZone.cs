namespace Commission.Core.Characteristics;

/// <summary>A point of a surface, mm.</summary>
/// <param name="X">Position in X.</param>
/// <param name="Y">Position in Y.</param>
/// <param name="Z">Height.</param>
internal readonly record struct HeightPoint(double X, double Y, double Z);

/// <summary>Smallest vertical distance of two parallel planes that hold all points between them, exactly.</summary>
/// <remarks>
/// The zone of a set is the largest zone of its subsets of four: 2 |lambda z| / sum |lambda|, lambda from the null space of their
/// columns (x, y, 1). Above sixty points the subsets are taken from a growing working set: the zone of the working set is a lower
/// bound, and when no point lies outside its planes it is the zone of all. Same value as over the convex hull, without building one.
/// </remarks>
internal static class MinimumZone
{
    private const int AllSubsets = 60;

    /// <summary>The zone, mm; 0 for three points or fewer.</summary>
    public static double Of(IReadOnlyList<HeightPoint> points)
    {
        HeightPoint[] distinct = [.. points.Distinct()];
        if (distinct.Length < 4)
            return distinct.Length == 0 ? 0 : Vertical(distinct);
        return distinct.Length <= AllSubsets ? Largest(distinct).Zone : Growing(distinct);
    }

    private static double Vertical(HeightPoint[] points) =>
        points.GroupBy(p => (p.X, p.Y)).Max(g => g.Max(p => p.Z) - g.Min(p => p.Z));

    private static double Growing(HeightPoint[] points)
    {
        HeightPoint[] spread = [.. points.Select(Nudged)];
        var working = Extremes(spread).Distinct().ToList();
        for (var round = 0; round < 400; round++)
        {
            var (zone, plane) = Largest([.. working]);
            if (plane is not { } p)
                return zone;
            var above = spread.MaxBy(q => q.Z - p.At(q));
            var below = spread.MinBy(q => q.Z - p.At(q));
            var over = Math.Max(above.Z - p.At(above), p.At(below) - below.Z);
            if (over <= zone / 2 + 1e-12 || (working.Contains(above) && working.Contains(below)))
                return zone;
            working.AddRange(new[] { above, below }.Where(q => !working.Contains(q)));
        }
        return Largest([.. working]).Zone;
    }

    /// <summary>Moves a point aside by less than a nanometre, so that no three of a grid lie in line.</summary>
    private static HeightPoint Nudged(HeightPoint p, int i) => p with { X = p.X + 1e-7 * Math.Sin(i * 12.9898), Y = p.Y + 1e-7 * Math.Sin(i * 78.233) };

    private static IEnumerable<HeightPoint> Extremes(HeightPoint[] points)
    {
        foreach (Func<HeightPoint, double> value in new Func<HeightPoint, double>[] { p => p.X + p.Y, p => p.X - p.Y, p => p.Z, p => p.X, p => p.Y })
        {
            yield return points.MaxBy(value);
            yield return points.MinBy(value);
        }
    }

    private static (double Zone, Plane? Plane) Largest(HeightPoint[] p)
    {
        var (best, found) = (Vertical(p), ((int, int, int, int)?)null);
        for (var i = 0; i < p.Length; i++)
        {
            for (var j = i + 1; j < p.Length; j++)
            {
                for (var k = j + 1; k < p.Length; k++)
                {
                    for (var l = k + 1; l < p.Length; l++)
                    {
                        var zone = Zone(p[i], p[j], p[k], p[l]);
                        if (zone > best)
                            (best, found) = (zone, (i, j, k, l));
                    }
                }
            }
        }
        return (best, found is { } f ? Plane.Between(p[f.Item1], p[f.Item2], p[f.Item3], p[f.Item4]) : null);
    }

    private static double Zone(in HeightPoint a, in HeightPoint b, in HeightPoint c, in HeightPoint d)
    {
        var (la, lb, lc, ld) = (Minor(b, c, d), -Minor(a, c, d), Minor(a, b, d), -Minor(a, b, c));
        var size = Math.Abs(la) + Math.Abs(lb) + Math.Abs(lc) + Math.Abs(ld);
        return size == 0 ? 0 : 2 * Math.Abs(la * a.Z + lb * b.Z + lc * c.Z + ld * d.Z) / size;
    }

    /// <summary>Twice the signed area of the triangle of three points.</summary>
    private static double Minor(in HeightPoint a, in HeightPoint b, in HeightPoint c) =>
        (b.X - a.X) * (c.Y - a.Y) - (c.X - a.X) * (b.Y - a.Y);

    /// <summary>A plane through the middle of a zone.</summary>
    private readonly record struct Plane(double C, double P, double Q)
    {
        public double At(in HeightPoint point) => C + P * point.X + Q * point.Y;

        /// <summary>The plane from which four points lie equally far, on the sides that their null vector says.</summary>
        public static Plane? Between(HeightPoint a, HeightPoint b, HeightPoint c, HeightPoint d)
        {
            double[] lambda = [Minor(b, c, d), -Minor(a, c, d), Minor(a, b, d), -Minor(a, b, c)];
            HeightPoint[] p = [a, b, c, d];
            var matrix = MathNet.Numerics.LinearAlgebra.Matrix<double>.Build.Dense(4, 4, (i, j) =>
                j == 0 ? 1 : j == 1 ? p[i].X - a.X : j == 2 ? p[i].Y - a.Y : Math.Sign(lambda[i]));
            var solved = matrix.Solve(MathNet.Numerics.LinearAlgebra.Vector<double>.Build.Dense(4, i => p[i].Z));
            return solved.All(double.IsFinite) ? new Plane(solved[0] - solved[1] * a.X - solved[2] * a.Y, solved[1], solved[2]) : null;
        }
    }
}
