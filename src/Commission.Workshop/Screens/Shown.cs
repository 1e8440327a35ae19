using System.Globalization;
using Commission.Core.Characteristics;

namespace Commission.Workshop.Screens;

/// <summary>A unit as it is shown, with the factor from the canonical one.</summary>
/// <param name="Word">The unit on screen.</param>
/// <param name="Factor">Shown value for one canonical unit.</param>
/// <param name="Signed">Whether the quantity has a sign worth showing.</param>
public sealed record ShownUnit(string Word, double Factor, bool Signed)
{
    /// <summary>How a parameter is shown: ratios in ppm, angles in mrad, lengths in mm; a reversal becomes lost motion elsewhere.</summary>
    public static ShownUnit For(string unit) => unit switch
    {
        "1" => new("ppm", 1e6, true),
        "rad" => new("mrad", 1e3, true),
        _ => new(unit, 1, false),
    };
}

/// <summary>Numbers with their uncertainty as people read them: U with two significant digits, the value to the same decimal.</summary>
public static class Shown
{
    /// <summary>Value and U as texts of the same decimal.</summary>
    /// <param name="value">The value, in the shown unit.</param>
    /// <param name="expanded">Expanded uncertainty, in the shown unit, above 0.</param>
    /// <param name="signed">Whether the sign is always shown.</param>
    public static (string Value, string Uncertainty) Pair(double value, double expanded, bool signed)
    {
        var exponent = (int)Math.Floor(Math.Log10(expanded));
        var step = Math.Pow(10, exponent - 1);
        var rounded = Math.Round(expanded / step) * step;
        var decimals = Math.Clamp(1 - exponent, 0, 9);
        // 9.96 rounds to 10: one digit fewer, so that two remain.
        if (Math.Round(expanded / step) >= 100)
        {
            (step, decimals) = (step * 10, Math.Max(0, decimals - 1));
        }

        var shown = Math.Round(value / step) * step;
        return (Number(shown, decimals, signed), Number(rounded, decimals, signed: false));
    }

    /// <summary>A parameter in one line: <c>+160 +/- 300 ppm (k=1.97, 95 %)</c>, or the reason why there is no U.</summary>
    public static string Parameter(FittedParameter parameter, double coverage = 0.95)
    {
        var unit = ShownUnit.For(parameter.Unit);
        if (parameter.Value is not { } value)
        {
            return $"no value: {parameter.WhyNoUncertainty}";
        }

        if (parameter.ExpandedUncertainty is not { } expanded || expanded <= 0)
        {
            return string.Create(CultureInfo.InvariantCulture, $"{value * unit.Factor:G3} {unit.Word}, no U: {parameter.WhyNoUncertainty ?? "not given"}");
        }

        var (shown, u) = Pair(value * unit.Factor, expanded * unit.Factor, unit.Signed);
        return string.Create(CultureInfo.InvariantCulture, $"{shown} +/- {u} {unit.Word} (k={parameter.CoverageFactor:F2}, {coverage * 100:0.#} %)");
    }

    /// <summary>A number with fixed decimals; never minus zero.</summary>
    public static string Number(double value, int decimals, bool signed)
    {
        var text = value.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        var isZero = text.All(c => c is '-' or '0' or '.');
        text = isZero ? text.TrimStart('-') : text;
        return signed && !text.StartsWith('-') ? "+" + text : text;
    }
}
