using System.Collections.Immutable;
using Commission.Core.History;

namespace Commission.Core.Tests.History;

public sealed class LedgerTests
{
    private static readonly DateTimeOffset Start = new(2031, 5, 4, 9, 0, 0, TimeSpan.FromHours(2));

    internal static JournalEntry[] Chain(params EntryBody[] bodies) =>
        [.. bodies.Select((body, at) => new JournalEntry($"heron1:{at + 1}", at + 1, Start.AddMinutes(at), body))];

    private static EntryBody.StoreBorn Born() => new EntryBody.StoreBorn(StoreNature.Practice, "heron1", "0.1.0");

    private static EntryBody.MachineDescribed Described(bool retired = false, double travel = 420) =>
        new EntryBody.MachineDescribed(new Machine { Name = "Heron", TravelMm = [travel, 580, 90] }, retired) { Machine = "Heron" };

    private static EntryBody.RunStarted Started() => new() { Procedure = "axis-scale", ProcedureHash = "00", Axis = "X", Machine = "Heron" };

    private static EntryBody.ReadingTaken Taken(long run, int recorded, double value) => new EntryBody.ReadingTaken
    {
        Run = run, Machine = "Heron", Recorded = recorded, Step = "readings", Cell = recorded - 1, Place = "far", Typed = "20.01", Value = value, Unit = "mm",
    };

    private static EntryBody.Checked Passed(string check, bool passed = true) =>
        new EntryBody.Checked { Machine = "Heron", Step = "list", Check = check, Typed = "yes", Limit = "yes", Passed = passed };

    internal static EntryBody.FindingMade Found(string characteristic, string? axis) => new()
    {
        Machine = "Heron",
        Characteristic = characteristic,
        Axis = axis,
        Options = new FitOptions(),
        Finding = new Finding
        {
            Kind = characteristic, Method = characteristic + "/1", Rows = 1, Used = 1, Parameters = [], Verdict = Verdict.None,
            Advice = new Advice { Action = AdviceAction.Leave, Because = "nothing was computed" },
        },
    };

    [Fact]
    public void The_latest_description_of_a_machine_counts()
    {
        var ledger = Ledger.From(Chain(Born(), Described(), Described(retired: true, travel: 430)));
        Assert.Equal(430, ledger.Machines["Heron"].Description.TravelMm[0]);
        Assert.True(ledger.Machines["Heron"].Retired);
        Assert.Equal(StoreNature.Practice, ledger.Born?.Body.Nature);
    }

    [Fact]
    public void A_superseded_reading_leaves_its_cell_and_an_excluded_one_stays()
    {
        var ledger = Ledger.From(Chain(Born(), Described(), Started(), Taken(3, 1, 20.01), Taken(3, 2, 200.1), Taken(3, 3, 20.02),
            new EntryBody.Superseded(5, 6, "typed a digit too many") { Run = 3 }, new EntryBody.Excluded(4, "jaw tilted") { Run = 3 }));
        var readings = ledger.ReadingsOf(3).ToArray();
        Assert.Equal([false, false, true], readings.Select(reading => reading.Counts));
        Assert.Equal("20.01", readings[0].Taken.Body.Typed);
    }

    [Fact]
    public void A_run_put_aside_can_be_taken_up_and_is_open_after_its_next_entry()
    {
        var aside = Chain(Born(), Described(), Started(), Taken(3, 1, 20.01), new EntryBody.RunEnded("put-aside", "lunch") { Run = 3 });
        Assert.Equal(RunStanding.PutAside, Ledger.From(aside).Runs[3].Standing);
        Assert.Equal(3, Ledger.From(aside).Resumable("Heron", "axis-scale", "X")?.Sequence);
        var goneOn = Ledger.From(aside).After(new JournalEntry("heron1:6", 6, Start, Taken(3, 2, 20.0)));
        Assert.Equal(RunStanding.Open, goneOn.Runs[3].Standing);
        Assert.Equal(6, goneOn.Runs[3].LastSequence);
    }

    [Fact]
    public void A_completed_run_cannot_be_taken_up() =>
        Assert.Null(Ledger.From(Chain(Born(), Described(), Started(), new EntryBody.RunEnded("completed", null) { Run = 3 })).Resumable("Heron"));

    [Fact]
    public void A_withdrawn_finding_gives_way_to_the_one_before()
    {
        var entries = Chain(Born(), Described(), Found("axis-scale", "X"), Found("axis-scale", "X"), new EntryBody.Withdrawn(4, "wrong caliper"));
        Assert.Equal(4, Ledger.From(entries[..4]).Latest("Heron", "axis-scale", "X")?.Sequence);
        Assert.Equal(3, Ledger.From(entries).Latest("Heron", "axis-scale", "X")?.Sequence);
        Assert.Null(Ledger.From(entries).Latest("Heron", "axis-scale", "Y"));
    }

    [Fact]
    public void A_withdrawal_of_an_exclusion_lets_the_reading_count_again()
    {
        var ledger = Ledger.From(Chain(Born(), Described(), Started(), Taken(3, 1, 20.01), new EntryBody.Excluded(4, "doubt"), new EntryBody.Withdrawn(5, "no doubt")));
        Assert.True(ledger.ReadingsOf(3).Single().Counts);
    }

    [Fact]
    public void Checks_count_in_the_epoch_they_were_made_in()
    {
        var crash = new EntryBody.ChangeTold("crash", null, "hit the clamp") { Machine = "Heron" };
        var entries = Chain(Born(), Described(), Passed("P05"), Passed("P06"), crash, Passed("P05", passed: false));
        Assert.Equal(["P05", "P06"], Ledger.From(entries[..4]).ChecksNow("Heron").Keys);
        var after = Ledger.From(entries);
        Assert.Equal(2, after.Epoch("Heron"));
        Assert.False(Assert.Single(after.ChecksNow("Heron")).Value.Body.Passed);
    }

    [Fact]
    public void A_change_taken_back_leaves_no_epoch_behind()
    {
        var ledger = Ledger.From(Chain(Born(), Described(), Passed("P05"),
            new EntryBody.ChangeTold("crash", null, "") { Machine = "Heron" }, Passed("P06"), new EntryBody.Withdrawn(4, "was another machine")));
        Assert.Equal(1, ledger.Epoch("Heron"));
        Assert.Equal(["P05", "P06"], ledger.ChecksNow("Heron").Keys);
    }

    private static EntryBody.SettingWritten Ratio(double before, double after, string stage = EntryBody.SettingWritten.Told) =>
        new() { Machine = "Heron", Name = "stepsPerMm", Axis = "X", Before = before, After = after, ReadBack = stage == "read-back" ? after : null, Stage = stage };

    // Found in use: 798.76 told for 79.876 was the machine's ratio for good.
    [Fact]
    public void A_setting_told_wrong_and_taken_back_leaves_the_ratio_that_was_in_force_before()
    {
        double? RatioOf(params EntryBody[] bodies) => Ledger.From(Chain(bodies)).Machines["Heron"].Description.X.StepsPerMm;
        Assert.Equal(798.76, RatioOf(Born(), Described(), Ratio(80, 79.9, "read-back"), Ratio(79.9, 798.76)));
        Assert.Equal(79.9, RatioOf(Born(), Described(), Ratio(80, 79.9, "read-back"), Ratio(79.9, 798.76), new EntryBody.Withdrawn(4, "a comma")));
        Assert.Equal(79.876, RatioOf(Born(), Described(), Ratio(80, 798.76), Ratio(798.76, 79.876), new EntryBody.Withdrawn(3, "a comma")));
        Assert.Null(RatioOf(Born(), Described(), Ratio(80, 798.76), new EntryBody.Withdrawn(3, "a comma")));
        var ledger = Ledger.From(Chain(Born(), Described(), Ratio(80, 798.76), new EntryBody.Withdrawn(3, "a comma")));
        Assert.Empty(ledger.SettingsWritten);
        Assert.Equal("a comma", ledger.Withdrawals[3].Body.Reason);
    }

    [Fact]
    public void What_was_written_and_read_back_is_not_taken_back_by_words() =>
        Assert.Equal(79.9, Ledger.From(Chain(Born(), Described(), Ratio(80, 79.9, "read-back"), new EntryBody.Withdrawn(3, "no"))).Machines["Heron"].Description.X.StepsPerMm);

    [Fact]
    public void A_skip_stays_open_until_its_check_passes()
    {
        var skipped = new EntryBody.Skipped("list", "P12", "no meter here") { Machine = "Heron" };
        Assert.Single(Ledger.From(Chain(Born(), Described(), skipped, Passed("P12", passed: false))).OpenSkips);
        Assert.Empty(Ledger.From(Chain(Born(), Described(), skipped, Passed("P12"))).OpenSkips);
    }

    [Fact]
    public void A_check_of_one_axis_says_nothing_about_that_of_another()
    {
        var closure = new EntryBody.Checked { Machine = "Heron", Step = "back", Check = "back-at-mark", Typed = "0.9", Value = 0.9, Unit = "mm", Limit = "at most 0.05 mm", Passed = false };
        EntryBody OnAxis(string axis) => ((EntryBody.RunStarted)Started()) with { Procedure = "speed-under-load", Axis = axis };
        JournalEntry[] failed = [.. Chain(Born(), Described(), OnAxis("X"), closure with { Run = 3 }, OnAxis("Z"), closure with { Run = 5, Typed = "0.01", Value = 0.01, Passed = true })];
        Assert.Equal([("back-at-mark of speed-under-load X", false), ("back-at-mark of speed-under-load Z", true)],
            Ledger.From(failed).LatestChecks("Heron").Select(check => (check.Key.Words, check.Made.Body.Passed)));
        Assert.False(Ledger.From(failed).ChecksNow("Heron")["back-at-mark"].Body.Passed);

        var skipped = new EntryBody.Skipped("back", "back-at-mark", "no mark left") { Machine = "Heron", Run = 3 };
        var open = Assert.Single(Ledger.From(Chain(Born(), Described(), OnAxis("X"), skipped, OnAxis("Y"), closure with { Run = 5, Passed = true })).OpenSkips);
        Assert.Equal("back-at-mark of speed-under-load X", open.Words);
        Assert.Empty(Ledger.From(Chain(Born(), Described(), OnAxis("X"), skipped, OnAxis("X"), closure with { Run = 5, Passed = true })).OpenSkips);
    }

    [Fact]
    public void A_number_of_the_list_is_made_good_in_whatever_procedure_and_step_it_is_checked_and_for_its_own_axis()
    {
        EntryBody In(string procedure) => ((EntryBody.RunStarted)Started()) with { Procedure = procedure, Axis = null };
        EntryBody Direction(string axis, long run, bool passed) => ((EntryBody.Checked)Passed("P25", passed)) with { Step = "p25-" + axis, Run = run };
        var skipped = new EntryBody.Skipped("p08-once", "P08", "no meter") { Machine = "Heron", Run = 3 };
        Assert.Empty(Ledger.From(Chain(Born(), Described(), In("first-power-up"), skipped, In("readiness"), ((EntryBody.Checked)Passed("P08")) with { Run = 5 })).OpenSkips);
        var directions = Ledger.From(Chain(Born(), Described(), In("first-power-up"), Direction("x", 3, false), Direction("z", 3, true)));
        Assert.Equal([("P25 X", false), ("P25 Z", true)], directions.LatestChecks("Heron").Select(check => (check.Key.Words, check.Made.Body.Passed)));
        Assert.False(directions.ChecksNow("Heron")["P25"].Body.Passed);
    }

    [Fact]
    public void An_entry_that_names_what_is_not_there_changes_only_the_last_sequence()
    {
        var ledger = Ledger.From(Chain(Born(), new EntryBody.Excluded(77, "?"), new EntryBody.Withdrawn(78, "?"), new EntryBody.RunEnded("completed", null) { Run = 79 }));
        Assert.Equal(4, ledger.LastSequence);
        Assert.Empty(ledger.Runs);
    }
}
