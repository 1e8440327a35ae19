using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Upkeep;

namespace Commission.Core.Reports;

/// <summary>What a report says about the position error over the work area, and how results of different procedures compare.</summary>
internal static class WorkAreaSection
{
    /// <summary>The section.</summary>
    public static ReportSection Of(Ledger ledger, Machine machine) => new("Position error over the work area", 1,
    [
        new ReportBlock.Paragraph(WorkArea.Of(ledger, machine).Sentence),
        new ReportBlock.Items([.. CrossCheck.All(ledger, machine.Name).Select(check => check.Sentence)]),
    ]);
}
