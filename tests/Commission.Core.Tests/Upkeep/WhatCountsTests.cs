using Commission.Core.History;
using Commission.Core.Tests.History;
using Commission.Core.Upkeep;

namespace Commission.Core.Tests.Upkeep;

/// <summary>What is a result, and what comes first after a setting was written.</summary>
public sealed class WhatCountsTests
{
    private static readonly Machine Heron = new()
    {
        Name = "Heron", TravelMm = [420, 580, 90], X = new() { Switches = Switches.Home, Motors = 1 }, Y = new() { Switches = Switches.Home, Motors = 2 }, Z = new() { Switches = Switches.Home, Motors = 1 },
    };

    private static EntryBody[] Everything => [.. WorkGraph.All.SelectMany(item => item.Scope == WorkScope.Axis ? ((string[])["X", "Y", "Z"]).Select(axis => (EntryBody)Found(item.Id, axis)) : [Found(item.Id, null)])];

    private static EntryBody.FindingMade Found(string kind, string? axis, double? value = 0, double? expanded = 1e-4, string name = "value", string? why = null)
    {
        var made = LedgerTests.Found(kind, axis);
        return made with { Finding = made.Finding with { Parameters = [new FittedParameter { Name = name, Unit = "1", Value = value, ExpandedUncertainty = expanded, WhyNoUncertainty = why }] } };
    }

    private static EntryBody.SettingWritten Written(string name, double? before, double after) =>
        new() { Machine = "Heron", Name = name, Axis = "X", Before = before, After = after, ReadBack = after, Stage = "read-back" };

    private static MachineUpkeep At(params EntryBody[] bodies) =>
        new(UpkeepFold.From(LedgerTests.Chain([new EntryBody.MachineDescribed(Heron, false) { Machine = "Heron" }, .. bodies])), Heron, new DateTimeOffset(2031, 5, 5, 9, 0, 0, TimeSpan.Zero));

    private static ResultState Of(MachineUpkeep upkeep, string item, string? axis) => upkeep.State(new ResultKey("Heron", item, axis));

    // Found in use: after a written ratio the speed ladder was proposed, which the ratio had made stale too.
    [Theory]
    [InlineData("stepsPerMm", 320, 320.4, "axis-scale", "X", "Steps per millimetre changed: verify the scale")]
    [InlineData("greatestRate", 3000, 2000, "speed-ladder", "X", "Fastest feed or acceleration changed: climb the speed ladder again")]
    [InlineData("backlashCompensation", 0, 0.05, "backlash", "X", "Lost-motion compensation changed: verify lost motion with the new value")]
    [InlineData("homeOffset", 0, 0.3, "squareness", null, "Home offset of the second motor changed: verify squareness after homing")]
    public void What_shows_what_a_written_setting_does_comes_first(string setting, double before, double after, string item, string? axis, string because)
    {
        var name = setting == "backlashCompensation" ? Backlash.CompensationSetting : setting;
        var next = NextWork.For(At([.. Everything, Written(name, before, after)]));
        Assert.Equal((item, axis, true), (next[0].Item.Id, next[0].State.Key.Axis, next[0].Verifies));
        Assert.StartsWith(because, next[0].Because, StringComparison.Ordinal);
        Assert.EndsWith("; only a new result shows what the new number does", next[0].Because, StringComparison.Ordinal);
        Assert.All(next.Skip(1), work => Assert.False(work.Verifies));
    }

    [Fact]
    public void A_verification_holds_at_once_and_the_rest_that_the_setting_made_stale_follows()
    {
        var upkeep = At([.. Everything, Written("stepsPerMm", 320, 320.4), Found("axis-scale", "X")]);
        Assert.Equal(Standing.Fresh, Of(upkeep, "axis-scale", "X").Standing);
        Assert.Equal(("speed-ladder", "X", false), NextWork.For(upkeep)[0] is var next ? (next.Item.Id, next.State.Key.Axis!, next.Verifies) : default);
        var crashed = At([.. Everything, Written("stepsPerMm", 320, 320.4), new EntryBody.ChangeTold("crash", null, "") { Machine = "Heron" }]);
        Assert.Equal(Standing.Suspect, NextWork.For(crashed)[0].State.Standing);
    }

    [Fact]
    public void What_was_stale_before_the_setting_still_comes_before_its_verification()
    {
        var next = NextWork.For(At([.. Everything, new EntryBody.ChangeTold("belt-tensioned", "X", "") { Machine = "Heron" }, Written("stepsPerMm", 320, 320.4)]));
        Assert.DoesNotContain(next, work => work.Item.Id == "axis-scale");
    }

    // Found in use: the bench called a finding fresh that had no U.
    [Fact]
    public void What_has_no_U_is_no_result_and_takes_the_place_of_none()
    {
        var alone = Of(At(Found("tram", null, 0.1, null, why: "no instrument named")), "tram", null);
        Assert.Equal((Standing.Never, 2L), (alone.Standing, alone.Result!.Value));
        Assert.Equal("what was measured gives no result: no instrument named", alone.Reasons.Single().Because);
        var none = Of(At(Found("tram", null, null, null, why: "it needs a second height")), "tram", null);
        Assert.Equal("what was measured gives no result: it needs a second height", none.Reasons.Single().Because);
        var after = Of(At(Found("tram", null), Found("tram", null, 0.1, null)), "tram", null);
        Assert.Equal((Standing.Fresh, 2L), (after.Standing, after.Result!.Value));
        var again = Of(At(Found("tram", null, 0.1, null), Found("tram", null)), "tram", null);
        Assert.Equal((Standing.Fresh, 3L), (again.Standing, again.Result!.Value));
    }

    [Theory]
    [InlineData("speed-ladder", "X", "limit")]
    [InlineData("event-rate", null, "upperRate")]
    public void A_bound_is_a_result_without_a_U(string kind, string? axis, string parameter) =>
        Assert.Equal(Standing.Fresh, Of(At(Found(kind, axis, 3000, null, parameter, "it is a bound itself")), WorkGraph.Find(kind)!.Id, axis).Standing);

    // Found in use: after the surfacing of a board its flatness was "done" and fresh, though nobody had looked at it.
    [Fact]
    public void The_end_of_a_run_that_found_no_number_is_no_newer_number()
    {
        EntryBody[] surfaced = [new EntryBody.RunStarted { Machine = "Heron", Procedure = "surfacing", ProcedureHash = "" }, new EntryBody.ChangeTold("board-surfaced", null, "") { Machine = "Heron", Run = 5 }, new EntryBody.RunEnded("completed", null) { Run = 5 }];
        var state = Of(At([Found("squareness", null), Found("tram", null), Found("flatness", null), .. surfaced]), "bed-map", null);
        Assert.Equal((Standing.Stale, 4L), (state.Standing, state.Result!.Value));
    }
}
