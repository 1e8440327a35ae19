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
public sealed record TrendSheetView(string Machine, TrendView Trend, ShownUnits Units, DateTimeOffset Now, int Minutes, int? Chosen, LiveStrip Live)
{
    /// <summary>Places that the last result was read at; 0 where that is not known.</summary>
    public int Places { get; init; }
}

/// <summary>A control chart with the changes written on it, and what it says: drift, change, limit, the next look.</summary>
public static class TrendSheet
{
    private const int WordColumn = 9;
    private const int LeastRows = 7;
    private const int PlainRows = 11;

    /// <summary>The sheet.</summary>
    public static Sheet Of(TrendSheetView view, int width, int height)
    {
        var trend = view.Trend;
        var unit = view.Units.Of(trend.Unit);
        var told = TrendText.Pairs(trend, unit).SelectMany(pair => Wrap.To(view.Units.Told(pair.Text), width - WordColumn - 1).Select((part, i) => (Line)(" " + (i == 0 ? pair.Word : "").PadRight(WordColumn - 1) + part))).ToList();
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
            Body = [.. drawn, .. Legend(trend, plane, unit, width, chosen), .. told],
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

    /// <summary>The same in plain lines of a terminal, without the next step and the keys: the chart, then all that the trend says.</summary>
    /// <param name="trend">The trend.</param>
    /// <param name="units">Units of lengths.</param>
    /// <param name="width">Columns.</param>
    public static ImmutableArray<string> Lines(TrendView trend, ShownUnits units, int width = 79)
    {
        var plane = new TrendPlane(trend, width, PlainRows, units.Of(trend.Unit));
        return
        [
            $"{trend.Machine} / trend / {trend.Title}, {Epoch(trend)}",
            .. plane.Draw(null).Select(line => line.Text), .. Legend(trend, plane, units.Of(trend.Unit), width, null).Select(line => line.Text).Where(text => text.Length > 0),
            .. TrendText.Told(trend, units).SelectMany(told => Wrap.To(units.Told(told), width)),
        ];
    }

    private static string Epoch(TrendView trend)
    {
        var last = trend.Points[^1].Epoch;
        var first = trend.Points.First(point => point.Epoch == last).At;
        var since = last > 1 && trend.Events.LastOrDefault(change => change.BeginsBaseline && change.At <= first) is { } begins ? begins.At : first;
        return string.Create(CultureInfo.InvariantCulture, $"epoch {last} since {TrendText.Day(since)}");
    }

    // Every mark that is drawn; what has no room in the first row stands in the second, which the chosen result takes otherwise.
    private static Line[] Legend(TrendView trend, TrendPlane plane, Unit unit, int width, TrendPoint? chosen)
    {
        var text = "";
        List<string> marks = [];
        if (trend.Points.LastOrDefault(point => !plane.Drawn.Contains(point)) is { } off)
        {
            var since = trend.Events.LastOrDefault(change => change.BeginsBaseline && change.At <= plane.Drawn[0].At)?.At ?? plane.Drawn[0].At;
            text = string.Create(CultureInfo.InvariantCulture, $" before {since:d MMM}: {plane.Number(off.Value)}, off the sheet {(off.Value > plane.Drawn[0].Value ? "above" : "below")}.");
        }
        else
        {
            marks.AddRange([" o result", "- level", .. trend.Forecast.IsEmpty ? (ReadOnlySpan<string>)[] : [". to come"]]);
        }

        marks.AddRange(
        [
            .. trend.Limit is { } limit ? (ReadOnlySpan<string>)["_ limit " + TrendText.Typed(limit, trend.Points[^1], unit).Split(' ')[0]] : [],
            .. trend.NextCheck is null ? (ReadOnlySpan<string>)[] : ["^ next check"],
            .. plane.Drawn.Any(point => point.Alarm) ? (ReadOnlySpan<string>)["x does not follow"] : [],
            .. text.Length > 0 ? (ReadOnlySpan<string>)[] : [.. plane.Changes.Any(change => change.BeginsBaseline) ? (ReadOnlySpan<string>)[": new epoch"] : [], .. plane.Changes.Any(change => !change.BeginsBaseline) ? (ReadOnlySpan<string>)["' tested"] : []],
        ]);
        var rows = new List<string> { text };
        foreach (var mark in marks)
        {
            var gap = rows[^1].Length == 0 ? "" : rows.Count == 1 && text.Length > 0 && rows[0] == text ? "  " : "   ";
            if (rows[^1].Length + gap.Length + mark.Length < width || rows.Count == 2)
                rows[^1] += gap + mark;
            else
                rows.Add(" " + mark);
        }

        return [Quiet(rows[0]), chosen is not null ? Chosen(trend, chosen, unit) : rows.Count > 1 ? Quiet(rows[1]) : Line.Blank];
    }

    private static Line Quiet(string text) => new(text, [new(0, text.Length, Ink.Quiet)]);

    private static Line Chosen(TrendView trend, TrendPoint point, Unit unit) => ((Line)
        $" O {TrendText.Day(point.At)}  {ValueFormat.Line(point.Value, point.Expanded, unit, point.CoverageFactor, why: "the result has none", signed: trend.IsSigned)}{(point.Instrument is { } with ? ", " + with : "")}").With(1, 1, Ink.Focus);

    private static (string Next, string Because) Step(TrendSheetView view)
    {
        var because = $"Because: {view.Units.Told(view.Trend.NextBecause)}.";
        if (view.Trend.Lost is not null)
            return ("Measure it again. Enter opens the last finding, which leads to it.", because);
        if (view.Trend.IsBeyond)
            return ("Its last result lies beyond the limit. Enter opens its finding.", "Because: what to do about it stands there.");
        if (view.Trend.NextCheck is not { } at)
            return ("Nothing to do. Enter opens the last finding.", because);
        if (view.Trend.NextElse is { } other)
        {
            var date = string.Create(CultureInfo.InvariantCulture, $"{other:d MMM}{(other.Year == at.Year ? "" : " " + other.ToString("yyyy", CultureInfo.InvariantCulture))}.");
            var whole = $"{because} Else it were {date}";
            because = whole.Length <= SheetFrame.LeastWidth - SheetFrame.Indent ? whole : $"{because} Else {date}";
        }

        var day = string.Create(CultureInfo.InvariantCulture, $"{at:ddd d MMM yyyy}");
        var work = view.Places switch { 0 => "", 1 => "1 place, ", var places => string.Create(CultureInfo.InvariantCulture, $"{places} places, ") } + string.Create(CultureInfo.InvariantCulture, $"{view.Minutes} min");
        var passed = view.Trend.EarliestReach is { } reach && reach <= view.Trend.Points[^1].At;
        return (at <= view.Now ? $"Look again: due since {day}, {work}." : $"{(passed ? "" : "Nothing to do. ")}Look again by {day}, {work}.", because);
    }
}
