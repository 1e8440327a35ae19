using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Xunit;

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
}
