using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Core.Upkeep;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The series of results, one line each.</summary>
public sealed class TrendPage(Desk desk) : ListPage(desk)
{
    /// <inheritdoc/>
    public override string Called => "trend";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["Every characteristic with its results in the order of time. Enter draws one as a chart with the changes written on it."];

    private ImmutableArray<TrendView> Series => Desk.Trends;

    /// <inheritdoc/>
    public override IEnumerable<Line> Notes(int room, int rows) => Series is { IsEmpty: false } all
        ? SideNotes.Part(all[Math.Min(Chosen, all.Length - 1)].Title.ToUpperInvariant(), TrendText.Told(all[Math.Min(Chosen, all.Length - 1)], Desk.Units).Select(Desk.Units.Told), room) : base.Notes(room, rows);

    /// <inheritdoc/>
    protected override int Count => Series.Length;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var series = Series;
        // A long title takes what the dates leave; what is longer still ends with two points.
        var room = Math.Clamp(series.Select(view => view.Title.Length + 2).DefaultIfEmpty().Max(), LeastTitle, width - BesideTitle);
        return ListSheet.Of(
            new ListView
            {
                Path = $"{Desk.MachineName} / trend", Right = string.Create(CultureInfo.InvariantCulture, $"epoch {Desk.Ledger.Epoch(Desk.MachineName!)}"), Live = Desk.Live,
                Head = "   " + "what".PadRight(room) + "results  first        last         look again",
                Lines = [.. series.Select(view => Text(view, room))], Chosen = Chosen,
                Step = series.IsEmpty ? ("Nothing has been found yet. Enter goes back to the bench.", "Because: a trend needs results.") : ("Enter draws the chosen series.", "Nothing is changed by looking."),
                Keys = Keys(series.IsEmpty ? "bench" : "chart", new SheetKey("A", "tell a change", "change"), Undo.Key(Desk)),
            },
            height);
    }

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (Count == 0)
            Desk.ToBench();
        else
            Desk.Show(new TrendSeriesPage(Desk, Chosen));
    }

    /// <inheritdoc/>
    public override void Away() => Desk.ToBench();

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        if (action == "change")
            Desk.Cover(new ChangePage(Desk));
        else
            FollowNext();
    }

    private const int LeastTitle = 27, BesideTitle = 50;

    private static string Text(TrendView view, int room) => (view.Title.Length <= room - 2 ? view.Title : view.Title[..(room - 4)] + "..").PadRight(room) + string.Create(
        CultureInfo.InvariantCulture, $"{view.Points.Length,-9}{view.Points[0].At,-13:d MMM yyyy}{view.Points[^1].At,-13:d MMM yyyy}{(view.Lost is { } lost ? "now, " + lost : view.NextCheck is { } next ? TrendText.Day(next) : "")}").TrimEnd();
}

/// <summary>One characteristic over time: a control chart with the change log written on it.</summary>
public sealed class TrendSeriesPage(Desk desk, int at) : Page(desk)
{
    private int _at = at;
    private int? _chosen;

    /// <inheritdoc/>
    public override string Called => "trend";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
        ["o a result with the bar of its U, - the level, _ the limit, : a change that began a new epoch, ' one that was only tested, . the bounds of what is to come, ^ the next check, x a result that does not follow from the ones before. Several results of one day stand side by side, in their order. Left and Right choose a result, Up and Down another series."];

    /// <inheritdoc/>
    public override Figure? Picture => Desk.Trends is { IsEmpty: false } series ? TrendFigure.Of(series[Math.Clamp(_at, 0, series.Length - 1)], Desk.Units) : null;

    /// <inheritdoc/>
    public override int PictureTurn => _at;

    private TrendView Trend => Desk.Trends is var series ? series[Math.Clamp(_at, 0, series.Length - 1)] : null!;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var trend = Trend;
        return TrendSheet.Of(new TrendSheetView(Desk.MachineName!, trend, Desk.Units, Desk.Now, WorkGraph.Find(trend.Item)?.Minutes ?? 0, _chosen, Desk.Live) { Places = Places(trend) }, width, height);
    }

    private int Places(TrendView trend) => Desk.FindingAt(trend.Points[^1].Sequence) is { } made && Desk.Behind(made).Readings is var readings
        ? made.Body.Readings.Where(readings.ContainsKey).Select(reading => readings[reading].Taken.Body.Place).Distinct().Count() : 0;

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways)
    {
        if (sideways)
        {
            var last = Trend.Points.Length - 1;
            _chosen = _chosen is { } now ? Math.Clamp(now + by, 0, last) : last;
        }
        else
        {
            (_at, _chosen) = (Math.Clamp(_at + by, 0, Math.Max(0, Desk.Trends.Length - 1)), null);
        }
    }

    /// <inheritdoc/>
    public override void FollowNext()
    {
        var points = Trend.Points;
        var point = points[Math.Clamp(_chosen ?? points.Length - 1, 0, points.Length - 1)];
        if (Desk.FindingAt(point.Sequence) is { } made)
            Desk.Show(new FindingPage(Desk, made));
        else
            Desk.Say("That finding lies in another journal: history findings lists it.");
    }

    /// <inheritdoc/>
    public override void Away() => Desk.Show(new TrendPage(Desk));

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        if (action == "details")
            Desk.Cover(Numbers());
        else
            FollowNext();
    }

    private WordsPage Numbers()
    {
        var trend = Trend;
        var unit = Desk.Units.Of(trend.Unit);
        return new WordsPage(Desk, "numbers",
        [
            .. TrendText.Told(trend, Desk.Units),
            .. trend.Points.Select(point => $"{TrendText.Day(point.At)}  {ValueFormat.Line(point.Value, point.Expanded, unit, point.CoverageFactor, why: "the result has none", signed: trend.IsSigned)}, epoch {point.Epoch}{(point.Instrument is { } with ? ", " + with : "")}{(point.Alarm ? ", alarm" : "")}"),
        ]);
    }
}
