using Commission.Practice.Machines;

namespace Commission.Practice.Tests.Machines;

public sealed class PracticeMachineTests
{
    private static readonly PracticeMachine Heron = PracticeMachine.Heron(1);

    [Fact]
    public void The_same_seed_gives_the_same_machine()
    {
        Assert.Equal(PracticeMachine.Heron(7).State, PracticeMachine.Heron(7).State);
        Assert.NotEqual(PracticeMachine.Heron(7).State, PracticeMachine.Heron(8).State);
    }

    [Fact]
    public void Every_heron_keeps_the_grade_of_its_screws()
    {
        for (ulong seed = 0; seed < 300; seed++)
        {
            Assert.All([AxisName.X, AxisName.Y, AxisName.Z],
                axis => Assert.InRange(PracticeMachine.Heron(seed).ScaleError(axis), -0.052 / 300, 0.052 / 300));
        }
    }

    [Fact]
    public void A_ratio_of_old_over_one_plus_e_leaves_no_scale_error()
    {
        var e = Heron.ScaleError(AxisName.X);
        var mended = Heron with { Settings = Heron.Settings.WithSteps(AxisName.X, 320 / (1 + e)) };
        Assert.Equal(0, mended.ScaleError(AxisName.X), 1e-15);
        Assert.Equal(Heron.ScaleError(AxisName.Y), mended.ScaleError(AxisName.Y));
    }

    [Fact]
    public void An_axis_with_lost_motion_stops_short_in_the_direction_of_motion()
    {
        var gap = Heron.AxisPosition(AxisName.X, 200, +1) - Heron.AxisPosition(AxisName.X, 200, -1);
        Assert.True(gap < 0);
        Assert.Equal(-Heron.LostMotion(AxisName.X, 200), gap, 1e-12);
    }

    [Fact]
    public void Compensation_of_the_lost_motion_closes_the_gap()
    {
        var lost = Heron.LostMotion(AxisName.Y, 100);
        var mended = Heron with { Settings = Heron.Settings.WithCompensation(AxisName.Y, lost) };
        Assert.Equal(mended.AxisPosition(AxisName.Y, 100, +1), mended.AxisPosition(AxisName.Y, 100, -1), 1e-12);
    }

    [Fact]
    public void A_force_makes_lost_motion_larger_by_twice_the_force_over_the_stiffness()
    {
        var more = Heron.LostMotion(AxisName.X, 50, 40) - Heron.LostMotion(AxisName.X, 50);
        Assert.Equal(2 * 40 / Heron.State.X.StiffnessNPerMm, more, 1e-12);
    }

    [Fact]
    public void With_positive_squareness_the_diagonal_from_the_origin_is_the_longer_one()
    {
        var leaning = Heron with { State = Heron.State with { Frame = new FrameState(0.002, 0, 0, 0, 0) } };
        var fromOrigin = leaning.Point(new Target(0, 0, 0)).DistanceTo(leaning.Point(new Target(400, 400, 0)));
        var other = leaning.Point(new Target(400, 0, 0)).DistanceTo(leaning.Point(new Target(0, 400, 0)));
        Assert.True(fromOrigin > other);
    }

    [Fact]
    public void Moving_the_far_end_of_the_gantry_back_by_width_times_g_squares_it()
    {
        var offset = Heron.SquarenessXY * Heron.State.DriveWidthMm;
        Assert.Equal(0, (Heron with { Settings = Heron.Settings with { GantryOffsetMm = offset } }).SquarenessXY, 1e-15);
    }

    [Fact]
    public void The_worst_corner_of_the_hand_worked_example_is_found()
    {
        // 300 ppm, -100 ppm, 500 urad over 600 x 400: (0.38, -0.04) mm, own arithmetic: 0.3 x 0.6 + 0.5 x 0.4 and -0.1 x 0.4.
        var state = Heron.State with
        {
            X = new AxisState { TravelMm = 600, TravelPerTurnMm = 5, TrueStepsPerMm = 320 / 1.0003 },
            Y = new AxisState { TravelMm = 400, TravelPerTurnMm = 5, TrueStepsPerMm = 320 / 0.9999 },
            Frame = new FrameState(0.0005, 0, 0, 0, 0),
        };
        Assert.Equal(Math.Sqrt((0.38 * 0.38) + (0.04 * 0.04)), (Heron with { State = state }).CornerErrorMm(600, 400), 1e-9);
    }
}
