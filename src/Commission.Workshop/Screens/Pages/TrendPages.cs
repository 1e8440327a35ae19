using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
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

    private ImmutableArray<TrendView> Series => SeriesOf(Desk);

    /// <inheritdoc/>
    protected override int Count => Series.Length;

    /// <summary>All series of a machine, in the order of the work.</summary>
    public static ImmutableArray<TrendView> SeriesOf(Desk desk) =>
    [
        .. WorkGraph.All.SelectMany(item => desk.Fold.Results.Keys.Where(key => key.Item == item.Id && (key.Machine == desk.MachineName || key.Machine.Length == 0)))
            .Distinct().Select(key => TrendOfResults.Of(desk.Fold, key)).OfType<TrendView>(),
    ];

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var series = Series;
        return ListSheet.Of(
            new ListView
            {
                Path = $"{Desk.MachineName} / trend", Right = string.Create(CultureInfo.InvariantCulture, $"epoch {Desk.Ledger.Epoch(Desk.MachineName!)}"), Live = Desk.Live,
                Head = "   what                       results   first         last          look again",
                Lines = [.. series.Select(Text)], Chosen = Chosen,
                Step = series.IsEmpty ? ("Nothing has been found yet. Enter goes back to the bench.", "Because: a trend needs results.") : ("Enter draws the chosen series.", "Nothing is changed by looking."),
                Keys = Keys(series.IsEmpty ? "bench" : "chart", new SheetKey("A", "tell a change", "change"), new SheetKey("U", "undo", "undo")),
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

    private static string Text(TrendView view) => string.Create(
        CultureInfo.InvariantCulture, $"{view.Title,-27}{view.Points.Length,-10}{view.Points[0].At,-14:d MMM yyyy}{view.Points[^1].At,-14:d MMM yyyy}{view.NextCheck:d MMM yyyy}");
}

/// <summary>One characteristic over time: a control chart with the change log written on it.</summary>
public sealed class TrendSeriesPage(Desk desk, int at) : Page(desk)
{
    private const int Told = 7;

    private int _at = at;

    /// <inheritdoc/>
    public override string Called => "trend";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["o a result with the bar of its U, _ the limit, : a change that began a new baseline, ' one that was only tested, ^ the next look. Left and Right choose a series."];

    /// <inheritdoc/>
    public override Figure? Picture => TrendPage.SeriesOf(Desk) is { IsEmpty: false } series ? TrendFigure.Of(series[Math.Clamp(_at, 0, series.Length - 1)], Desk.Units) : null;

    /// <inheritdoc/>
    public override int PictureTurn => _at;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var series = TrendPage.SeriesOf(Desk);
        var view = series[Math.Clamp(_at, 0, series.Length - 1)];
        var room = SheetFrame.BodyRows(height);
        var told = TrendText.Told(view, Desk.Units).SelectMany(text => Wrap.To(text, width - 3)).Select(text => (Line)(" " + text)).ToList();
        var next = view.NextCheck is { } day ? string.Create(CultureInfo.InvariantCulture, $"Look again by {day:ddd d MMM yyyy}.") : "Nothing to do.";
        return new Sheet
        {
            Path = $"{Desk.MachineName} / trend / {view.Title}", Right = string.Create(CultureInfo.InvariantCulture, $"baseline {view.Points[^1].Epoch} . {view.Points.Length} results"), Live = Desk.Live,
            Body =
            [
                .. TrendText.Chart(view, width - 2, Math.Max(6, room - 4 - Math.Min(told.Count, Told)), Desk.Units).Select(text => (Line)(" " + text)),
                .. told.Take(Math.Max(Told, room - 16)),
            ],
            Next = next, Because = "Because: " + Desk.Units.Told(view.NextBecause) + ".",
            Keys = [new("Left, Right", "series", "choose"), new("Esc", "list", "away"), new("N", "note or change", "note"), new("F1", "help", "help"), new("F2", "card", "card")],
        };
    }

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways) => _at = Math.Clamp(_at + by, 0, Math.Max(0, TrendPage.SeriesOf(Desk).Length - 1));

    /// <inheritdoc/>
    public override void FollowNext() => Desk.Show(new TrendPage(Desk));

    /// <inheritdoc/>
    public override void Away() => FollowNext();

    /// <inheritdoc/>
    public override void Deed(string action) => FollowNext();
}
