using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Quantities;
using Commission.Core.Upkeep;

namespace Commission.Core.Reports;

/// <summary>What a report says about how results moved: one section for each that was measured at least twice.</summary>
internal static class TrendSections
{
    /// <summary>The sections in the order of work.</summary>
    public static IEnumerable<ReportSection> Of(ReportScope scope)
    {
        var upkeep = StandingSections.Upkeep(scope);
        var views = WorkGraph.All
            .SelectMany(item => scope.Upkeep.Results.Keys.Where(key => key.Item == item.Id && key.Machine == scope.Machine.Name)
                .OrderBy(key => key.Axis, StringComparer.Ordinal).ThenBy(key => key.Place, StringComparer.Ordinal))
            .Select(key => TrendOfResults.Of(scope.Upkeep, key, new WorkLimits(scope.Limits, scope.Machine.Class))).OfType<TrendView>().Where(view => view.Points.Length > 1).Select(view => view.By(upkeep)).ToList();
        return views.Count == 0 ? [] : [new ReportSection("How results moved", 1, [new ReportBlock.Paragraph("Fresh uncertainty decides on change: what an instrument shares with itself does not.")]), .. views.Select(view => Section(view, scope.Units))];
    }

    private static ReportSection Section(TrendView view, ShownUnits units) => new(view.Title, 2,
    [
        new ReportBlock.Picture(TrendFigure.Of(view, units)),
        new ReportBlock.Items([.. TrendText.Told(view, units)]),
        Results(view, units),
    ]);

    private static ReportBlock.Table Results(TrendView view, ShownUnits units)
    {
        var unit = units.Of(view.Unit);
        return new ReportBlock.Table(
            "trend",
            ["entry", "of", "epoch", "value", "U", "unit", "k", "level", "instrument", "alarm"],
            [.. view.Points.Select(point =>
            {
                var (value, u) = ValueFormat.Pair(point.Value / unit.Factor, point.Expanded / unit.Factor, view.IsSigned);
                return (ImmutableArray<ReportCell>)
                [
                    FindingSections.Number(point.Sequence, "0"), TrendText.Day(point.At), FindingSections.Number(point.Epoch, "0"), new ReportCell(value, true),
                    u is null ? "none" : new ReportCell(u, true), unit.Symbol, point.CoverageFactor is { } k ? FindingSections.Number(k, "0.00") : "", point.Level is { } level ? new ReportCell((level / unit.Factor).ToString("G4", CultureInfo.InvariantCulture), true) : "",
                    point.Instrument ?? "", point.Alarm ? "yes" : "no",
                ];
            })]);
    }
}
