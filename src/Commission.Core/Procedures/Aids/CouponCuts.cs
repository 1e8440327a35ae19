using System.Collections.Immutable;

namespace Commission.Core.Procedures.Aids;

/// <summary>Lines that cut the test piece as grooves: islands for outside lengths, windows for inside lengths, and two discs, one for each turning sense. Nothing comes loose.</summary>
internal static class CouponCuts
{
    // No deeper than half the cutter, and what a caliper's jaws still reach.
    private const double MostDepthMm = 4;
    private const double FinishMm = 0.2;
    private const double DiscMm = 100;

    private static readonly ImmutableArray<double> Sizes = [20, 50, 100];

    public static Outcome<ImmutableArray<WorkData>> Make(DataRequest request) => request.Needed("cutter-mm", 3, 8)
        .Then(cutter => request.Needed("feed-mm-min", 50, 5000)
            .Then<ImmutableArray<WorkData>>(feed => ImmutableArray.Create(
                Squares(request, "coupon-outside.txt", "Grooves round islands of 20, 50 and 100 mm along X and Y, one inside the other", cutter, feed, +1),
                Squares(request, "coupon-inside.txt", "Grooves whose outer walls are 20, 50 and 100 mm apart along X and Y", cutter, feed, -1),
                Disc(request, "disc-clockwise.txt", cutter, feed, clockwise: true),
                Disc(request, "disc-counter-clockwise.txt", cutter, feed, clockwise: false))));

    // side +1: the measured wall lies inside the path; -1: outside it.
    private static WorkData Squares(DataRequest request, string name, string about, double cutter, double feed, int side)
    {
        var lines = new IsoLines(request.Machine.Units).Begin();
        foreach (var size in Sizes)
        {
            foreach (var (half, depth) in Paths(size, cutter, side))
            {
                // Clockwise round an island, counter-clockwise in a window: the cutter's edge moves against the feed on the measured wall.
                (double X, double Y)[] corners = side > 0 ? [(-half, half), (half, half), (half, -half), (-half, -half)] : [(half, -half), (half, half), (-half, half), (-half, -half)];
                lines.Above(-half, -half).ToHeight(-depth, feed / 3);
                foreach (var (x, y) in corners) lines.To(x, y, feed);
                lines.Up();
            }
        }

        return new WorkData(name, about + Zero, lines.Lines);
    }

    private static WorkData Disc(DataRequest request, string name, double cutter, double feed, bool clockwise)
    {
        var lines = new IsoLines(request.Machine.Units).Begin();
        foreach (var (radius, depth) in Paths(DiscMm, cutter, +1))
        {
            lines.Above(radius, 0).ToHeight(-depth, feed / 3);
            var turn = clockwise ? -1 : 1;
            lines.Arc(clockwise, 0, turn * radius, -radius, 0, feed).Arc(clockwise, -radius, 0, 0, -turn * radius, feed)
                .Arc(clockwise, 0, -turn * radius, radius, 0, feed).Arc(clockwise, radius, 0, 0, turn * radius, feed).Up();
        }

        return new WorkData(name, $"A groove round a disc of 100 mm, cut {(clockwise ? "clockwise" : "counter-clockwise")}" + Zero, lines.Lines);
    }

    private const string Zero = ". Zero of X and Y is the middle of the pattern, zero of Z the upper face." + IsoLines.Ways;

    // Down in layers beside the wall, then once along it at full depth.
    private static IEnumerable<(double Half, double Depth)> Paths(double size, double cutter, int side)
    {
        var depth = Math.Min(MostDepthMm, cutter / 2);
        var layers = (int)Math.Ceiling(depth / 1.0);
        for (var layer = 1; layer <= layers; layer++)
            yield return (((size + (side * cutter)) / 2) + (side * FinishMm), depth * layer / layers);
        yield return ((size + (side * cutter)) / 2, depth);
    }
}
