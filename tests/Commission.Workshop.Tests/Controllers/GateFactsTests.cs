using Commission.Core.Motion;
using Commission.Workshop.Controllers;

namespace Commission.Workshop.Tests.Controllers;

public class GateFactsTests
{
    private static readonly Machine Heron = new()
    {
        Name = "Heron",
        TravelMm = [420, 580, 90],
        X = new() { StepsPerMm = 320, Switches = Switches.Home, HomeAt = HomeEnd.High },
        Z = new() { Switches = Switches.BothEnds, HomeAt = HomeEnd.High },
    };

    private static Ledger With(params EntryBody[] bodies) => Ledger.From(
        bodies.Prepend(new EntryBody.MachineDescribed(Heron, false) { Machine = "Heron" })
            .Select((body, i) => new JournalEntry($"s:{i + 1}", i + 1, DateTimeOffset.UnixEpoch, body)));

    private static EntryBody.Checked Check(string id, bool passed = true, string step = "step") =>
        new() { Machine = "Heron", Step = step, Check = id, Typed = "yes", Limit = "yes", Passed = passed };

    [Fact]
    public void Description_and_checks_of_the_epoch_become_facts()
    {
        var facts = GateFacts.Of(Heron, With(Check("P05"), Check("P27"), Check("P22", passed: false), Check("P25", step: "p25-x")));
        Assert.Equal(new MachinePosition(420, 580, 90), facts.TravelMm);
        Assert.Equal(1 / 320.0, facts.StepMm.X);
        Assert.True(facts.Passed.SetEquals(["P05", "P25", "P27"]));
        Assert.True(facts.HomingTestPassed);
        Assert.Equal([AxisName.X], facts.DirectionChecked);
        Assert.True(facts.Switched.SetEquals([AxisName.X, AxisName.Z]));
        Assert.Equal([AxisName.Z], facts.BothEnds);
        Assert.False(facts.HasSwitches);
    }

    [Fact]
    public void A_direction_that_failed_after_it_had_passed_no_longer_counts() =>
        Assert.Empty(GateFacts.Of(Heron, With(Check("P25", step: "p25-x"), Check("P25", passed: false, step: "p25-x"))).DirectionChecked);

    [Fact]
    public void Axes_that_moved_over_the_link_in_this_epoch_have_moved()
    {
        EntryBody.Moved Moved(string words) => new("play", words) { Machine = "Heron" };
        Assert.Equal([AxisName.X], GateFacts.Of(Heron, With(Moved("X moves to the right, 25 mm, at 600 mm/min, about 2.5 s."))).Moved);
        Assert.Equal(3, GateFacts.Of(Heron, With(Moved("All axes seek their switches, Z first and upwards. It lasts at most 120 s."))).Moved.Count);
        Assert.Empty(GateFacts.Of(Heron, With(
            Moved("X moves to the right, 25 mm, at 600 mm/min, about 2.5 s."),
            new EntryBody.ChangeTold("crash", null, "ran into the end") { Machine = "Heron" })).Moved);
    }

    [Fact]
    public void Settings_tell_pull_off_and_pairs_that_differ()
    {
        var dialect = ShippedDialects.Find("numbered-settings")!;
        var second = new DialectSetting { Key = "103", Name = "stepsPerMm", Axis = AxisName.Y };
        var paired = dialect with { Settings = dialect.Settings with { Known = dialect.Settings.Known.Add(second) } };
        SavedSetting[] settings = [new("27", null, null, "1.5", 1.5), new("101", null, null, "320", 320), new("103", null, null, "319", 319)];
        var facts = GateFacts.Of(Heron, With()).With(paired, [.. settings]);
        Assert.Equal(1.5, facts.PullOffMm.Z);
        Assert.True(facts.PairDiffers);
        Assert.False(GateFacts.Of(Heron, With()).With(dialect, [.. settings]).PairDiffers);
    }
}
