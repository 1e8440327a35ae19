using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;

namespace Commission.Core.Tests.Motion;

/// <summary>What the gate keeps in mind, and what makes it forget: the home position, the position shown last, the ends of the travel, an unlocking.</summary>
public class GateTrustTests
{
    /// <summary>Facts are told before every box; what the controller shows at home is learned from it and in none of them.</summary>
    [Fact]
    public void The_home_position_once_seen_outlives_facts_told_anew_and_ends_with_a_setting_written()
    {
        var bench = new Bench().Homed().After(at => new GateEvent.FactsTold(at, Bench.Facts)).Confirms(new MotionAct.Home())
            .After(at => new GateEvent.Left(at)).Moves(-1, -1, -1).After(at => new GateEvent.Accepted(at)).Rests(-7, -1, -1);
        Assert.Contains("not the home position", bench.Gate.Trouble);
        bench.After(at => new GateEvent.Understood(at, 'S')).After(at => new GateEvent.TrustLost(at, "a setting was written")).Rests(-7, -1, -1)
            .After(at => new GateEvent.Understood(at, 'S')).Confirms(new MotionAct.Home())
            .After(at => new GateEvent.Left(at)).Moves(-7, -1, -1).After(at => new GateEvent.Accepted(at)).Rests(-7, -1, -1);
        Assert.Equal(TrustState.Homed, bench.Gate.State);
    }

    /// <summary>Homed at the high end of a travel that is told longer afterwards, the machine would be sent past its end.</summary>
    [Fact]
    public void A_travel_described_anew_takes_trust_away_and_the_same_description_does_not()
    {
        var bench = new Bench().Homed().After(at => new GateEvent.FactsTold(at, Bench.Facts));
        Assert.Equal(TrustState.Homed, bench.Gate.State);
        bench.After(at => new GateEvent.FactsTold(at, Bench.Facts with { TravelMm = Bench.Facts.TravelMm with { X = 600 } }));
        Assert.Equal(TrustState.Stopped, bench.Gate.State);
        Assert.Null(bench.Gate.InTravel);
        Assert.Contains("described anew", bench.Gate.Trouble);
    }

    /// <summary>A report may tell no position: what is shown after it is held against what was shown before it.</summary>
    [Fact]
    public void A_jump_of_the_shown_position_is_noticed_across_a_report_that_tells_none()
    {
        var bench = new Bench().Homed().After(at => new GateEvent.Reported(at, StateReport.Of(ControllerState.Resting, null)));
        Assert.Equal(TrustState.Homed, bench.Gate.State);
        bench.Rests(-51, -1, -1);
        Assert.Equal(TrustState.Stopped, bench.Gate.State);
        Assert.Contains("shown position changed", bench.Gate.Trouble);
    }

    [Fact]
    public void An_unlocking_that_does_not_show_is_told_as_not_done()
    {
        var bench = new Bench().After(at => new GateEvent.InStep(at)).After(at => new GateEvent.IdentityTold(at, true)).Locks("2").Confirms(new MotionAct.Unlock());
        bench.Locks("2");
        Assert.Null(bench.Refusal);
        for (var i = 0; i < 35 && bench.Refusal is null; i++)
            bench.Locks("2");
        Assert.Contains("stays locked", bench.Refusal);
        Assert.Equal(TrustState.Locked, bench.Gate.State);
        Assert.Null(bench.Locks("2").Refusal);
    }

    /// <summary>A setting is written and its sheet stands; then the wired stop is hit and the board restarts. What was read before does not cover it.</summary>
    [Fact]
    public void What_happens_while_something_waits_to_be_read_waits_with_it_and_is_not_acknowledged_unread()
    {
        var bench = new Bench().Homed().After(at => new GateEvent.TrustLost(at, "a setting was written"));
        var read = bench.Gate.Losses;
        bench.After(at => new GateEvent.Greeted(at)).After(at => new GateEvent.Greeted(at)).Rests();
        Assert.Equal("a setting was written; then the controller restarted", bench.Gate.Trouble);
        bench.After(at => new GateEvent.Understood(at, 'S', read));
        Assert.Equal(TrustState.Stopped, bench.Gate.State);
        Assert.NotNull(bench.Gate.Trouble);
        bench.After(at => new GateEvent.Understood(at, 'S', bench.Gate.Losses));
        Assert.Equal(TrustState.Unreferenced, bench.Gate.State);
        Assert.Null(bench.Gate.Trouble);
    }

    /// <summary>Found in use: with checks missing a STOP that had been read was told for ever.</summary>
    [Fact]
    public void A_STOP_that_was_read_is_not_told_any_more_though_the_gate_stays_shut()
    {
        var bench = new Bench().After(at => new GateEvent.InStep(at)).After(at => new GateEvent.IdentityTold(at, true))
            .After(at => new GateEvent.FactsTold(at, Bench.Facts with { Passed = [] })).Rests().After(at => new GateEvent.StopPressed(at, "STOP was pressed: F9")).Rests();
        Assert.Equal((TrustState.Shut, "STOP was pressed: F9"), (bench.Gate.State, bench.Gate.Trouble));
        bench.After(at => new GateEvent.Understood(at, 'X'));
        Assert.NotNull(bench.Gate.Trouble);
        bench.After(at => new GateEvent.Understood(at, 'A', bench.Gate.Losses - 1));
        Assert.NotNull(bench.Gate.Trouble);
        bench.After(at => new GateEvent.Understood(at, 'A', bench.Gate.Losses));
        Assert.Equal((TrustState.Shut, null), (bench.Gate.State, bench.Gate.Trouble));
        bench.After(at => new GateEvent.FactsTold(at, Bench.Facts)).Rests();
        Assert.Equal(TrustState.Unreferenced, bench.Gate.State);
    }

    [Fact]
    public void A_link_that_is_lost_while_something_waits_to_be_read_is_read_with_it()
    {
        var bench = new Bench().Homed().After(at => new GateEvent.TrustLost(at, "a setting was written")).After(at => new GateEvent.Lost(at, "the cable was pulled"));
        Assert.Equal("a setting was written; then the cable was pulled", bench.Gate.Trouble);
    }

    /// <summary>Asked for meanwhile and begun, a homing would take the unlocking that comes late, or is void, for its own.</summary>
    [Fact]
    public void While_an_unlocking_is_under_way_nothing_else_is_asked_for()
    {
        var bench = new Bench().After(at => new GateEvent.InStep(at)).After(at => new GateEvent.IdentityTold(at, true)).Locks("1").Confirms(new MotionAct.Unlock());
        foreach (var act in (MotionAct[])[new MotionAct.Home(), new MotionAct.Unlock()])
            Assert.Contains("an unlocking is under way", bench.After(at => new GateEvent.Asked(at, act)).Refusal);
        Assert.Null(bench.Gate.Box);
        bench.After(at => new GateEvent.Voided(at));
        Assert.NotNull(bench.After(at => new GateEvent.Asked(at, new MotionAct.Home())).Gate.Box);
    }
}
