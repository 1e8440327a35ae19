using System.Globalization;
using Commission.Practice.Bench;
using Commission.Practice.Machines;
using Commission.Practice.Operators;

namespace Commission.Practice.Tests.Bench;

public sealed class PracticeBenchTests
{
    private static Cell Cell(string kind, AxisName? axis, (string Name, double Value)[] given, params (string Name, string Value)[] words) =>
        new(kind, axis, given.ToDictionary(g => g.Name, g => g.Value), words.ToDictionary(w => w.Name, w => w.Value));

    private static double Number(string typed) => double.Parse(typed, CultureInfo.InvariantCulture);

    private static PracticeBench Exact(ulong seed = 4) => new(
        PracticeMachine.Heron(seed), new Hand { Name = "exact", ReadingSdMm = 0, SlipRate = 0, TapeSdMm = 0, IndicatorSdMm = 0 }, seed);

    [Fact]
    public void The_same_seed_types_the_same_readings()
    {
        static string[] Typed(ulong seed)
        {
            var bench = PracticeBench.Heron(seed);
            return [.. Enumerable.Range(0, 12).Select(i =>
                bench.Read(Cell("axis-scale", AxisName.X, [("commanded_mm", 4 + (12.3 * i))], ("direction", i % 2 == 0 ? "+" : "-"))))];
        }

        Assert.Equal(Typed(3), Typed(3));
        Assert.NotEqual(Typed(3), Typed(4));
    }

    [Fact]
    public void Caliper_readings_over_a_window_carry_the_true_scale_and_the_caliper_s_own()
    {
        var bench = Exact();
        double Mean(double place) => new[] { "+", "-" }.Average(d => Enumerable.Range(0, 200).Average(_ =>
            Number(bench.Read(Cell("axis-scale", AxisName.Y, [("commanded_mm", place)], ("direction", d))))));
        var slope = (Mean(145) - Mean(5)) / 140;
        var truth = bench.TrueValue("axis-scale", AxisName.Y, "scaleError")!.Value;
        var caliper = bench.Caliper.Error.LargestMm / bench.Caliper.RangeMm;
        // Left over: rounding and scatter of the machine (about 3 um on each end) and 2 K of expansion (23 ppm).
        Assert.Equal(1 + truth + caliper, slope, 80e-6);
    }

    [Fact]
    public void Readings_from_both_sides_differ_by_the_true_reversal_value()
    {
        var bench = Exact();
        double Mean(string d) => Enumerable.Range(0, 300).Average(_ =>
            Number(bench.Read(Cell("backlash", AxisName.X, [("place_mm", 200)], ("direction", d)))));
        var found = Mean("+") - Mean("-");
        var truth = bench.TrueValue("backlash", AxisName.X, "reversal")!.Value;
        Assert.True(truth < 0);
        Assert.Equal(truth, found, 0.001);
        Assert.Equal(truth, bench.TrueValue("backlash", AxisName.X, "reversal[200]"));
    }

    [Fact]
    public void What_is_set_changes_what_is_true()
    {
        var bench = Exact();
        bench.Read(Cell("backlash", AxisName.X, [("place_mm", 200)], ("direction", "+")));
        var before = bench.TrueValue("backlash", AxisName.X, "reversal")!.Value;
        bench.Set(bench.Machine.Settings.WithCompensation(AxisName.X, -before));
        Assert.Equal(0, bench.TrueValue("backlash", AxisName.X, "reversal")!.Value, 1e-12);
    }

    [Fact]
    public void Two_diagonals_by_tape_differ_as_the_squareness_says()
    {
        var bench = Exact();
        double Mean(double x1, double x2) => Enumerable.Range(0, 20).Average(_ =>
        {
            bench.Begin("squareness"); // new marks each time
            return Number(bench.Read(Cell("squareness", null, [("x1_mm", x1), ("y1_mm", 0), ("x2_mm", x2), ("y2_mm", 400)])));
        });
        var (first, second) = (Mean(0, 400), Mean(400, 0));
        var truth = bench.TrueValue("squareness", null, "squareness")!.Value;
        Assert.Equal(truth, ((first * first) - (second * second)) / (4 * 400 * 400), 0.2e-3); // the tape is read to 0.1 mm
    }

    [Fact]
    public void The_square_turned_over_gives_machine_and_square_apart()
    {
        var bench = Exact();
        double Mean(string setup) => Enumerable.Range(0, 200).Average(_ =>
            Number(bench.Read(Cell("square-reversal", null, [("travel_mm", 150)], ("setup", setup)))));
        var (first, second) = (Mean("1"), Mean("2"));
        Assert.Equal(bench.TrueValue("square-reversal", null, "squareness")!.Value, -(first + second) / 300, 5e-6);
        Assert.Equal(bench.TrueValue("square-reversal", null, "artefactError")!.Value, (first - second) / 300, 5e-6);
    }

    [Fact]
    public void Circles_cut_both_ways_part_squareness_from_lost_motion()
    {
        var bench = Exact();
        double Across(double angle, string turning) => Enumerable.Range(0, 200).Average(_ =>
            Number(bench.Read(Cell("test-circle", null, [("angle_deg", angle)], ("turning", turning)))));
        var ccw = Across(45, "ccw") - Across(135, "ccw");
        var cw = Across(45, "cw") - Across(135, "cw");
        var play = bench.Machine.LostMotion(AxisName.X, 100) - bench.Machine.LostMotion(AxisName.Y, 100);
        Assert.Equal(bench.Machine.SquarenessXY, (ccw + cw) / 2 / 120, 30e-6);
        Assert.Equal(2 * Math.Sqrt(2) * play, ccw - cw, 0.004);
    }

    [Fact]
    public void A_pin_that_leans_runs_out_more_the_farther_it_stands_out()
    {
        var bench = Exact();
        var spindle = bench.Machine.State.Spindle;
        Assert.Equal(2 * spindle.RunoutMm, bench.TrueValue("runout", null, "tir[0]")!.Value, 1e-12);
        Assert.InRange(bench.TrueValue("runout", null, "tir[60]")!.Value,
            2 * Math.Abs(spindle.RunoutMm - (60 * spindle.RunoutTilt)), 2 * (spindle.RunoutMm + (60 * spindle.RunoutTilt)));
    }

    [Fact]
    public void False_trips_come_at_the_machine_s_rate()
    {
        var machine = PracticeMachine.Heron(2);
        var bench = new PracticeBench(machine with { State = machine.State with { FalseTripsPerHour = 0.5 } }, Hand.Steady, 2);
        var count = Enumerable.Range(0, 2000).Sum(_ => Number(bench.Read(Cell("event-rate", null, [("hours", 4)]))));
        Assert.InRange(count, 4000 - 317, 4000 + 317); // five standard errors of a Poisson count
    }

    [Fact]
    public void Truth_is_not_told_before_anything_was_measured() =>
        Assert.Null(Exact().TrueValue("axis-scale", AxisName.X, "scaleError"));

    [Fact]
    public void A_square_turned_round_on_the_bed_shows_Z_against_the_bed_and_not_against_X()
    {
        var bench = Exact();
        double Slope(int setup) => (Mean(setup, 60) - Mean(setup, 0)) / 60;
        double Mean(int setup, double travel) => Enumerable.Range(0, 200).Average(_ =>
            Number(bench.Read(Cell("z-square-x", null, [("setup", setup), ("travel_mm", travel)]))));
        var found = -(Slope(1) + Slope(2)) / 2;
        var state = bench.Machine.State;
        // Lifting leans towards +X by the squareness; a bed that rises towards +X brings the square's blade over to -X.
        Assert.Equal(state.Frame.SquarenessXZ + state.Bed.SlopeX, found, 2e-5);
        Assert.Equal(bench.TrueValue("z-square-x", null, "squareness")!.Value, found, 2e-5);
    }

    [Fact]
    public void A_bed_that_the_machine_has_cut_itself_is_level_as_its_own_Z_sees_it()
    {
        var bench = Exact();
        Assert.NotEqual(0, bench.Machine.BedHeight(200, 300));
        bench.Rework(state => state with { Bed = BedState.Surfaced });
        Assert.Equal(0, bench.Machine.BedHeight(200, 300));
        Assert.Equal(0, bench.Machine.BedHeight(20, 500));
    }

    [Fact]
    public void The_gap_between_the_rails_grows_from_end_to_end_by_their_spread()
    {
        var bench = Exact();
        double Mean(double share) => Enumerable.Range(0, 200).Average(_ => Number(bench.Read(Cell("rails", null, [("share", share)]))));
        Assert.Equal(bench.Machine.State.Frame.RailSpreadMm, Mean(1) - Mean(0), 0.001);
    }
}
