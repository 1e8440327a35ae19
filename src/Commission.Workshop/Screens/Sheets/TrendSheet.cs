using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Core.Upkeep;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>What the sheet of a trend shows.</summary>
/// <param name="Machine">Name of the machine.</param>
/// <param name="Trend">The trend.</param>
/// <param name="Units">Units of lengths.</param>
/// <param name="Now">The present instant: what is due by then is said to be.</param>
/// <param name="Minutes">Minutes that the next look takes.</param>
/// <param name="Chosen">Index of the result that is looked at; null where none is.</param>
/// <param name="Live">Row 23.</param>
public sealed record TrendSheetView(string Machine, TrendView Trend, ShownUnits Units, DateTimeOffset Now, int Minutes, int? Chosen, LiveStrip Live);

/// <summary>A control chart with the changes written on it, and what it says: drift, change, limit, the next look.</summary>
public static class TrendSheet
{
    private const double DaysOfMonth = 30.4375;
    private const int WordColumn = 9;
    private const int LeastRows = 7;
    private const string Crash = "Crash";

    /// <summary>The sheet.</summary>
    public static Sheet Of(TrendSheetView view, int width, int height)
    {
        var trend = view.Trend;
        var unit = view.Units.Of(trend.Unit);
        var told = Told(trend, unit).SelectMany(pair => Wrap.To(view.Units.Told(pair.Text), width - WordColumn - 1).Select((part, i) => (Line)(" " + (i == 0 ? pair.Word : "").PadRight(WordColumn - 1) + part))).ToList();
        var room = SheetFrame.BodyRows(height);
        TrendPoint? chosen = view.Chosen is { } at ? trend.Points[Math.Clamp(at, 0, trend.Points.Length - 1)] : null;
        var (next, because) = Step(view);
        var plane = new TrendPlane(trend, width, Rows(room - 4 - told.Count), unit);
        var drawn = plane.Draw(chosen);
        if (drawn.Length + 2 + told.Count > room)
        {
            plane = new TrendPlane(trend, width, Rows(room - 5 - told.Count), unit);
            drawn = plane.Draw(chosen);
        }

        return new Sheet
        {
            Path = $"{view.Machine} / trend / {trend.Title}", Right = Epoch(trend), Live = view.Live,
            Body = [.. drawn, Legend(trend, plane), chosen is null ? Line.Blank : Chosen(trend, chosen, unit), .. told],
            Next = next, Because = because,
            Keys =
            [
                new("Left, Right", "result", "choose"), new("Enter", "its finding", "next"), new("N", "note or change", "note"), new("D", "numbers", "details"),
                new("Up, Down", "another series", "series") { Quiet = true }, new("Esc", "list", "away") { Quiet = true }, new("F1", "help", "help") { Quiet = true }, new("F2", "card", "card"),
            ],
        };
    }

    // The ruler's lowest row has its number too.
    private static int Rows(int room) => Math.Max(LeastRows, room - (room + 1) % 2);

    /// <summary>Drift, changes and limit, each a word and a sentence.</summary>
    public static IEnumerable<(string Word, string Text)> Told(TrendView trend, Unit unit)
    {
        yield return Drift(trend, unit);
        if (trend.Slope is not { Significant: true } || trend.Points.Any(point => point.Alarm) || trend.Remarks.IsEmpty)
            yield return ("Change", trend.Changed);
        foreach (var remark in trend.Remarks)
            yield return remark.StartsWith(Crash, StringComparison.Ordinal) && remark.IndexOf(": ", StringComparison.Ordinal) is var colon and > 0 ? (Crash, remark[(colon + 2)..]) : ("Tested", remark);
        yield return ("Limit", Limit(trend, unit));
    }

    private static (string Word, string Text) Drift(TrendView trend, Unit unit)
    {
        if (trend.Slope is not { } slope)
            return ("Drift", $"none given: {trend.WhyNoSlope}");
        var (rate, u) = ValueFormat.Pair(slope.PerMonth / unit.Factor, slope.Expanded / unit.Factor);
        var text = string.Create(CultureInfo.InvariantCulture, $"{rate} +/- {u} {unit.Symbol} a month (k={slope.CoverageFactor:0.00}, {slope.Results} results): ");
        return slope.Significant ? ("Drifts", text + (trend.Title.StartsWith("lost motion", StringComparison.Ordinal) && slope.PerMonth > 0 ? "real, slow wear" : "real")) : ("Steady", text + "no drift seen");
    }

    // Where the line is and how fast it goes tell about when it meets the limit; its bounds tell the first day.
    private static string Limit(TrendView trend, Unit unit)
    {
        if (trend.Limit is not { } limit)
            return "none was given: no day to look again can be named";
        var shown = Typed(limit, unit);
        var last = trend.Points[^1];
        var level = last.Level ?? last.Value;
        var months = trend.Slope is { Significant: true, PerMonth: not 0 } slope ? (Math.Sign(slope.PerMonth) * limit - level) / slope.PerMonth : double.NaN;
        var first = trend.EarliestReach is not { } earliest ? "" : earliest <= last.At ? "it may be passed already" : $"at the earliest {TrendText.Day(earliest)}";
        return months is >= 0 and < 240 && (Shown.IsSigned(trend.Unit) || trend.Slope!.PerMonth > 0)
            ? $"the line meets {shown} about {TrendText.Day(last.At.AddDays(months * DaysOfMonth))}{(first.Length > 0 ? "; " + first : "")}"
            : first.Length > 0 ? $"no drift leads to {shown}; by scatter alone {first}" : $"no drift leads to {shown} within twenty years";
    }

    private static string Typed(double limit, Unit unit) => (limit / unit.Factor).ToString(unit.Symbol == "mm" ? "0.000" : "0.####", CultureInfo.InvariantCulture);

    private static string Epoch(TrendView trend)
    {
        var last = trend.Points[^1].Epoch;
        var first = trend.Points.First(point => point.Epoch == last).At;
        var since = last > 1 && trend.Events.LastOrDefault(change => change.BeginsBaseline && change.At <= first) is { } begins ? begins.At : first;
        return string.Create(CultureInfo.InvariantCulture, $"epoch {last} since {TrendText.Day(since)}");
    }

    private static Line Legend(TrendView trend, TrendPlane plane)
    {
        var text = " o result   - level   . to come ";
        if (trend.Points.LastOrDefault(point => !plane.Drawn.Contains(point)) is { } off)
        {
            var since = trend.Events.LastOrDefault(change => change.BeginsBaseline && change.At <= plane.Drawn[0].At)?.At ?? plane.Drawn[0].At;
            text = string.Create(CultureInfo.InvariantCulture, $" before {since:d MMM}: {plane.Number(off.Value)}, off the sheet {(off.Value > plane.Drawn[0].Value ? "above" : "below")}.");
        }

        text += (trend.Limit is { } limit ? "  _ limit " + plane.Number(limit) : "") + (trend.NextCheck is null ? "" : "   ^ next check");
        return new Line(text, [new(0, text.Length, Ink.Quiet)]);
    }

    private static Line Chosen(TrendView trend, TrendPoint point, Unit unit) => ((Line)
        $" O {TrendText.Day(point.At)}  {ValueFormat.Line(point.Value, point.Expanded, unit, point.CoverageFactor, why: "the result has none", signed: Shown.IsSigned(trend.Unit))}{(point.Instrument is { } with ? ", " + with : "")}").With(1, 1, Ink.Focus);

    private static (string Next, string Because) Step(TrendSheetView view)
    {
        if (view.Trend.NextCheck is not { } at)
            return ("Nothing to do. Enter opens the last finding.", $"Because: {view.Units.Told(view.Trend.NextBecause)}.");
        var day = string.Create(CultureInfo.InvariantCulture, $"{at:ddd d MMM yyyy}");
        var passed = view.Trend.EarliestReach is { } reach && reach <= view.Trend.Points[^1].At;
        return (at <= view.Now ? $"Look again: due since {day}, {view.Minutes} min." : $"{(passed ? "" : "Nothing to do. ")}Look again by {day}, {view.Minutes} min.", $"Because: {view.Units.Told(view.Trend.NextBecause)}.");
    }
}
