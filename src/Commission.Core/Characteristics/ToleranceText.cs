using Commission.Core.Quantities;

namespace Commission.Core.Characteristics;

/// <summary>A limit as people write it: a positive number with its unit, as <c>300ppm 0.5mm/m 0.1mm 0.004in</c>.</summary>
public static class ToleranceText
{
    /// <summary>Understands a limit; one without a unit is refused, because 300 of nothing is not a limit.</summary>
    /// <returns>The limit in the canonical unit of what was typed, or why not.</returns>
    public static Outcome<Tolerance> Parse(string text)
    {
        var typed = Words.Clean(text).Trim();
        var suffix = TypedNumber.Parted(typed).Suffix;
        if (suffix.Length == 0)
            return new Problem($"the tolerance \"{typed}\" has no unit", "Write it with its unit, for example 300ppm, 0.5mm/m, 0.1mm or 0.004in");
        if (Unit.Find(suffix) is not { } unit)
            return new Problem($"the unit \"{suffix}\" of the tolerance is not known", "Use ppm, mm/m, mm, um, in, mrad, deg or 1/h");
        return TypedNumber.Read(typed, unit.Symbol) switch
        {
            NumberReading.Clear { Number.Value: > 0 } clear => new Tolerance(clear.Number.Value * unit.Factor, unit.Canonical, typed) { From = LimitFrom.Request },
            NumberReading.Clear => new Problem($"the tolerance \"{typed}\" is not positive", "Write a number above zero"),
            NumberReading.Ambiguous => new Problem($"the tolerance \"{typed}\" has two meanings", "Write it with a decimal point or without the comma"),
            NumberReading.NotANumber bad => bad.Problem,
            _ => throw new System.Diagnostics.UnreachableException(),
        };
    }

    /// <summary>The limit in the unit of a headline parameter. A length limits a ratio or an angle over the length that a job uses.</summary>
    /// <param name="tolerance">The limit.</param>
    /// <param name="unit">Canonical unit of the headline.</param>
    /// <param name="lengthMm">The length a job uses, mm; null where none is known.</param>
    public static Outcome<double> In(this Tolerance tolerance, string unit, double? lengthMm)
    {
        if (tolerance.Unit == unit || (IsSlope(tolerance.Unit) && IsSlope(unit)))
            return tolerance.Value;
        if (tolerance.Unit == "mm" && tolerance.NeedsLength(unit))
        {
            return lengthMm is > 0
                ? tolerance.Value / lengthMm.Value
                : new Problem($"the tolerance {tolerance.Typed} is a length and the result is not", "Name the length it holds over with --travel-mm");
        }
        if (tolerance.NeedsLength(unit) && lengthMm is > 0)
            return tolerance.Value * lengthMm.Value;
        return new Problem(
            $"the tolerance {tolerance.Typed} does not fit a result in {unit}", $"Give it in {ValueFormat.ShownIn(unit).Symbol}");
    }

    /// <summary>Whether a length is needed to set a headline in a unit against it.</summary>
    internal static bool NeedsLength(this Tolerance tolerance, string unit) => (tolerance.Unit == "mm" && IsSlope(unit)) || (tolerance.Unit == "1" && unit == "mm");

    /// <summary>The limit of a finding in the unit of its headline; null where it had none.</summary>
    /// <param name="finding">The finding.</param>
    /// <param name="options">What it was made with: findings that were kept before limits were written down have it there.</param>
    public static double? LimitOf(Finding finding, FitOptions options) =>
        finding.Limit ?? (finding.Parameters.IsDefaultOrEmpty ? null : options.Tolerance?.In(finding.Headline.Unit, options.TravelMm).Match<double?>(limit => limit, _ => null));

    /// <summary>A small angle and a ratio are the same number.</summary>
    private static bool IsSlope(string unit) => unit is "1" or "rad";
}
