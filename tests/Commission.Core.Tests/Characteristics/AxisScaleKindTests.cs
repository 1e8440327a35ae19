using System.Collections.Immutable;
using Commission.Core.Instruments;
using Commission.Core.Readings;
using Commission.Core.Tests.Support;

namespace Commission.Core.Tests.Characteristics;

public sealed class AxisScaleKindTests
{
    private static readonly Instrument Caliper = new("caliper", InstrumentKind.Other, .03, .01, 150, "typed for the test");
    private static readonly HandStudy Hand = new("me", "caliper", .02, 14);

    // Own computed regression values, not proof.
    private static readonly ReadingTable Example = Some.Axis(
        (20, 20.06, 1), (20, 20.17, -1), (80, 80.15, 1), (80, 80.27, -1), (140, 140.26, 1), (140, 140.36, -1));

    private static Finding Fit(ReadingTable table, FitOptions? options = null) => new AxisScaleKind().Evaluate(table, options ?? new FitOptions()).Require();

    /// <summary>Ten readings of the default plan with a scale error and noise of 0.01 mm.</summary>
    private static ReadingTable Plan(double scale, double reversal = -.06)
    {
        double[] places = [4.3, 4.3, 4.3, 4.3, 76.1, 76.1, 145.4, 145.4, 145.4, 145.4];
        int[] directions = [1, -1, -1, 1, 1, -1, 1, -1, -1, 1];
        double[] noise = [.008, -.012, .004, .011, -.009, .006, -.013, .002, .009, -.006];
        return Some.Axis([.. places.Select((c, k) => (c, Math.Round((c * (1 + scale)) + (directions[k] * reversal / 2) + noise[k], 4), directions[k]))]);
    }

    [Fact]
    public void The_example_gives_its_regression_values()
    {
        var finding = Fit(Example, new FitOptions { Instrument = Caliper with { ResolutionMm = null }, StepsPerMm = 320 });
        Assert.Equal(["scaleError", "reversal", "zero"], finding.Parameters.Select(p => p.Name));
        Assert.Equal(.001625, finding.Headline.Value!.Value, 9);
        Assert.Equal(-.110, finding.Parameter("reversal")!.Value!.Value, 9);
        Assert.Equal(.081667, finding.Parameter("zero")!.Value!.Value, 6);
        Assert.Equal(.0060093, finding.ResidualStandardDeviation!.Value, 7);
        Assert.Equal(5.0077e-5, finding.Headline.FreshUncertainty!.Value, 9);

        // The regression values divide the limit by 140 mm, the contract by the longest reading of the set, 140.36 mm.
        var shared = .03 / (Math.Sqrt(3) * 140.36);
        Assert.Equal(shared, finding.Headline.SharedUncertainty!.Value, 12);
        Assert.Equal(1.23718e-4, finding.Headline.SharedUncertainty!.Value * 140.36 / 140, 9);
        Assert.Equal(1.33468e-4, Math.Sqrt(Math.Pow(shared * 140.36 / 140, 2) + Math.Pow(finding.Headline.FreshUncertainty!.Value, 2)), 9);
        Assert.Equal(Math.Sqrt((shared * shared) + (5.0077e-5 * 5.0077e-5)), finding.Headline.StandardUncertainty!.Value, 8);
        Assert.Equal(150, finding.Headline.DegreesOfFreedom!.Value, 1.0);
        Assert.Equal(Verdict.None, finding.Verdict);
    }

    [Fact]
    public void Readings_after_a_disturbed_set_up_have_a_zero_of_their_own_and_tell_the_same_scale()
    {
        var plan = Plan(.0012);
        var bumped = plan with
        {
            Columns = plan.Columns.Add("zero"),
            Rows = [.. plan.Rows.Select((row, i) => i < 6 ? row : row with { Numbers = row.Numbers.SetItem("measured_mm", row["measured_mm"] + .7), Words = row.Words.SetItem("zero", "2") })],
        };
        var options = new FitOptions { Instrument = Caliper, Hand = Hand };
        var (whole, parted) = (Fit(plan, options), Fit(bumped, options));
        Assert.InRange(parted.Headline.Value!.Value - whole.Headline.Value!.Value, -2e-4, 2e-4);
        Assert.InRange(parted.Headline.Value!.Value, .0012 - parted.Headline.ExpandedUncertainty!.Value, .0012 + parted.Headline.ExpandedUncertainty.Value);
        // One unknown more cannot make it better known.
        Assert.True(parted.Headline.FreshUncertainty > whole.Headline.FreshUncertainty);
        Assert.Empty(parted.Suspects);
        Assert.Contains(parted.Remarks, remark => remark.Contains("2 groups of readings with a zero each", StringComparison.Ordinal));
        Assert.NotEqual(AdviceAction.FindTheFault, parted.Advice.Action);
    }

    [Fact]
    public void A_prior_of_100_ppm_pulls_the_example_as_the_regression_says()
    {
        // 18.10 (a): tau 1e-4 gives 5.8424e-4 with u 8.003e-5, from the pair 1.625e-3 and 1.33468e-4.
        var (mean, uncertainty) = AxisDecision.Posterior(.001625, 1.33468e-4, 1e-4);
        Assert.Equal(5.8424e-4, mean, 8);
        Assert.Equal(8.003e-5, uncertainty, 8);
        var given = Fit(Example, new FitOptions { Instrument = Caliper with { ResolutionMm = null }, PriorStandardUncertainty = 1e-4 }).Parameter("scaleErrorGivenGrade")!;
        Assert.Equal(5.8424e-4, given.Value!.Value, 2e-6);
        Assert.Equal(8.003e-5, given.StandardUncertainty!.Value, 1e-7);
    }

    [Fact]
    public void Without_an_instrument_only_the_fresh_part_is_given()
    {
        var finding = Fit(Example, new FitOptions { Tolerance = new Tolerance(3e-4, "1", "300ppm") });
        var headline = finding.Headline;
        Assert.NotNull(headline.FreshUncertainty);
        Assert.Null(headline.SharedUncertainty);
        Assert.Null(headline.StandardUncertainty);
        Assert.Null(headline.ExpandedUncertainty);
        Assert.Equal("no instrument named", headline.WhyNoUncertainty);
        Assert.Equal((Verdict.None, AdviceAction.MeasureMore), (finding.Verdict, finding.Advice.Action));
    }

    [Fact]
    public void Within_what_the_grade_allows_the_axis_is_left_alone()
    {
        var finding = Fit(Plan(250e-6), new FitOptions { Instrument = Caliper, Hand = Hand, ScrewGrade = 7, Drive = DriveKind.Screw, StepsPerMm = 320 });
        Assert.Equal(AdviceAction.Leave, finding.Advice.Action);
        Assert.Null(finding.Advice.Setting);
        Assert.Equal(["scaleError", "reversal", "zero", "scaleErrorGivenGrade"], finding.Parameters.Select(p => p.Name));
        Assert.True(Math.Abs(finding.Parameters[3].Value!.Value) < Math.Abs(finding.Headline.Value!.Value));
        Assert.Equal(4, finding.Covariance.Length);
        Assert.Equal(finding.Parameters[3].StandardUncertainty!.Value, Math.Sqrt(finding.Covariance[3][3]), 12);
    }

    [Fact]
    public void Beyond_the_grade_one_result_finds_a_fault_and_two_that_agree_make_a_change()
    {
        var options = new FitOptions { Instrument = Caliper, Hand = Hand, ScrewGrade = 7, Drive = DriveKind.Screw, StepsPerMm = 320, Axis = AxisName.X };
        var alone = Fit(Plan(1200e-6), options);
        Assert.Equal(AdviceAction.FindTheFault, alone.Advice.Action);
        Assert.Contains("another instrument", alone.Advice.Next, StringComparison.Ordinal);

        var same = Fit(Plan(1200e-6), options with { Others = [new IndependentResult(1150e-6, 60e-6, "caliper")] });
        Assert.Equal(AdviceAction.FindTheFault, same.Advice.Action);

        var apart = Fit(Plan(1200e-6), options with { Others = [new IndependentResult(400e-6, 60e-6, "rod")] });
        Assert.Equal(AdviceAction.FindTheFault, apart.Advice.Action);

        var agreed = Fit(Plan(1200e-6), options with { Others = [new IndependentResult(1150e-6, 60e-6, "rod")] });
        Assert.Equal(AdviceAction.Change, agreed.Advice.Action);
        var setting = agreed.Advice.Setting!;
        Assert.Equal(("stepsPerMm", "X", "steps/mm"), (setting.Name, setting.Axis, setting.ExpressedAs));
        Assert.InRange(setting.Proposed, 320 / 1.0012, 320 / 1.00115);
        Assert.Equal(Math.Round(setting.Proposed, 3), setting.AsStored);
    }

    [Fact]
    public void An_unknown_drive_is_changed_by_the_posterior_mean_when_harm_is_unlikely()
    {
        var options = new FitOptions { Instrument = Caliper, Hand = Hand, Drive = DriveKind.Belt, StepsPerMm = 80, SettingDecimals = 2 };
        var finding = Fit(Plan(2500e-6), options);
        Assert.Equal(AdviceAction.Change, finding.Advice.Action);
        var e = finding.Headline.Value!.Value;
        var (mean, u) = AxisDecision.Posterior(e, finding.Headline.StandardUncertainty!.Value, 1200e-6);
        Assert.Equal(80 / (1 + mean), finding.Advice.Setting!.Proposed, 12);
        Assert.True(AxisDecision.OddsOfHarm(mean, u, 145.4) <= .05);
        Assert.Equal(AdviceAction.Leave, Fit(Plan(100e-6), options).Advice.Action);
    }

    [Fact]
    public void An_estimate_that_conflicts_with_its_prior_is_measured_again()
    {
        var finding = Fit(Plan(3500e-6), new FitOptions { Instrument = Caliper, Hand = Hand, Drive = DriveKind.Screw, StepsPerMm = 320 });
        Assert.Equal(AdviceAction.MeasureMore, finding.Advice.Action);
        Assert.Contains("one of the two is wrong", finding.Advice.Because, StringComparison.Ordinal);
        var agreed = Fit(Plan(3500e-6), new FitOptions
        {
            Instrument = Caliper, Hand = Hand, Drive = DriveKind.Screw, StepsPerMm = 320, Others = [new IndependentResult(3450e-6, 80e-6, "rod")],
        });
        Assert.Equal(AdviceAction.Change, agreed.Advice.Action);
    }

    [Fact]
    public void A_gross_ratio_goes_to_the_detective_and_never_to_a_setting()
    {
        var finding = Fit(Plan(.016), new FitOptions { Instrument = Caliper, Hand = Hand, StepsPerMm = 320, TravelPerTurnMm = 5 });
        Assert.Equal(AdviceAction.FindTheFault, finding.Advice.Action);
        Assert.Contains("5.08", finding.Advice.Next, StringComparison.Ordinal);
        Assert.Null(finding.Advice.Setting);
    }

    [Theory]
    [InlineData(.004, AdviceAction.MeasureMore)]
    [InlineData(.006, AdviceAction.FindTheFault)]
    public void On_a_screw_half_a_per_cent_is_the_limit_of_calibration(double scale, AdviceAction action) =>
        Assert.Equal(action, Fit(Plan(scale), new FitOptions { Instrument = Caliper, Hand = Hand, Drive = DriveKind.Screw }).Advice.Action);

    [Fact]
    public void Rounding_that_exceeds_the_error_leaves_it()
    {
        var options = new FitOptions { Instrument = Caliper with { LimitMm = .001 }, Hand = Hand, Drive = DriveKind.Belt, StepsPerMm = 79.98, SettingDecimals = 0 };
        var finding = Fit(Plan(900e-6), options);
        Assert.Equal(AdviceAction.Leave, finding.Advice.Action);
        Assert.Contains("round", finding.Advice.Because, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(RatioSetting.StepsPerMm, "stepsPerMm", "steps/mm", 320)]
    [InlineData(RatioSetting.StepsPerInch, "stepsPerInch", "steps/in", 8128)]
    [InlineData(RatioSetting.MmPerStep, "mmPerStep", "mm/step", .003125)]
    public void The_setting_is_told_in_the_controllers_own_unit(RatioSetting form, string name, string unit, double current)
    {
        var options = new FitOptions { StepsPerMm = 320, Setting = form, SettingDecimals = 6 };
        var setting = RatioProposal.For(.001, 1e-4, options)!;
        Assert.Equal((name, unit), (setting.Name, setting.ExpressedAs));
        Assert.Equal(current, setting.Current, 12);
        Assert.Equal(form == RatioSetting.MmPerStep ? current * 1.001 : current / 1.001, setting.Proposed, 12);

        // What the rounding leaves, seen on the axis: travel goes with the number of steps for a millimetre.
        var steps = form == RatioSetting.MmPerStep ? 1 / setting.AsStored : setting.AsStored / (form == RatioSetting.StepsPerInch ? 25.4 : 1);
        Assert.Equal((steps / (320 / 1.001)) - 1, setting.RoundingError, 12);
    }

    [Fact]
    public void Measured_from_the_other_side_is_asked_about()
    {
        var bad = Assert.IsType<Outcome<Finding>.Bad>(new AxisScaleKind().Evaluate(
            Some.Axis((20, 130.1, 1), (80, 70, 1), (140, 10.1, 1), (20, 130, -1)), new FitOptions()));
        Assert.Contains("measured from the other side", Assert.Single(bad.Problems).Remedy, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void A_commanded_value_typed_as_a_reading_is_no_measurement()
    {
        var finding = Fit(Some.Axis((20, 20, 1), (80, 80, -1), (140, 140, 1), (20, 20, -1), (80, 80, 1)), new FitOptions { Instrument = Caliper, Hand = Hand });
        Assert.Equal(AdviceAction.MeasureMore, finding.Advice.Action);
        Assert.Contains(finding.Suspects, suspect => suspect.Row == 0);
    }

    [Fact]
    public void A_first_position_that_does_not_close_finds_the_fault()
    {
        var rows = Plan(300e-6).Rows;
        var drifted = rows[0] with { Number = 11, Line = 12, Numbers = rows[0].Numbers.SetItem("measured_mm", rows[0]["measured_mm"] + .12) };
        var finding = Fit(Plan(300e-6) with { Rows = rows.Add(drifted) }, new FitOptions { Instrument = Caliper, Hand = Hand });
        Assert.Equal(AdviceAction.FindTheFault, finding.Advice.Action);
        Assert.Contains("drifts", finding.Advice.Because, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_directions_lost_motion_is_null_with_its_reason()
    {
        var finding = Fit(Some.Axis((20, 20.03, 0), (20, 20.04, 0), (80, 80.1, 0), (80, 80.08, 0), (140, 140.14, 0), (140, 140.15, 0)), new FitOptions { Instrument = Caliper });
        var reversal = finding.Parameter("reversal")!;
        Assert.Null(reversal.Value);
        Assert.NotNull(reversal.WhyNoUncertainty);
        Assert.Equal(2, finding.Covariance.Length);
    }

    [Fact]
    public void As_many_unknowns_as_readings_is_undecided_and_names_the_next_step()
    {
        var finding = Fit(Some.Axis((20, 20.03, 1), (140, 140.2, 1), (140, 140.25, -1)), new FitOptions { Instrument = Caliper, Tolerance = new Tolerance(3e-4, "1", "300ppm") });
        Assert.Equal(Verdict.Undecided, finding.Verdict);
        Assert.Null(finding.Headline.ExpandedUncertainty);
        Assert.NotNull(finding.Advice.Next);
    }

    [Fact]
    public void A_directional_pattern_that_masquerades_as_scale_is_refused_in_words()
    {
        var bad = Assert.IsType<Outcome<Finding>.Bad>(new AxisScaleKind().Evaluate(
            Some.Axis((20, 20.1, 1), (20, 20.1, 1), (140, 140, -1), (140, 140, -1)), new FitOptions()));
        Assert.Contains("scale", Assert.Single(bad.Problems).What, StringComparison.Ordinal);
        Assert.Contains("reversal", bad.Problems[0].What, StringComparison.Ordinal);
    }

    [Fact]
    public void A_caliper_and_temperatures_correct_the_value_and_stand_in_the_budget()
    {
        var plain = Fit(Plan(800e-6), new FitOptions { Instrument = Caliper, Hand = Hand, Drive = DriveKind.Screw });
        var corrected = Fit(Plan(800e-6), new FitOptions
        {
            Instrument = Caliper with { Kind = InstrumentKind.CaliperDigital }, Hand = Hand, Drive = DriveKind.Screw, TemperaturesC = (25, 20),
        });
        Assert.Equal(plain.Headline.Value!.Value - 27.4156e-6 - (5 * 11.5e-6), corrected.Headline.Value!.Value, 9);
        Assert.Contains(corrected.Budget, line => line.Source == "tilt of the jaws");
        Assert.Contains(corrected.Budget, line => line.Source.StartsWith("temperatures", StringComparison.Ordinal));
        Assert.Equal(1, corrected.Budget.Sum(line => line.Share), 12);
    }

    [Theory]
    [InlineData(0, Verdict.Within)]
    [InlineData(700e-6, Verdict.Undecided)]
    [InlineData(1500e-6, Verdict.Outside)]
    public void Three_zones_follow_the_guard_band(double scale, Verdict verdict)
    {
        var finding = Fit(Plan(scale), new FitOptions { Instrument = Caliper, Hand = Hand, Tolerance = new Tolerance(700e-6, "1", "700ppm"), Drive = DriveKind.Belt });
        Assert.Equal(verdict, finding.Verdict);
        if (verdict == Verdict.Undecided) Assert.NotNull(finding.Advice.Next);
    }

    [Fact]
    public void Undecided_names_the_next_step_even_where_the_grade_says_leave()
    {
        var finding = Fit(Plan(250e-6), new FitOptions
        {
            Instrument = Caliper, Hand = Hand, ScrewGrade = 7, Drive = DriveKind.Screw, Tolerance = new Tolerance(300e-6, "1", "300ppm"),
        });
        Assert.Equal((Verdict.Undecided, AdviceAction.Leave), (finding.Verdict, finding.Advice.Action));
        Assert.NotNull(finding.Advice.Next);
    }

    [Fact]
    public void A_limit_in_millimetres_holds_over_the_length_of_the_job()
    {
        var options = new FitOptions { Instrument = Caliper, Hand = Hand, Drive = DriveKind.Belt, Tolerance = new Tolerance(.4, "mm", "0.4mm") };
        Assert.Equal(Verdict.Within, Fit(Plan(1000e-6), options).Verdict);
        Assert.Equal(Verdict.Outside, Fit(Plan(1500e-6), options with { TravelMm = 600 }).Verdict);
    }

    [Fact]
    public void The_picture_marks_both_approaches_apart_and_shows_the_band()
    {
        var table = Plan(800e-6);
        var figure = new AxisScaleKind().Picture(Fit(table, new FitOptions { Instrument = Caliper, Hand = Hand }), table)!;
        var points = figure.Layers.OfType<FigureLayer.Points>().ToArray();
        Assert.Equal([FigureMark.Increasing, FigureMark.Decreasing], points.Select(layer => layer.Mark));
        Assert.Equal(-60, points[0].Values.Average(p => p.Y) - points[1].Values.Average(p => p.Y), 10.0);
        Assert.Equal(2, figure.Layers.OfType<FigureLayer.Line>().Count(line => line.Dashed));
    }
}
