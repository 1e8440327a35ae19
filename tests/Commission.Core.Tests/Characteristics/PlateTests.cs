using Commission.Core.Fits;

namespace Commission.Core.Tests.Characteristics;

public sealed class PlateTests
{
    private static readonly (double X, double Y, string A)[] Marks =
        [(18, 29, "++"), (36, 8, "-+"), (142, 16, "--"), (172, 33, "+-"), (188, 142, "++"), (98, 119, "-+"), (75, 125, "--"), (9, 142, "+-")];

    // An example of own making (drawn and worked outside this program; regression): outer and inner of each pair.
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

    [Fact]
    public void One_small_system_answers_as_the_large_one_with_every_mark_and_hole_unknown()
    {
        var finding = Fit.Of("plate", Csv(Pairs), Known(("mark-sd-mm", 0.015), ("hole-sd-mm", 0.010)));

        // Linear about the answer: the change that the large system still wants is nothing, its covariance and residuals are the same.
        var solution = Large([.. Found.Select(name => finding.Parameter(name)!.Value!.Value), 0, -0.000518073]).Solve().Require();

        Assert.All(solution.Estimates.Take(6), change => Assert.InRange(change, -1e-9, 1e-9));
        foreach (var (name, i) in Found.Select((name, i) => (name, i)))
            Assert.Equal(Math.Sqrt(solution.Covariance[i][i]), finding.U(name), 9);
        Assert.All(solution.Residuals.Zip(finding.Residuals), pair => Assert.Equal(pair.First, pair.Second, 9));
    }

    private static readonly string[] Found = ["squareness", "scaleErrorX", "scaleErrorY", "reversalX", "reversalY", "holeDiameter"];

    // The model written out again with three unknowns for each mark.
    private static AugmentedSystem Large(double[] at)
    {
        var (g, ex, ey, bx, by, hole, s, jaws) = (at[0], at[1], at[2], at[3], at[4], at[5], at[6], at[7]);
        string[] unknowns = [.. Found, "caliper", "jaws", .. Enumerable.Range(1, 8).SelectMany(i => new[] { $"x{i}", $"y{i}", $"hole{i}" })];
        var system = new AugmentedSystem(unknowns);
        foreach (var pair in Pairs)
        {
            foreach (var edge in new[] { 1, -1 })
            {
                var (p, q) = (Marks[pair.I - 1], Marks[pair.J - 1]);
                double Half(int place) => ((q.A[place] == '+' ? 1 : -1) - (p.A[place] == '+' ? 1 : -1)) / 2.0;
                var (dx, dy) = (q.X - p.X, q.Y - p.Y);
                var (u, v) = ((1 + ex) * dx + Half(0) * bx, (1 + ey) * dy + Half(1) * by);
                var d = Math.Sqrt(u * u + v * v + 2 * u * v * Math.Sin(g));
                var (nx, ny) = ((u + v * Math.Sin(g)) / d, (v + u * Math.Sin(g)) / d);
                var row = new double[unknowns.Length];
                double[] first = [u * v * Math.Cos(g) / d, nx * dx, ny * dy, nx * Half(0), ny * Half(1), edge, d + edge * hole, edge > 0 ? 1 : 0];
                first.CopyTo(row, 0);
                (row[5 + 3 * pair.I], row[6 + 3 * pair.I], row[7 + 3 * pair.I]) = (-nx, -ny, edge / 2.0);
                (row[5 + 3 * pair.J], row[6 + 3 * pair.J], row[7 + 3 * pair.J]) = (nx, ny, edge / 2.0);
                system.Reading(row, (edge > 0 ? pair.Outer : pair.Inner) - (1 + s) * (d + edge * hole) - (edge > 0 ? jaws : 0), 0.020);
            }
        }
        system.Pseudo("caliper", -s, 0.03 * 146.42 / 140 / (Math.Sqrt(3) * 146.42), "limit", shared: true);
        system.Pseudo("jaws", -jaws, 0.0125, "jaws", shared: true);
        foreach (var i in Enumerable.Range(1, 8))
        {
            system.Pseudo($"x{i}", 0, 0.015, "marks", shared: false);
            system.Pseudo($"y{i}", 0, 0.015, "marks", shared: false);
            system.Pseudo($"hole{i}", 0, 0.010, "holes", shared: false);
        }
        return system;
    }
}
