using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Quantities;
using Commission.Core.Upkeep;

namespace Commission.Core.Reports;

/// <summary>What a report says about the position error over the work area, and how results of different procedures compare.</summary>
internal static class WorkAreaSection
{
    // Ends and middle of each direction: a plane error is straight in between.
    private const int TableSteps = 2;

    private static readonly ImmutableArray<string> Columns = ["X", "Y", "error X", "error Y", "position error", "U, largest of any direction", "unit", "k"];

    /// <summary>The section.</summary>
    public static ReportSection Of(Ledger ledger, ReportScope scope)
    {
        var area = WorkArea.Of(ledger, scope.Machine, scope.Limits).By(StandingSections.Upkeep(scope));
        return new ReportSection("Position error over the work area", 1,
        [
            new ReportBlock.Paragraph(scope.Units.Told(area.Sentence)),
            .. WorkAreaPicture.Of(area) is { } figure ? [new ReportBlock.Picture(FigureUnits.In(figure, scope.Units)), Table(area, scope.Units.Length)] : (ReportBlock[])[],
            .. area.Corners.IsEmpty ? (ReportBlock[])[] : [new ReportBlock.Paragraph(Basis(area, scope.Units.Length))],
            new ReportBlock.Items([.. CrossCheck.All(ledger, scope.Machine.Name).Select(check => scope.Units.Told(check.Sentence))]),
        ]);
    }

    // All four corners are judged, and each quantity comes from results that have a name.
    private static string Basis(WorkArea area, Unit unit)
    {
        var corners = string.Join("; ", area.Corners.Select(corner => FormattableString.Invariant(
            $"X {corner.At.X / unit.Factor:0.##}, Y {corner.At.Y / unit.Factor:0.##} {unit.Symbol}: {FindingWords.Of(corner.Verdict)}")));
        return $"{(area.Instead is null ? $"All four corners are judged: {corners}. " : "")}Taken for it: {string.Join("; ", area.Evidence.Where(one => !one.Results.IsEmpty).Select(one => Words.Clean(one.Words)))}.";
    }

    private static ReportBlock.Table Table(WorkArea area, Unit unit) => new(
        "position error",
        Columns,
        [.. WorkAreaPicture.Grid(area, TableSteps).Select(at => Row(area, at, unit))]);

    private static ImmutableArray<ReportCell> Row(WorkArea area, (double X, double Y) at, Unit unit)
    {
        double In(double mm) => mm / unit.Factor;
        var (vector, expanded) = (area.VectorAt(at.X, at.Y)!.Value, area.ExpandedAt(at.X, at.Y)!.Value);
        // The corner that lengths are counted from is where it is by construction.
        ReportCell Shown(double mm, bool signed = true) => new(mm == 0 ? "0" : ValueFormat.Pair(In(mm), expanded > 0 ? In(expanded) : null, signed).Value, IsNumber: true);
        return
        [
            FindingSections.Number(In(at.X), "0.###"), FindingSections.Number(In(at.Y), "0.###"),
            Shown(vector.X), Shown(vector.Y), Shown(area.ErrorAt(at.X, at.Y)!.Value, signed: false),
            expanded > 0 ? new ReportCell(ValueFormat.Pair(In(expanded), In(expanded)).Uncertainty!, IsNumber: true) : "none: nothing measured adds here",
            unit.Symbol, expanded > 0 ? FindingSections.Number(WorkArea.CoverageFactor, "0.00") : "",
        ];
    }
}
