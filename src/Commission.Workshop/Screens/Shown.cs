using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Quantities;

namespace Commission.Workshop.Screens;

/// <summary>Parameters with their uncertainty as sheets show them.</summary>
public static class Shown
{
    /// <summary>A parameter in one line: <c>+160 +/- 300 ppm (k=1.97, 95 %)</c>, or the reason why there is no U.</summary>
    /// <param name="parameter">The parameter.</param>
    /// <param name="coverage">Coverage probability of its U.</param>
    /// <param name="units">Units to show it in; millimetres where not told.</param>
    public static string Parameter(FittedParameter parameter, double coverage = 0.95, ShownUnits? units = null) => parameter.Value is not { } value
        ? $"no value: {parameter.WhyNoUncertainty ?? "not given"}"
        : ValueFormat.Line(
            value,
            parameter.ExpandedUncertainty,
            (units ?? ShownUnits.Millimetres).Of(parameter.Unit),
            parameter.CoverageFactor,
            coverage,
            parameter.WhyNoUncertainty,
            Signs.IsSigned(parameter.Name));

    /// <summary>Value and U as texts of the same decimal, in the shown unit; null where there is no value.</summary>
    public static (string Value, string? Uncertainty, string Unit)? Pair(FittedParameter parameter, ShownUnits? units = null)
    {
        if (parameter.Value is not { } value)
            return null;
        var unit = (units ?? ShownUnits.Millimetres).Of(parameter.Unit);
        var (shown, u) = ValueFormat.Pair(value / unit.Factor, parameter.ExpandedUncertainty / unit.Factor, Signs.IsSigned(parameter.Name));
        return (shown, u, unit.Symbol);
    }

    /// <summary>A reading with its unit: as it was typed where it was typed in the unit shown, else what was understood of it.</summary>
    /// <param name="reading">The reading.</param>
    /// <param name="units">Units to show it in; millimetres where not told.</param>
    /// <param name="lastDigitMm">Last digit of its instrument, mm; null where it is not known.</param>
    public static string Reading(EntryBody.ReadingTaken reading, ShownUnits? units = null, double? lastDigitMm = null) =>
        ReadingText.Of(reading.Typed, reading.Value, reading.Unit, units ?? ShownUnits.Millimetres, lastDigitMm);
}
