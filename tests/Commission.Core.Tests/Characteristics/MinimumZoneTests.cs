namespace Commission.Core.Tests.Characteristics;

/// <summary>
/// The minimum zone against an oracle of other mathematics: the width of a set between planes of one slope is a convex function of that
/// slope, so nested searches by halves find its least. Points in the middle of the zone, which a convex hull would drop, are among them.
/// </summary>
public sealed class MinimumZoneTests
{
    [Theory]
    [InlineData(49)]
    [InlineData(60)]
    [InlineData(61)]
    [InlineData(100)]
    [InlineData(144)]
    public void The_zone_is_that_of_the_best_slope_of_all(int count)
    {
        foreach (var surface in Surfaces)
        {
            var random = new Random(count);
            var side = (int)Math.Ceiling(Math.Sqrt(count));
            HeightPoint[] points = [.. Enumerable.Range(0, count).Select(i => new HeightPoint(40 * (i % side), 40 * (i / side), 0)).Select(p => p with { Z = surface(p, random) })];
            Assert.Equal(Narrowest(points), MinimumZone.Of(points).Sum(touched => touched.Weight * points[touched.Point].Z), 1e-7);
        }
    }

    // Noise on a tilt; a bowl, all of whose points lie on its hull; a saddle with ties; a roof, flat on both sides; one bump.
    private static Func<HeightPoint, Random, double>[] Surfaces { get; } =
    [
        (p, random) => (1e-3 * p.X) - (2e-4 * p.Y) + (0.05 * random.NextDouble()),
        (p, _) => 1e-6 * (((p.X - 200) * (p.X - 200)) + ((p.Y - 160) * (p.Y - 160))),
        (p, _) => 1e-6 * (p.X - 200) * (p.Y - 160),
        (p, _) => -1e-3 * Math.Abs(p.X - 200),
        (p, _) => p is { X: 120, Y: 160 } ? 0.1 : 1e-4 * p.X,
    ];

    private static double Narrowest(HeightPoint[] points) =>
        Least(p => Least(q => points.Max(point => point.Z - (p * point.X) - (q * point.Y)) - points.Min(point => point.Z - (p * point.X) - (q * point.Y))));

    private static double Least(Func<double, double> convex)
    {
        const double golden = 0.6180339887498949;
        var (low, high) = (-5e-3, 5e-3);
        var (a, b) = (high - (golden * (high - low)), low + (golden * (high - low)));
        var (left, right) = (convex(a), convex(b));
        while (high - low > 1e-11)
        {
            if (left <= right)
            {
                (high, b, right) = (b, a, left);
                a = high - (golden * (high - low));
                left = convex(a);
            }
            else
            {
                (low, a, left) = (a, b, right);
                b = low + (golden * (high - low));
                right = convex(b);
            }
        }

        return Math.Min(left, right);
    }
}
