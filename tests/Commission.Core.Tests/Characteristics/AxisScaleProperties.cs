using Commission.Core.Instruments;
using Commission.Core.Readings;
using Commission.Core.Tests.Support;
using Commission.Tests;
using CsCheck;

namespace Commission.Core.Tests.Characteristics;

/// <summary>What must hold for the scale of any axis, whatever was read. The same draws at every run; a failure prints its seed.</summary>
public sealed class AxisScaleProperties
{
    private const int Trials = 40;
    private static readonly Instrument Caliper = new("caliper", InstrumentKind.Other, .03, null, 150, "typed for the test");
    private static readonly FitOptions Options = new() { Instrument = Caliper, Drive = DriveKind.Belt };

    // Three places or more, both directions at each, noise of some hundredths.
    private static readonly Gen<(double Commanded, double Measured, int Direction)[]> Readings =
        Gen.Select(Gen.Int[3, 6], Gen.Double[-3e-3, 3e-3], Gen.Double[-.2, .05], Gen.Double[-.04, .04].Array[24])
            .Select((places, scale, reversal, noise) => (
                from place in Enumerable.Range(0, places)
                from direction in (int[])[1, -1, -1, 1]
                select (place, direction)).Select((at, k) =>
                {
                    var c = 5 + (at.place * 27.5);
                    return (c, c * (1 + scale) + (at.direction * reversal / 2) + noise[k] + (.004 * Math.Sin(1 + (k * k))), at.direction);
                }).ToArray());

    private static Finding Fit(IEnumerable<(double, double, int)> rows, FitOptions? options = null) =>
        new AxisScaleKind().Evaluate(Some.Axis([.. rows]), options ?? Options).Require();

    // Readings are doubles: their last digit, and the size of the numbers they were taken from, limit what can agree.
    private static void Near(double expected, double actual) => Assert.Equal(expected, actual, (1e-9 * Math.Abs(expected)) + 1e-12);

    private static void Same(Finding a, Finding b, params (string Name, double Factor)[] parameters)
    {
        foreach (var (name, factor) in parameters)
        {
            var (one, other) = (a.Parameter(name)!, b.Parameter(name)!);
            Near(one.Value!.Value * factor, other.Value!.Value);
            Near(one.FreshUncertainty!.Value * Math.Abs(factor), other.FreshUncertainty!.Value);
        }
    }

    [Fact]
    public void Shuffling_the_readings_changes_no_number() => Gen.Select(Readings, Gen.Int[0, 1000]).SampleFixed(
        (rows, key) =>
        {
            var shuffled = rows.OrderBy(row => ((row.Measured * 1e6) + key) % 97).ToArray();
            var (a, b) = (Fit(rows), Fit(shuffled));
            Same(a, b, ("scaleError", 1), ("reversal", 1), ("zero", 1));
            Assert.Equal(a.Headline.ExpandedUncertainty!.Value, b.Headline.ExpandedUncertainty!.Value, 12);
        },
        iter: Trials);

    [Fact]
    public void Another_origin_leaves_scale_and_lost_motion() => Gen.Select(Readings, Gen.Double[0, 900]).SampleFixed(
        (rows, shift) => Same(
            Fit(rows), Fit(rows.Select(row => (row.Commanded + shift, row.Measured + shift, row.Direction))), ("scaleError", 1), ("reversal", 1)),
        iter: Trials);

    [Fact]
    public void Another_unit_leaves_the_scale_and_multiplies_lengths() => Readings.SampleFixed(
        rows => Same(
            Fit(rows), Fit(rows.Select(row => (row.Commanded * 25.4, row.Measured * 25.4, row.Direction))), ("scaleError", 1), ("reversal", 25.4), ("zero", 25.4)),
        iter: Trials);

    [Fact]
    public void The_mirrored_axis_has_the_same_scale_and_lost_motion_and_the_opposite_zero() => Readings.SampleFixed(
        rows => Same(
            Fit(rows), Fit(rows.Select(row => (-row.Commanded, -row.Measured, -row.Direction))), ("scaleError", 1), ("reversal", 1), ("zero", -1)),
        iter: Trials);

    [Fact]
    public void An_excluded_reading_is_an_absent_one() => Gen.Select(Readings, Gen.Int[0, 11]).SampleFixed(
        (rows, which) =>
        {
            var table = Some.Axis(rows);
            var excluded = table with { Rows = table.Rows.SetItem(which, table.Rows[which] with { Excluded = "slipped" }) };
            var absent = table with { Rows = table.Rows.RemoveAt(which) };
            var (a, b) = (new AxisScaleKind().Evaluate(excluded, Options).Require(), new AxisScaleKind().Evaluate(absent, Options).Require());
            Assert.Equal((rows.Length, rows.Length - 1), (a.Rows, a.Used));
            for (var k = 0; k < a.Parameters.Length; k++) Assert.Equal(a.Parameters[k], b.Parameters[k]);
            Assert.Equal(a.Residuals, b.Residuals);
            Assert.Equal((a.Verdict, a.Advice.Action), (b.Verdict, b.Advice.Action));
        },
        iter: Trials);

    [Fact]
    public void More_readings_never_make_the_shared_part_smaller() => Readings.SampleFixed(
        rows =>
        {
            var (once, twice) = (Fit(rows), Fit(rows.Concat(rows)));
            Assert.Equal(once.Headline.SharedUncertainty!.Value, twice.Headline.SharedUncertainty!.Value, 12);
            Assert.True(twice.Headline.FreshUncertainty < once.Headline.FreshUncertainty);
        },
        iter: Trials);

    [Fact]
    public void A_reading_counted_twice_is_a_row_of_weight_two() => Gen.Select(Readings, Gen.Int[0, 11]).SampleFixed(
        (rows, which) =>
        {
            var weighted = Some.Table("m,c,w", [.. rows.Select((row, k) => new[] { row.Measured, row.Commanded, k == which ? 2 : 1 })]);
            var doubled = Some.Table("m,c", [.. rows.Append(rows[which]).Select(row => new[] { row.Measured, row.Commanded })]);
            var words = new FitOptions().Words.Add("response", "m").Add("predictors", "c");
            var a = new ColumnsKind().Evaluate(weighted, new FitOptions { Words = words.Add("weights", "w") }).Require();
            var b = new ColumnsKind().Evaluate(doubled, new FitOptions { Words = words }).Require();
            for (var k = 0; k < 2; k++) Assert.Equal(b.Parameters[k].Value!.Value, a.Parameters[k].Value!.Value, 11);
        },
        iter: Trials);

    [Fact]
    public void The_setting_proposed_removes_the_error_it_was_made_for() => Gen.Select(Gen.Double[-5e-3, 5e-3], Gen.Double[1, 5000], Gen.Enum<RatioSetting>()).SampleFixed(
        (error, steps, form) =>
        {
            var setting = RatioProposal.For(error, 1e-4, new FitOptions { StepsPerMm = steps, Setting = form, SettingDecimals = 12, TravelPerTurnMm = 5 })!;
            var factor = form == RatioSetting.MmPerStep ? setting.Proposed / setting.Current : setting.Current / setting.Proposed;
            Assert.Equal(1 + error, factor, 12);
        },
        iter: Trials);

    [Fact]
    public void Odds_of_harm_fall_with_the_size_of_the_error_and_rise_with_its_uncertainty() => Gen.Select(Gen.Double[0, 2e-3], Gen.Double[1e-5, 1e-3], Gen.Double[50, 900]).SampleFixed(
        (mean, u, length) =>
        {
            var odds = AxisDecision.OddsOfHarm(mean, u, length);
            Assert.InRange(odds, 0, .5);
            Assert.True(AxisDecision.OddsOfHarm(mean + 1e-4, u, length) <= odds);
            Assert.True(AxisDecision.OddsOfHarm(mean, u * 1.5, length) >= odds);
            Assert.Equal(odds, AxisDecision.OddsOfHarm(-mean, u, length), 15);
        },
        iter: Trials);
}
