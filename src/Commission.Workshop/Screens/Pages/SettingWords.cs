using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.History;
using Commission.Core.Machines.Dialects;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Settings of a controller in words, and what was known of them before the link was opened.</summary>
public static class SettingWords
{
    private static readonly Dictionary<string, string> Names = new(StringComparer.Ordinal)
    {
        ["stepsPerMm"] = "steps per mm", ["greatestRate"] = "fastest feed", ["acceleration"] = "acceleration", ["travel"] = "travel", ["directionMask"] = "directions", ["pullOff"] = "pull-off", ["hardLimits"] = "hard limits",
        ["softLimits"] = "soft limits", ["homing"] = "homing on", ["homingDirectionMask"] = "homing ends", ["homingFeed"] = "homing slow", ["homingSeek"] = "homing fast", ["idleDelay"] = "idle delay", ["enableInvert"] = "enable signal", ["switchInvert"] = "switch signal",
    };

    /// <summary>A setting with its axis: <c>steps per mm, Y</c>.</summary>
    public static string Of(DialectSetting setting) => Name(setting.Name) + (setting.Axis is { } axis ? ", " + axis : "");

    /// <summary>A setting's name in words.</summary>
    public static string Name(string name) => Names.GetValueOrDefault(name, name);

    /// <summary>A value as short as its meaning allows: three decimals for ratios, else what is not zero.</summary>
    public static string Value(string name, string text, double? value) => value is { } number
        ? number.ToString(name == "stepsPerMm" ? "F3" : "0.###", CultureInfo.InvariantCulture) : text;

    /// <summary>What is known of the settings: as first saved, then as written by this program or told. What was merely found differing later is not known until it was decided.</summary>
    public static ImmutableArray<SavedSetting> Known(Ledger ledger, string? machine, string dialect)
    {
        var known = new Dictionary<string, SavedSetting>(StringComparer.Ordinal);
        var saves = ledger.SettingsSaved.Where(saved => saved.Body.Machine == machine && saved.Body.Dialect == dialect).Select(saved => (saved.Sequence, Do: (Action)(() =>
        {
            foreach (var setting in saved.Body.Settings)
                known.TryAdd(setting.Key, setting);
        })));
        var writes = ledger.SettingsWritten.Where(write => write.Body is { Key: not null, Stage: not "intended" } && write.Body.Machine == machine).Select(write => (write.Sequence, Do: (Action)(() =>
        {
            var value = write.Body.ReadBack ?? write.Body.After;
            if (known.TryGetValue(write.Body.Key!, out var before))
                known[before.Key] = before with { Value = value, Text = value.ToString("F" + Decimals(before.Text), CultureInfo.InvariantCulture) };
        })));
        foreach (var (_, step) in saves.Concat(writes).OrderBy(pair => pair.Sequence))
            step();
        return [.. known.Values];
    }

    private static int Decimals(string text) => text.IndexOf('.', StringComparison.Ordinal) is var point and >= 0 ? text.Length - point - 1 : 0;
}
