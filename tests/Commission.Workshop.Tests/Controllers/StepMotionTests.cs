using Commission.Core.Motion;
using Commission.Core.Procedures;
using Commission.Workshop.Controllers;

namespace Commission.Workshop.Tests.Controllers;

public class StepMotionTests
{
    private static readonly MotionFacts NoSwitches = LinkBench.Facts with
    {
        Switched = [],
        HomeHigh = [AxisName.Z],
        HomeNamed = [AxisName.X, AxisName.Y, AxisName.Z],
    };

    private static readonly TimeSpan At = TimeSpan.FromSeconds(1);

    [Fact]
    public void The_watched_test_of_homing_is_asked_for_as_the_test()
    {
        var gate = Resting(LinkBench.Facts with { HomingTestPassed = false });
        var next = StepMotion.Next(new Move.Home(null, Watched: true) { Words = "home, watched" }, gate)!;
        Assert.Equal(new StepAct(new MotionAct.Home(WatchedTest: true), Leads: false), next);
        Assert.Null(MotionRules.WhyNot(gate, next.Act));
    }

    [Fact]
    public void The_test_leads_to_no_target_the_machine_homes_after_it()
    {
        var next = StepMotion.Next(To(AxisName.X, 50), Resting(LinkBench.Facts));
        Assert.Equal(new StepAct(new MotionAct.Home(), Leads: true), next);
    }

    [Fact]
    public void Without_switches_each_axis_is_placed_Z_first_and_a_move_keeps_surface_clearance_and_half_the_speed()
    {
        var gate = Placed();
        var down = To(AxisName.Z, 40) with { Above = new SurfaceBelow(20, 5) };
        var go = Assert.IsType<MotionAct.Go>(StepMotion.Next(down, gate)!.Act);
        Assert.Equal(new PlannedMove(AxisName.Z, -50, 300), Assert.Single(go.Moves));
        Assert.Equal((20.0, 5.0), (go.SurfaceMm, go.ClearanceMm));
        Assert.Null(MotionRules.WhyNot(gate, go));
        Assert.True(StepMotion.StandsThere(To(AxisName.Z, 90), gate));
        Assert.False(StepMotion.StandsThere(down, gate));
    }

    /// <summary>What stands on the bed below Z has a height that nobody told: taken as the low end of travel, "up" would run past the real top.</summary>
    [Fact]
    public void Z_is_never_placed_at_the_low_end()
    {
        var gate = Resting(NoSwitches with { HomeHigh = [] });
        Assert.Null(StepMotion.Next(To(AxisName.X, 50), gate));
        Assert.Contains("upper stop", StepMotion.WhyNone(gate).What, StringComparison.Ordinal);
        Assert.Contains("upper stop", MotionRules.WhyNot(gate, new MotionAct.SetReference(AxisName.Z, 0)), StringComparison.Ordinal);
    }

    [Fact]
    public void Where_no_end_is_named_it_is_said_which()
    {
        var gate = Resting(NoSwitches with { HomeNamed = [] });
        Assert.Null(StepMotion.Next(null, gate));
        Assert.Contains("at which end Z has its reference place", StepMotion.WhyNone(gate).What, StringComparison.Ordinal);
    }

    private static Move.To To(AxisName axis, double mm) => new(axis, mm, 600) { Words = $"{axis}" };

    private static Gate Resting(MotionFacts facts)
    {
        var gate = new Gate { Dialect = ShippedDialects.Find("numbered-settings")!, Facts = facts };
        return After(After(After(gate, new GateEvent.InStep(At)), new GateEvent.IdentityTold(At, true)), new GateEvent.Reported(At, StateReport.Of(ControllerState.Resting, new(0, 0, 0))));
    }

    private static Gate Placed()
    {
        var gate = Resting(NoSwitches);
        foreach (var axis in new[] { AxisName.Z, AxisName.X, AxisName.Y })
        {
            var next = StepMotion.Next(To(AxisName.X, 50), gate)!;
            Assert.True(next.Leads);
            Assert.Equal(new MotionAct.SetReference(axis, axis == AxisName.Z ? 90 : 0), next.Act);
            gate = After(After(gate, new GateEvent.Asked(At, next.Act)), new GateEvent.TokenTyped(At, next.Act.Token));
        }

        Assert.Equal(TrustState.Placed, gate.State);
        return gate;
    }

    private static Gate After(Gate gate, GateEvent happened) => gate.After(happened).Gate;
}
