using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;

namespace Commission.Core.Tests.Motion;

public class GateTests
{
    [Fact]
    public void The_gate_opens_only_when_link_identity_readiness_and_state_are_all_clear()
    {
        var bench = new Bench(Bench.Facts with { Passed = ["P05", "P06", "P07", "P08", "P30"] }).Connected();
        Assert.Equal(TrustState.Shut, bench.Gate.State);
        bench.After(at => new GateEvent.FactsTold(at, Bench.Facts));
        Assert.Equal(TrustState.Unreferenced, bench.Gate.State);
    }

    [Theory]
    [InlineData("P05", false)]
    [InlineData("P06", false)]
    [InlineData("P07", false)]
    [InlineData("P08", true)]
    [InlineData("P30", true)]
    public void A_skip_counts_except_for_the_emergency_stop(string check, bool opens)
    {
        var facts = Bench.Facts with { Passed = Bench.Facts.Passed.Remove(check), Skipped = [check] };
        Assert.Equal(opens ? TrustState.Unreferenced : TrustState.Shut, new Bench(facts).Connected().Gate.State);
    }

    [Fact]
    public void A_job_that_is_not_ours_keeps_the_gate_shut()
    {
        var bench = new Bench().After(at => new GateEvent.InStep(at)).After(at => new GateEvent.IdentityTold(at, true)).Moves();
        Assert.Equal(TrustState.Shut, bench.Gate.State);
    }

    [Fact]
    public void A_confirmed_move_is_sent_and_its_end_leads_back()
    {
        var bench = new Bench().Homed().Confirms(Bench.Go(AxisName.X, -25));
        Assert.Equal(new PlannedMove(AxisName.X, -25, 600), Assert.Single(bench.Sent));
        bench.Taken().Moves(-10, -1, -1);
        Assert.Equal(TrustState.Moving, bench.Gate.State);
        bench.Rests(-26, -1, -1);
        Assert.Equal(TrustState.Homed, bench.Gate.State);
        Assert.Equal(394, bench.Gate.InTravel!.Value.X, 9);
    }

    [Fact]
    public void A_move_whose_line_was_never_answered_does_not_end_in_order()
    {
        var bench = new Bench().Homed().Confirms(Bench.Go(AxisName.X, -25)).After(at => new GateEvent.Left(at)).Rests(-26, -1, -1);
        Assert.Equal(TrustState.Moving, bench.Gate.State);
        Assert.Equal(TrustState.Stopped, bench.After(at => new GateEvent.Faulted(at, "a line was not answered")).Gate.State);
    }

    [Fact]
    public void A_wrong_token_sends_nothing_and_takes_the_box_away()
    {
        var bench = new Bench().Homed().After(at => new GateEvent.Asked(at, Bench.Go(AxisName.X, -25)));
        bench.After(at => new GateEvent.TokenTyped(at, "go X+25"));
        Assert.Empty(bench.Sent);
        bench.After(at => new GateEvent.TokenTyped(at, "go X-25"));
        Assert.Empty(bench.Sent);
    }

    [Fact]
    public void A_letter_typed_before_the_box_has_stood_half_a_second_is_thrown_away()
    {
        var bench = new Bench().Homed().After(at => new GateEvent.Asked(at, Bench.Go(AxisName.X, -25)));
        bench.After(at => new GateEvent.KeyTyped(at, 'X'), 0.4);
        Assert.Empty(bench.Sent);
        bench.After(at => new GateEvent.KeyTyped(at, 'x'), 0.2);
        Assert.Single(bench.Sent);
    }

    [Theory]
    [InlineData('\r')]
    [InlineData(' ')]
    [InlineData('5')]
    [InlineData('-')]
    [InlineData(',')]
    [InlineData('Y')]
    public void Nothing_that_an_instrument_or_a_hand_types_by_habit_confirms(char key)
    {
        var bench = new Bench().Homed().After(at => new GateEvent.Asked(at, Bench.Go(AxisName.X, -25)));
        Assert.Empty(bench.After(at => new GateEvent.KeyTyped(at, key), 0.7).Sent);
        Assert.NotEqual(TrustState.Moving, bench.Gate.State);
    }

    [Fact]
    public void A_confirmation_that_could_not_leave_in_time_is_void_and_trust_stays()
    {
        var bench = new Bench().Homed().Confirms(Bench.Go(AxisName.X, -25)).After(at => new GateEvent.Voided(at));
        Assert.Equal(TrustState.Homed, bench.Gate.State);
        Assert.Contains("1 s", bench.Refusal);
    }

    [Fact]
    public void A_long_move_is_cut_and_each_part_waits_for_rest_at_its_end()
    {
        var bench = new Bench().Homed().Confirms(Bench.Go(AxisName.Y, -250));
        Assert.Equal(-250 / 3.0, Assert.Single(bench.Sent).DistanceMm, 9);
        bench.Taken();
        Assert.Empty(bench.Moves(-1, -50, -1).Sent);
        Assert.Single(bench.Rests(-1, -84.333, -1).Sent);
    }

    [Fact]
    public void Where_stop_is_a_line_parts_last_three_seconds_at_most()
    {
        var bench = new Bench(dialect: Dialects.Lines).Homed().Confirms(Bench.Go(AxisName.Y, -250));
        Assert.True(Assert.Single(bench.Sent).Seconds <= 3);
    }

    [Theory]
    [InlineData(6, 100, "5 mm")]
    [InlineData(5, 300, "first-motion")]
    public void An_untrusted_position_allows_short_slow_moves_only(double distance, double speed, string why)
    {
        var bench = new Bench().Connected().After(at => new GateEvent.Asked(at, Bench.Go(AxisName.X, distance, speed)));
        Assert.Contains(why, bench.Refusal);
    }

    [Fact]
    public void An_untrusted_z_goes_only_up_unless_the_step_says_down()
    {
        var down = Bench.Go(AxisName.Z, -2, 100);
        var bench = new Bench().Connected().After(at => new GateEvent.Asked(at, down));
        Assert.Contains("only up", bench.Refusal);
        Assert.Null(bench.After(at => new GateEvent.Asked(at, down with { StepSaysDown = true })).Refusal);
    }

    [Fact]
    public void An_axis_on_its_switch_moves_only_away_from_it()
    {
        var bench = new Bench().Connected().After(at => new GateEvent.Reported(at,
            new StateReport(ControllerState.Resting, new(0, 0, 0), [AxisName.X])));
        Assert.Contains("away", bench.After(at => new GateEvent.Asked(at, Bench.Go(AxisName.X, 2, 100))).Refusal);
        Assert.Null(bench.After(at => new GateEvent.Asked(at, Bench.Go(AxisName.X, -2, 100))).Refusal);
    }

    [Fact]
    public void Travel_less_margin_is_kept_and_a_placed_position_keeps_twice_as_much_at_half_the_speed()
    {
        var bench = new Bench().Homed();
        Assert.Contains("5 mm", bench.After(at => new GateEvent.Asked(at, Bench.Go(AxisName.X, -415))).Refusal);
        Assert.Null(bench.After(at => new GateEvent.Asked(at, Bench.Go(AxisName.X, -414))).Refusal);

        var placed = Placed();
        Assert.Equal(TrustState.Placed, placed.Gate.State);
        Assert.Contains("10 mm", placed.After(at => new GateEvent.Asked(at, Bench.Go(AxisName.X, -192, 300))).Refusal);
        Assert.Contains("300 mm/min", placed.After(at => new GateEvent.Asked(at, Bench.Go(AxisName.X, -100, 301))).Refusal);
        Assert.Null(placed.After(at => new GateEvent.Asked(at, Bench.Go(AxisName.X, -189, 300))).Refusal);
    }

    [Fact]
    public void A_placed_position_wears_out_after_half_an_hour_without_a_closure_check()
    {
        var placed = Placed();
        for (var second = 0; second < 1700; second++)
            placed.After(at => new GateEvent.Passed(at), 1);
        placed.Rests().After(at => new GateEvent.ClosureChecked(at));
        for (var second = 0; second < 1790; second++)
            placed.After(at => new GateEvent.Passed(at), 1);
        Assert.Equal(TrustState.Placed, placed.Gate.State);
        for (var second = 0; second < 20; second++)
            placed.After(at => new GateEvent.Passed(at), 1);
        Assert.Equal(TrustState.Stopped, placed.Gate.State);
    }

    [Fact]
    public void Z_goes_down_only_where_the_step_names_surface_and_clearance()
    {
        var bench = new Bench().Homed();
        var down = Bench.Go(AxisName.Z, -40);
        Assert.Contains("surface", bench.After(at => new GateEvent.Asked(at, down)).Refusal);
        Assert.Contains("clearance", bench.After(at => new GateEvent.Asked(at, down with { SurfaceMm = 48, ClearanceMm = 2 })).Refusal);
        Assert.Null(bench.After(at => new GateEvent.Asked(at, down with { SurfaceMm = 47, ClearanceMm = 2 })).Refusal);
    }

    [Fact]
    public void A_list_needs_free_hands_short_time_and_axes_that_have_moved_before()
    {
        var bench = new Bench().Homed();
        PlannedMove left = new(AxisName.X, -25, 600), right = new(AxisName.X, 25, 600);
        var list = new MotionAct.Go([left, left, right], 600) { HandsFree = true };
        Assert.Null(bench.After(at => new GateEvent.Asked(at, list)).Refusal);
        Assert.Contains("own box", bench.After(at => new GateEvent.Asked(at, list with { HandsFree = false })).Refusal);
        var long21 = list with { Moves = [left, .. Enumerable.Repeat(new PlannedMove(AxisName.X, -1, 600), 20)] };
        Assert.Contains("20 moves", bench.After(at => new GateEvent.Asked(at, long21)).Refusal);

        var fresh = Placed();
        var two = new MotionAct.Go([new(AxisName.X, -20, 300), new(AxisName.X, 20, 300)], 600) { HandsFree = true };
        Assert.Contains("stands alone", fresh.After(at => new GateEvent.Asked(at, two)).Refusal);
    }

    [Fact]
    public void Z_goes_up_first_in_a_list()
    {
        var bench = new Bench().Homed();
        bench.Confirms(Bench.Go(AxisName.Z, -20) with { SurfaceMm = 0 }).Taken().Rests(-1, -1, -21);
        var list = new MotionAct.Go([new(AxisName.X, -25, 600), new(AxisName.Z, 10, 600)], 600) { HandsFree = true };
        Assert.Contains("Z goes up first", bench.After(at => new GateEvent.Asked(at, list)).Refusal);
        Assert.Null(bench.After(at => new GateEvent.Asked(at, list with { Moves = [list.Moves[1], list.Moves[0]] })).Refusal);
    }

    [Fact]
    public void Homing_waits_for_switch_direction_and_slow_test()
    {
        MotionAct home = new MotionAct.Home();
        string? Why(MotionFacts facts, MotionAct act) => new Bench(facts).Connected().After(at => new GateEvent.Asked(at, act)).Refusal;
        Assert.Contains("switch on every axis", Why(Bench.Facts with { Switched = [] }, home));
        Assert.Contains("P22", Why(Bench.Facts with { Passed = Bench.Facts.Passed.Remove("P22"), Skipped = ["P22"] }, home));
        Assert.Contains("P25", Why(Bench.Facts with { DirectionChecked = [AxisName.X] }, home));
        Assert.Contains("P27", Why(Bench.Facts with { HomingTestPassed = false }, home));
        Assert.Null(Why(Bench.Facts with { HomingTestPassed = false }, new MotionAct.Home(WatchedTest: true)));
    }

    [Fact]
    public void A_lock_is_left_by_unlock_or_where_the_dialect_allows_it_by_homing()
    {
        var bench = new Bench().After(at => new GateEvent.InStep(at)).After(at => new GateEvent.IdentityTold(at, true)).Locks("2");
        Assert.Equal(TrustState.Locked, bench.Gate.State);
        Assert.Contains("not allowed", bench.After(at => new GateEvent.Asked(at, new MotionAct.Home())).Refusal);
        Assert.Null(bench.Locks("1").After(at => new GateEvent.Asked(at, new MotionAct.Home())).Refusal);
        bench.Confirms(new MotionAct.Unlock());
        Assert.Contains(bench.Effects, effect => effect is GateEffect.SendUnlock);
        Assert.Equal(TrustState.Unreferenced, bench.Rests().Gate.State);
    }

    [Fact]
    public void Homing_that_ends_at_another_shown_position_is_not_believed()
    {
        var bench = new Bench(Bench.Facts with { HomeShown = new(0, 0, 0) }).Homed();
        Assert.Equal(TrustState.Stopped, bench.Gate.State);
    }

    /// <summary>Found by link-faults: a movement that was not ours began between the acknowledgement of homing and the first rest.</summary>
    [Fact]
    public void A_machine_that_moves_after_homing_was_acknowledged_is_not_homed()
    {
        var bench = new Bench().Connected().Confirms(new MotionAct.Home()).After(at => new GateEvent.Left(at)).Moves().After(at => new GateEvent.Accepted(at));
        Assert.Equal(TrustState.Moving, bench.Moves(-1, -1, -1).Gate.State);
        Assert.Equal(TrustState.Stopped, bench.Moves(-3, -1, -1).Gate.State);
        Assert.Contains("after homing had ended", bench.Gate.Trouble);
    }

    /// <summary>A stick presses each switch in mid-travel: the place where that ends is not home, though the controller shows it as home.</summary>
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void The_watched_homing_test_ends_with_a_position_that_is_not_trusted(bool homedBefore)
    {
        var bench = homedBefore ? new Bench().Homed() : new Bench(Bench.Facts with { HomingTestPassed = false, HomeShown = new(0, 0, 0) }).Connected();
        bench.Confirms(new MotionAct.Home(WatchedTest: true)).After(at => new GateEvent.Left(at)).Moves(-5, -5, -5).After(at => new GateEvent.Accepted(at)).Rests(-1, -1, -1);
        Assert.IsType<MotionAct.Home>(Assert.Single(bench.Effects.OfType<GateEffect.Ended>()).Act);
        Assert.Equal(TrustState.Unreferenced, bench.Gate.State);
        Assert.Null(bench.Gate.InTravel);
        Assert.Contains("at most 5 mm", bench.After(at => new GateEvent.Asked(at, Bench.Go(AxisName.X, -25))).Refusal);
        bench.After(at => new GateEvent.FactsTold(at, Bench.Facts with { HomeShown = new(-1, -1, -1) })).Confirms(new MotionAct.Home())
            .After(at => new GateEvent.Left(at)).Moves(-3, -3, -3).After(at => new GateEvent.Accepted(at)).Rests(-1, -1, -1);
        Assert.Equal(TrustState.Homed, bench.Gate.State);
        Assert.Equal(419, bench.Gate.InTravel!.Value.X, 9);
    }

    [Fact]
    public void A_pair_whose_settings_differ_does_not_move()
    {
        var bench = new Bench(Bench.Facts with { PairDiffers = true }).Connected();
        Assert.Contains("pair", bench.After(at => new GateEvent.Asked(at, Bench.Go(AxisName.X, 2, 100))).Refusal);
        Assert.Contains("pair", bench.After(at => new GateEvent.Asked(at, new MotionAct.Home())).Refusal);
    }

    [Fact]
    public void Stop_is_acknowledged_by_a_key_that_confirms_no_move_and_trust_does_not_come_back()
    {
        var bench = new Bench().Homed().After(at => new GateEvent.StopPressed(at, "the operator pressed STOP"));
        Assert.Contains(bench.Effects, effect => effect is GateEffect.SendStop);
        bench.Rests(-1, -1, -1).After(at => new GateEvent.Understood(at, 'X'));
        Assert.Equal(TrustState.Stopped, bench.Gate.State);
        bench.After(at => new GateEvent.Understood(at, 'S'));
        Assert.Equal(TrustState.Unreferenced, bench.Gate.State);
        Assert.Null(bench.Gate.InTravel);
    }

    [Fact]
    public void After_a_lost_link_the_trouble_is_read_before_anything_moves()
    {
        var bench = new Bench().Homed().After(at => new GateEvent.Lost(at, "the cable was pulled"));
        Assert.Equal(TrustState.Shut, bench.Gate.State);
        Assert.Equal(TrustState.Stopped, bench.Connected().Gate.State);
        Assert.Equal("the cable was pulled", bench.Gate.Trouble);
    }

    [Fact]
    public void A_gap_of_more_than_five_seconds_takes_trust_away()
    {
        var bench = new Bench().Homed().After(at => new GateEvent.Passed(at), 4.9);
        Assert.Equal(TrustState.Homed, bench.Gate.State);
        Assert.Equal(TrustState.Stopped, bench.After(at => new GateEvent.Passed(at), 5.1).Gate.State);
    }

    [Fact]
    public void Readings_count_only_at_rest_and_while_the_controller_answers()
    {
        var bench = new Bench().Homed();
        Assert.True(bench.Gate.AcceptsReadings);
        Assert.False(bench.After(at => new GateEvent.Passed(at), 1.2).Gate.AcceptsReadings);
        bench.Rests(-1, -1, -1).Confirms(Bench.Go(AxisName.X, -25));
        Assert.False(bench.Gate.AcceptsReadings);
    }

    public static TheoryData<string> LossesOfTrust => [.. Losses.Keys];

    private static readonly Dictionary<string, Func<TimeSpan, GateEvent>> Losses = new()
    {
        ["STOP"] = at => new GateEvent.StopPressed(at, "STOP"),
        ["fault"] = at => new GateEvent.Faulted(at, "half a line"),
        ["refused"] = at => new GateEvent.RefusedLine(at, "refused"),
        ["alarm"] = at => new GateEvent.Reported(at, StateReport.Of(ControllerState.Locked, null, "1")),
        ["greeting"] = at => new GateEvent.Greeted(at),
        ["jump"] = at => new GateEvent.Reported(at, StateReport.Of(ControllerState.Resting, new(-7, -1, -3))),
        ["held"] = at => new GateEvent.Reported(at, StateReport.Of(ControllerState.Held, new(-1, -1, -1))),
        ["unknown"] = at => new GateEvent.Reported(at, StateReport.Of(ControllerState.Unknown)),
        ["told"] = at => new GateEvent.TrustLost(at, "a setting was written"),
        ["slept"] = at => new GateEvent.Passed(at + TimeSpan.FromSeconds(6)),
    };

    [Theory]
    [MemberData(nameof(LossesOfTrust))]
    public void Every_loss_of_trust_leads_from_rest_and_from_motion_to_stopped(string loss)
    {
        var resting = new Bench().Homed().After(Losses[loss]);
        Assert.Equal(TrustState.Stopped, resting.Gate.State);

        var moving = new Bench().Homed().Confirms(Bench.Go(AxisName.X, -250)).Taken().After(Losses[loss]);
        Assert.Equal(TrustState.Stopped, moving.Gate.State);
        Assert.Contains(moving.Effects, effect => effect is GateEffect.SendStop);
        Assert.Null(moving.Gate.Underway);
    }

    [Fact]
    public void Silence_for_more_than_a_second_while_moving_stops()
    {
        var bench = new Bench().Homed().Confirms(Bench.Go(AxisName.X, -250)).Taken().Moves(-2, -1, -1);
        Assert.Equal(TrustState.Moving, bench.After(at => new GateEvent.Passed(at), 0.9).Gate.State);
        Assert.Equal(TrustState.Stopped, bench.After(at => new GateEvent.Passed(at), 0.2).Gate.State);
    }

    private static Bench Placed()
    {
        var bench = new Bench(Bench.Facts with { Switched = [], HomeHigh = [] }).Connected();
        foreach (var axis in Enum.GetValues<AxisName>())
            bench.Confirms(new MotionAct.SetReference(axis, axis == AxisName.Z ? 80 : 200)).Rests();
        return bench;
    }
}
