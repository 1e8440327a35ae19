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

    /// <summary>All lines.</summary>
    /// <param name="name">What was found, with its axis and place, for example <c>scale X</c>.</param>
    /// <param name="finding">The finding.</param>
    /// <param name="options">What the fit was told; axis, length and limit are read from it.</param>
    /// <param name="units">Units to show it in.</param>
    public static ImmutableArray<string> Lines(string name, Finding finding, FitOptions options, ShownUnits units) =>
    [
        $"{Words.Capital(name)}: {finding.Used} of {Words.Counted(finding.Rows, "reading")} used.",
        .. finding.Parameters.Select((parameter, i) => "  " + Parameter(parameter, i == 0 ? name : units.Told(ParameterWords.Of(parameter.Name)), finding, options, units)),
        .. Meaning(finding, options) is { } meaning ? (string[])["Meaning: " + units.Told(meaning)] : [],
        .. options.Tolerance is { } limit ? (string[])[$"Limit: {FindingText.Limit(limit, finding, units)}."] : [],
        .. FindingText.Behind(finding, units),
        .. FindingText.Advice(finding, units),
        .. finding.Advice is { Next: null, Action: var action } ? (string[])["next: " + Next(action)] : [],
    ];

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

    // Under its name in words lost motion has its own sign.
    private static string Parameter(FittedParameter parameter, string called, Finding finding, FitOptions options, ShownUnits units)
    {
        var told = ParameterWords.Told(parameter);
        return called + FindingText.Parameter(told, options.Coverage, units, finding.Kind)[told.Name.Length..];
    }

    private static string Hundredths(double mm) => mm.ToString("F2", CultureInfo.InvariantCulture);
}
