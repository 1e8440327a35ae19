using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.History;

namespace Commission.Core.Upkeep;

/// <summary>What a change does to a result.</summary>
public enum ChangeEffect
{
    /// <summary>The result no longer holds.</summary>
    Stale,

    /// <summary>The result may no longer hold; nothing is trusted until it is looked at.</summary>
    Suspect,
}

/// <summary>One row: what a change does to which results.</summary>
/// <param name="Change">The word of the change.</param>
/// <param name="Effect">What it does.</param>
/// <param name="Items">Ids of the items it does it to; of the same axis, where both have one.</param>
/// <param name="Todo">What is to be done about them, in words.</param>
public sealed record StaleRow(string Change, ChangeEffect Effect, ImmutableArray<string> Items, string Todo)
{
    /// <summary>Id of the item that shows what a setting which was written does: it is measured again before anything else the change makes stale. Null where the change is no such setting.</summary>
    public string? VerifiedBy { get; init; }
}

/// <summary>What each kind of change makes stale, one row for each word of change: common practice, no source. Rows that are our choice say so.</summary>
public static class StaleTable
{
    private static readonly ImmutableArray<string> Everything = [.. WorkGraph.All.Where(item => item.Scope != WorkScope.Hand).Select(item => item.Id)];

    /// <summary>All rows.</summary>
    public static ImmutableArray<StaleRow> Rows { get; } =
    [
        Stale("steps-changed", "verify the scale; speeds and offsets kept in steps follow", "axis-scale", "speed-ladder", "home-offset") with { VerifiedBy = "axis-scale" },
        Stale("microsteps-changed", "begin again with the nominal steps", "nominal-steps", "ratio-check", "axis-scale", "speed-ladder", "home-offset"),
        Stale("speeds-changed", "climb the speed ladder again", "speed-ladder", "speed-under-load") with { VerifiedBy = "speed-ladder" }, // our choice
        Stale("compensation-changed", "verify lost motion with the new value", "backlash", "test-cut") with { VerifiedBy = "backlash" }, // our choice
        Stale("home-offset-changed", "verify squareness after homing", "home-offset", "squareness") with { VerifiedBy = "squareness" }, // our choice
        Stale("gantry-loosened", "measure squareness, verify the rest", "rails", "squareness", "backlash", "tram", "bed-map", "speed-ladder", "axis-scale"),
        Stale("bolt-tightened", "look whether squareness or tram took a step", "squareness", "tram"), // our choice: a candidate for a step
        Stale("belt-tensioned", "measure scale and lost motion, then squareness", "axis-scale", "backlash", "squareness"),
        Stale("drive-part-replaced", "measure lost motion, then scale", "backlash", "axis-scale", "speed-ladder"),
        Stale("screw-replaced", "begin again with the nominal steps", "nominal-steps", "ratio-check", "speed-ladder", "backlash", "periodic-error", "axis-scale"), // our choice
        Stale("spindle-remounted", "tram the spindle and look at its runout", "tram", "runout", "test-cut"),
        Stale("z-plate-moved", "measure Z to the bed again, and tram the spindle: the plate carries it", "z-square", "tram"), // our choice
        Stale("cutter-changed", "look at runout where it matters", "runout", "test-cut"),
        Stale("board-replaced", "map the bed and set Z anew", "bed-map"),
        Stale("board-surfaced", "map the bed and set Z anew", "bed-map"),
        Stale("motor-supply-changed", "climb the speed ladder again, verify lost motion", "speed-ladder", "speed-under-load", "backlash"),
        Stale("controller-replaced", "begin again with the electrical checks", "electrical", "nominal-steps", "ratio-check", "switch-logic", "homing", "speed-ladder", "home-offset", "axis-scale", "noise"), // our choice
        Stale("wiring-changed", "make the electrical checks again", "electrical", "switch-logic", "noise"), // our choice
        Stale("switch-moved", "check the switch, home, and set the offset again", "switch-logic", "homing", "home-offset"),
        Stale("machine-moved", "measure squareness, tram and bed again", "squareness", "tram", "bed-map"),
        new("crash", ChangeEffect.Suspect, Everything, "make the quick set: return to a mark, lost motion at one place, two diagonals, tram at four points"),
        Stale("instrument-dropped", "make its study again", "gauge-study"),
        Stale("instrument-replaced", "make its study", "gauge-study"),
        Stale("temperature-changed", "verify the scale", "axis-scale"),
    ];

    /// <summary>Id of the item that holds the machine's checks: they count by epoch, and each change that begins one asks for them anew.</summary>
    public const string Checks = "electrical";

    /// <summary>The row of a word; null where the table has none.</summary>
    public static StaleRow? Find(string change) => Rows.FirstOrDefault(row => row.Change == change);

    /// <summary>What a change that was entered asks for, in a sentence.</summary>
    /// <param name="change">Word of the change.</param>
    public static string Sentence(string change) => $"In the log: {ChangeWord.TitleOf(change)}."
        + (Find(change) is { Items: { IsEmpty: false } items } ? $" To be measured again: {string.Join(", ", items.Select(WorkGraph.TitleOf))}." : "")
        + (AsksForChecks(change) ? " The checks before motion are to be made again first." : "");

    /// <summary>Whether a change begins a new epoch of the machine, so that its checks are made again before anything moves over the link.</summary>
    /// <param name="change">Word of the change.</param>
    public static bool AsksForChecks(string change) => ChangeWord.Find(change)?.Reach == ChangeReach.Machine;

    /// <summary>The word of change that a written setting amounts to; null where it changes no result.</summary>
    /// <param name="setting">Name of the setting.</param>
    public static string? ChangeOf(string setting) => setting switch
    {
        "stepsPerMm" or "stepsPerInch" or "mmPerStep" => "steps-changed",
        "microsteps" => "microsteps-changed",
        "greatestRate" or "acceleration" => "speeds-changed",
        Backlash.CompensationSetting => "compensation-changed",
        "homeOffset" => "home-offset-changed",
        _ => null,
    };

    private static StaleRow Stale(string change, string todo, params ImmutableArray<string> items) => new(change, ChangeEffect.Stale, items, todo);
}
