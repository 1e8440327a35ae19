using Commission.Core.Characteristics;
using Commission.Core.Quantities;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Pages;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>What the rows of the bench say of findings that are not simply fresh, and what comes next.</summary>
public sealed class BenchStandsTests : KnownScreens
{
    // Found in use: the speed ladder was offered, and the value that had just been written stood unverified.
    [Fact]
    public void After_a_written_ratio_its_verification_is_next_and_the_bench_says_why()
    {
        Journal.Append(Found("axis-scale", "X", "scaleError", "1", 0.0012, 0.0003)).Require();
        Journal.Append(new EntryBody.SettingWritten { Machine = "Heron", Name = "stepsPerMm", Axis = "X", Before = 320, After = 319.6, ReadBack = 319.6, Stage = "read-back" }).Require();
        using var window = On(KnownMachine.Options(Journal, "axis-scale", "speed-ladder", "backlash"), width: 120, height: 40);
        Assert.StartsWith("NEXT >> Verify scale X. 25 min.", window.Rows[36], StringComparison.Ordinal);
        Assert.Contains("Because: steps per millimetre changed: verify the scale; ", window.Rows[37], StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.Contains("Heron / work / scale X", window.Rows[0], StringComparison.Ordinal);
    }

    [Fact]
    public void What_has_no_U_is_not_fresh_and_its_value_and_why_are_shown()
    {
        Journal.Append(Found("axis-scale", "X", "scaleError", "1", 0.0012, null, "no instrument named")).Require();
        using var window = Open(width: 120, height: 40);
        var row = window.Rows.Single(row => row.StartsWith(" scale X", StringComparison.Ordinal));
        Assert.Matches(@"\+1200 +no U +1250 ppm .* \[  \] no U +7?0?d?", row);
        Assert.DoesNotContain("fresh", row, StringComparison.Ordinal);
        Assert.Contains("Because: what was measured gives no result: no instrument named", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_finding_that_contains_a_reading_which_was_left_out_later_says_so()
    {
        var run = Journal.Append(new EntryBody.RunStarted { Machine = "Heron", Procedure = "axis-scale", ProcedureHash = "h", Axis = "X" }).Require().Sequence;
        var reading = Journal.Append(new EntryBody.ReadingTaken { Machine = "Heron", Run = run, Recorded = 1, Step = "scale", Cell = 0, Place = "near", Typed = "8.49", Value = 8.49, Unit = "mm" }).Require().Sequence;
        Journal.Append(Found("axis-scale", "X", "scaleError", "1", 0.0002, 0.0003) with { Run = run, Readings = [reading] }).Require();
        Journal.Append(new EntryBody.RunEnded("completed", null) { Machine = "Heron", Run = run }).Require();
        using (var window = Open())
            Assert.DoesNotContain("contains", window.Text, StringComparison.Ordinal);
        var left = Journal.Append(new EntryBody.Excluded(reading, "jaw slipped") { Machine = "Heron" }).Require().Sequence;
        using var after = Open();
        Assert.Contains(FormattableString.Invariant($" scale X: still contains a reading that entry {left} left out; measure it again."), after.Text, StringComparison.Ordinal);
    }

    // Found in use: the row of squareness found by circles had neither limit nor strip.
    [Fact]
    public void Squareness_by_circles_has_the_limit_of_the_class_also_where_it_was_found_without_one()
    {
        Journal.Append(Found("test-circle", null, "squareness", "rad", 0.0002, 0.0002)).Require();
        using var window = Open();
        Assert.Matches(@"^ squareness XY +\+0\.20 +0\.20 +1\.00 mrad +\| .*o.* \| +in +\[==\] fresh", window.Rows.Single(row => row.StartsWith(" squareness", StringComparison.Ordinal)));
    }

    // Found in use: "done" and fresh, though nobody had measured the bed after it was surfaced.
    [Fact]
    public void A_bed_that_was_surfaced_keeps_its_value_and_waits_for_a_new_map()
    {
        Journal.Append(Found("flatness", null, "peakToValley", "mm", 0.09, 0.04)).Require();
        var run = Journal.Append(new EntryBody.RunStarted { Machine = "Heron", Procedure = "surfacing", ProcedureHash = "h" }).Require().Sequence;
        Journal.Append(new EntryBody.ChangeTold("board-surfaced", null, "") { Machine = "Heron", Run = run }).Require();
        Journal.Append(new EntryBody.RunEnded("completed", null) { Machine = "Heron", Run = run }).Require();
        using var window = Open();
        Assert.Matches(@"^ bed map +0\.090 +0\.040 +0\.300 mm .* \[xx\] stale", window.Rows.Single(row => row.StartsWith(" bed map", StringComparison.Ordinal)));
    }

    // Found in use: a machine with switches was told that its reference place "waits for ratio".
    [Fact]
    public void The_list_of_the_work_says_what_is_not_for_this_machine_and_names_what_is_waited_for_as_the_bench_does()
    {
        using var window = On(KnownMachine.Options(Journal, "reference-corner"));
        window.Type("w");
        Assert.Contains("not for this machine", window.Text, StringComparison.Ordinal);
        using var fresh = PracticeStore.Journal(Clock);
        using var bare = On(KnownMachine.Options(fresh, "switch-logic"));
        bare.Type("w");
        Assert.Contains("waits for power-up list", bare.Text, StringComparison.Ordinal);
    }

    // Found in use: the list said what a procedure waits for, its route card began without a word on it, and the bench went to other things than the stale result.
    [Fact]
    public void The_list_the_card_and_the_wide_bench_name_the_same_thing_that_is_waited_for_and_NEXT_leads_to_it()
    {
        using var fresh = PracticeStore.Journal(Clock);
        var procedures = (string[])["axis-scale", "backlash", "nominal-steps", "ratio-check"];
        using (var described = On(KnownMachine.Options(fresh, procedures)))
            KnownMachine.Pass(fresh, KnownMachine.ReadyChecks);
        fresh.Append(new EntryBody.RunEnded("completed", null) { Machine = "Heron", Run = fresh.Append(new EntryBody.RunStarted { Machine = "Heron", Procedure = "first-power-up", ProcedureHash = "h" }).Require().Sequence }).Require();
        fresh.Append(Found("axis-scale", "X", "scaleError", "1", 0.0002, 0.0003)).Require();
        fresh.Append(new EntryBody.ChangeTold("belt-tensioned", "X", "") { Machine = "Heron" }).Require();
        using var window = On(KnownMachine.Options(fresh, procedures), 120, 40);
        var waits = System.Text.RegularExpressions.Regex.Match(window.Rows.Single(row => row.StartsWith(" scale X", StringComparison.Ordinal)), @" now +(\S.*)$").Groups[1].Value;
        Assert.Equal("lost motion", waits);
        // What it waits for waits for something itself: the first of that chain is what can be done.
        Assert.StartsWith("NEXT >> Steps X.", window.Rows[36], StringComparison.Ordinal);
        Assert.Contains("Because: scale X is stale and waits for it.", window.Rows[37], StringComparison.Ordinal);
        window.Type("w");
        Assert.Matches($"X .* waits for {waits} X", window.Rows.First(row => row.Contains("scale", StringComparison.OrdinalIgnoreCase) && row.Contains(" X ", StringComparison.Ordinal)));
        window.PressUntil(Key.CursorDown, "NEXT >> Axis scale with a caliper, X.");
        window.Press(Key.Enter);
        Assert.Contains($"Waits   for {waits} X: no result of it holds. S begins all the same.", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_link_the_card_of_what_moves_says_that_the_power_up_list_comes_first()
    {
        using var fresh = PracticeStore.Journal(Clock);
        using var window = On(KnownMachine.Options(fresh, "axis-scale"), 120, 40);
        window.Type("w\n");
        Assert.Contains("First   the power-up list: it is not through.", window.Text, StringComparison.Ordinal);
        using var known = On(KnownMachine.Options(Journal), 120, 40);
        known.Type("w\n");
        Assert.DoesNotContain("power-up list", known.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void All_numbers_of_a_finding_are_called_in_words()
    {
        var desk = DeskOf(KnownMachine.Options(Journal));
        var found = Found("axis-scale", "X", "scaleError", "1", 0.0002, 0.0003).Finding;
        desk.Cover(FindingPage.Numbers(desk, found with { Parameters = [.. found.Parameters, new FittedParameter { Name = "reversal", Unit = "mm", Value = -0.054, WhyNoUncertainty = "not asked" }] }));
        var shown = SheetFrame.Text(desk.Show(80, 24));
        Assert.Contains("scale error: +200", shown, StringComparison.Ordinal);
        Assert.Contains("lost motion: 0.054", shown, StringComparison.Ordinal);
        Assert.Contains("computed by axis scale, version 1", shown, StringComparison.Ordinal);
    }

    // Found in use: names of steps and checks as they stand in the files, and numbers without their unit.
    [Fact]
    public void The_log_says_what_was_told_in_words_with_its_unit()
    {
        string Said(EntryBody body, ShownUnits? units = null) => LogWords.Of(body, units, procedures: PracticeStore.Shipped("nominal-steps"));
        Assert.Equal("told: turn X, 5 mm", Said(new EntryBody.Confirmed("axes/X/turn", "5")));
        Assert.Equal("told: turn X, 0.19685 in", Said(new EntryBody.Confirmed("axes/X/turn", "5"), ShownUnits.Inches));
        Assert.Equal("told: angle Y, 1.8 deg", Said(new EntryBody.Confirmed("axes/Y/angle", "1.8")));
        Assert.Equal("told: drive X, screw", Said(new EntryBody.Confirmed("axes/X/drive", "screw")));
        Assert.Equal("done: shuttle 3", Said(new EntryBody.Confirmed("ladder/3/shuttle", "done")));
        Assert.Equal("done: set", Said(new EntryBody.Confirmed("set", "set 319.606")));
        Assert.Equal("hazards read, and what they ask is done", Said(new EntryBody.Confirmed("hazards", "S")));
        Assert.Equal("check rated: 62.5 V, in", Said(new EntryBody.Checked { Step = "rated-volts", Check = "rated", Typed = "62.5", Value = 62.5, Unit = "V", Limit = "from 5 to 120 V", Passed = true }));
        Assert.StartsWith("finding lost motion X: 0.05", Said(Found("backlash", "X", "reversal", "mm", -0.05, 0.01)), StringComparison.Ordinal);
        Assert.Equal("STOP: F9; a false alarm", Said(new EntryBody.Stopped("F9", "a false alarm")));
        Assert.Equal("finding bed map, short: 0.090  ±  0.040 mm (k=2.00, 95 %)", Said(Found("flatness", null, "peakToValley", "mm", 0.09, 0.04) with { Place = "short" }).Replace("+/-", "±", StringComparison.Ordinal).Replace("0 ± 0", "0  ±  0", StringComparison.Ordinal));
    }

    private static EntryBody.FindingMade Found(string kind, string? axis, string parameter, string unit, double value, double? expanded, string? why = null) => new()
    {
        Machine = "Heron", Characteristic = kind, Axis = axis, Options = new FitOptions(),
        Finding = new Finding
        {
            Kind = kind, Method = kind + "/1", Rows = 10, Used = 10, Verdict = Verdict.None,
            Parameters = [new FittedParameter { Name = parameter, Unit = unit, Value = value, StandardUncertainty = expanded / 2, CoverageFactor = expanded is null ? null : 2, ExpandedUncertainty = expanded, WhyNoUncertainty = why }],
            Advice = new Advice { Action = AdviceAction.Leave, Because = "nothing was computed" },
        },
    };
}
