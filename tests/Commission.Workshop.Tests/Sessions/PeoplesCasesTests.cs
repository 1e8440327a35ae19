using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Procedures;
using Commission.Core.Upkeep;
using Commission.Tests;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Tests.Sessions;

/// <summary>Cases that owners have, each carried out as a session.</summary>
public sealed class PeoplesCasesTests
{
    [Fact]
    public void A_ratio_twice_too_large_is_answered_with_the_microstep_switches_and_never_calibrated_away()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "ratio-check", AxisName.X, SessionScene.Rule);
        Answers.UntilReading(session);
        while (session.Needs is Need.TakeReading need) session.Read("r", (2 * need.Cell.Given["commanded_mm"]) + (need.Index % 2 * 0.5)).Require();
        var finding = session.Evaluate().Require();
        Assert.Equal(AdviceAction.FindTheFault, finding.Advice.Action);
        Assert.Contains("microstep switches", finding.Advice.Next, StringComparison.Ordinal);
        Assert.Null(finding.Advice.Setting);
        Assert.IsType<Need.Ended>(session.Needs);
    }

    [Fact]
    public void A_ratio_right_within_a_rules_reach_is_within_and_does_not_pass_for_a_calibration()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "ratio-check", AxisName.X, SessionScene.Rule);
        Answers.UntilReading(session);
        while (session.Needs is Need.TakeReading need) session.Read("r", need.Cell.Given["commanded_mm"]).Require();
        var finding = session.Evaluate().Require();
        Assert.Equal((Verdict.Within, AdviceAction.Leave), (finding.Verdict, finding.Advice.Action));
        var fold = UpkeepFold.From(journal.Entries());
        Assert.Contains(fold.Results.Keys, key => key.Item == "ratio-check");
        Assert.DoesNotContain(fold.Results.Keys, key => key.Item == "axis-scale");
    }

    [Fact]
    public void A_caliper_of_unknown_limit_gets_its_scatter_and_what_would_give_the_rest()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "axis-scale", AxisName.X, Invented.Caliper with { LimitMm = null, RangeMm = null });
        Assert.Contains("limit of error", session.Run.Assumption, StringComparison.Ordinal);
        Answers.UntilReading(session);
        Assert.InRange(Span(session), 100, 142);
        while (session.Needs is Need.TakeReading need) session.Read("r", Answers.Axis(need)).Require();
        Answers.UntilReading(session);
        var finding = session.Evaluate().Require();
        Assert.NotNull(finding.Headline.FreshUncertainty);
        Assert.Null(finding.Headline.ExpandedUncertainty);
        Assert.Contains("limit of error", finding.Headline.WhyNoUncertainty, StringComparison.Ordinal);
        Assert.Equal(AdviceAction.MeasureMore, finding.Advice.Action);
    }

    [Fact]
    public void With_no_instrument_named_the_plan_suits_a_caliper_of_150_mm_and_says_so()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "axis-scale", AxisName.X);
        Assert.Contains("150 mm", session.Run.Assumption, StringComparison.Ordinal);
        Answers.UntilReading(session);
        Assert.InRange(Span(session), 100, 142);
    }

    // 0.8 mm per m over 520 mm between the drives: 0.42 mm; U 0.2 mm per m: 0.10 mm.
    [Theory]
    [InlineData(0.8, AxisName.Y, "Move the right-hand switch 0.4 mm towards the operator")]
    [InlineData(-0.8, AxisName.Y, "Move the right-hand switch 0.4 mm away from the operator")]
    [InlineData(0.8, AxisName.X, "Move the far switch 0.4 mm to the left")]
    [InlineData(0.1, AxisName.Y, "Move nothing")]
    public void A_gantry_with_two_motors_is_told_which_switch_goes_where_after_its_redraw_was_read(double angle, AxisName gantry, string expected)
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "home-offset", null, SessionScene.Indicator, Pair with { GantryAxis = gantry });
        var told = HomeOffset(session, angle, redraw: 0.004);
        Assert.Contains(expected, told, StringComparison.Ordinal);
        Assert.Contains(journal.Entries(), entry => entry.Body is Core.History.EntryBody.FindingMade { Characteristic: "repeatability", Place: "pair" });
    }

    [Fact]
    public void Where_homing_draws_the_angle_anew_by_more_than_the_offset_nothing_is_moved()
    {
        using var journal = SessionScene.Journal();
        var told = HomeOffset(SessionScene.Open(journal, "home-offset", null, SessionScene.Indicator, Pair), 0.8, redraw: 0.3);
        Assert.Contains("Move nothing: every homing draws the angle anew", told, StringComparison.Ordinal);
    }

    [Fact]
    public void A_gantry_with_one_motor_has_no_offset_to_set() =>
        Assert.Contains("does not apply", Refused("home-offset", null, SessionScene.Heron), StringComparison.Ordinal);

    [Fact]
    public void A_machine_without_switches_has_no_homing_and_gets_a_corner_instead()
    {
        var bare = SessionScene.Screw with { Switches = Switches.None };
        var machine = SessionScene.Heron with { X = bare, Y = bare, Z = bare };
        Assert.Contains("does not apply", Refused("homing", AxisName.X, machine), StringComparison.Ordinal);
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "reference-corner", null, SessionScene.Indicator, machine);
        for (var axis = 0; axis < 3; axis++)
        {
            Answers.UntilReading(session);
            for (var i = 0; i < 5; i++) session.Read("r", new[] { 0.01, -0.02, 0.0, 0.02, -0.01 }[i]).Require();
            Assert.InRange(session.Evaluate().Require().Headline.Value!.Value, 0.01, 0.02);
        }

        Assert.Equal("completed", session.Run.How);
    }

    [Fact]
    public void A_controller_without_compensation_gets_no_number_but_how_to_live_with_lost_motion()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "backlash", AxisName.X, SessionScene.Indicator, SessionScene.Heron with { X = SessionScene.Screw with { Compensation = Compensation.None } });
        Play(session, -0.12);
        var finding = session.Evaluate().Require();
        Assert.Equal(-0.12, finding.Headline.Value!.Value, 0.01);
        var next = Assert.IsType<Need.Instruct>(session.Needs);
        Assert.Contains("come to every place that matters from the same side", next.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void With_compensation_the_number_is_offered_as_a_change()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "backlash", AxisName.X, SessionScene.Indicator);
        Answers.UntilReading(session, (need, s) => need is Need.Number { Step: "present" } && s.Number("0", 0) is not null);
        Play(session, -0.12);
        session.Evaluate().Require();
        var change = Assert.IsType<Need.Change>(session.Needs);
        Assert.InRange(change.Proposed!.AsStored, 0.10, 0.13);
    }

    // 320 steps per mm are 8128 per inch; 1600 ppm too far asks for 8128 / 1.0016 = 8115.02 less what the prior holds back.
    [Fact]
    public void A_controller_in_steps_per_inch_is_told_its_value_in_steps_per_inch()
    {
        using var journal = SessionScene.Journal();
        var machine = SessionScene.Heron with { X = SessionScene.Screw with { Drive = DriveKind.Unknown, Grade = null, TravelPerTurnMm = null, Setting = RatioSetting.StepsPerInch, SettingDecimals = 2 } };
        var session = SessionScene.Open(journal, "axis-scale", AxisName.X, Invented.Caliper, machine);
        var finding = Answers.Scale(session, 1600e-6);
        Assert.Equal(AdviceAction.Change, finding.Advice.Action);
        Assert.Equal("steps/in", finding.Advice.Setting!.ExpressedAs);
        Assert.InRange(finding.Advice.Setting.AsStored, 8114, 8119);
    }

    [Fact]
    public void An_owner_in_inches_gets_positions_that_inches_can_command_and_types_inches()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "axis-scale", AxisName.X, Invented.Caliper, SessionScene.Heron with { Units = LengthUnit.Inch });
        Answers.UntilReading(session);
        Assert.All(session.Run.Cells, cell => Assert.Equal(Math.Round(cell.Given["commanded_mm"] / 25.4, 4), cell.Given["commanded_mm"] / 25.4, 1e-7));
        var need = Assert.IsType<Need.TakeReading>(session.Needs);
        Assert.All(need.Moves, move => Assert.Contains(" in", move.Words, StringComparison.Ordinal));
    }

    // The pulley of 20 teeth of 2 mm turns 40 mm: positions a quarter of that apart, and an error over a turn and over a tooth.
    [Fact]
    public void A_belt_is_read_over_its_pulleys_turn_and_over_a_tooth()
    {
        using var journal = SessionScene.Journal();
        var belt = SessionScene.Screw with { Drive = DriveKind.Belt, TravelPerTurnMm = 40, StepsPerMm = 80, Grade = null };
        var machine = SessionScene.Heron with { X = belt };
        var session = SessionScene.Open(journal, "periodic-error", AxisName.X, SessionScene.Indicator, machine);
        Answers.UntilReading(session, (need, s) => need switch
        {
            Need.Number { Step: "turn" } => s.Number("40", 40) is not null,
            Need.Number { Step: "tooth" } => s.Number("2", 2) is not null,
            _ => false,
        });
        Assert.Equal(13, session.Run.Cells.Length);
        Assert.Equal(40 * 11 / 12.0, Span(session), 0.02);
        var first = Periodic(session, 40, 0.05);
        Assert.Equal(0.05, first.Headline.Value!.Value, 0.012);
        Answers.UntilReading(session, (need, s) => need is Need.Number { Step: "tooth" } && s.Number("2", 2) is not null);
        Assert.Equal(2 * 11 / 12.0, Span(session), 0.02);
        Periodic(session, 2, 0);
        Assert.Equal("completed", session.Run.How);

        var scale = SessionScene.Open(journal, "axis-scale", AxisName.X, Invented.Caliper, machine);
        Answers.UntilReading(scale);
        var near = scale.Run.Cells.Where(cell => cell.Place == "near").Select(cell => cell.Given["commanded_mm"]).Order().ToArray();
        Assert.Equal([10, 10, 10], near.Zip(near.Skip(1), (a, b) => Math.Round(b - a)));
    }

    // A pinion of 20 teeth of module 1 turns 62.83 mm; from tooth to tooth it is 3.1416 mm.
    [Fact]
    public void A_rack_is_read_over_its_pinions_turn_and_over_a_tooth_and_its_scale_at_quarters_of_the_turn()
    {
        using var journal = SessionScene.Journal();
        var machine = SessionScene.Heron with { X = SessionScene.Screw with { Drive = DriveKind.Rack, TravelPerTurnMm = 62.832, StepsPerMm = 50.93, Grade = null } };
        var session = SessionScene.Open(journal, "periodic-error", AxisName.X, SessionScene.Indicator, machine);
        Answers.UntilReading(session, (need, s) => need is Need.Number { Step: "turn" } && s.Number("62.832", 62.832) is not null);
        Assert.Equal(62.832 * 11 / 12, Span(session), 0.02);
        Periodic(session, 62.832, 0.04);
        Answers.UntilReading(session, (need, s) => need is Need.Number { Step: "tooth" } && s.Number("3.1416", 3.1416) is not null);
        Assert.Equal(3.1416 * 11 / 12, Span(session), 0.02);
        Periodic(session, 3.1416, 0);
        Assert.Equal("completed", session.Run.How);
        Assert.Contains(journal.Entries(), entry => entry.Body is Core.History.EntryBody.FindingMade { Characteristic: "periodic", Place: "tooth" });
    }

    [Fact]
    public void Without_a_link_each_move_is_said_in_words_and_as_a_line_to_copy_and_nothing_else_is_left_out()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "axis-scale", AxisName.X, Invented.Caliper);
        Answers.UntilReading(session);
        for (; session.Needs is Need.TakeReading need; session.Read("r", Answers.Axis(need)).Require())
        {
            Assert.Equal(2, need.Moves.Length);
            Assert.EndsWith(need.Cell.Words["direction"] == "+" ? "coming from below" : "coming from above", need.Moves[^1].Words, StringComparison.Ordinal);
            Assert.All(need.Moves, move => Assert.Matches("^G21 G90 G1 X[0-9.]+ F600$", IsoText.Of(move, LengthUnit.Millimetre)));
        }

        Answers.UntilReading(session);
        Assert.NotNull(session.Evaluate().Require().Headline.ExpandedUncertainty);
    }

    // The square of 3.2 mm per m that the diagonals find, and the marks go stale with each homing: the redraw comes before any adjustment.
    [Fact]
    public void Home_offset_reads_the_redraw_of_homing_before_it_asks_for_the_angle()
    {
        var names = SessionScene.Request("home-offset", null).Procedure.AllSteps.Select(step => step.Name).ToList();
        Assert.True(names.IndexOf("redraw") < names.IndexOf("angle") && names.IndexOf("angle") < names.IndexOf("setting") && names.IndexOf("setting") < names.IndexOf("verify"));
        Assert.Contains(SessionScene.Request("home-offset", null).Procedure.Hazards, hazard => hazard.What.Contains("racks", StringComparison.Ordinal));
    }

    [Fact]
    public void A_belt_that_was_tensioned_makes_its_scale_stale_and_a_year_makes_it_due()
    {
        using var journal = SessionScene.Journal();
        var belt = SessionScene.Screw with { Drive = DriveKind.Belt, TravelPerTurnMm = 40, StepsPerMm = 80, Grade = null };
        var machine = SessionScene.Heron with { X = belt, Y = belt };
        Answers.Scale(SessionScene.Open(journal, "axis-scale", AxisName.X, Invented.Caliper, machine), 0);
        Assert.Equal(DriveKind.Belt, journal.Entries().Select(entry => entry.Body).OfType<Core.History.EntryBody.FindingMade>().Single().Options.Drive);
        journal.Append(new Core.History.EntryBody.ChangeTold("belt-tensioned", "X", "new season") { Machine = "Heron" }).Require();
        var later = journal.Entries().Last().At.AddDays(366);
        var state = new MachineUpkeep(UpkeepFold.From(journal.Entries()), machine, later).State(new ResultKey("Heron", "axis-scale", "X"));
        Assert.Equal(Standing.Stale, state.Standing);
        Assert.Contains(state.Reasons, reason => reason.Standing == Standing.Due);
    }

    // Nothing loose without a pull, 0.09 mm with one: only the second says something about a plunging cut.
    [Fact]
    public void Z_is_done_in_one_sitting_and_its_scale_is_judged_in_millimetres()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "z-axis", AxisName.Z, SessionScene.Indicator);
        Play(session, 0);
        Assert.InRange(Math.Abs(session.Evaluate().Require().Headline.Value!.Value), 0, 0.01);
        Play(session, -0.09);
        Assert.Equal(-0.09, session.Evaluate().Require().Headline.Value!.Value, 0.01);
        Answers.UntilReading(session);
        foreach (var typed in new[] { 0, 25.004, 50.006, 50.01, 25.002, 0.003 }) session.Read("r", typed).Require();
        var scale = session.Evaluate().Require();
        Assert.Equal((Verdict.Within, AdviceAction.Leave), (scale.Verdict, scale.Advice.Action));
        Assert.Equal("completed", session.Run.How);
        Assert.Contains(journal.Entries(), entry => entry.Body is Core.History.EntryBody.FindingMade { Place: "own weight" });
        Assert.Contains(journal.Entries(), entry => entry.Body is Core.History.EntryBody.FindingMade { Options.Tolerance: { Unit: "mm", Value: 0.1 } });
    }

    // Reckoned by hand: travel 420 by 580, cutter 22: 16 mm from each end, pitch 75: columns at 22.5, 97.5 ... 397.5; a beam from 160 to 260 keeps 16 mm round it free.
    [Theory]
    [InlineData(LengthUnit.Millimetre, "160 0 260 580", 33, "22.5,27.5")]
    [InlineData(LengthUnit.Inch, "6.2992 0 10.2362 22.8346", 33, "0.8858,1.0827")]
    public void Places_where_no_insert_may_be_are_typed_as_rectangles_and_kept_free_in_the_table(LengthUnit units, string beam, int lines, string first)
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "insert-grid", null, Invented.Caliper, SessionScene.Heron with { Units = units });
        Answers.UntilReading(session, (need, s) => need switch
        {
            Need.Line { Step: "keep-out" } => s.Text("260 0 160 580") is Core.Outcome<ProcedureRun>.Bad { Problems: [{ What: var what }] }
                && what.Contains("no rectangle", StringComparison.Ordinal) && s.Text(beam) is Core.Outcome<ProcedureRun>.Good,
            Need.Number { Step: "cutter" } => s.Number("22", 22) is not null,
            Need.Number { Step: "hole" } => s.Number("8", 8) is not null,
            Need.Number { Step: "pitch" or "check-pitch" } => s.Number("75", 75) is not null,
            Need.Instruct { Step: "first", Data: Core.Outcome<System.Collections.Immutable.ImmutableArray<Core.Procedures.Aids.WorkData>>.Good { Value: var files } } => Told(files, lines, first) && s.Confirm() is not null,
            _ => false,
        });
        Assert.Equal("completed", session.Run.How);
        Assert.Equal("160 0 260 580", System.Text.RegularExpressions.Regex.Replace(session.Run.Values["keep-out"].Text!, @"(\d+)\.\d+", match => Math.Round(double.Parse(match.Value, System.Globalization.CultureInfo.InvariantCulture)).ToString(System.Globalization.CultureInfo.InvariantCulture)));
    }

    private static bool Told(System.Collections.Immutable.ImmutableArray<Core.Procedures.Aids.WorkData> files, int lines, string first)
    {
        var table = files[0].Lines;
        Assert.Equal(lines, table.Length);
        Assert.Equal("1," + first, table[1]);
        var inch = table[0].EndsWith("_in", StringComparison.Ordinal) ? 25.4 : 1;
        Assert.All(table.Skip(1), row => Assert.False(double.Parse(row.Split(',')[1], System.Globalization.CultureInfo.InvariantCulture) * inch is > 144 and < 276, row));
        return true;
    }

    [Fact]
    public void A_router_with_a_dial_is_asked_for_its_dial_and_never_for_turns_a_minute()
    {
        foreach (var id in new[] { "test-cut", "surfacing", "noise" })
        {
            using var journal = SessionScene.Journal();
            var run = SessionScene.Open(journal, id, null, Invented.Caliper, SessionScene.Heron with { Spindle = SpindleKind.RouterWithDial }).Run;
            var texts = run.Items.Where(item => Conditions.Hold(item.When, run.Machine, item.Scope.Axis, run.Setting)).SelectMany(item => item.Step.Texts).ToArray();
            Assert.Contains(texts, text => text.Contains("dial", StringComparison.Ordinal));
            Assert.DoesNotContain(texts, text => text.Contains("rpm", StringComparison.Ordinal));
        }
    }

    [Fact]
    public void What_is_read_with_another_instrument_is_judged_by_that_one()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "recheck", AxisName.X, SessionScene.Indicator);
        Play(session, -0.05);
        session.Evaluate().Require();
        Answers.UntilReading(session);
        while (session.Needs is Need.TakeReading need)
        {
            double At(string column) => need.Cell.Given[column];
            session.Read("r", Math.Round(Math.Sqrt(Math.Pow(At("x2_mm") - At("x1_mm"), 2) + Math.Pow(At("y2_mm") - At("y1_mm"), 2)), 1)).Require();
        }

        session.Evaluate().Require();
        var made = journal.Entries().Select(entry => entry.Body).OfType<Core.History.EntryBody.FindingMade>().ToDictionary(finding => finding.Characteristic);
        Assert.Equal(("indicator", "tape"), (made["backlash"].Instrument, made["squareness"].Instrument));
        Assert.Equal(0.5, made["squareness"].Options.Instrument?.LimitMm);
        Assert.All(journal.Entries().Select(entry => entry.Body).OfType<Core.History.EntryBody.ReadingTaken>(), reading =>
            Assert.Equal(reading.Given.ContainsKey("x1_mm") ? "tape" : "indicator", reading.Instrument));
    }

    private static Machine Pair => SessionScene.Heron with
    {
        Y = SessionScene.Screw with { Motors = 2, PairSetting = PairSetting.Two, Switches = Switches.Home },
        DriveWidthMm = 520,
    };

    private static string HomeOffset(ProcedureSession session, double angle, double redraw)
    {
        bool Answer(Need need, ProcedureSession s) => need switch
        {
            Need.Number { Step: "width" } => s.Number("520", 520) is not null,
            Need.Number { Step: "angle" } => s.Number("a", angle) is not null,
            Need.Number { Step: "angle-u" } => s.Number("0.2", 0.2) is not null,
            _ => false,
        };
        Answers.UntilReading(session, Answer);
        foreach (var share in new[] { -1, 1, 0, 1, -1 }) session.Read("r", share * redraw).Require();
        session.Evaluate().Require();
        while (session.Needs is not Need.Change) if (!Answer(session.Needs, session)) Answers.Usual(session);
        return ((Need.Change)session.Needs).Text;
    }

    private static string Refused(string id, AxisName? axis, Machine machine)
    {
        using var journal = SessionScene.Journal();
        return Assert.IsType<Core.Outcome<ProcedureSession>.Bad>(ProcedureSession.Open(journal, SessionScene.Request(id, axis, null, machine))).Problems[0].What;
    }

    private static void Play(ProcedureSession session, double reversal)
    {
        Answers.UntilReading(session);
        var step = session.Needs.Step;
        double[] hand = [0.002, -0.003, 0.001, 0.003, -0.002, 0, 0.002, -0.001, -0.002, 0.001];
        for (var i = 0; session.Needs is Need.TakeReading need && need.Step == step; i++)
            session.Read("r", (need.Cell.Words["direction"] == "+" ? reversal : 0) + hand[i % hand.Length]).Require();
        Answers.UntilReading(session);
    }

    private static Finding Periodic(ProcedureSession session, double period, double amplitude)
    {
        double[] hand = [0.004, -0.006, 0.001, 0.005, -0.003, 0.0, 0.002, -0.004, 0.006, -0.001, -0.005, 0.003, 0.001];
        var start = session.Run.Cells[0].Given["commanded_mm"];
        while (session.Needs is Need.TakeReading need)
        {
            var mm = need.Cell.Given["commanded_mm"];
            session.Read("r", mm - start + (amplitude * Math.Sin(2 * Math.PI * mm / period)) + hand[need.Index]).Require();
            if (session.Needs is Need.SlipQuestion) session.AnswerSlip(SlipAnswer.Keep).Require();
        }

        return session.Evaluate().Require();
    }

    private static double Span(ProcedureSession session) =>
        session.Run.Cells.Max(cell => cell.Given["commanded_mm"]) - session.Run.Cells.Min(cell => cell.Given["commanded_mm"]);
}
