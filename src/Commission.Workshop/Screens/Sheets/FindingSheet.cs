using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Machines.Dialects;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Core.Upkeep;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>A finding: disposition, value on its strip, meaning, reasons, what U comes from.</summary>
public static class FindingSheet
{
    /// <summary>Share of g = t(0.95) u in U = t(0.975) u at many degrees of freedom: 1.645 / 1.960 (normal quantiles).</summary>
    public const double GuardShare = 0.839;

    private const int ValueColumn = 19, FactorColumn = 48, VerdictColumn = 69, VerdictEnd = 75;

    // From here on a fraction of the unit means nothing to anybody.
    private const double Hundred = 100;

    // Remarks of readings that were kept begin so; they stand on every finding.
    private const string Kept = "Kept as typed";

    /// <summary>The sheet.</summary>
    /// <param name="path">Where one is.</param>
    /// <param name="name">Name of the characteristic with its axis, for example <c>scale Y</c>.</param>
    /// <param name="finding">The finding.</param>
    /// <param name="options">What the fit was told; tolerance and travel are read from it.</param>
    /// <param name="live">The live strip.</param>
    /// <param name="units">Units to show it in; millimetres where not told.</param>
    /// <param name="on">The day it was made, as shown; null where that stands elsewhere.</param>
    /// <param name="stuff">What its bar is made of: a verdict that a change or a crash took away is withheld.</param>
    /// <param name="leads">Whether Enter leads to what the advice asks for: what fits its row stands there alone.</param>
    public static Sheet Of(string path, string name, Finding finding, FitOptions options, LiveStrip live, ShownUnits? units = null, string? on = null, BarStuff stuff = BarStuff.Fresh, bool leads = false)
    {
        var shown = units ?? ShownUnits.Millimetres;
        string Said(string text) => InchText.In(text, shown == ShownUnits.Inches);
        var change = finding.Advice.Action == AdviceAction.Change && finding.Advice.Setting is not null && !IsWithheld(stuff);
        return new Sheet
        {
            Path = path,
            Right = (on is null ? "" : on + " . ") + (finding.Used == finding.Rows ? Core.Quantities.Words.Counted(finding.Rows, "reading") : string.Create(CultureInfo.InvariantCulture, $"{finding.Used} of {finding.Rows} readings")),
            Body =
            [
                Head(name, finding, shown, stuff),
                Line.Blank,
                .. Why(name, finding, shown) is { } why ? Wrap.Margin(finding.Headline.Value is null ? "No value" : "No U", Said(why)).Select(text => (Line)text) : [],
                .. Strip(finding, options, shown, stuff),
                .. Meaning(finding, options, shown),
                .. change ? Setting(finding, options, shown) : [],
                .. Wrap.Margin(IsWithheld(stuff) ? "It said" : "Why", Said(finding.Advice.Because)).Select(text => (Line)text),
                .. finding.Advice is { Setting: null, Next: { } asked } && !IsWithheld(stuff) && !(leads && Said(asked).Length <= SheetFrame.LeastWidth - SheetFrame.Indent) ? Wrap.Margin("Next", Said(asked)).Select(text => (Line)text) : [],
                .. IsWithheld(stuff) ? [] : FindingReasons.Stakes(finding, shown),
                .. change ? FindingReasons.Holds(finding, options, shown).Select(text => (Line)text) : FindingReasons.Budget(finding),
                .. change ? Then(finding, options) : IsWithheld(stuff) ? [] : Others(finding, shown),
                .. finding.Remarks.Where(remark => !change || remark.StartsWith(Kept, StringComparison.Ordinal)).SelectMany(remark => Wrap.Margin("", Said(remark))).Select(text => (Line)text),
            ],
            Next = change ? "Set it. Enter shows the difference; nothing is written by that." : Said(finding.Advice.Next ?? "Leave it. Enter goes on."),
            Because = change ? "Or O to leave it as it is. Either way the finding stays in the log." : "Because: the finding is in the log; Enter goes on from here.",
            Live = live,
            Keys =
            [
                new("Enter", change ? "difference" : "next", "finding-next"),
                .. change ? (ReadOnlySpan<SheetKey>)[new("O", "leave as is", "finding-leave")] : [],
                new("D", "all numbers", "details"), new("P", "plans", "plans"), new("V", "readings", "raw"), new("N", "note", "note"), new("L", "log", "place"), new("F2", "card", "card"),
            ],
        };
    }

    /// <summary>The disposition in capitals where a hand is needed or none is: both look the same.</summary>
    public static string Disposition(AdviceAction action) => action switch
    {
        AdviceAction.Leave => "LEAVE IT",
        AdviceAction.Change => "CHANGE",
        AdviceAction.FindTheFault => "FIND THE FAULT",
        _ => "MEASURE MORE",
    };

    /// <summary>The verdict in its full form.</summary>
    public static string Verdict(Verdict verdict) => verdict switch
    {
        Core.Characteristics.Verdict.Within => "within",
        Core.Characteristics.Verdict.Outside => "OUTSIDE",
        Core.Characteristics.Verdict.Undecided => "undecided",
        _ => "",
    };

    /// <summary>The verdict in its full form; where a change or a crash took it away, the state that stands in its place.</summary>
    public static string Verdict(Verdict verdict, BarStuff stuff) => stuff switch
    {
        BarStuff.Stale => "stale",
        BarStuff.Suspect => "suspect",
        BarStuff.Withdrawn => "",
        _ => Verdict(verdict),
    };

    /// <summary>Whether verdict and advice are withheld.</summary>
    public static bool IsWithheld(BarStuff stuff) => stuff is BarStuff.Stale or BarStuff.Suspect or BarStuff.Withdrawn;

    /// <summary>The disposition; of what does not hold any more, that.</summary>
    public static string Disposition(AdviceAction action, BarStuff stuff) => stuff == BarStuff.Withdrawn ? "WITHDRAWN" : IsWithheld(stuff) ? "MEASURE AGAIN" : Disposition(action);

    /// <summary>The gauge of a headline; null where value, U or limit are missing.</summary>
    public static Gauge? GaugeOf(Finding finding, FitOptions options, BarStuff stuff) =>
        Signs.Told(finding.Headline) is { Value: { } value, ExpandedUncertainty: { } u } headline && ToleranceText.LimitOf(finding, options) is { } limit
            ? new Gauge(limit, Signs.IsSigned(headline.Name, finding.Kind), Signs.IsSigned(headline.Name, finding.Kind) ? value : Math.Abs(value), GuardShare * u, finding.Verdict, stuff)
            : null;

    /// <summary>The gauge of a headline against the limit that stands for it now; null without a limit. Without a value or U its walls stand alone.</summary>
    public static Gauge? GaugeOf(Finding finding, StandingLimit? limit, BarStuff stuff)
    {
        if (limit?.Value is not { } most)
            return null;
        var headline = Signs.Told(finding.Headline);
        var signed = Signs.IsSigned(headline.Name, finding.Kind);
        return headline is { Value: { } value, ExpandedUncertainty: { } u }
            ? new Gauge(most, signed, signed ? value : Math.Abs(value), GuardShare * u, limit.Verdict, stuff)
            : new Gauge(most, signed, null, 0, Core.Characteristics.Verdict.None, stuff);
    }

    private static Line Head(string name, Finding finding, ShownUnits units, BarStuff stuff)
    {
        var word = Disposition(finding.Advice.Action, stuff);
        var value = $"{name} = {Shown.Parameter(Signs.Told(finding.Headline), units: units)}";
        if (Why(name, finding, units) is not null)
            value = name + " = " + (finding.Headline.Value is null ? "no value: see below" : value[(name.Length + 3)..value.IndexOf(" (", StringComparison.Ordinal)] + " (no U: see below)");
        // The factor stands in one column for all of them, where the value leaves it.
        if (value.LastIndexOf(" (", StringComparison.Ordinal) is var factor and > 0 && factor < FactorColumn - ValueColumn - 1 && value.Length - factor - 1 + FactorColumn < VerdictColumn)
            value = value[..factor].PadRight(FactorColumn - ValueColumn) + value[(factor + 1)..];
        var (text, verdict) = ("   " + word.PadRight(ValueColumn - 3) + value, Verdict(finding.Verdict, stuff));
        // Where the value reaches into the column of the verdict its coverage leaves, which all numbers of a finding share; a longer one pushes the verdict on.
        if (text.Length >= VerdictEnd - verdict.Length)
            (text, value) = (text.Replace(", 95 %)", ")", StringComparison.Ordinal), value.Replace(", 95 %)", ")", StringComparison.Ordinal));
        return ((Line)text.PadRight(VerdictColumn - 1)).Set(Math.Max(text.Length + 1, text.Length < VerdictEnd - verdict.Length ? VerdictEnd - verdict.Length : VerdictColumn), verdict).With(3, word.Length, Ink.Strong).With(value, Ink.Strong);
    }

    // Why there is no value or no U, where the first line has no room for it.
    private static string? Why(string name, Finding finding, ShownUnits units) =>
        $"{name} = {Shown.Parameter(Signs.Told(finding.Headline), units: units)}".Length > VerdictColumn - ValueColumn - 1 && finding.Headline.ExpandedUncertainty is null ? finding.Headline.WhyNoUncertainty : null;

    private static IEnumerable<Line> Strip(Finding finding, FitOptions options, ShownUnits units, BarStuff stuff)
    {
        if (GaugeOf(finding, options, stuff) is not { } gauge)
            yield break;

        // The value of the first line: where U is wider than the strip, its further digits mean nothing.
        if (gauge is { Value: { } value, Verdict: Core.Characteristics.Verdict.Undecided } && gauge.Guard > gauge.Limit && finding.Headline.ExpandedUncertainty is { } u)
            gauge = gauge with { Value = double.Parse(ValueFormat.Pair(value / units.Of(finding.Headline.Unit).Factor, u / units.Of(finding.Headline.Unit).Factor).Value, CultureInfo.InvariantCulture) * units.Of(finding.Headline.Unit).Factor };
        var strip = LimitStrip.Scaled(gauge);
        yield return "      " + strip;
        var unit = units.Of(finding.Headline.Unit);
        var limit = (gauge.Limit / unit.Factor).ToString(gauge.Limit / unit.Factor >= Hundred ? "0.#" : "0.####", CultureInfo.InvariantCulture);
        // Each number in the middle under its wall.
        Line Under(Line line, int wall, string number) => line.Set(Math.Max(0, 6 + wall - (number.Length / 2)), number);
        var scale = gauge.TwoSided ? Under(Line.Blank, strip.IndexOf('|', StringComparison.Ordinal), "-" + limit) : Line.Blank;
        scale = Under(Under(scale, gauge.TwoSided ? LimitStrip.Broad / 2 : 0, "0"), strip.LastIndexOf('|'), (gauge.TwoSided ? "+" : "") + limit + " " + unit.Symbol);
        yield return scale.With(0, 80, Ink.Quiet);
        if (finding.Advice.Setting is null)
            yield return Line.Blank;
    }

    // Every ratio and angle is said in millimetres over the user's own length, with its own U.
    private static IEnumerable<Line> Meaning(Finding finding, FitOptions options, ShownUnits units) => FindingSpoken.Meaning(finding, options) is { } text
        ? Wrap.Margin("Meaning", InchText.In(text, units == ShownUnits.Inches)).Select(part => (Line)part) : [];

    // What a written setting makes stale, before it is written.
    private static IEnumerable<Line> Then(Finding finding, FitOptions options)
    {
        if (finding.Advice.Setting is not { } setting || StaleTable.ChangeOf(setting.Name) is not { } change || StaleTable.Find(change) is not { } row)
            return [];
        var axis = options.Axis is { } named ? $" of {named}" : "";
        return Wrap.Margin("Then", $"stale, to be checked again: {string.Join(", ", row.Items.Select(item => WorkGraph.TitleOf(item) + (WorkGraph.Find(item)?.Scope == WorkScope.Axis ? axis : "")))}.").Select(text => (Line)text);
    }

    /// <summary>A proposed setting in words with its axis, and the unit of its numbers where the words do not hold it.</summary>
    public static (string Name, string Unit) Called(ProposedSetting setting) => setting.ExpressedAs.Contains('/', StringComparison.Ordinal)
        ? ($"{(setting.ExpressedAs == "steps/in" ? "steps per inch" : setting.ExpressedAs.Replace("/", " per ", StringComparison.Ordinal))}, {setting.Axis}", "") : (SettingName.InWords(setting.Name, setting.Axis), " " + setting.ExpressedAs);

    private static IEnumerable<Line> Setting(Finding finding, FitOptions options, ShownUnits units)
    {
        if (finding.Advice is not { Action: AdviceAction.Change, Setting: { } setting })
            yield break;
        var after = ValueFormat.Pair(setting.AsStored, setting.StandardUncertainty * 2, signed: false).Uncertainty;
        yield return Line.Blank;
        var (name, unit) = Called(setting);
        var (now, proposed) = (string.Create(CultureInfo.InvariantCulture, $"now {setting.Current:0.000###}{unit}"), string.Create(CultureInfo.InvariantCulture, $"proposed  {setting.AsStored:0.000###}{(after is null ? "" : " +/- " + after)}{unit}"));
        if (unit.Length > 0)
            yield return ((Line)$" Setting   {name}").With(11, 70, Ink.Strong);
        var row = unit.Length > 0 ? $"           {now}     {proposed}" : $" Setting   {name}          {now}     {proposed}";
        // Where the numbers are long the gaps give way, never a digit.
        yield return ((Line)(row.Length <= SheetFrame.LeastWidth ? row : $" Setting   {name}   {now}   {proposed}")).With(11, 70, Ink.Strong);
        if (options.TravelMm is { } length && setting is { Current: var current, StandardUncertainty: { } u } && setting.ExpressedAs.StartsWith("steps", StringComparison.Ordinal))
        {
            var sum = string.Create(CultureInfo.InvariantCulture, $"           {current:0.###} / (1 {(current >= setting.AsStored ? '+' : '-')} {Math.Abs((current / setting.AsStored) - 1):0.000000})");
            var rest = u * 2 / setting.AsStored * length;
            var left = units == ShownUnits.Inches
                ? string.Create(CultureInfo.InvariantCulture, $"left over {length / Inch.Mm:0.###} in: about 0 +/- {rest / Inch.Mm:0.0000} in")
                : string.Create(CultureInfo.InvariantCulture, $"left over {length:0.#} mm: about 0 +/- {rest:0.00} mm");
            if (sum.PadRight(36).Length + left.Length <= SheetFrame.LeastWidth)
            {
                yield return sum.PadRight(36) + left;
            }
            else
            {
                yield return sum;
                yield return "           " + left;
            }
        }

        yield return Line.Blank;
    }

    private static IEnumerable<Line> Others(Finding finding, ShownUnits units) => finding.Parameters.Skip(1)
        .Where(parameter => parameter.Value is not null && parameter.Name is "reversal" or "squareness" or "scaleErrorX" or "scaleErrorY")
        .SelectMany(parameter => Wrap.Margin("Also", $"{Words(parameter.Name)} {Spoken(parameter, units)}")).Select(text => (Line)text);

    private static string Spoken(FittedParameter parameter, ShownUnits units) =>
        Shown.Parameter(Signs.Told(parameter), units: units);

    private static string Words(string name) => name switch
    {
        "reversal" => "lost motion",
        "scaleErrorX" => "scale X",
        "scaleErrorY" => "scale Y",
        _ => name,
    };
}
