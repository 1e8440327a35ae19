using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The fastest feed that a controller is set to, against what the ladder of its axis found to hold.</summary>
internal static class FastestFeed
{
    private const string Setting = "greatestRate", PerSecond = "mm/s";

    /// <summary>What may be set at most, in the unit of the setting, where it is set to more; null where it holds, or no ladder of the axis counts.</summary>
    /// <param name="ledger">What the journal amounts to.</param>
    /// <param name="machine">Name of the machine.</param>
    /// <param name="setting">What the dialect says of the setting.</param>
    /// <param name="value">What it is set to.</param>
    public static double? Exceeded(Ledger ledger, string? machine, DialectSetting? setting, double? value) =>
        machine is not null && setting is { Name: Setting, Axis: { } axis } && FoundSpeeds.Of(ledger, machine).TryGetValue(axis, out var most) && value is { } set && set * PerMinute(setting.Unit) > most ? most / PerMinute(setting.Unit) : null;

    /// <summary>What the controller was set to when its settings were last read, where that is more than a finding allows: a clause. Null elsewhere.</summary>
    /// <param name="ledger">What the journal amounts to.</param>
    /// <param name="made">The finding.</param>
    public static string? Set(Ledger ledger, EntryBody.FindingMade made)
    {
        if (Most(made) is not { } most || ledger.SettingsSaved.LastOrDefault(saved => saved.Body.Machine == made.Machine) is not { } read)
            return null;
        var keys = ShippedDialects.Find(read.Body.Dialect)?.Settings.Known.Where(known => known.Name == Setting && known.Axis?.ToString() == made.Axis).Select(known => known.Key).ToHashSet() ?? [];
        var set = read.Body.Settings.FirstOrDefault(one => keys.Contains(one.Key));
        var changed = ledger.SettingsWritten.LastOrDefault(write => write.Sequence > read.Sequence && !write.Body.IsIntended() && write.Body.Machine == made.Machine && write.Body.Name == Setting && write.Body.Axis == made.Axis);
        return (changed?.Body.ReadBack ?? changed?.Body.After ?? set?.Value) is { } value && value * PerMinute(set?.Unit) > most
            ? string.Create(CultureInfo.InvariantCulture, $"{value:0.###} {set?.Unit ?? "mm/min"}, as known since {(changed?.At ?? read.At):d MMM}: more than that") : null;
    }

    /// <summary>Whether a finding tells a speed to set.</summary>
    public static bool IsTold(EntryBody.FindingMade made) => made.Finding.Advice.Action == AdviceAction.Change && Most(made) is not null;

    private static double? Most(EntryBody.FindingMade made) =>
        made.Axis is not null && made.Finding.Parameter("limit") is { Unit: "mm/min", Value: { } limit } ? SpeedLadder.Allowed(limit) : null;

    private static double PerMinute(string? unit) => unit == PerSecond ? 60 : 1;
}
