using System.Collections.Immutable;

namespace Commission.Core.Characteristics;

/// <summary>A point of a surface, mm.</summary>
/// <param name="X">Position in X.</param>
/// <param name="Y">Position in Y.</param>
/// <param name="Z">Height.</param>
internal readonly record struct HeightPoint(double X, double Y, double Z);

/// <summary>Smallest vertical distance of two parallel planes that hold all points between them, exactly.</summary>
/// <remarks>
/// The zone of a set is the largest zone of its subsets of four: 2 |lambda z| / sum |lambda|, lambda from the null space of their
/// columns (x, y, 1). Above sixty points only corners of the convex hull count, and the subsets are taken from a growing working set
/// of them, because nearly every point of a bowl is a corner: the zone of the working set is a lower bound, and when no corner lies
/// outside its planes it is the zone of all.
/// </remarks>
internal static class MinimumZone
{
    private const int AllSubsets = 60;

    /// <summary>The zone as a sum of weighted heights: the points that its planes touch, by index, each with its weight. Empty where the zone is 0.</summary>
    /// <param name="points">Points at different places.</param>
    public static ImmutableArray<(int Point, double Weight)> Of(IReadOnlyList<HeightPoint> points)
    {
        var all = Enumerable.Range(0, points.Count).ToArray();
        if (points.Count <= AllSubsets)
            return Weights([.. points], Largest([.. points]).Quad, all);
        HeightPoint[] spread = [.. points.Select(Nudged)];
        var looked = ConvexHull.Corners(spread);
        var working = Extremes(spread, looked).Distinct().ToList();
        while (true)
        {
            HeightPoint[] some = [.. working.Select(i => spread[i])];
            var (zone, quad) = Largest(some);
            if (quad is not { } q || Plane.Between(some[q.A], some[q.B], some[q.C], some[q.D]) is not { } plane)
                return Weights(some, quad, working);
            var above = looked.MaxBy(i => spread[i].Z - plane.At(spread[i]));
            var below = looked.MinBy(i => spread[i].Z - plane.At(spread[i]));
            var over = Math.Max(spread[above].Z - plane.At(spread[above]), plane.At(spread[below]) - spread[below].Z);
            int[] outside = [.. new[] { above, below }.Distinct().Where(i => !working.Contains(i))];
            if (over > zone / 2 + 1e-12 && outside.Length > 0)
                working.AddRange(outside);
            else if (looked.Length == all.Length)
                return Weights(some, quad, working);
            else
                looked = all; // Rounding may have hidden a corner: the last look is at every point.
        }
    }

    private static ImmutableArray<(int Point, double Weight)> Weights(HeightPoint[] p, Quad? quad, IReadOnlyList<int> numbers)
    {
        if (quad is not { } q)
            return [];
        var (a, b, c, d) = (p[q.A], p[q.B], p[q.C], p[q.D]);
        double[] lambda = [Minor(b, c, d), -Minor(a, c, d), Minor(a, b, d), -Minor(a, b, c)];
        var sum = lambda[0] * a.Z + lambda[1] * b.Z + lambda[2] * c.Z + lambda[3] * d.Z;
        var factor = 2 * Math.Sign(sum) / lambda.Sum(Math.Abs);
        return [.. new[] { q.A, q.B, q.C, q.D }.Zip(lambda, (i, l) => (numbers[i], factor * l))];
    }

    /// <summary>Moves a point aside by less than a nanometre, so that no three of a grid lie in line and no four in a plane.</summary>
    private static HeightPoint Nudged(HeightPoint p, int i) => new(p.X + (1e-7 * Math.Sin(i * 12.9898)), p.Y + (1e-7 * Math.Sin(i * 78.233)), p.Z + (1e-10 * Math.Sin(i * 37.719)));

    private static IEnumerable<int> Extremes(HeightPoint[] points, int[] all)
    {
        var level = Plane.Through(points);
        foreach (Func<HeightPoint, double> value in new Func<HeightPoint, double>[] { p => p.X + p.Y, p => p.X - p.Y, p => p.Z - level.At(p), p => p.X, p => p.Y })
        {
            yield return all.MaxBy(i => value(points[i]));
            yield return all.MinBy(i => value(points[i]));
        }
    }

    private static (double Zone, Quad? Quad) Largest(HeightPoint[] p)
    {
        var (best, found) = (0.0, (Quad?)null);
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
                            (best, found) = (zone, new Quad(i, j, k, l));
                    }
                }
            }
        }
        return (best, found);
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

    /// <summary>Four points of a set, by index.</summary>
    private readonly record struct Quad(int A, int B, int C, int D);

    /// <summary>A plane through the middle of a zone.</summary>
    private readonly record struct Plane(double C, double P, double Q)
    {
        public double At(in HeightPoint point) => C + P * point.X + Q * point.Y;

        /// <summary>The least-squares plane.</summary>
        public static Plane Through(HeightPoint[] points)
        {
            var (x, y) = (points.Average(p => p.X), points.Average(p => p.Y));
            var design = MathNet.Numerics.LinearAlgebra.Matrix<double>.Build.Dense(points.Length, 3, (i, j) => j == 0 ? 1 : j == 1 ? points[i].X - x : points[i].Y - y);
            var solved = design.QR().Solve(MathNet.Numerics.LinearAlgebra.Vector<double>.Build.Dense(points.Length, i => points[i].Z));
            return new Plane(solved[0] - (solved[1] * x) - (solved[2] * y), solved[1], solved[2]);
        }

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
