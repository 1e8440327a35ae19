using Commission.Core.Characteristics;
using Xunit;

namespace Commission.Core.Tests.Characteristics;

public sealed class PlateTests
{
    private static readonly (double X, double Y, string A)[] Marks =
        [(18, 29, "++"), (36, 8, "-+"), (142, 16, "--"), (172, 33, "+-"), (188, 142, "++"), (98, 119, "-+"), (75, 125, "--"), (9, 142, "+-")];

    // The worked example of the plate note, 1.8 (regression): outer and inner of each pair.
    private static readonly (int I, int J, double Outer, double Inner)[] Pairs =
    [
        (1, 3, 132.93, 116.83), (1, 7, 119.90, 103.78), (1, 8, 121.44, 105.35), (2, 4, 146.42, 130.31), (2, 6, 135.22, 119.19), (2, 8, 144.76, 128.67),
        (3, 5, 142.15, 126.02), (3, 7, 135.92, 119.79), (4, 5, 118.13, 102.10), (4, 6, 121.37, 105.26), (5, 7, 122.30, 106.17), (6, 8, 100.12, 84.05),
    ];

    private static string Csv(IEnumerable<(int I, int J, double Outer, double Inner)> pairs, Func<int, string>? approach = null)
    {
        object[] Row(int i, int j, string edge, double value) =>
            [Marks[i - 1].X, Marks[i - 1].Y, approach?.Invoke(i) ?? Marks[i - 1].A, Marks[j - 1].X, Marks[j - 1].Y, approach?.Invoke(j) ?? Marks[j - 1].A, edge, value];
        return Fit.Rows("x1_mm,y1_mm,approach1,x2_mm,y2_mm,approach2,edges,distance_mm",
            pairs.SelectMany(p => new[] { Row(p.I, p.J, "outer", p.Outer), Row(p.I, p.J, "inner", p.Inner) }));
    }

    // The note takes 0.03 mm over 140 mm; a limit that gives the same relative scale over the longest reading.
    private static FitOptions Known(params (string, double)[] numbers) => Fit.With(0.03 * 146.42 / 140, null, numbers);

    [Theory]
    [InlineData("squareness", .001311788, .000170126, .000170108)]
    [InlineData("scaleErrorX", .000915852, .000172010, .000106649)]
    [InlineData("scaleErrorY", -.000210059, .000171239, .000107363)]
    [InlineData("reversalX", -.110179494, .012972716, .012965312)]
    [InlineData("reversalY", -.059710056, .013035467, .013034634)]
    [InlineData("holeDiameter", 8.047759037, .008299893, .005400617)]
    public void The_worked_plate_is_reproduced_where_the_scatter_is_taken_as_known(string name, double value, double u, double fresh)
    {
        var parameter = Fit.Of("plate", Csv(Pairs), Known(("mark-sd-mm", 0.015), ("hole-sd-mm", 0.010))).Parameter(name)!;

        Assert.Equal(value, parameter.Value!.Value, 8);
        Assert.Equal(u, parameter.StandardUncertainty!.Value, 8);
        Assert.Equal(fresh, parameter.FreshUncertainty!.Value, 8);
        Assert.Equal(2, parameter.CoverageFactor!.Value, 9);
    }

    [Fact]
    public void Averaging_over_unknown_scatter_keeps_the_truth_inside()
    {
        // Truth of the worked example: ex 820e-6, ey -310e-6, g 1.35e-3, Bx -.118, By -.064, D 8.05.
        var finding = Fit.Of("plate", Csv(Pairs), Known());
        (string, double)[] truth = [("squareness", 1.35e-3), ("scaleErrorX", 820e-6), ("scaleErrorY", -310e-6), ("reversalX", -.118), ("reversalY", -.064), ("holeDiameter", 8.05)];

        foreach (var (name, value) in truth)
            Assert.InRange(value, finding.Value(name) - 2 * finding.U(name), finding.Value(name) + 2 * finding.U(name));
        Assert.Equal(24, finding.Residuals.Length);
        Assert.Empty(finding.Suspects);
    }

    [Fact]
    public void A_misread_pair_is_named_and_not_left_out()
    {
        var wrong = Pairs.Select((p, i) => i == 3 ? p with { Outer = p.Outer + 0.5 } : p);
        var finding = Fit.Of("plate", Csv(wrong), Known());

        Assert.Contains(finding.Suspects, s => s.Row == 7);
        Assert.Equal(24, finding.Used);
    }

    [Fact]
    public void Marks_all_approached_one_way_say_nothing_of_lost_motion()
    {
        var finding = Fit.Of("plate", Csv(Pairs, _ => "++"), Known());

        Assert.Null(finding.Parameter("reversalX")!.Value);
        Assert.Contains("other side", finding.Parameter("reversalX")!.WhyNoUncertainty!, StringComparison.Ordinal);
        Assert.NotNull(finding.Parameter("squareness")!.ExpandedUncertainty);
    }
}
