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
        new("Checks", 1, [Checks(ledger, scope, ledger.LatestChecks(scope.Machine.Name).Select(latest => latest.Made))]);

    /// <summary>Checks in a table.</summary>
    public static ReportBlock.Table Checks(Ledger ledger, ReportScope scope, IEnumerable<Entered<EntryBody.Checked>> checks) => new(
            "check",
            ["check", "found", "limit", "source of the limit", "passed", "by", "at"],
            [.. checks.Select(c => (ImmutableArray<ReportCell>)
                [
                    ledger.KeyOf(c.Body).Words, CheckText.Found(c.Body, scope.Units), CheckText.Limit(c.Body, scope.Units), c.Body.Source ?? "none named", c.Body.Passed ? "yes" : "no",
                    c.Body.Operator is { } person ? scope.Person(person) : "", At(c.At),
                ])]);

    /// <summary>Skips that nothing has made good.</summary>
    public static IEnumerable<string> OpenSkips(Ledger ledger, ReportScope scope) =>
        ledger.OpenSkips.Where(s => s.Made.Body.Machine == scope.Machine.Name)
            .Select(s => Invariant($"Skipped and still open: {s.Words} ({s.Made.Body.Reason})"));

    /// <summary>The instruments that the findings rest on, with the hand studies.</summary>
    public static ReportSection Instruments(Ledger ledger, IEnumerable<FindingRecord> findings)
    {
        var used = findings.Select(f => f.Made.Body.Options.Instrument).OfType<Instruments.Instrument>().DistinctBy(i => i.Name).OrderBy(i => i.Name, StringComparer.Ordinal).ToList();
        var studies = ledger.Studies.Where(s => used.Any(i => i.Name == s.Body.Study.Instrument));
        return new ReportSection("Instruments", 1,
        [
            new ReportBlock.Items(
            [
                .. used.Select(i => InstrumentText.Line(i, retired: false)),
                .. studies.Select(s => EntryText.What(s.Body)),
            ]),
        ]);
    }

    private static ReportCell Maybe(double? value) => value is { } number ? FindingSections.Number(number, "0.########") : "not known";

    private static string At(DateTimeOffset at) => Invariant($"{at:yyyy-MM-dd HH:mm zzz}");
}
