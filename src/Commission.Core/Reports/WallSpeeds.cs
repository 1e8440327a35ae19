using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>The speeds on the card for the wall: first the one to set, then the one at which no step was lost, which is higher and never set.</summary>
internal static class WallSpeeds
{
    private const string Unit = "mm/min";

    // What may be many is cut, so that the card stays one page; the cut says so.
    private const int Most = 5;

    /// <summary>The section.</summary>
    /// <param name="scope">What the card tells of.</param>
    /// <param name="latest">The findings that count.</param>
    public static ReportSection Of(ReportScope scope, IEnumerable<FindingRecord> latest)
    {
        var found = Ladders(latest).ToList();
        return new ReportSection("Greatest speed to set", 1, found.Count == 0
            ? [new ReportBlock.Paragraph("Not measured: see the procedure speed-ladder.")]
            :
            [
                new ReportBlock.Table("speed", ["axis", "set at most", "no step lost up to", "U", "unit", "k", "measured"], [.. found.Take(Most).Select(one => Row(scope, one.Finding, one.Limit))]),
                FindingSections.Reasons(found.Take(Most).Select(one => (one.Finding.Made.Body, one.Limit))),
                new ReportBlock.Paragraph("Set at most seven tenths of the speed at which no step was lost."),
                .. found.Count > Most ? (ReadOnlySpan<ReportBlock>)[new ReportBlock.Paragraph(Invariant($"And {found.Count - Most} more speeds, see the report."))] : [],
            ]);
    }

    /// <summary>The greatest speed to set on an axis, with its unit; null where no ladder found a limit.</summary>
    /// <param name="scope">What the card tells of.</param>
    /// <param name="latest">The findings that count.</param>
    /// <param name="axis">The axis.</param>
    public static string? Allowed(ReportScope scope, IEnumerable<FindingRecord> latest, AxisName axis) =>
        Ladders(latest).LastOrDefault(one => one.Finding.Made.Body.Axis == MachineWords.Of(MachineWords.Axes, axis)).Limit?.Value is { } limit
            ? $"{Set(scope, limit)} {scope.Units.Of(Unit).Symbol}" : null;

    private static IEnumerable<(FindingRecord Finding, FittedParameter Limit)> Ladders(IEnumerable<FindingRecord> latest) => latest
        .Where(finding => finding.Made.Body.Axis is not null && finding.Made.Body.Finding.Parameter("limit") is not null)
        .Select(finding => (finding, finding.Made.Body.Finding.Parameter("limit")!));

    private static ImmutableArray<ReportCell> Row(ReportScope scope, FindingRecord finding, FittedParameter limit)
    {
        var cells = FindingSections.Shown(limit, scope.Units);
        ReportCell set = limit.Value is { } clean ? new ReportCell(Set(scope, clean), IsNumber: true) : "none";
        return [finding.Made.Body.Axis!, set, cells.Value, FindingSections.Short(cells), cells.Unit, cells.Factor, WallCard.Day(finding.Made.At)];
    }

    // To the same digits as the advice of the finding.
    private static string Set(ReportScope scope, double limit)
    {
        var unit = scope.Units.Of(Unit);
        return (SpeedLadder.Allowed(limit) / unit.Factor).ToString(unit.Symbol == Unit ? "0" : "0.00", CultureInfo.InvariantCulture);
    }
}
