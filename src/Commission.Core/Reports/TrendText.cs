using System.Globalization;
using Commission.Core.Quantities;
using Commission.Core.Upkeep;

namespace Commission.Core.Reports;

/// <summary>What a trend says, in words: reports, screens and the command line share them.</summary>
public static class TrendText
{
    private const double DaysOfMonth = 30.4375;
    private const string Crash = "Crash";

    // How remarks begin, each with the word that it stands under; all others tell what a tested change did.
    private static readonly (string Begin, string Word, bool Repeats)[] Kinds = [("Alarm on ", "Alarm", true), ("Another instrument", "Kit", false)];

    /// <summary>All it says, each a sentence: the last result, drift, changes, limit, the next look.</summary>
    /// <param name="view">The trend.</param>
    /// <param name="units">Units to show; null for millimetres.</param>
    public static IEnumerable<string> Told(TrendView view, ShownUnits? units = null)
    {
        yield return Now(view, units);
        foreach (var (word, text) in Pairs(view, Shown(view, units)))
            yield return $"{word}: {(text.EndsWith('?') ? text : text.TrimEnd('.') + ".")}";
        yield return view.IsBeyond && view.Lost is null ? "Look at it now: the last result lies beyond the limit, and its finding says what to do." : view.Lost is not null ? $"Look again now: {view.NextBecause}." : view.NextCheck is { } at ? $"Look again by {Day(at)}: {view.NextBecause}." : $"Look again: {view.NextBecause}.";
    }

    /// <summary>The trend without its picture, a sentence a line: results and changes in the order of their days, then what it says.</summary>
    /// <param name="view">The trend.</param>
    /// <param name="units">Units to show.</param>
    public static IEnumerable<string> Sentences(TrendView view, ShownUnits units)
    {
        yield return $"Trend of {view.Title}, machine {view.Machine}.";
        var results = view.Points.Select(point => (point.At, Text: $"{ValueFormat.Line(point.Value, point.Expanded, Shown(view, units), point.CoverageFactor, why: "the result has none", signed: view.IsSigned)}{(point.Alarm ? "; it does not follow from the ones before" : "")}"));
        foreach (var (at, text) in results.Concat(view.Events.Select(change => (change.At, Text: change.Title))).OrderBy(one => one.At))
            yield return $"{Day(at)}: {units.Told(text)}.";
        foreach (var told in Told(view, units))
            yield return units.Told(told);
    }

    /// <summary>Drift, changes and limit, each a word and a sentence.</summary>
    /// <param name="view">The trend.</param>
    /// <param name="unit">Unit to show its values in.</param>
    public static IEnumerable<(string Word, string Text)> Pairs(TrendView view, Unit unit)
    {
        yield return Drift(view, unit);
        if (view.Slope is not { Significant: true } || view.Points.Any(point => point.Alarm) || view.Remarks.IsEmpty)
            yield return ("Change", view.Changed);
        foreach (var remark in view.Remarks)
            yield return Remark(remark);
        yield return ("Limit", Limit(view, unit));
    }

    private static (string Word, string Text) Remark(string remark) =>
        Array.Find(Kinds, kind => remark.StartsWith(kind.Begin, StringComparison.Ordinal)) is { Word: { } word } kind ? (word, kind.Repeats ? remark[kind.Begin.Length..] : remark)
        : remark.StartsWith(Crash, StringComparison.Ordinal) && remark.IndexOf(": ", StringComparison.Ordinal) is var colon and > 0 ? (Crash, remark[(colon + 2)..])
        : ("Tested", remark);

    /// <summary>A day as trends name it.</summary>
    public static string Day(DateTimeOffset at) => at.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    /// <summary>The last result with its U.</summary>
    internal static string Now(TrendView view, ShownUnits? units)
    {
        var last = view.Points[^1];
        return $"Now: {ValueFormat.Line(last.Value, last.Expanded, Shown(view, units), last.CoverageFactor, why: "the result has none", signed: view.IsSigned)}, measured {Day(last.At)}; {Count(view.Points.Length)}.";
    }

    internal static Unit Shown(TrendView view, ShownUnits? units) => (units ?? ShownUnits.Millimetres).Of(view.Unit);

    private static string Count(int results) => results == 1 ? "1 result counts" : string.Create(CultureInfo.InvariantCulture, $"{results} results count");

    private static (string Word, string Text) Drift(TrendView view, Unit unit)
    {
        if (view.Slope is not { } slope)
            return ("Drift", $"none given, because {view.WhyNoSlope}");
        var (rate, u) = ValueFormat.Pair(slope.PerMonth / unit.Factor, slope.Expanded / unit.Factor);
        var text = string.Create(CultureInfo.InvariantCulture, $"{rate} +/- {u} {unit.Symbol} a month (k={slope.CoverageFactor:0.00}, {slope.Results} results): ");
        return slope.Significant ? ("Drifts", text + (view.Title.StartsWith("lost motion", StringComparison.Ordinal) && slope.PerMonth > 0 ? "real, slow wear" : "real")) : ("Steady", text + "no drift seen");
    }

    // Where the line is and how fast it goes tell about when it meets the limit; its bounds tell the first day.
    private static string Limit(TrendView view, Unit unit)
    {
        if (view.Limit is not { } limit)
            return "none was given: no day to look again can be named";
        var last = view.Points[^1];
        var shown = Typed(limit, last, unit) + (view.LimitOfClass is { } work ? $" (none was given; {work})" : "");
        if (view.IsBeyond)
            return $"the last result lies beyond {shown}";
        var level = last.Level ?? last.Value;
        var months = view.Slope is { Significant: true, PerMonth: not 0 } slope ? (Math.Sign(slope.PerMonth) * limit - level) / slope.PerMonth : double.NaN;
        var meets = months is >= 0 and < 240 && (view.IsSigned || view.Slope!.PerMonth > 0) ? last.At.AddDays(months * DaysOfMonth) : (DateTimeOffset?)null;
        var first = view.EarliestReach is not { } earliest ? "" : earliest <= last.At ? "it may be passed already"
            : "not before " + (meets?.Year == earliest.Year ? earliest.ToString("d MMMM", CultureInfo.InvariantCulture) : Day(earliest));
        return meets is { } day
            ? $"the line meets {shown} about {Day(day)}{(first.Length > 0 ? "; " + first : "")}"
            : first.Length > 0 ? $"no drift leads to {shown}; by scatter alone {first}" : $"no drift leads to {shown} within twenty years";
    }

    /// <summary>A limit in the unit shown, as fine as the results are known.</summary>
    public static string Typed(double limit, TrendPoint last, Unit unit) =>
        (unit.Symbol == "mm" ? (limit / unit.Factor).ToString("0.000", CultureInfo.InvariantCulture) : ValueFormat.Limit(limit / unit.Factor, ValueFormat.Pair(last.Value / unit.Factor, last.Expanded / unit.Factor).Value))
        + (unit.Symbol == "1" ? "" : " " + unit.Symbol);
}
