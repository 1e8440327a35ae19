using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Quantities;
using Commission.Core.Upkeep;

namespace Commission.Core.Reports;

/// <summary>A trend as a picture: the same values that the text form draws.</summary>
public static class TrendFigure
{
    /// <summary>The picture; days count from the first result.</summary>
    /// <param name="view">The trend.</param>
    /// <param name="units">Units to show; null for millimetres.</param>
    public static Figure Of(TrendView view, ShownUnits? units = null)
    {
        var unit = TrendText.Shown(view, units);
        double Day(DateTimeOffset at) => (at - view.Points[0].At).TotalDays;
        FigurePoint Point(TrendPoint point) => new(Day(point.At), point.Value / unit.Factor, point.Expanded / unit.Factor);
        return new Figure
        {
            Title = $"Trend: {view.Title}",
            Horizontal = $"days since {TrendText.Day(view.Points[0].At)}",
            Vertical = $"{view.Title}, {unit.Symbol}",
            Layers =
            [
                .. Band(view, unit),
                .. view.Events.Where(change => change.At >= view.Points[0].At).Select(change => new FigureLayer.Event(change.BeginsBaseline ? $"{change.Title} (new epoch)" : change.Title, Day(change.At))),
                .. Points("results, bar = U", FigureMark.Dot, [.. view.Points.Where(point => !point.Alarm).Select(Point)]),
                .. Points("results that set off an alarm, bar = U", FigureMark.LeftOut, [.. view.Points.Where(point => point.Alarm).Select(Point)]),
                new FigureLayer.Line("filtered level", [.. view.Points.Where(point => point.Level is not null).Select(point => new FigurePoint(Day(point.At), point.Level!.Value / unit.Factor))]),
                .. Bounds(view, unit.Factor, Day),
                .. view.NextCheck is { } next ? (FigureLayer[])[new FigureLayer.Event("look again", Day(next))] : [],
            ],
            Summary = $"{TrendText.Now(view, units)} {view.Changed}",
        };
    }

    private static IEnumerable<FigureLayer> Band(TrendView view, Unit unit)
    {
        if (view.Limit is not { } limit)
            yield break;
        var typed = unit.Symbol == "in" && view.LimitTyped?.EndsWith("mm", StringComparison.Ordinal) == true ? TrendText.Typed(limit, view.Points[^1], unit) : view.LimitTyped;
        yield return new FigureLayer.Band($"limit {typed}", view.Points.Any(point => point.Value < 0) ? -limit / unit.Factor : 0, limit / unit.Factor);
    }

    private static IEnumerable<FigureLayer> Points(string name, FigureMark mark, ImmutableArray<FigurePoint> values)
    {
        if (!values.IsEmpty)
            yield return new FigureLayer.Points(name, mark, values);
    }

    private static IEnumerable<FigureLayer> Bounds(TrendView view, double factor, Func<DateTimeOffset, double> day)
    {
        if (view.Forecast.IsEmpty)
            yield break;
        yield return new FigureLayer.Line("to come, upper bound", [.. view.Forecast.Select(ahead => new FigurePoint(day(ahead.At), (ahead.Level + ahead.HalfWidth) / factor))], Dashed: true);
        yield return new FigureLayer.Line("to come, lower bound", [.. view.Forecast.Select(ahead => new FigurePoint(day(ahead.At), (ahead.Level - ahead.HalfWidth) / factor))], Dashed: true);
    }
}
