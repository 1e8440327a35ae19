using Commission.Core.Quantities;
using Commission.Core.Upkeep;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Tests.Screens.Sheets;

/// <summary>The work area as a plan. The numbers are invented.</summary>
public class CornerPlanTests
{
    // Scale X +200 ppm, scale Y -100 ppm, squareness +0.3 mrad, each with its standard uncertainty; no lost motion.
    private static readonly PlaneKnowledge Known = new([200e-6, -100e-6, 0.3e-3, 0, 0, 0, 0], Diagonal(50e-6, 50e-6, 0.1e-3));

    [Fact]
    public void Each_corner_has_its_error_with_U_and_the_worst_one_is_named()
    {
        var area = WorkArea.Of(Known, 420, 580, 0.4);
        var rows = CornerPlan.Of(area, ShownUnits.Millimetres).Select(line => line.Text).ToArray();
        Assert.All(rows, row => Assert.True(row.Length <= CornerPlan.Width, row));
        // By hand: at (420, 580) X = 200e-6 * 420 + 0.3e-3 * 580 = 0.258, Y = -0.058, together 0.264 mm; at (420, 0) 0.084 mm; at the corner it begins from nothing.
        Assert.Contains("0.26 +/- ", rows[0], StringComparison.Ordinal);
        Assert.Contains("(420, 580) worst", rows[1], StringComparison.Ordinal);
        Assert.Contains("420 x 580 mm", string.Concat(rows), StringComparison.Ordinal);
        Assert.Contains("0.084 +/- 0.042 mm", rows[^1], StringComparison.Ordinal);
        Assert.Single(rows, row => row.Contains("worst", StringComparison.Ordinal));
    }

    [Fact]
    public void An_owner_who_works_in_inches_reads_inches()
    {
        var rows = CornerPlan.Of(WorkArea.Of(Known, 420, 580, 0.4), ShownUnits.Inches).Select(line => line.Text).ToArray();
        Assert.Contains("16.5 x 22.8 in", string.Concat(rows), StringComparison.Ordinal);
        Assert.DoesNotContain("mm", string.Concat(rows), StringComparison.Ordinal);
    }

    [Fact]
    public void Where_the_figure_is_not_known_there_is_no_plan() =>
        Assert.Empty(CornerPlan.Of(new WorkArea { WidthMm = 420, DepthMm = 580 }, ShownUnits.Millimetres));

    private static double[,] Diagonal(params double[] uncertainties)
    {
        var covariance = new double[PlaneKnowledge.Count, PlaneKnowledge.Count];
        for (var at = 0; at < uncertainties.Length; at++)
            covariance[at, at] = uncertainties[at] * uncertainties[at];
        return covariance;
    }
}
