using Commission.Tests;
using Commission.Core.Quantities;

namespace Commission.Core.Tests.Characteristics;

/// <summary>Repeatability, gauge study, event rate, stiffness, square reversal.</summary>
public sealed class CountingKindsTests
{
    [Theory]
    // Upper 95 % bounds in units of 1/T: 3.00, 4.74, 6.30, 7.75 (rule of three, Hanley and Lippman-Hand 1983, and the exact Poisson table).
    [InlineData(0, 3.00)]
    [InlineData(1, 4.74)]
    [InlineData(2, 6.30)]
    [InlineData(3, 7.75)]
    public void The_upper_rate_is_the_exact_Poisson_bound(int events, double bound)
    {
        var finding = Fit.Of("event-rate", $"hours,events\n6,{events}\n4,0\n", new FitOptions());

        Assert.Equal(bound / 10, finding.Value("upperRate"), 2.0 * 5e-4);
        Assert.Equal(events / 10.0, finding.Value("rate"), 12);
    }

    [Fact]
    public void Half_an_hour_without_a_trip_proves_little_and_the_advice_says_how_long_to_run()
    {
        var finding = Fit.Of("event-rate", "hours,events\n0.5,0\n", new FitOptions { Tolerance = ToleranceText.Parse("0.125/h").Require() });

        Assert.Equal((Verdict.Undecided, AdviceAction.MeasureMore), (finding.Verdict, finding.Advice.Action));
        Assert.Contains("23.5 more hours", finding.Advice.Next!, StringComparison.Ordinal);
        Assert.Equal(Verdict.Within, Fit.Of("event-rate", "hours,events\n24,0\n", new FitOptions { Tolerance = ToleranceText.Parse("0.125/h").Require() }).Verdict);
        Assert.Equal(Verdict.Outside, Fit.Of("event-rate", "hours,events\n10,9\n", new FitOptions { Tolerance = ToleranceText.Parse("0.125/h").Require() }).Verdict);
    }

    // Found in use: the class of work was corrected, and the "?" of a bound, which has no U, was gone. The limit of wood is that of plastics; aluminium allows a fifth of it.
    [Theory]
    [InlineData("2,0", WorkClass.Plastics, Verdict.Undecided)]
    [InlineData("2,0", WorkClass.Aluminium, Verdict.Undecided)]
    [InlineData("30,0", WorkClass.Plastics, Verdict.Within)]
    [InlineData("30,0", WorkClass.Aluminium, Verdict.Undecided)]
    [InlineData("200,0", WorkClass.Aluminium, Verdict.Within)]
    [InlineData("10,9", WorkClass.Aluminium, Verdict.Outside)]
    public void A_bound_is_judged_by_the_limit_of_another_class_too(string counted, WorkClass now, Verdict verdict)
    {
        var options = new FitOptions { Tolerance = AcceptanceClasses.Shipped.For("event-rate", WorkClass.Wood) };
        var finding = Fit.Of("event-rate", $"hours,events\n{counted}\n", options);

        var standing = StandingLimit.Of(finding, options, null, new WorkLimits(AcceptanceClasses.Shipped, now))!;

        Assert.Equal((verdict, false), (standing.Verdict, standing.JudgedWithIt));
    }

    [Fact]
    public void The_published_gauge_study_has_the_repeatability_of_its_analysis_of_variance()
    {
        // AIAG, Measurement Systems Analysis, 4th ed. 2010, III-B: sum of squares of repeatability 2.75893 on 60 degrees of freedom.
        var lines = File.ReadAllLines(Path.Combine(Reference.Folder, "gauge_rr", "gauge_rr_10x3x3.csv")).Skip(1).Where(l => l.Length > 0).Select(l => l.Split(','));
        var finding = Fit.Of("gauge-study", Fit.Rows("object,trial,reading_mm", lines.Select(l => (object[])[l[0] + l[1], l[2], l[3]])));

        Assert.Equal(Math.Sqrt(2.75893333333333333 / 60), finding.Value("standardDeviation"), 12);
        Assert.Equal(60, finding.Headline.DegreesOfFreedom);
    }

    // Found in use: 14.6 mm from a mixed-up thing was believed, and every later uncertainty stood on it.
    [Theory]
    [InlineData("10.00 30.00 20.00 20.01", true)]
    [InlineData("10.00 10.30 20.00 20.31", false)]
    [InlineData("10.00 10.02 20.00 20.01", false)]
    public void No_hand_scatters_ten_times_what_its_caliper_may_be_off(string readings, bool isBeyondBelief)
    {
        var rows = readings.Split(' ').Select((reading, i) => (object[])[i / 2 == 0 ? "first" : "second", i % 2, reading]);
        var finding = Fit.Of("gauge-study", Fit.Rows("object,trial,reading_mm", rows), new FitOptions { Instrument = Invented.Caliper });
        Assert.Equal(isBeyondBelief, finding.Advice.Action == AdviceAction.FindTheFault);
        Assert.Equal(isBeyondBelief, finding.WhyNoResult() is not null);
    }

    [Fact]
    public void A_standard_deviation_from_ten_has_the_known_interval()
    {
        // Metrology 8: the 95 % range of sigma from ten is 0.69 to 1.83 s.
        var csv = Fit.Rows("reading_mm", new[] { 1, -1, 2, -2, 0, 0, 1, -1, 1, -1 }.Select(v => (object[])[5 + v * 0.01]));
        var finding = Fit.Of("repeatability", csv);

        Assert.Equal(0.83, finding.Headline.ExpandedUncertainty!.Value / finding.Headline.Value!.Value, 2);
        Assert.Equal(9, finding.Headline.DegreesOfFreedom);
        Assert.Equal(2.262 * finding.Value("standardDeviation") * Math.Sqrt(1.1), finding.Value("expandedNext"), 4);
    }

    [Fact]
    public void Equal_readings_do_not_mean_no_scatter()
    {
        var finding = Fit.Of("repeatability", "reading_mm\n5.00\n5.00\n5.00\n");

        Assert.Equal(0.01 / Math.Sqrt(12), finding.Value("standardDeviation"), 12);
    }

    [Fact]
    public void Clearance_and_stiffness_part_as_worked_out()
    {
        // Metrology 18.10 l (regression): |B| .042 .058 .071 at 0, 20, 40 N.
        var rows = new[] { (0, .042), (20, .058), (40, .071) }.SelectMany(f => new object[][]
        {
            [f.Item1, 100, "+", -f.Item2 / 2], [f.Item1, 100, "-", f.Item2 / 2],
        });
        var finding = Fit.Of("stiffness", Fit.Rows("force_n,place_mm,direction,reading_mm", rows));

        Assert.Equal(0.0425, finding.Value("clearance"), 10);
        Assert.Equal(2759, finding.Value("stiffness"), 0.5);
    }

    [Theory]
    [InlineData(0.95)]
    [InlineData(0.99)]
    public void U_of_a_stiffness_is_the_longer_arm_of_the_interval_of_its_give_turned_over(double coverage)
    {
        var finding = Fit.Of("stiffness", Pulled(0.004), Fit.With() with { Coverage = coverage });
        var stiffness = finding.Parameter("stiffness")!;

        // 1 / K = give, to first order u(K) = u(give) K^2; the ends of the interval of the give, turned over, are those of K.
        var give = 1 / stiffness.Value!.Value;
        var linear = stiffness.StandardUncertainty!.Value * give * give;
        var half = StudentT.Quantile((1 + coverage) / 2, stiffness.DegreesOfFreedom!.Value) * linear;
        Assert.Equal((1 / (give - half)) - (1 / give), stiffness.ExpandedUncertainty!.Value, 1e-6 * stiffness.ExpandedUncertainty.Value);
        Assert.True(stiffness.ExpandedUncertainty > half / (give * give), "longer than the linearised one");
        Assert.Contains(finding.Remarks, remark => remark.Contains("lies between", StringComparison.Ordinal) && remark.Contains($"({100 * coverage:0} %)", StringComparison.Ordinal));
    }

    [Fact]
    public void A_give_no_larger_than_its_uncertainty_leaves_the_stiffness_without_an_upper_bound()
    {
        var loose = Fit.Of("stiffness", Pulled(0.03)).Parameter("stiffness")!;
        Assert.Null(loose.Value);
        Assert.Null(loose.ExpandedUncertainty);
        Assert.Matches("at least [0-9]+ N/mm \\(95 %\\), and no upper bound", loose.WhyNoUncertainty);
    }

    // Its U has no part of the instrument: a bound from it would promise too much.
    [Fact]
    public void Without_the_limit_of_the_instrument_no_bound_of_the_stiffness_is_given() =>
        Assert.Equal("no instrument named", Fit.Of("stiffness", Pulled(0.03), new FitOptions()).Parameter("stiffness")!.WhyNoUncertainty);

    [Fact]
    public void Directions_that_were_turned_over_are_a_fault_to_find_and_no_clearance()
    {
        var finding = Fit.Of("stiffness", Pulled(0.001, -0.042, -0.058, -0.071), Fit.With() with { Tolerance = ToleranceText.Parse("0.1mm").Require() });
        Assert.True(finding.Headline.Value < -1.2 * finding.Headline.ExpandedUncertainty);
        Assert.Equal(AdviceAction.FindTheFault, finding.Advice.Action);
        Assert.Contains("the directions were typed the wrong way round", finding.Advice.Next!, StringComparison.Ordinal);
    }

    [Fact]
    public void A_lost_motion_that_shrinks_under_force_gives_no_stiffness_at_all()
    {
        var finding = Fit.Of("stiffness", Pulled(0.001, 0.08, 0.06, 0.04));
        Assert.Null(finding.Parameter("stiffness")!.Value);
        Assert.Equal("the lost motion does not grow with the force", finding.Parameter("stiffness")!.WhyNoUncertainty);
    }

    // Two pairs at each force, their lost motions apart by the scatter.
    private static string Pulled(double scatter, params double[] lost)
    {
        var at = lost.Length == 0 ? [0.042, 0.058, 0.071] : lost;
        var rows = new[] { 0, 20, 40 }.Zip(at).SelectMany(f => new[] { -0.5, 0.5 }.SelectMany(part => new object[][]
        {
            [f.First, 100, "+", (-f.Second / 2) + (part * scatter)], [f.First, 100, "-", (f.Second / 2) - (part * scatter)],
        }));
        return Fit.Rows("force_n,place_mm,direction,reading_mm", rows);
    }

    [Fact]
    public void Turning_the_square_over_parts_its_error_from_the_machine()
    {
        // Metrology 4.4: g = -(r1 + r2) / (2h), square's error (r1 - r2) / (2h).
        var finding = Fit.Of("square-reversal", "setup,travel_mm,reading_mm\n1,0,0\n1,150,.03\n1,0,0\n1,150,.032\n2,0,.01\n2,150,-.05\n2,0,.01\n2,150,-.052\n");

        Assert.Equal(-(0.031 - 0.061) / 300, finding.Value("squareness"), 12);
        Assert.Equal((0.031 + 0.061) / 300, finding.Value("artefactError"), 12);
    }

    private const string Leaning = "setup,travel_mm,reading_mm\n1,0,0\n1,60,.090\n1,0,.001\n1,60,.092\n2,0,0\n2,60,.091\n2,0,.001\n2,60,.089\n";

    // What a gantry is turned for lies in the plane of X and Y; a Z that leans is shimmed at its plate.
    [Theory]
    [InlineData(null, "Square the gantry mechanically")]
    [InlineData("XY", "Square the gantry mechanically")]
    [InlineData("XZ", "Shim the Z plate")]
    [InlineData("yz", "Shim the Z plate")]
    public void What_is_done_about_an_angle_depends_on_its_plane(string? plane, string next)
    {
        foreach (var limit in new[] { "1mrad", null })
        {
            var options = Fit.With(0.003, limit);
            var finding = Fit.Of("square-reversal", Leaning, plane is null ? options : options with { Words = options.Words.Add("plane", plane) });

            Assert.Equal((limit is null ? Verdict.None : Verdict.Outside, AdviceAction.Change), (finding.Verdict, finding.Advice.Action));
            Assert.StartsWith(next, finding.Advice.Next, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_plane_that_is_none_is_refused() =>
        Assert.Contains("ZX is no plane", Assert.IsType<Outcome<Finding>.Bad>(Fit.Try("square-reversal", Leaning, new FitOptions { Words = new FitOptions().Words.Add("plane", "ZX") })).Problems[0].What, StringComparison.Ordinal);

    // The interval of one over the give is lopsided: told by its ends, with no plus, for what is a size has no sign.
    [Fact]
    public void A_stiffness_is_told_by_the_ends_of_its_interval()
    {
        var finding = Fit.Of("stiffness", Pulled(0.002), Fit.With(0.003));
        var interval = finding.Parameter("stiffness")!.Interval!.Value;
        var (low, value, high) = (interval.Low, finding.Value("stiffness"), interval.High);
        Assert.True(low < value && value < high);
        // U is the longer side; both ends turned over lie alike about the give.
        Assert.Equal(high - value, finding.Parameter("stiffness")!.ExpandedUncertainty!.Value, 1e-6 * high);
        Assert.Equal(2 / value, (1 / low) + (1 / high), 1e-12);
        Assert.Contains(Commission.Core.Reports.FindingText.Lines(finding, 0.95), line => line.StartsWith("  stiffness: ", StringComparison.Ordinal) && line.Contains(" N/mm, between ", StringComparison.Ordinal) && !line.Contains('+'));
    }
}
