using System.Collections.Immutable;
using Commission.Core.History;
using Commission.Core.Machines.Dialects;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>What a report says about settings, changes, checks and instruments.</summary>
internal static class SettingsSections
{
    /// <summary>Changes told and settings written, oldest first.</summary>
    public static ReportSection Changes(Ledger ledger, ReportScope scope) => Changes(ledger, scope, EntryRange.All);

    /// <summary>Changes told and settings written within a range of entries.</summary>
    public static ReportSection Changes(Ledger ledger, ReportScope scope, EntryRange range) => new("Changes and settings", 1,
    [
        new ReportBlock.Table(
            "change",
            ["entry", "at", "change", "axis", "what happened"],
            [.. ledger.Changes.Where(c => c.Counts && c.Told.Body.Machine == scope.Machine.Name && range.Holds(c.Told.Sequence)).Select(c => (ImmutableArray<ReportCell>)
                [FindingSections.Number(c.Told.Sequence, "0"), At(c.Told.At), c.Told.Body.Change, c.Told.Body.Axis ?? "", c.Told.Body.Text])]),
        new ReportBlock.Table(
            "setting",
            ["entry", "at", "setting", "axis", "before", "after", "read back", "unit", "stage"],
            [.. ledger.SettingsWritten.Where(w => w.Body.Machine == scope.Machine.Name && range.Holds(w.Sequence)).Select(w => (ImmutableArray<ReportCell>)
                [
                    FindingSections.Number(w.Sequence, "0"), At(w.At), SettingName.InWords(w.Body.Name), w.Body.Axis ?? "", Maybe(w.Body.Before),
                    FindingSections.Number(w.Body.After, "0.########"), Maybe(w.Body.ReadBack), SettingUnit.Of(ledger, w.Body), w.Body.Stage,
                ])]),
    ]);

    /// <summary>The latest check of each key.</summary>
    public static ReportSection Checks(Ledger ledger, ReportScope scope) =>
        CheckSections.Of(ledger, scope, ledger.LatestChecks(scope.Machine.Name).Select(latest => latest.Made));

    /// <summary>Skips that nothing has made good.</summary>
    public static IEnumerable<string> OpenSkips(Ledger ledger, ReportScope scope) =>
        ledger.OpenSkips.Where(s => s.Made.Body.Machine == scope.Machine.Name)
            .Select(s => Invariant($"Skipped and still open: {s.Words} ({s.Made.Body.Reason})"));

    private static ReportCell Maybe(double? value) => value is { } number ? FindingSections.Number(number, "0.########") : "not known";

    private static string At(DateTimeOffset at) => Invariant($"{at:yyyy-MM-dd HH:mm zzz}");
}
