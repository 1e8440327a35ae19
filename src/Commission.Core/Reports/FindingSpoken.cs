using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Quantities;

namespace Commission.Core.Reports;

/// <summary>A finding told to whoever carried out its run: names and signs as sheets and reports have them, what it means over the length that a job uses, and what comes next.</summary>
public static class FindingSpoken
{
    // Below a millimetre nobody measures finer on a bench.
    private const double Fine = 1;

    // An angle is said over this length where nobody has told the length of a job, mm.
    private const double Metre = 1000;

    // Values in the manner of this standard have no U by themselves: they are told together.
    private const string Iso = "iso.";

    /// <summary>All lines: what stands behind it first, for whoever wants it; the answer last, where it stays in sight and in the ear.</summary>
    /// <param name="name">What was found, with its axis and place, for example <c>scale X</c>.</param>
    /// <param name="finding">The finding.</param>
    /// <param name="options">What the fit was told; axis, length and limit are read from it.</param>
    /// <param name="units">Units to show it in.</param>
    public static ImmutableArray<string> Lines(string name, Finding finding, FitOptions options, ShownUnits units) =>
    [
        $"Behind it: {finding.Used} of {Words.Counted(finding.Rows, "reading")} used.",
        .. finding.Parameters.Skip(1).Where(parameter => !IsBareIso(parameter)).Select(parameter => "  " + Parameter(parameter, units.Told(ParameterWords.Of(parameter.Name)), finding, options, units)),
        .. BareIso(finding, units),
        .. FindingText.Behind(finding, units),
        "Finding. " + Parameter(finding.Headline, Words.Capital(name), finding, options, units),
        .. Meaning(finding, options with { TravelMm = options.TravelMm ?? (finding.Headline.Unit == "rad" ? Metre : null) }) is { } meaning ? (string[])["meaning: " + units.Told(meaning)] : [],
        .. Limit(finding, options, units) is { } limit ? (string[])["limit: " + limit] : [],
        .. FindingText.Advice(finding, units),
        .. finding.Advice is { Next: null, Action: var action } ? (string[])["next: " + Next(action)] : [],
    ];

    private static bool IsBareIso(FittedParameter parameter) => parameter is { Value: not null, ExpandedUncertainty: null } && parameter.Name.StartsWith(Iso, StringComparison.Ordinal);

    private static IEnumerable<string> BareIso(Finding finding, ShownUnits units) => finding.Parameters.Where(IsBareIso).ToList() is { Count: > 0 } bare
        ? ["  in the manner of ISO 230-2, each a range of means and scatters and so without U: " + string.Join(", ", bare.Select(parameter =>
        {
            var (value, unit) = units.Show(parameter.Value!.Value, parameter.Unit);
            return string.Create(CultureInfo.InvariantCulture, $"{ParameterWords.Of(parameter.Name).Split(" of ISO")[0]} {value.ToString(unit == "in" ? "0.#####" : "0.####", CultureInfo.InvariantCulture)} {unit}");
        }))] : [];

    // With its number, whatever it was given as.
    private static string? Limit(Finding finding, FitOptions options, ShownUnits units)
    {
        if (options.Tolerance is not { } tolerance)
            return null;
        var typed = FindingText.Limit(tolerance, finding, units);
        if (ToleranceText.LimitOf(finding, options) is not { } limit)
            return typed;
        var unit = FindingText.UnitOf(finding.Headline, units);
        var value = string.Create(CultureInfo.InvariantCulture, $"{limit / unit.Factor:0.####} {unit.Symbol}");
        return typed == value || typed.Replace(" ", "", StringComparison.Ordinal) == value.Replace(" ", "", StringComparison.Ordinal) ? value : $"{value} ({typed})";
    }

    /// <summary>A ratio or an angle in millimetres over the length that a job uses, with its own U: a sentence; null where nothing of it is known.</summary>
    public static string? Meaning(Finding finding, FitOptions options)
    {
        if (finding.Headline is not { Value: { } value, Unit: "1" or "rad", ExpandedUncertainty: { } u } || options.TravelMm is not { } length)
            return null;
        var axis = options.Axis is { } named ? $"axis {named}" : "it";
        var (off, most) = u * length < Fine ? (Hundredths(Math.Abs(value) * length), Hundredths(u * length)) : ValueFormat.Pair(Math.Abs(value) * length, u * length, signed: false);
        return finding.Headline.Unit == "1"
            ? string.Create(CultureInfo.InvariantCulture, $"over {length:0.#} mm {axis} goes {off} mm too {(value < 0 ? "short" : "far")}, give or take {most} mm.")
            : string.Create(CultureInfo.InvariantCulture, $"over {length:0.#} mm it is {off} mm off, give or take {most} mm.");
    }

    private static string Next(AdviceAction action) => action switch
    {
        AdviceAction.Leave => "leave it as it is; 'history next' names what comes after it",
        AdviceAction.Change => "set it, then measure it again",
        _ => "measure it again",
    };

    // Under its name in words lost motion has its own sign; signs are words, for whoever hears them.
    private static string Parameter(FittedParameter parameter, string called, Finding finding, FitOptions options, ShownUnits units)
    {
        var told = ParameterWords.Told(parameter);
        if (told is not { Value: { } value, ExpandedUncertainty: { } u, Interval: null })
            return called + FindingText.Parameter(told, options.Coverage, units, finding.Kind)[told.Name.Length..];
        var unit = FindingText.UnitOf(told, units);
        var (shown, spread) = ValueFormat.Pair(value / unit.Factor, u / unit.Factor, Signs.IsSigned(told.Name, finding.Kind));
        var symbol = unit.Symbol.Length > 0 ? " " + unit.Symbol : "";
        var factor = told.CoverageFactor is { } k ? string.Create(CultureInfo.InvariantCulture, $", k {k:0.00}") : "";
        return string.Create(CultureInfo.InvariantCulture, $"{called} is {Signed(shown)}{symbol}, U {spread ?? "0"}{symbol}{factor}, {options.Coverage * 100:0.##} percent.");
    }

    private static string Signed(string shown) => shown[0] switch { '+' => "plus " + shown[1..], '-' => "minus " + shown[1..], _ => shown };

    private static string Hundredths(double mm) => mm.ToString("F2", CultureInfo.InvariantCulture);
}
