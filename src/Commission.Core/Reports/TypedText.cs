using System.Globalization;
using Commission.Core.History;
using Commission.Core.Quantities;

namespace Commission.Core.Reports;

/// <summary>What was typed for a reading, with the unit in which it was meant.</summary>
internal static class TypedText
{
    // Two numbers that differ by less are one, written in another unit.
    private const double Same = 1e-9;

    /// <summary>As it was typed; a bare number with the unit that makes it the value that was understood.</summary>
    public static string Of(EntryBody.ReadingTaken taken)
    {
        var typed = taken.Typed.Trim();
        if (!double.TryParse(typed.Replace(',', '.').Replace('\u2212', '-'), NumberStyles.Float, CultureInfo.InvariantCulture, out var number))
            return taken.Typed;
        foreach (var units in (ReadOnlySpan<ShownUnits>)[ShownUnits.Millimetres, ShownUnits.Inches])
        {
            var (value, unit) = units.Show(taken.Value, taken.Unit);
            if (unit.Length > 0 && unit != "1" && Math.Abs(value - number) <= Same * Math.Max(1, Math.Abs(number)))
                return $"{typed} {unit}";
        }

        return taken.Typed;
    }
}
