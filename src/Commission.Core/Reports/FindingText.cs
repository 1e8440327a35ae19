using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Machines.Dialects;
using Commission.Core.Quantities;
using Commission.Core.Readings;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>A finding in lines for people: command line, plain mode and Markdown share them.</summary>
public static class FindingText
{
    // Beyond five per cent nobody speaks of parts per million.
    private const double LargestRatio = 0.05;

    /// <summary>All lines of a finding.</summary>
    /// <param name="finding">The finding.</param>
    /// <param name="coverage">Coverage probability of its U.</param>
    /// <param name="units">Units to show it in; millimetres where not told.</param>
    public static ImmutableArray<string> Lines(Finding finding, double coverage, ShownUnits? units = null)
    {
        var title = CharacteristicKinds.TitleOf(finding.Kind);
        return
        [
            Invariant($"{title}: {finding.Used} of {finding.Rows} readings used, method {finding.Method}"),
            .. finding.Parameters.Select(parameter => "  " + Parameter(parameter, coverage, units, finding.Kind)),
            .. Behind(finding, units ?? ShownUnits.Millimetres),
            .. Advice(finding, units),
        ];
    }

    /// <summary>What stands behind the values: scatter, what U is made of, readings to look at, remarks.</summary>
    internal static ImmutableArray<string> Behind(Finding finding, ShownUnits units)
    {
        return
        [
            .. Scatter(finding, units),
            .. Budget(finding),
            .. finding.Suspects.Select(Suspect).Select(Said),
            .. finding.Remarks.Select(remark => Said("remark: " + Words.Clean(remark))),
        ];

        string Said(string line) => InchText.In(line, units == ShownUnits.Inches);
    }

    /// <summary>One parameter with its unit and U, or the reason why there is none.</summary>
    /// <param name="parameter">The parameter.</param>
    /// <param name="coverage">Coverage probability of its U.</param>
    /// <param name="units">Units to show it in; millimetres where not told.</param>
    /// <param name="kind">Id of its kind; null where it is not known.</param>
    public static string Parameter(FittedParameter parameter, double coverage, ShownUnits? units = null, string? kind = null)
    {
        var (unit, signed) = (UnitOf(parameter, units), Signs.IsSigned(parameter.Name, kind));
        if (parameter.Value is not { } value)
            return $"{parameter.Name}: not given ({parameter.WhyNoUncertainty ?? "the readings do not determine it"})";
        var why = parameter.WhyNoUncertainty;
        if (parameter is { ExpandedUncertainty: null, StandardUncertainty: { } u })
        {
            var (shown, spread) = ValueFormat.Pair(value / unit.Factor, u / unit.Factor, signed);
            return Invariant($"{parameter.Name}: {shown} {unit.Symbol}, standard uncertainty {spread ?? "0"} {unit.Symbol}{(why is null ? "" : " (no U: " + why + ")")}");
        }

        if (parameter.Interval is var (low, high))
            return Invariant($"{parameter.Name}: {ValueFormat.Pair(value / unit.Factor, null, signed).Value} {unit.Symbol}, {ValueFormat.Between(low / unit.Factor, high / unit.Factor)} {unit.Symbol} ({coverage * 100:0.##} %)");
        return $"{parameter.Name}: " + ValueFormat.Line(value, parameter.ExpandedUncertainty, unit, parameter.CoverageFactor, coverage, why, signed).Replace("  ", " ", StringComparison.Ordinal);
    }

    /// <summary>The unit a parameter is shown in. A plain number that is no small ratio, as plain columns give, has none.</summary>
    public static Unit UnitOf(FittedParameter parameter, ShownUnits? units = null) =>
        parameter is { Unit: "1", Value: { } value } && Math.Abs(value) > LargestRatio ? new Unit("", "1", 1) : (units ?? ShownUnits.Millimetres).Of(parameter.Unit);

    /// <summary>Verdict, advice, reason, next step and the proposed setting.</summary>
    /// <param name="finding">The finding.</param>
    /// <param name="units">Units to show lengths in; millimetres where not told. A setting is always told as the controller has it.</param>
    public static ImmutableArray<string> Advice(Finding finding, ShownUnits? units = null)
    {
        var advice = finding.Advice;
        return
        [
            $"verdict: {FindingWords.Of(finding.Verdict)}",
            $"advice: {FindingWords.Of(advice.Action).Replace('-', ' ')}, because {Said(Running(Words.Clean(advice.Because).TrimEnd('.')))}",
            .. advice.Next is { } next ? (string[])[$"next: {Said(Words.Clean(next))}"] : [],
            .. advice.Setting is { } setting ? (string[])[Setting(setting)] : [],
        ];

        string Said(string line) => InchText.In(line, units == ShownUnits.Inches);
    }

    // A sentence that goes on another one begins small, unless it begins with a name or a symbol.
    private static string Running(string sentence) =>
        sentence is [>= 'A' and <= 'Z', >= 'a' and <= 'z', ..] or ['A' or 'I', ' ', ..] && !sentence.StartsWith("I ", StringComparison.Ordinal) ? char.ToLowerInvariant(sentence[0]) + sentence[1..] : sentence;

    /// <summary>A limit as it was typed, with the length over which it was taken where one was needed; lengths in the units of whoever reads.</summary>
    public static string Limit(Tolerance tolerance, Finding finding, ShownUnits units) =>
        Limit(tolerance, units) + (finding.LimitOverMm is { } over ? " over " + units.Told(Invariant($"{over:0.###} mm")) : "");

    private static string Limit(Tolerance tolerance, ShownUnits units) => units.Of(tolerance.Unit) is { } unit && unit.Symbol != tolerance.Unit && tolerance.Unit == "mm" && !AcceptanceClasses.Gave(tolerance)
        ? Invariant($"{tolerance.Value / unit.Factor:0.#####} {unit.Symbol}") : tolerance.Typed;

    /// <summary>A proposed setting in one line.</summary>
    public static string Setting(ProposedSetting setting)
    {
        var u = setting.StandardUncertainty is { } uncertainty ? Invariant($" (standard uncertainty {uncertainty:0.####})") : "";
        return Invariant($"setting: {SettingName.InWords(setting.Name)}{(setting.Axis is { } axis ? " of " + axis : "")} from {setting.Current:0.######} to {setting.AsStored:0.######} {setting.ExpressedAs}{u}");
    }

    /// <summary>What is questioned and why, then what it may have meant: sentences of their own.</summary>
    /// <param name="suspect">What is doubted.</param>
    public static string Questioned(Suspect suspect)
    {
        var where = suspect.Row == 0 ? "the series" : Invariant($"reading {suspect.Called ?? suspect.Row.ToString(CultureInfo.InvariantCulture)}");
        return $"{where}: {Sentence(suspect.Reason)} {Sentence(suspect.Suggestion)}".TrimEnd();
    }

    private static string Sentence(string words)
    {
        var clean = Words.Clean(words).Trim();
        return clean is "" or [.., '.' or '?'] ? clean : clean + ".";
    }

    private static IEnumerable<string> Scatter(Finding finding, ShownUnits units)
    {
        if (finding.ResidualStandardDeviation is not { } s)
            return [];
        var (scatter, unit) = ReadsMillimetres(finding.Kind) ? units.Show(s, "mm") : (s, "in the unit of the readings");
        return ["  scatter about the fit: " + scatter.ToString(unit == "in" ? "0.#####" : "0.####", CultureInfo.InvariantCulture) + $" {unit} (standard deviation)"];
    }

    // What is read stands last among the columns that a kind asks for.
    private static bool ReadsMillimetres(string kind) =>
        CharacteristicKinds.Find(kind)?.Columns.LastOrDefault(column => column is { Required: true, Content: ColumnContent.Length or ColumnContent.Number })?.Content == ColumnContent.Length;

    private static IEnumerable<string> Budget(Finding finding) =>
        finding.Budget.IsDefaultOrEmpty || finding.HeadlineIfAny()?.ExpandedUncertainty is null
            ? []
            : ["  what U is made of: " + string.Join("; ", finding.Budget.Take(3).Select(line =>
                Invariant($"{Words.Clean(line.Source)} {line.Share * 100:0} %{(line.RepeatingHelps ? " (repeating helps)" : "")}")))];

    private static string Suspect(Suspect suspect) => "look at " + Questioned(suspect);
}
