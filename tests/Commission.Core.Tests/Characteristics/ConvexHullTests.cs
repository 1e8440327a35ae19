namespace Commission.Core.Tests.Characteristics;

public sealed class ConvexHullTests
{
    [Fact]
    public void A_crooked_box_filled_with_points_has_its_eight_corners()
    {
        var random = new Random(7);
        HeightPoint[] inside = [.. Enumerable.Range(0, 200).Select(_ => new HeightPoint(300 * random.NextDouble(), 200 * random.NextDouble(), 0.1 * random.NextDouble()))];
        HeightPoint[] corners = [.. from x in new[] { -1.0, 301 } from y in new[] { -1.0, 201 } from z in new[] { -0.01, 0.11 } select new HeightPoint(x + (0.1 * random.NextDouble()), y + (0.1 * random.NextDouble()), z + (0.001 * random.NextDouble()))];
        Assert.Equal(Enumerable.Range(200, 8), ConvexHull.Corners([.. inside, .. corners]));
    }

    [Fact]
    public void All_points_of_a_bowl_are_corners_and_none_is_lost_from_a_plane()
    {
        var grid = Enumerable.Range(0, 81).Select(i => new HeightPoint((i % 9) + (1e-3 * Math.Sin(i)), i / 9, 0)).ToArray();
        Assert.Equal(81, ConvexHull.Corners([.. grid.Select(p => p with { Z = (p.X * p.X) + (p.Y * p.Y) })]).Length);
        Assert.Equal(81, ConvexHull.Corners(grid).Length);
    }

    // The definition: whatever the direction, the point farthest in it is a corner.
    [Fact]
    public void The_farthest_point_in_every_direction_is_a_corner()
    {
        var random = new Random(11);
        for (var round = 0; round < 20; round++)
        {
            HeightPoint[] points = [.. Enumerable.Range(0, 100).Select(_ => new HeightPoint(random.NextDouble(), random.NextDouble(), random.NextDouble()))];
            var corners = ConvexHull.Corners(points).ToHashSet();
            Assert.InRange(corners.Count, 4, 99);
            for (var i = 0; i < 500; i++)
            {
                var (x, y, z) = (random.NextDouble() - 0.5, random.NextDouble() - 0.5, random.NextDouble() - 0.5);
                Assert.Contains(Enumerable.Range(0, 100).MaxBy(p => (x * points[p].X) + (y * points[p].Y) + (z * points[p].Z)), corners);
            }
        }
    }
}
