using System.Collections.Immutable;
using System.Globalization;

namespace Commission.Core.Machines;

/// <summary>One fact of a machine that conditions may name and steps may set.</summary>
public sealed record MachineFact
{
    /// <summary>Name, as in a machine's file.</summary>
    public required string Name { get; init; }

    /// <summary>Whether every axis has its own.</summary>
    public required bool OfAxis { get; init; }

    /// <summary>The words it may have; empty where it is a number.</summary>
    public required ImmutableArray<string> Words { get; init; }

    /// <summary>Unit of a number; null for words.</summary>
    public string? Unit { get; init; }

    /// <summary>The value in words; <c>unknown</c> where it is not known.</summary>
    public required Func<Machine, AxisName, string> Get { get; init; }

    /// <summary>The machine with another value; the same machine where the text is no value of the fact.</summary>
    public required Func<Machine, AxisName, string, Machine> Set { get; init; }
}

/// <summary>The facts of a machine by name.</summary>
public static class MachineFacts
{
    /// <summary>All facts.</summary>
    public static IReadOnlyDictionary<string, MachineFact> All { get; } = Table().ToDictionary(fact => fact.Name, StringComparer.Ordinal);

    /// <summary>A machine with the facts that were told on another copy of it; what was told on neither stays as it is.</summary>
    /// <param name="onto">The machine as it is known now.</param>
    /// <param name="before">The copy before.</param>
    /// <param name="after">The copy after.</param>
    public static Machine Carried(Machine onto, Machine before, Machine after) =>
        (from fact in All.Values
         from axis in fact.OfAxis ? Enum.GetValues<AxisName>() : [AxisName.X]
         let told = fact.Get(after, axis)
         where told != fact.Get(before, axis)
         select (fact, axis, told)).Aggregate(onto, (machine, one) => one.fact.Set(machine, one.axis, one.told));

    private static IEnumerable<MachineFact> Table() =>
    [
        OfMachine("units", MachineWords.Units, machine => machine.Units, (machine, value) => machine with { Units = value }),
        OfMachine("class", MachineWords.Classes, machine => machine.Class, (machine, value) => machine with { Class = value }),
        OfMachine("spindle", MachineWords.Spindles, machine => machine.Spindle, (machine, value) => machine with { Spindle = value }),
        new MachineFact
        {
            Name = "gantryAxis", OfAxis = false, Words = ["X", "Y", "unknown"],
            Get = (machine, _) => machine.GantryAxis is { } axis ? MachineWords.Of(MachineWords.Axes, axis) : "unknown",
            Set = (machine, _, word) => machine with { GantryAxis = MachineWords.Axis(word) },
        },
        new MachineFact
        {
            Name = "driveWidthMm", OfAxis = false, Words = [], Unit = "mm",
            Get = (machine, _) => Shown(machine.DriveWidthMm),
            Set = (machine, _, text) => machine with { DriveWidthMm = Parsed(text) },
        },
        OfAxis("drive", MachineWords.Drives, axis => axis.Drive, (axis, value) => axis with { Drive = value }),
        OfAxis("pairSetting", MachineWords.PairSettings, axis => axis.PairSetting, (axis, value) => axis with { PairSetting = value }),
        OfAxis("switches", MachineWords.SwitchSets, axis => axis.Switches, (axis, value) => axis with { Switches = value }),
        OfAxis("homeAt", MachineWords.Ends, axis => axis.HomeAt, (axis, value) => axis with { HomeAt = value }),
        OfAxis("holdsUnpowered", MachineWords.Answers, axis => axis.HoldsUnpowered, (axis, value) => axis with { HoldsUnpowered = value }),
        OfAxis("compensation", MachineWords.Compensations, axis => axis.Compensation, (axis, value) => axis with { Compensation = value }),
        OfAxis("setting", MachineWords.RatioSettings, axis => axis.Setting, (axis, value) => axis with { Setting = value }),
        Number("travelPerTurnMm", "mm", axis => axis.TravelPerTurnMm, (axis, value) => axis with { TravelPerTurnMm = value }),
        Number("grade", "", axis => axis.Grade, (axis, value) => axis with { Grade = (int?)value }),
        Number("gearing", "", axis => axis.Gearing, (axis, value) => axis with { Gearing = value }),
        Number("stepAngleDeg", "deg", axis => axis.StepAngleDeg, (axis, value) => axis with { StepAngleDeg = value }),
        Number("microsteps", "", axis => axis.Microsteps, (axis, value) => axis with { Microsteps = (int?)value }),
        Number("stepsPerMm", "steps/mm", axis => axis.StepsPerMm, (axis, value) => axis with { StepsPerMm = value }),
        Number("motors", "", axis => axis.Motors, (axis, value) => axis with { Motors = (int?)value }),
        Number("settingDecimals", "", axis => axis.SettingDecimals, (axis, value) => axis with { SettingDecimals = (int?)value }),
    ];

    private static MachineFact OfMachine<T>(string name, IReadOnlyDictionary<string, T> words, Func<Machine, T> get, Func<Machine, T, Machine> set)
        where T : struct => new()
        {
            Name = name, OfAxis = false, Words = [.. words.Keys],
            Get = (machine, _) => MachineWords.Of(words, get(machine)),
            Set = (machine, _, word) => words.TryGetValue(word, out var value) ? set(machine, value) : machine,
        };

    private static MachineFact OfAxis<T>(string name, IReadOnlyDictionary<string, T> words, Func<AxisDescription, T> get, Func<AxisDescription, T, AxisDescription> set)
        where T : struct => new()
        {
            Name = name, OfAxis = true, Words = [.. words.Keys],
            Get = (machine, axis) => MachineWords.Of(words, get(machine[axis])),
            Set = (machine, axis, word) => words.TryGetValue(word, out var value) ? machine.With(axis, set(machine[axis], value)) : machine,
        };

    private static MachineFact Number(string name, string unit, Func<AxisDescription, double?> get, Func<AxisDescription, double?, AxisDescription> set) => new()
    {
        Name = name, OfAxis = true, Words = [], Unit = unit,
        Get = (machine, axis) => Shown(get(machine[axis])),
        Set = (machine, axis, text) => machine.With(axis, set(machine[axis], Parsed(text))),
    };

    private static string Shown(double? value) => value is { } number ? number.ToString("R", CultureInfo.InvariantCulture) : "unknown";

    private static double? Parsed(string text) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && double.IsFinite(value) && value > 0 ? value : null;
}
