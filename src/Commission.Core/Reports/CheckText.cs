using System.Globalization;
using Commission.Core.History;
using Commission.Core.Quantities;

namespace Commission.Core.Reports;

/// <summary>What a check found, and its limit, in the units of whoever reads.</summary>
public static class CheckText
{
    // A count has no unit to show; a ratio is asked for in percent or mm/m.
    private const string Count = "1";

    /// <summary>The number with its unit; what was typed only where it is no number with a unit, for it may have been typed in another one.</summary>
    public static string Found(EntryBody.Checked check, ShownUnits units)
    {
        if (check is not { Value: { } value, Unit: { Length: > 0 } kept })
            return check.Typed;
        var (shown, unit) = kept == Count ? (value, "") : units.Show(value, kept);
        var text = shown.ToString("0.######", CultureInfo.InvariantCulture);
        // Nothing has no sign.
        return $"{(text == "-0" ? "0" : text)} {unit}".TrimEnd();
    }

    /// <summary>The limit as it was kept, with its lengths as they are shown.</summary>
    public static string Limit(EntryBody.Checked check, ShownUnits units) =>
        units.Told(check.Unit == Count && check.Limit.EndsWith(" " + Count, StringComparison.Ordinal) ? check.Limit[..^(Count.Length + 1)] : check.Limit);

    /// <summary>The unit in which the check's number is shown; empty where it has none.</summary>
    public static string Symbol(string? kept, ShownUnits units) => kept is { Length: > 0 } and not Count ? units.Of(kept).Symbol : "";
}
