using System.Collections.Immutable;

namespace Commission.Core.Machines.Dialects;

/// <summary>The form of a list of settings.</summary>
public enum SettingsForm
{
    /// <summary>One setting a line: key, equals sign, value.</summary>
    Numbered,

    /// <summary>Several settings a line: a word, then axis letters with values.</summary>
    Words,
}

/// <summary>What a setting decides: these kinds are listed apart and need a yes of their own.</summary>
public enum SettingWeight
{
    /// <summary>Nothing that can surprise.</summary>
    Plain,

    /// <summary>The sense in which an axis moves.</summary>
    Direction,

    /// <summary>Whether drives are powered.</summary>
    Enabling,

    /// <summary>Whether and how switches act.</summary>
    Switches,

    /// <summary>Whether and how homing is done.</summary>
    Homing,
}

/// <summary>How settings are listed, written and kept.</summary>
public sealed record DialectSettings
{
    /// <summary>The form of the list.</summary>
    public required SettingsForm Form { get; init; }

    /// <summary>Line that asks for the list; ended by the answer to the line.</summary>
    public required string List { get; init; }

    /// <summary>Line that writes; <c>{key}</c> and <c>{value}</c> are filled in.</summary>
    public required string Write { get; init; }

    /// <summary>Line that keeps what was written through a power cut; null where writing does so.</summary>
    public string? Store { get; init; }

    /// <summary>The settings known by name.</summary>
    public required ImmutableArray<DialectSetting> Known { get; init; }

    /// <summary>A setting by its key; null where the dialect does not know it.</summary>
    public DialectSetting? Find(string key) => Known.FirstOrDefault(one => one.Key == key);

    /// <summary>A setting by name and axis; null where the dialect does not know it.</summary>
    public DialectSetting? Find(string name, AxisName axis) => Known.FirstOrDefault(one => one.Name == name && one.Axis == axis);
}

/// <summary>A setting known by name.</summary>
public sealed record DialectSetting
{
    /// <summary>The setting in the trade's words, with its axis: <c>steps per mm, Y</c>.</summary>
    public string InWords => SettingName.InWords(Name, Axis?.ToString());

    /// <summary>The setting with a value for it, and its unit where the words are not it: <c>travel, Y, to 580.000 mm</c>.</summary>
    /// <param name="text">The value, as the controller has it.</param>
    public string To(string text) =>
        $"{InWords}, to {text}{(Unit is { Length: > 0 } unit && !InWords.StartsWith(unit.Replace("/", " per ", StringComparison.Ordinal), StringComparison.Ordinal) ? " " + unit : "")}";

    /// <summary>Key on the wire.</summary>
    public required string Key { get; init; }

    /// <summary>Name, for example <c>stepsPerMm</c>.</summary>
    public required string Name { get; init; }

    /// <summary>The axis, where it is for one.</summary>
    public AxisName? Axis { get; init; }

    /// <summary>Unit, as <c>steps/mm</c>; null where it has none.</summary>
    public string? Unit { get; init; }

    /// <summary>What it decides.</summary>
    public SettingWeight Weight { get; init; }

    /// <summary>Value of the simulated controller when new, as its text.</summary>
    public string? Sample { get; init; }
}
