using System.Collections.Immutable;
using System.Text.RegularExpressions;
using Commission.Core.Characteristics;
using Commission.Core.Reports;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Pages;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>A finding that does not hold any more says so everywhere, and what is NEXT on its page is what Enter does.</summary>
public sealed class FindingStandsTests : KnownScreens
{
    // Found in use: "within" in the list and on the page of a result that the bench called stale.
    [Fact]
    public void A_stale_finding_has_its_verdict_neither_in_the_list_nor_on_its_page_and_leads_to_its_route_card()
    {
        Journal.Append(Found("axis-scale", "X", "scaleError", "1", 0.0002, 0.0003)).Require();
        Journal.Append(new EntryBody.ChangeTold("belt-tensioned", "X", "") { Machine = "Heron" }).Require();
        using var window = Open();
        window.Type("f");
        Assert.Matches(@"scale X +\+200 +\+/- +300 ppm +stale", window.Text);
        Assert.DoesNotContain("within", window.Text, StringComparison.Ordinal);
        window.Type("\n");
        Assert.StartsWith("   MEASURE AGAIN   scale X = ", window.Rows[2], StringComparison.Ordinal);
        Assert.DoesNotContain("within", window.Text, StringComparison.Ordinal);
        Assert.Contains("xx", window.Rows.First(row => row.Contains('|', StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.StartsWith("NEXT >> Measure it again. Enter opens its route card.", window.Rows[20], StringComparison.Ordinal);
        window.Type("\n");
        Assert.Contains("Heron / work / scale X", window.Rows[0], StringComparison.Ordinal);
    }

    // Found in use: the trend said "Look again by 3 Dec" of a result that the bench called stale.
    [Fact]
    public void A_stale_result_waits_for_no_day_on_its_trend()
    {
        Journal.Append(Found("axis-scale", "X", "scaleError", "1", 0.0002, 0.0003)).Require();
        Journal.Append(new EntryBody.ChangeTold("belt-tensioned", "X", "") { Machine = "Heron" }).Require();
        using var window = Open();
        window.Type("t");
        Assert.Matches(@"scale X .* now, stale", window.Text);
        window.Type("\n");
        Assert.StartsWith("NEXT >> Measure it again.", window.Rows[20], StringComparison.Ordinal);
        Assert.DoesNotContain("Look again by", window.Text, StringComparison.Ordinal);
    }

    // Found in use: the grade that a "find the fault" rested on was taken out, and page, bench and computing again said nothing.
    [Fact]
    public void A_finding_whose_fact_was_corrected_says_on_bench_page_and_anew_computed_that_it_no_longer_stands()
    {
        var machine = Ledger.Machines["Heron"].Description;
        Journal.Append(Found("axis-scale", "X", "scaleError", "1", 0.00064, 0.0001, new Advice { Action = AdviceAction.FindTheFault, Because = "the grade of the screw allows less" }) with
        {
            Options = new FitOptions { Axis = AxisName.X, Drive = DriveKind.Screw, ScrewGrade = 7, TravelPerTurnMm = 5, StepsPerMm = 320 },
        }).Require();
        void Describe(int? grade) => Journal.Append(new EntryBody.MachineDescribed(machine with { X = machine.X with { Drive = DriveKind.Screw, Grade = grade, TravelPerTurnMm = 5, StepsPerMm = 320 } }, Retired: false) { Machine = "Heron" }).Require();
        Describe(7);
        using (var before = Open())
            Assert.DoesNotContain("no longer stands", before.Text, StringComparison.Ordinal);
        Journal.Append(Found("backlash", "X", "reversal", "mm", -0.05, 0.01) with { Options = new FitOptions { Axis = AxisName.X, Drive = DriveKind.Screw, ScrewGrade = 7, TravelPerTurnMm = 5, StepsPerMm = 320 } }).Require();
        Describe(null);
        using var window = Open();
        // What does not ask for the grade does not rest on it.
        Assert.DoesNotContain("lost motion X: rests", window.Text, StringComparison.Ordinal);
        Assert.Contains(" scale X: rests on grade 7, which no longer stands.", window.Text, StringComparison.Ordinal);
        window.Type("f");
        window.Press(Key.CursorDown, Key.Enter);
        Assert.Contains("rests on grade 7, which no longer stands (not known now). Its advice", window.Text, StringComparison.Ordinal);
        window.Press(Key.Esc);
        window.Type("m\n");
        window.PressUntil(Key.CursorDown, ">> Compute all findings again");
        window.Press(Key.Enter);
        Assert.Contains("rests on grade 7, which no longer stands", string.Join(' ', window.Rows.Select(row => row.Trim())), StringComparison.Ordinal);
    }

    // Found in use: the page kept the wall of wood, the bench had that of plastics, and neither said which class it was.
    [Fact]
    public void A_finding_judged_by_the_limit_of_another_class_of_work_names_both()
    {
        var machine = Ledger.Machines["Heron"].Description;
        void Describe(WorkClass work) => Journal.Append(new EntryBody.MachineDescribed(machine with { Class = work }, Retired: false) { Machine = "Heron" }).Require();
        string Page(params string[] keys)
        {
            using var window = Open();
            foreach (var typed in keys)
                window.Type(typed);
            return string.Join(' ', window.Rows.Select(row => row.Trim()));
        }

        Describe(WorkClass.Wood);
        var made = Found("squareness", null, "squareness", "rad", 0.0001, 0.0001);
        var number = Journal.Append(made with { Options = new FitOptions { Tolerance = AcceptanceClasses.Shipped.For("squareness", WorkClass.Wood) } }).Require().Sequence;
        Assert.DoesNotContain("was judged by", Page("f\n"), StringComparison.Ordinal);
        Describe(WorkClass.Plastics);
        const string Words = "was judged by the limit of wood; the class of work is plastics now, and bench and report judge by that";
        Assert.Contains("But it " + Words + ".", Regex.Replace(Page("f\n"), " +", " "), StringComparison.Ordinal);
        Assert.Contains(Words, EntryDetails.Lines(Journal.Entries().Single(entry => entry.Sequence == number), Ledger));
    }

    [Fact]
    public void Who_corrects_a_fact_is_told_which_results_rested_on_it()
    {
        var x = Ledger.Machines["Heron"].Description.X;
        Journal.Append(Found("axis-scale", "X", "scaleError", "1", 0.0002, 0.0003) with { Options = new FitOptions { Axis = AxisName.X, Drive = x.Drive, ScrewGrade = x.Grade, TravelPerTurnMm = x.TravelPerTurnMm, StepsPerMm = x.StepsPerMm } }).Require();
        using var window = Open();
        window.Type("ma");
        window.PressUntil(Key.CursorDown, ">> grade                    X");
        window.Press(Key.Enter);
        window.Erase();
        window.Type("5\n");
        Assert.Contains("grade of X: corrected. U undoes it. scale X rested on what it was.", window.Said, StringComparison.Ordinal);
    }

    [Fact]
    public void A_withdrawn_finding_says_so_in_its_first_line_with_the_reason()
    {
        var made = Journal.Append(Found("axis-scale", "X", "scaleError", "1", 0.0002, 0.0003)).Require().Sequence;
        Journal.Append(new EntryBody.Withdrawn(made, "wrong block") { Machine = "Heron" }).Require();
        using var window = Open();
        window.Type("f\n");
        Assert.StartsWith("   WITHDRAWN       scale X = ", window.Rows[2], StringComparison.Ordinal);
        Assert.Contains(": wrong block", window.Rows[4], StringComparison.Ordinal);
        Assert.DoesNotContain("within", window.Text, StringComparison.Ordinal);
        Assert.Contains("withdrawn and counts for nothing", window.Rows[21], StringComparison.Ordinal);
    }

    // Found in use: "Measure again with another instrument", and Enter went to the bench.
    [Fact]
    public void Advice_to_measure_more_leads_to_the_route_card_and_a_plan_can_be_taken_from_the_finding()
    {
        Journal.Append(Found("axis-scale", "X", "scaleError", "1", 0.0002, 0.0003, new Advice { Action = AdviceAction.MeasureMore, Because = "one instrument alone tells too little", Next = "Measure again with another instrument." })).Require();
        using var window = Open();
        window.Type("f\n");
        Assert.StartsWith("NEXT >> Measure again with another instrument.", window.Rows[20], StringComparison.Ordinal);
        Assert.Contains("Enter opens its route card.", window.Rows[21], StringComparison.Ordinal);
        window.Type("p");
        Assert.DoesNotContain("the run under way", window.Text, StringComparison.Ordinal);
        window.Type("\n");
        Assert.Contains("Heron / work / scale X", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains("The plan is taken; nothing has begun.", window.Said, StringComparison.Ordinal);
    }

    // Found in use: "Measure again with another instrument; if both agree." under MEASURE MORE, the rest below PgDn, over "reading more often will not help".
    [Fact]
    public void What_a_finding_asks_for_stands_whole_above_its_reasons_and_NEXT_ends_with_a_clause_of_its_own()
    {
        var made = Found("axis-scale", "X", "scaleError", "1", 0.0012, 0.0003, new Advice { Action = AdviceAction.MeasureMore, Because = "one of the two is wrong", Next = "Measure again with another instrument; if both agree, the change stands on them alone." });
        Journal.Append(made with { Finding = made.Finding with { Budget = [new BudgetLine("limit of error of the instrument", 0.9, false), new BudgetLine("scatter of the readings", 0.1, true)] } }).Require();
        using var window = Open();
        window.Type("f\n");
        Assert.Equal("NEXT >> Measure again with another instrument.", window.Rows[20]);
        Assert.Contains("Enter opens its route card.", window.Rows[21], StringComparison.Ordinal);
        Assert.Contains(" Next      Measure again with another instrument; if both agree, the change", window.Text, StringComparison.Ordinal);
        Assert.Contains("More readings with this instrument will not help: 90 % stays.", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("Reading more often will not help", window.Text, StringComparison.Ordinal);
    }

    // Found in use: "Measure again with another instrument." under FIND THE FAULT, and Enter went back to the list.
    [Fact]
    public void Enter_on_a_finding_with_a_fault_opens_the_route_card_and_on_an_older_one_NEXT_says_that_it_goes_back()
    {
        var fault = new Advice { Action = AdviceAction.FindTheFault, Because = "the grade of the screw allows less", Next = "Measure again with another instrument." };
        Journal.Append(Found("axis-scale", "X", "scaleError", "1", 0.0006, 0.0001, fault)).Require();
        Journal.Append(Found("axis-scale", "X", "scaleError", "1", 0.00064, 0.0001, fault)).Require();
        using var window = Open();
        window.Type("f");
        window.Press(Key.CursorDown);
        window.Type("\n");
        Assert.StartsWith("NEXT >> Enter goes back to the findings.", window.Rows[20], StringComparison.Ordinal);
        Assert.Contains(" Next      Measure again with another instrument.", window.Text, StringComparison.Ordinal);
        window.Press(Key.Enter, Key.CursorUp, Key.Enter);
        Assert.StartsWith("NEXT >> Measure again with another instrument.", window.Rows[20], StringComparison.Ordinal);
        window.Type("\n");
        Assert.Contains("Heron / work / scale X", window.Rows[0], StringComparison.Ordinal);
    }

    // Found in use: "stands .." and "look again  1.." where the count had no room, and series in the order in which they were measured.
    [Fact]
    public void Long_lists_keep_their_heads_whole_and_series_stand_in_the_order_of_the_axes()
    {
        foreach (var axis in Enumerable.Repeat((string[])["Z", "Y", "X"], 7).SelectMany(axes => axes))
            Journal.Append(Found("axis-scale", axis, "scaleError", "1", 0.0002, 0.0003)).Require();
        using var window = Open();
        window.Type("f");
        Assert.EndsWith("1 of 21 findings", window.Rows[0], StringComparison.Ordinal);
        Assert.EndsWith("stands", window.Rows[2], StringComparison.Ordinal);
        window.Type("t");
        Assert.Equal(["scale X", "scale Y", "scale Z"], window.Rows[3..20].Where(row => row.Contains("scale ", StringComparison.Ordinal)).Select(row => row[3..10]));
    }

    [Fact]
    public void A_result_without_U_says_the_word_and_the_reason_in_the_list()
    {
        Journal.Append(Found("axis-scale", "X", "scaleError", "1", 0.0012, null)).Require();
        using var window = Open();
        window.Type("f");
        Assert.Contains("+1200 ppm no U", window.Text, StringComparison.Ordinal);
        Assert.Contains("no U: no instrument named.", window.Rows[21], StringComparison.Ordinal);
    }

    // Found in use: lost motion on the bench was backlash on its finding, bed map flatness, and the log had a third name.
    [Fact]
    public void A_result_has_one_name_on_the_bench_on_its_finding_and_over_time()
    {
        (string Kind, string? Axis, string Parameter, string Unit, string Name)[] all =
            [("backlash", "X", "reversal", "mm", "lost motion X"), ("axis-scale", "X", "scaleError", "1", "scale X"), ("flatness", null, "peakToValley", "mm", "bed map"), ("squareness", null, "squareness", "rad", "squareness XY")];
        foreach (var (kind, axis, parameter, unit, _) in all)
            Journal.Append(Found(kind, axis, parameter, unit, -0.0001, 0.0003)).Require();
        using var window = Open(width: 120, height: 40);
        foreach (var sheet in "bft")
        {
            window.Type(sheet.ToString());
            Assert.All(all, one => Assert.Contains(one.Name, window.Text, StringComparison.Ordinal));
        }
    }

    // Found in use: the first line of lost motion ran into its verdict, and its setting was called "mm, X".
    [Fact]
    public void The_setting_of_lost_motion_has_its_name_and_its_unit_and_the_verdict_its_own_place()
    {
        Journal.Append(LostMotion()).Require();
        using var window = Open();
        window.Type("f\n");
        Assert.Matches(@"^   CHANGE          lost motion X = 0\.3560 +\+/- +0\.0093 mm +\(k=1\.92\) +OUTSIDE$", window.Rows[2]);
        Assert.Contains(" Setting   compensation of lost motion, X", window.Text, StringComparison.Ordinal);
        Assert.Contains("now 0.000 mm     proposed  0.350 mm", window.Text, StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.Contains("compensation of lost motion, X: 0.350 mm is proposed", window.Text, StringComparison.Ordinal);
    }

    // Found in use: 798.76 for a proposed 79.876 became the machine's number without a question.
    [Fact]
    public void A_told_value_far_from_the_one_proposed_is_asked_about_once()
    {
        Journal.Append(LostMotion()).Require();
        using var window = Open();
        window.Type("f\n\n3.5\n");
        Assert.Contains("3.5 is far from 0.350 (proposed)", window.Text, StringComparison.Ordinal);
        Assert.Matches("^NEXT >> Enter answers anew. A takes 0.350. O keeps 3.5.", window.Rows[20]);
        Assert.Empty(Ledger.SettingsWritten);
        window.Type("o");
        Assert.Equal(3.5, Ledger.SettingsWritten.Single().Body.After);
    }

    // Found in use: the worst corner was "within" while all it rests on was crossed out.
    [Fact]
    public void The_worst_corner_has_no_verdict_while_a_part_of_it_is_stale()
    {
        foreach (var axis in (string[])["X", "Y"])
        {
            Journal.Append(Found("axis-scale", axis, "scaleError", "1", 0.0001, 0.0001)).Require();
            Journal.Append(Found("backlash", axis, "reversal", "mm", -0.02, 0.01)).Require();
        }

        Journal.Append(Found("squareness", null, "squareness", "rad", 0.0001, 0.0001)).Require();
        using (var window = Open())
            Assert.Matches(@"worst corner: .*limit [0-9.]+ mm: within", window.Text);
        Journal.Append(new EntryBody.ChangeTold("speeds-changed", "X", "") { Machine = "Heron" }).Require();
        using var after = Open();
        Assert.Matches(@"worst corner: .*limit [0-9.]+ mm: stale", after.Text);
    }

    // Found in use: the plane that was measured last was within, and nothing on the bench told of the other one.
    [Fact]
    public void Of_two_planes_the_bench_shows_the_worse_and_it_is_what_Enter_opens_and_what_is_NEXT()
    {
        foreach (var (place, value, verdict) in new[] { ("XZ", -1.03e-3, Verdict.Undecided), ("YZ", -0.4e-3, Verdict.Within) })
        {
            var made = Found("square-reversal", null, "squareness", "rad", value, 1.3e-4) with { Place = place, Options = new FitOptions() };
            Journal.Append(made with { Finding = made.Finding with { Verdict = verdict } }).Require();
        }

        using var window = new Headless(DeskOf(KnownMachine.Options(Journal, "z-square")));
        Assert.Matches(@"Z to bed +-1\.03 .* \? ", window.Text);
        Assert.StartsWith("NEXT >> Z to bed. ", window.Rows[20], StringComparison.Ordinal);
        window.PressUntil(Key.CursorDown, ">> Z to bed: ");
        window.Press(Key.Enter);
        Assert.Contains("XZ", window.Rows[0], StringComparison.Ordinal);
    }

    // Found in use: within and fresh on the bench, while its own page said that the instrument or the grade is not what it is taken for.
    [Fact]
    public void A_value_that_its_finding_does_not_believe_is_within_nothing_and_is_NEXT()
    {
        Journal.Append(Found("axis-scale", "X", "scaleError", "1", 0.00064, 0.0001, new Advice { Action = AdviceAction.FindTheFault, Because = "the grade of the screw allows less", Next = "Measure again with another instrument." })).Require();
        using var window = Open();
        Assert.Matches(@"scale X +\+640 .* \?  ", window.Text);
        Assert.StartsWith("NEXT >> Scale X. ", window.Rows[20], StringComparison.Ordinal);
        Assert.Contains("Because: its finding says: find the fault", window.Rows[21], StringComparison.Ordinal);
        window.Type("f");
        Assert.Matches(@"scale X .* fault +fresh", window.Text);
    }

    // Found in use: the shorter list had passed, and the earth wire that was found loose in the long one was out of sight.
    [Fact]
    public void A_check_of_the_power_up_list_that_does_not_hold_is_NEXT_and_one_taken_back_is_open()
    {
        KnownMachine.Pass(Journal, KnownMachine.ReadyChecks);
        var run = Journal.Append(new EntryBody.RunStarted { Machine = "Heron", Procedure = "first-power-up", ProcedureHash = "0" }).Require().Sequence;
        var made = Journal.Append(new EntryBody.Checked { Machine = "Heron", Run = run, Step = "p02", Check = "P02", Typed = "0.6", Value = 0.6, Unit = "ohm", Limit = "at most 0.1 ohm", Passed = false }).Require().Sequence;
        Journal.Append(new EntryBody.RunEnded("aborted", "no meter") { Machine = "Heron", Run = run }).Require();
        Headless Bench() => new(DeskOf(KnownMachine.Options(Journal, "first-power-up", "axis-scale")));
        using (var window = Bench())
        {
            Assert.Matches(@"power-up list .* OUT ", window.Text);
            Assert.StartsWith("NEXT >> First power-up. ", window.Rows[20], StringComparison.Ordinal);
            Assert.Contains("Because: P02 of the list does not hold", window.Rows[21], StringComparison.Ordinal);
        }

        Journal.Append(new EntryBody.Noted(made, EntryBody.Noted.TakenBack) { Machine = "Heron", Run = run }).Require();
        using var after = Bench();
        Assert.DoesNotMatch(@"power-up list .* OUT ", after.Text);
        Assert.StartsWith("NEXT >> Scale X. ", after.Rows[20], StringComparison.Ordinal);
    }

    [Fact]
    public void The_route_card_says_that_a_new_result_would_be_stale_at_once()
    {
        Journal.Append(Found("backlash", "X", "reversal", "mm", -0.02, 0.01)).Require();
        using (var window = Open())
        {
            window.Type("w\n");
            Assert.DoesNotContain("stale at once", window.Text, StringComparison.Ordinal);
        }

        Journal.Append(new EntryBody.ChangeTold("belt-tensioned", "X", "") { Machine = "Heron" }).Require();
        using var after = Open(width: 120, height: 40);
        after.Type("w\n");
        Assert.Contains("lost motion X [xx] stale", after.Text, StringComparison.Ordinal);
        Assert.Contains("A new result is stale at once while one of these is.", after.Text, StringComparison.Ordinal);
    }

    // Found in use: after the value was told the page still said "Set it", Enter went elsewhere, and the value stood nowhere.
    [Fact]
    public void A_value_told_in_the_run_stands_on_the_page_of_its_finding_and_verifying_it_is_next()
    {
        var made = Journal.Append(LostMotion()).Require().Sequence;
        var desk = DeskOf(KnownMachine.Options(Journal, "backlash"));
        Sheet Page() => new FindingPage(desk, desk.Ledger.Findings[made].Made, ofRun: true).Show(80, 24);
        Assert.Equal(("Enter goes back to the bench.", "The finding is in the log."), (Page().Next, Page().Because));
        Assert.True(desk.Write(new EntryBody.SettingWritten { Machine = "Heron", Name = Backlash.CompensationSetting, Axis = "X", Before = 0, After = 0.35, Stage = "told" }));
        Assert.Contains(Page().Body, line => line.Text.Contains("Since then: 0.35 mm, told", StringComparison.Ordinal));
        Assert.Equal(("Measure it again. Enter opens its route card.", "Because: only a new result shows what the new number does."), (Page().Next, Page().Because));
        Assert.StartsWith("Verify lost motion X.", new BenchPage(desk).Show(80, 24).Next, StringComparison.Ordinal);
    }

    private static EntryBody.FindingMade LostMotion() => Found("backlash", "X", "reversal", "mm", -0.356, 0.0093, new Advice
    {
        Action = AdviceAction.Change, Because = "it lies beyond its limit",
        Setting = new ProposedSetting { Name = Backlash.CompensationSetting, Axis = "X", ExpressedAs = "mm", Current = 0, Proposed = 0.35, AsStored = 0.35, RoundingError = 0 },
    }) is var made ? made with { Finding = made.Finding with { Verdict = Verdict.Outside, Parameters = [made.Finding.Headline with { CoverageFactor = 1.92 }] } } : null!;

    private static EntryBody.FindingMade Found(string kind, string? axis, string parameter, string unit, double value, double? expanded, Advice? advice = null) => new()
    {
        Machine = "Heron", Characteristic = kind, Axis = axis, Options = new FitOptions { Tolerance = new Tolerance(0.00125, unit, "1250 ppm") },
        Finding = new Finding
        {
            Kind = kind, Method = kind + "/1", Rows = 10, Used = 10, Verdict = Verdict.Within,
            Parameters = [new FittedParameter { Name = parameter, Unit = unit, Value = value, StandardUncertainty = expanded / 2, CoverageFactor = expanded is null ? null : 2, ExpandedUncertainty = expanded, WhyNoUncertainty = expanded is null ? "no instrument named" : null }],
            Advice = advice ?? new Advice { Action = AdviceAction.Leave, Because = "it lies between its limits" },
        },
    };
}
