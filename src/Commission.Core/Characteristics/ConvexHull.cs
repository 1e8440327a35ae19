namespace Commission.Core.Characteristics;

/// <summary>Corners of the convex hull of points in space: only they can touch a plane that has all points on one side.</summary>
/// <remarks>Incremental: a point outside takes the faces it sees away and closes the hole with faces of its own (M. de Berg and others, Computational Geometry, 3rd edition, chapter 11).</remarks>
internal static class ConvexHull
{
    /// <summary>The corners by index, in rising order; all points where they lie in one plane, which has no inside.</summary>
    public static int[] Corners(HeightPoint[] points)
    {
        if (First(points) is not [var a, var b, var c, var d])
            return [.. Enumerable.Range(0, points.Length)];
        List<(int A, int B, int C)> faces = [Outward(points, a, b, c, d), Outward(points, a, b, d, c), Outward(points, a, c, d, b), Outward(points, b, c, d, a)];
        foreach (var i in Enumerable.Range(0, points.Length).Except([a, b, c, d]))
        {
            var seen = faces.Where(face => Volume(points, face, i) > 0).ToHashSet();
            if (seen.Count == 0)
                continue;
            var edges = seen.SelectMany(face => new[] { (face.A, face.B), (face.B, face.C), (face.C, face.A) }).ToHashSet();
            faces.RemoveAll(seen.Contains);
            // An edge is on the rim of the hole where the face behind it was not seen.
            faces.AddRange(edges.Where(edge => !edges.Contains((edge.Item2, edge.Item1))).Select(edge => (edge.Item1, edge.Item2, i)));
        }
        return [.. faces.SelectMany(face => new[] { face.A, face.B, face.C }).Distinct().Order()];
    }

    // Four points that do not lie in one plane: far apart, far from their line, far from their plane.
    private static int[]? First(HeightPoint[] points)
    {
        var all = Enumerable.Range(0, points.Length).ToArray();
        var a = all.MinBy(i => points[i].X + points[i].Y);
        var b = all.MaxBy(i => points[i].X + points[i].Y);
        var c = all.MaxBy(i => Math.Abs(((points[b].X - points[a].X) * (points[i].Y - points[a].Y)) - ((points[i].X - points[a].X) * (points[b].Y - points[a].Y))));
        var d = all.MaxBy(i => Math.Abs(Volume(points, (a, b, c), i)));
        return Volume(points, (a, b, c), d) == 0 ? null : [a, b, c, d];
    }

    private static (int A, int B, int C) Outward(HeightPoint[] points, int a, int b, int c, int inside) =>
        Volume(points, (a, b, c), inside) < 0 ? (a, b, c) : (a, c, b);

    /// <summary>Six times the volume between a face and a point; positive outside.</summary>
    private static double Volume(HeightPoint[] points, (int A, int B, int C) face, int at)
    {
        var (o, a, b, p) = (points[face.A], points[face.B], points[face.C], points[at]);
        var (ax, ay, az, bx, by, bz) = (a.X - o.X, a.Y - o.Y, a.Z - o.Z, b.X - o.X, b.Y - o.Y, b.Z - o.Z);
        return (((ay * bz) - (az * by)) * (p.X - o.X)) + (((az * bx) - (ax * bz)) * (p.Y - o.Y)) + (((ax * by) - (ay * bx)) * (p.Z - o.Z));
    }
}
