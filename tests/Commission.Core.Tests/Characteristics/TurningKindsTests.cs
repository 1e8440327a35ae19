namespace Commission.Core.Tests.Characteristics;

/// <summary>Tram, runout, periodic error: harmonics over a turn.</summary>
public sealed class TurningKindsTests
{
    [Fact]
    public void The_worked_sweep_is_reproduced()
    {
        // Metrology 18.10 d (own computation, a regression value): sweep at 20, 95, 180, 275 degrees, radius 1 so that slopes are amplitudes.
        var finding = Fit.Of("tram", "angle_deg,reading_mm\n20,.042\n95,.055\n180,-.020\n275,-.041\n", Fit.With(1e-9, null, ("radius-mm", 1)));

        Assert.Equal(0.005085, finding.Value("offset"), 6);
        Assert.Equal(0.023199, finding.Value("tiltX"), 6);
        Assert.Equal(0.049878, finding.Value("tiltY"), 6);
        Assert.Equal(0.055009, finding.Value("tilt"), 6);
        Assert.Contains(finding.Remarks, r => r.Contains("65 degrees", StringComparison.Ordinal));
    }

    [Fact]
    public void The_slope_of_the_board_is_taken_off_where_the_axes_were_moved()
    {
        // Truth: sweep 0.8 mrad in X, 0.1 in Y; board 0.5 mrad in X, -0.2 in Y; the spindle is off the axes by 0.3 and 0.3.
        const double radius = 100;
        var sweep = Enumerable.Range(0, 8).Select(i => (object[])[i * 45, radius * (0.8e-3 * Math.Cos(i * Math.PI / 4) + 0.1e-3 * Math.Sin(i * Math.PI / 4)), "sweep", ""]);
        var alongX = new[] { 0, 150, 300 }.Select(x => (object[])["", 0.02 + 0.5e-3 * x, "alongX", x]);
        var alongY = new[] { 0, 150, 300 }.Select(y => (object[])["", 0.01 - 0.2e-3 * y, "alongY", y]);
        var finding = Fit.Of("tram", Fit.Rows("angle_deg,reading_mm,line,position_mm", sweep.Concat(alongX).Concat(alongY)), Fit.With(1e-9, null, ("radius-mm", radius)));

        Assert.Equal(0.3e-3, finding.Value("tiltX"), 9);
        Assert.Equal(0.3e-3, finding.Value("tiltY"), 9);
    }

    [Fact]
    public void Eight_equal_angles_give_the_textbook_uncertainty_of_the_tilt()
    {
        // u(a) = s sqrt(2 / n) / R: own arithmetic (variance of a harmonic's coefficient at equal angles).
        var random = new Random(5);
        var rows = Enumerable.Range(0, 8).Select(i => (object[])[i * 45, Math.Round(0.05 * Math.Cos(i * Math.PI / 4) + 0.01 * (random.NextDouble() - 0.5), 4)]).ToArray();
        var finding = Fit.Of("tram", Fit.Rows("angle_deg,reading_mm", rows), Fit.With(1e-9, null, ("radius-mm", 100)));

        Assert.Equal(finding.ResidualStandardDeviation!.Value * Math.Sqrt(2.0 / 8) / 100, finding.U("tiltX"), 12);
        Assert.Equal(5, finding.Parameter("tiltX")!.DegreesOfFreedom!.Value, 3);
    }

    [Fact]
    public void Runout_at_two_heights_foretells_the_tip()
    {
        // Metrology 18.10 m (regression): e1 .010 at 30 deg and height 5, e2 .022 at 50 deg and height 35.
        static IEnumerable<object[]> Turn(double e, double at, double height) => Enumerable.Range(0, 8)
            .Select(i => (object[])[i * 45, 0.1 + e * Math.Cos((i * 45 - at) * Math.PI / 180), height]);
        var finding = Fit.Of("runout", Fit.Rows("angle_deg,reading_mm,height_mm", Turn(.010, 30, 5).Concat(Turn(.022, 50, 35))), Fit.With(1e-9, null, ("tip-mm", 60)));

        Assert.Equal("tirAtTip", finding.Headline.Name);
        Assert.Equal(0.065255, finding.Headline.Value!.Value, 6);
        Assert.Equal(0.43530e-3, finding.Value("tilt"), 8);
        Assert.Equal(0.020, finding.Value("tir[5]"), 10);
        Assert.Equal(0.044, finding.Value("tir[35]"), 10);
    }

    [Fact]
    public void A_harmonic_error_is_recovered_exactly_and_targets_on_the_period_are_refused_in_words()
    {
        // Metrology 18.10 i (regression).
        double[] good = [0, 8.09, 11.18, 19.27, 22.36, 30.45, 33.54, 41.63];
        static double Read(double c) => c + 0.02 * Math.Cos(2 * Math.PI * c / 5) - 0.01 * Math.Sin(2 * Math.PI * c / 5) + 1e-4 * c;
        var finding = Fit.Of("periodic", Fit.Rows("commanded_mm,measured_mm", good.Select(c => (object[])[c, Read(c)])), Fit.With(1e-9, null, ("period-mm", 5)));
        var refused = Fit.Try("periodic", Fit.Rows("commanded_mm,measured_mm", Enumerable.Range(0, 8).Select(i => (object[])[i * 10, Read(i * 10)])), Fit.With(1e-9, null, ("period-mm", 5)));

        Assert.Equal(Math.Sqrt(5e-4), finding.Value("amplitude"), 10);
        Assert.Equal(Math.Atan2(-0.01, 0.02), finding.Value("phase"), 8);
        Assert.Contains("multiples", Assert.IsType<Outcome<Finding>.Bad>(refused).Problems[0].Remedy, StringComparison.Ordinal);
    }

    [Theory]
    // s sqrt(4 ln 20 / n), simulated 1.226, 1.002, 0.777 (own simulation outside this program).
    [InlineData(8, 1.224)]
    [InlineData(12, 0.999)]
    [InlineData(20, 0.774)]
    public void The_limit_of_false_alarms_of_an_amplitude_agrees_with_its_table(int readings, double limit) =>
        Assert.Equal(limit, Periodic.FalseAlarmLimit(2.0 / readings, double.PositiveInfinity), 3);

    // F.95(2, 9) = 4.2564947290938 (computed outside this program; NIST/SEMATECH e-Handbook, 1.3.6.7.3, prints 4.256, from memory).
    [Fact]
    public void With_a_scatter_that_is_only_estimated_the_limit_is_Fishers() =>
        Assert.Equal(Math.Sqrt(2 * 4.2564947290938 * 0.1), Periodic.FalseAlarmLimit(0.1, 9), 9);

    // Thirteen readings over a single turn, the first place last again, nothing but noise: one alarm in twenty, and not one in four. Own simulation, fixed seed;
    // the bounds are four standard deviations of a share of 5 % in 1500 tests.
    [Fact]
    public void Noise_alone_raises_an_alarm_in_one_of_twenty_tests_over_a_single_turn()
    {
        var chance = new Random(20261125);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - chance.NextDouble())) * Math.Cos(2 * Math.PI * chance.NextDouble());
        var alarms = Enumerable.Range(0, 1500).Count(_ =>
        {
            var rows = Fit.Rows("commanded_mm,measured_mm", Enumerable.Range(0, 13).Select(i => 200 + (i % 12 * 5 / 12.0)).Select(c => (object[])[c, c + (0.006 * Normal())]));
            return Fit.Try("periodic", rows, Fit.With(1e-9, null, ("period-mm", 5))).Require().Advice.Action == AdviceAction.FindTheFault;
        });
        Assert.InRange(alarms, 75 - 34, 75 + 34);
    }

    [Fact]
    public void An_error_within_the_turn_that_is_small_for_the_work_is_left_and_a_large_one_sends_to_the_coupling()
    {
        Finding Turn(double amplitude) => Fit.Try("periodic", Fit.Rows("commanded_mm,measured_mm", Enumerable.Range(0, 24)
            .Select(i => 200 + (i * 5 / 12.0)).Select((c, i) => (object[])[c, c + (amplitude * Math.Sin(2 * Math.PI * c / 5)) + (i % 2 == 0 ? 0.002 : -0.002)])), Fit.With(1e-9, null, ("period-mm", 5)) with { Tolerance = AcceptanceClasses.Shipped.For("periodic", Core.Machines.WorkClass.Wood) }).Require();
        Assert.Equal((Verdict.Within, AdviceAction.Leave), (Turn(0.02).Verdict, Turn(0.02).Advice.Action));
        Assert.Equal((Verdict.Outside, AdviceAction.FindTheFault), (Turn(0.12).Verdict, Turn(0.12).Advice.Action));
    }
}
