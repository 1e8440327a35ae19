using System.Collections.Immutable;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Motion;

namespace Commission.Workshop.Controllers;

/// <summary>Gathers what the gate must know of a machine: its description, and what its journal says of the present epoch.</summary>
public static class GateFacts
{
    // Where the ratio is not known a step is taken as a hundredth of a millimetre: coarse, but no finer than any display.
    private const double UnknownStepMm = 0.01;

    /// <summary>The facts.</summary>
    /// <param name="machine">The machine as described.</param>
    /// <param name="ledger">Its journal.</param>
    public static MotionFacts Of(Machine machine, Ledger ledger)
    {
        var began = ledger.EpochBegan(machine.Name);
        var passed = ledger.ChecksNow(machine.Name).Where(check => check.Value.Body.Passed).Select(check => check.Key).ToImmutableHashSet();
        var axes = Enum.GetValues<AxisName>();
        return new()
        {
            TravelMm = new(machine.Travel(AxisName.X), machine.Travel(AxisName.Y), machine.Travel(AxisName.Z)),
            StepMm = new(Step(machine.X), Step(machine.Y), Step(machine.Z)),
            Passed = passed,
            Skipped = [.. ledger.OpenSkips.Where(skip => skip.Made.Body is { Check: not null, Reason.Length: > 0 } body && body.Machine == machine.Name
                && skip.Made.Sequence > began).Select(skip => skip.Made.Body.Check!)],
            Switched = [.. axes.Where(axis => machine[axis].Switches is Switches.Home or Switches.BothEnds)],
            BothEnds = [.. axes.Where(axis => machine[axis].Switches == Switches.BothEnds)],
            HomeNamed = [.. axes.Where(axis => machine[axis].HomeAt is HomeEnd.Low or HomeEnd.High)],
            HomeHigh = [.. axes.Where(axis => machine[axis].HomeAt == HomeEnd.High)],
            DirectionChecked = [.. axes.Where(axis => DirectionPassed(ledger, machine.Name, axis, began))],
            Moved = [.. ledger.Moves.Where(move => move.Body.Machine == machine.Name && move.Sequence > began).SelectMany(move => MotionRules.AxesOf(move.Body.Move))],
            HomingTestPassed = passed.Contains("P27"),
        };
    }

    /// <summary>What the newest saved settings add: differing pairs, and the distance of the switch.</summary>
    public static MotionFacts With(this MotionFacts facts, Core.Machines.Dialects.Dialect dialect, ImmutableArray<SavedSetting> settings)
    {
        double? Value(string key) => settings.FirstOrDefault(one => one.Key == key)?.Value;
        var pairs = dialect.Settings.Known.Where(one => one.Axis is not null).GroupBy(one => (one.Name, one.Axis)).Where(group => group.Count() > 1);
        var pullOff = dialect.Settings.Known.FirstOrDefault(one => one.Name == "pullOff") is { } known ? Value(known.Key) : null;
        return facts with
        {
            PairDiffers = pairs.Any(pair => pair.Select(one => Value(one.Key)).Distinct().Count() > 1),
            PullOffMm = pullOff is { } distance ? new(distance, distance, distance) : facts.PullOffMm,
        };
    }

    private static double Step(AxisDescription axis) => axis.StepsPerMm is > 0 and { } steps ? 1 / steps : UnknownStepMm;

    // The check of the direction is one step an axis, named after it: the latest counts.
    private static bool DirectionPassed(Ledger ledger, string machine, AxisName axis, long began) =>
        ledger.Checks.LastOrDefault(check => check.Body.Machine == machine && check.Body.Check == "P25" && check.Sequence > began
            && check.Body.Step.EndsWith("-" + char.ToLowerInvariant(axis.ToString()[0]), StringComparison.Ordinal))?.Body.Passed == true;
}
