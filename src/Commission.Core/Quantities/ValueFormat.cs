using System.Globalization;

namespace Commission.Core.Quantities;

/// <summary>How a value and its uncertainty are written: U with two significant digits, the value to the same decimal.</summary>
public static class ValueFormat
{
    /// <summary>The unit a quantity is shown in: ratios as ppm, angles as mrad, the rest as it is kept.</summary>
    public static Unit ShownIn(string canonicalUnit) => ShownUnits.Millimetres.Of(canonicalUnit);

    // What lies below is left over by binary fractions: no quantity is told so finely.
    private const double Nothing = 5e-10;

    /// <summary>For example <c>+1230 +/- 290 ppm (k=1.97, 95 %)</c>; without U the reason stands in its place.</summary>
    /// <param name="value">The value in its canonical unit.</param>
    /// <param name="expanded">U in the same unit; null where there is none.</param>
    /// <param name="unit">The unit to show it in.</param>
    /// <param name="factor">Coverage factor; null where there is none.</param>
    /// <param name="coverage">Coverage probability.</param>
    /// <param name="why">Why there is no U.</param>
    /// <param name="signed">Whether a plus is written.</param>
    public static string Line(
        double value, double? expanded, Unit unit, double? factor = null, double coverage = 0.95, string? why = null, bool signed = true)
    {
        var (shown, u) = Pair(value / unit.Factor, expanded / unit.Factor, signed);
        if (u is null)
            return $"{shown} {unit.Symbol} (no U: {why ?? "not given"})";
        var k = factor is { } f ? string.Create(CultureInfo.InvariantCulture, $"k={f:0.00}, ") : "";
        return string.Create(CultureInfo.InvariantCulture, $"{shown} +/- {u} {unit.Symbol} ({k}{coverage * 100:0.##} %)");
    }

    /// <summary>Value and U as two texts with the same last decimal; numbers already in the unit shown.</summary>
    /// <returns>The value, and U or null; without U the value has four significant digits.</returns>
    public static (string Value, string? Uncertainty) Pair(double value, double? expanded, bool signed = true)
    {
        if (expanded is not { } u || !(u > 0) || !double.IsFinite(u))
            return (Math.Abs(value) < Nothing ? signed ? "+0.000" : "0.000" : Rounded(value, 3 - Magnitude(value), signed), null);
        var decimals = 1 - Magnitude(u);
        if (Magnitude(RoundTo(u, decimals)) > Magnitude(u))
            decimals--;
        // A U of hundreds must not make nothing of a value that is there.
        var own = decimals < 0 && RoundTo(value, decimals) == 0 ? Math.Min(0, 1 - Magnitude(value)) : decimals;
        return (Rounded(value, own, signed), Rounded(u, decimals, false));
    }

    /// <summary>Ends of an interval with two significant digits each; numbers already in the unit shown.</summary>
    public static string Between(double low, double high) => $"between {Rounded(low, 1 - Magnitude(low), false)} and {Rounded(high, 1 - Magnitude(high), false)}";

    /// <summary>A limit beside a value: no more decimals than the value has, but never less than two significant digits, since a limit of 0.08 is not 0.1.</summary>
    /// <param name="limit">The limit, in the unit shown.</param>
    /// <param name="beside">The value as it is shown; what is no number has no decimals.</param>
    public static string Limit(double limit, string beside)
    {
        var point = beside.IndexOf('.', StringComparison.Ordinal);
        var needed = limit > 0 ? 1 - Magnitude(limit) : 0;
        return limit.ToString("0." + new string('#', Math.Clamp(Math.Max(point < 0 ? 0 : beside.Length - point - 1, needed), 0, 10)), CultureInfo.InvariantCulture);
    }

    private static int Magnitude(double value) => value == 0 ? 0 : (int)Math.Floor(Math.Log10(Math.Abs(value)));

    private static double RoundTo(double value, int decimals)
    {
        if (decimals is >= 0 and <= 15)
            return Math.Round(value, decimals, MidpointRounding.AwayFromZero);
        var scale = Math.Pow(10, Math.Abs(decimals));
        return decimals < 0 ? Math.Round(value / scale, MidpointRounding.AwayFromZero) * scale : value;
    }

    private static string Rounded(double value, int decimals, bool signed)
    {
        var rounded = RoundTo(value, decimals);
        var text = Math.Abs(rounded).ToString("F" + Math.Clamp(decimals, 0, 15).ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        return rounded < 0 ? "-" + text : signed ? "+" + text : text;
    }
}
