namespace Commission.Core.Tests.Characteristics;

public sealed class BacklashTests
{
    // A constructed set of five places, up and down, in um: own arithmetic after the formulas of ISO 230-2:2014 (from memory), regression values.
    private static readonly int[][] Up = [[2, 4, 3, 3, 3], [6, 8, 7, 6, 8], [11, 9, 10, 12, 8], [5, 7, 6, 6, 6], [0, 2, 1, 1, 1]];
    private static readonly int[][] Down = [[-6, -4, -5, -5, -5], [-1, 1, 0, 1, -1], [1, 3, 2, 2, 2], [-4, -2, -3, -3, -3], [-8, -6, -7, -7, -7]];

    private static string Csv(int[][] up, int[][] down, double pitch = 100, double unit = 1e-3) => Fit.Rows("place_mm,direction,reading_mm",
        up.SelectMany((values, i) => values.Select(v => (object[])[i * pitch, "+", v * unit]))
            .Concat(down.SelectMany((values, i) => values.Select(v => (object[])[i * pitch, "-", v * unit]))));

    [Fact]
    public void The_worked_set_gives_every_quantity_of_the_standard()
    {
        var finding = Fit.Of("backlash", Csv(Up, Down));

        Assert.Equal(8e-3, finding.Value("reversal"), 12);
        Assert.Equal(9e-3, finding.Value("reversalLargest"), 12);
        Assert.Equal([8e-3, 7e-3, 8e-3, 9e-3, 8e-3], Enumerable.Range(0, 5).Select(i => finding.Value($"reversal[{i * 100}]")), (a, b) => Math.Abs(a - b) < 1e-12);
        (string, double)[] iso = [("B", 9), ("meanB", 8), ("M", 9), ("E", 17), ("Eup", 9), ("Rup", 6.3246), ("R", 12.5765), ("A", 21.5765), ("Aup", 13.5765), ("Adown", 11.8284)];
        foreach (var (name, um) in iso)
            Assert.Equal(um * 1e-3, finding.Value("iso." + name), 7);
    }

    [Fact]
    public void The_hand_checkable_set_agrees()
    {
        // shared/reference/iso230_2/constructed_minimal: constructed, exact arithmetic from the formulas of ISO 230-2:2014 as remembered.
        var path = Path.Combine(Reference.Folder, "iso230_2", "constructed_minimal.csv");
        var rows = File.ReadAllLines(path).Skip(1).Where(l => l.Length > 0).Select(l => l.Split(',')).ToArray();
        Assert.NotEmpty(rows);
        var finding = Fit.Of("backlash", Fit.Rows("place_mm,direction,reading_um", Reference.IsoRows(path)));

        Assert.Equal(4e-3, finding.Value("iso.meanB"), 12);
        Assert.Equal(8e-3, finding.Value("iso.R"), 12);
        Assert.Equal(8e-3, finding.Value("iso.E"), 12);
        Assert.Equal(4e-3, finding.Value("iso.M"), 12);
        Assert.Equal(12e-3, finding.Value("iso.A"), 12);
    }

    [Fact]
    public void Lost_motion_is_a_negative_reversal_value_and_its_uncertainty_falls_with_places_and_repeats()
    {
        var finding = Fit.Of("backlash", "place_mm,direction,reading_mm\n10,+,-.05\n10,-,.06\n10,+,-.06\n10,-,.05\n200,+,-.05\n200,-,.06\n200,+,-.06\n200,-,.05\n");

        Assert.Equal(-0.11, finding.Value("reversal"), 12);
        Assert.Equal(finding.ResidualStandardDeviation!.Value * Math.Sqrt(2.0 / (2 * 2)), finding.U("reversal"), 9);
        Assert.Equal(4, finding.Parameter("reversal")!.DegreesOfFreedom!.Value, 3);
    }

    [Fact]
    public void A_positive_value_is_a_fault_to_find_and_never_a_number_to_enter()
    {
        var finding = Fit.Of("backlash", "place_mm,direction,reading_mm\n10,+,.05\n10,-,-.06\n10,+,.06\n10,-,-.05\n");

        Assert.Equal(AdviceAction.FindTheFault, finding.Advice.Action);
        Assert.Null(finding.Advice.Setting);
    }

    [Fact]
    public void Places_that_differ_are_compensated_by_the_smallest()
    {
        const string csv = "place_mm,direction,reading_mm\n10,+,-.050\n10,-,.051\n10,+,-.051\n10,-,.050\n200,+,-.020\n200,-,.021\n200,+,-.021\n200,-,.020\n";
        var finding = Fit.Of("backlash", csv, Fit.With(1e-9, null, ("compensation-mm", 0)));

        Assert.Equal(0.041, finding.Advice.Setting!.Proposed, 9);
        Assert.Contains(finding.Remarks, r => r.Contains("differ", StringComparison.Ordinal));
    }

    [Theory]
    // Expected values for scatter 1 and no error (own simulation outside this program, 2 000 draws or more).
    [InlineData(5, 5, 0.99, 6.1, 1.38, 6.4)]
    [InlineData(5, 3, 1.29, 6.8, 1.78, 7.1)]
    [InlineData(10, 5, 1.19, 6.6, 1.67, 7.0)]
    public void The_noise_floor_agrees_with_the_simulated_table(int places, int approaches, double b, double r, double e, double a)
    {
        var floor = IsoSet.NoiseFloor(places, approaches);

        Assert.InRange(floor["iso.B"] / b, 0.95, 1.05);
        Assert.InRange(floor["iso.R"] / r, 0.95, 1.05);
        Assert.InRange(floor["iso.E"] / e, 0.93, 1.07);
        Assert.InRange(floor["iso.A"] / a, 0.95, 1.05);
    }

    [Fact]
    public void One_sided_places_are_refused() =>
        Assert.IsType<Outcome<Finding>.Bad>(Fit.Try("backlash", "place_mm,direction,reading_mm\n10,+,.05\n20,-,.05\n"));

    [Fact]
    public void Without_an_instrument_the_fresh_part_is_given_and_nothing_else()
    {
        var finding = Fit.Of("backlash", Csv(Up, Down), new FitOptions());

        Assert.NotNull(finding.Headline.FreshUncertainty);
        Assert.Null(finding.Headline.StandardUncertainty);
        Assert.Equal("no instrument named", finding.Headline.WhyNoUncertainty);
        Assert.Equal((Verdict.None, AdviceAction.MeasureMore), (finding.Verdict, finding.Advice.Action));
    }
}
