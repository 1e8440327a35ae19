using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.History;
using Commission.Core.Machines.Dialects;
using Commission.Core.Quantities;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Settings of a controller in words, and what was known of them before the link was opened.</summary>
public static class SettingWords
{
    /// <summary>A value as short as its meaning allows: three decimals for ratios, else what is not zero.</summary>
    public static string Value(string name, string text, double? value) => value is { } number
        ? number.ToString(name == "stepsPerMm" ? "F3" : "0.###", CultureInfo.InvariantCulture) : text;

    /// <summary>What is known of the settings: as first saved, then as written by this program or told. What was merely found differing later is not known until it was decided.</summary>
    /// <param name="ledger">What the journal amounts to.</param>
    /// <param name="machine">Name of the machine.</param>
    /// <param name="dialect">Name of the dialect it was saved in.</param>
    /// <param name="settings">What that dialect says of its settings: values told without a key are found by name and axis. Null where it is not at hand.</param>
    public static ImmutableArray<SavedSetting> Known(Ledger ledger, string? machine, string dialect, DialectSettings? settings = null)
    {
        var known = new Dictionary<string, SavedSetting>(StringComparer.Ordinal);
        var saves = ledger.SettingsSaved.Where(saved => saved.Body.Machine == machine && saved.Body.Dialect == dialect).Select(saved => (saved.Sequence, Do: (Action)(() =>
        {
            foreach (var setting in saved.Body.Settings)
                known.TryAdd(setting.Key, setting);
        })));
        var writes = ledger.SettingsWritten.Where(write => !write.Body.IsIntended() && write.Body.Machine == machine).Select(write => (write.Sequence, Do: (Action)(() =>
        {
            foreach (var key in Keys(write.Body, settings))
            {
                var value = write.Body.ReadBack ?? write.Body.After;
                if (known.TryGetValue(key, out var before))
                    known[key] = before with { Value = value, Text = value.ToString("F" + WireNumber.Decimals(before.Text), CultureInfo.InvariantCulture) };
            }
        })));
        foreach (var (_, step) in saves.Concat(writes).OrderBy(pair => pair.Sequence))
            step();
        return [.. known.Values];
    }

    /// <summary>Unit of what was written or told, after a blank; empty where nothing says it.</summary>
    public static string UnitOf(Ledger ledger, EntryBody.SettingWritten written) => SettingUnit.Of(ledger, written) is { Length: > 0 } unit ? " " + unit : "";

    /// <summary>Whether an entry is of a setting: by its key, or by name and axis where it was told without one.</summary>
    public static bool IsOf(EntryBody.SettingWritten written, string key, DialectSettings? settings) => Keys(written, settings).Contains(key);

    // A pair of motors has two keys of one name and axis.
    private static ImmutableArray<string> Keys(EntryBody.SettingWritten written, DialectSettings? settings) => written.Key is { } key ? [key]
        : settings is null ? [] : [.. settings.Known.Where(one => one.Name == written.Name && one.Axis?.ToString() == written.Axis).Select(one => one.Key)];
}
