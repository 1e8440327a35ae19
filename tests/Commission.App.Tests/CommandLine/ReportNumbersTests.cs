using System.Collections.Immutable;
using System.Text.RegularExpressions;
using Commission.Adapters.Storage;
using Commission.Core.Characteristics;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Core.Upkeep;
using Commission.Tests;
using Commission.Workshop.Requests;

namespace Commission.App.Tests.CommandLine;

/// <summary>Walks every number of every report: in a table its unit stands in the head or in the row, in a sentence behind it; results have U and k or the reason why not.</summary>
public sealed partial class ReportNumbersTests : OwnFolder
{
    private static readonly string[] Walked = ["first-power-up", "gauge-study", "axis-scale", "backlash", "speed-ladder", "tram", "noise"];

    // Numbers that have no unit, by the head of their column.
    private static readonly ImmutableHashSet<string> Bare = ["k", "k then", "k now", "k of it", "coverage", "degrees of freedom", "entry", "entries", "no", "epoch", "trial", "setup"];

    // Numbers whose unit stands in the column "unit" of their row.
    private static readonly ImmutableHashSet<string> ByRow =
    [
        "value", "U", "u fresh", "u shared", "limit", "level", "reading", "then", "U then", "now", "U now", "difference", "U of it", "before", "after", "read back",
        "X", "Y", "error X", "error Y", "position error", "set at most", "no step lost up to", "U, largest of any direction",
    ];

    // As people typed it, or a name; what it was understood as stands beside it with its unit.
    private static readonly ImmutableHashSet<string> Typed = ["typed", "place", "object", "check", "instrument", "parameter", "unit", "what happened", "reason", "source of the limit", "left out", "question", "statement"];

    // Results with what they need beside them: U, and k where U is a number.
    private static readonly (string Value, string U, string K)[] Results =
        [("value", "U", "k"), ("then", "U then", "k then"), ("now", "U now", "k now"), ("difference", "U of it", "k of it"), ("position error", "U, largest of any direction", "k")];

    [Theory]
    [InlineData("mm", false)]
    [InlineData("in", false)]
    [InlineData(null, true)]
    public async Task Every_number_of_every_report_has_its_unit_and_every_result_U_and_k_or_the_reason_why_not(string? units, bool inchMachine)
    {
        var store = Path.Combine(Folder, "store");
        Assert.Equal(0, (await CommandLine.Typed.Run(["rehearse", "--seed", "11", "--walk", .. Walked, "--keep", "--store", store])).Code);
        using var journal = new Stores("0.1.0-test", TimeProvider.System).Open(store, StoreNature.Practice, write: true).Require();
        Later(journal);
        if (inchMachine)
            journal.Append(new EntryBody.MachineDescribed(journal.Present(null).Ledger.Machines["Heron"].Description with { Units = LengthUnit.Inch }, Retired: false) { Machine = "Heron" }).Require();
        var plain = new ReportRequest { Units = units is null ? null : ShownUnits.Named(units) };
        var run = journal.Entries().First(entry => entry.Body is EntryBody.RunStarted { Procedure: "axis-scale" }).Sequence;
        List<Report> reports = [.. new[] { plain, plain with { Card = true }, plain with { Session = run } }.Select(request => new WriteReport(journal, "0.1.0-test", ReportContentTests.Library.Shipped).Run(request).Require()), Compared([.. journal.Entries()], ShownUnits.Of(units != "mm"))];
        List<string> faults = [];
        var told = 0;
        // Hazards are words of the procedure, as questions and statements are.
        foreach (var section in reports.SelectMany(report => report.Sections).Where(section => section.Title != "Hazards"))
            told += section.Blocks.Sum(block => Look(section.Title, block, faults));
        if (units != "mm")
            faults.AddRange(reports.SelectMany(report => report.Sections).SelectMany(Metric));
        Assert.True(faults.Count == 0, string.Join('\n', faults.Distinct()));
        Assert.True(told > 1500, $"{told} numbers");
    }

    // What a walk leaves out: settings written and told, a change, a skip, a result of a day before.
    private static void Later(IStoreFolder journal)
    {
        foreach (var body in (EntryBody[])[
            new EntryBody.SettingWritten { Key = "110", Name = "greatestRate", Axis = "X", Before = 3000, After = 2800, ReadBack = 2800, Stage = "read-back" },
            new EntryBody.SettingWritten { Name = "stepsPerInch", Axis = "Y", Before = 8128, After = 8120, Stage = "told" },
            new EntryBody.SettingWritten { Name = "homeOffset", Axis = "Y", After = 0.35, Stage = "told" },
            new EntryBody.ChangeTold("machine-moved", null, "3 m across the shop"),
            new EntryBody.Skipped("list", "P08", "no plug to pull"),
            ((EntryBody.FindingMade)journal.Entries().Last(entry => entry.Body is EntryBody.FindingMade { Characteristic: "axis-scale", Axis: "X" }).Body) with { Run = null }])
        {
            journal.Append(body with { Machine = "Heron" }).Require();
        }
    }

    // Within one walk no two instants need differ: the two states are made by their last entry.
    private static Report Compared(List<JournalEntry> all, ShownUnits units)
    {
        ReportScope Scope(List<JournalEntry> entries) => new()
        {
            Machine = Ledger.From(entries).Machines["Heron"].Description, AsOf = entries[^1].At, Entries = entries.Count, Tip = new string('0', 64), Program = "0.1.0-test", Upkeep = UpkeepFold.From(entries), Units = units, Procedures = ReportContentTests.Library.Shipped,
        };
        var then = all[..(1 + all.FindIndex(entry => entry.Body is EntryBody.FindingMade { Characteristic: "axis-scale", Axis: "X" }))];
        return ComparisonReport.Build(Ledger.From(then), Scope(then), Ledger.From(all), Scope(all));
    }

    // What stands in millimetres in a report in inches. Settings stay as the controller has them, and what was typed as it was typed.
    private static IEnumerable<string> Metric(ReportSection section) => section.Title.StartsWith("Changes and settings", StringComparison.Ordinal) || section.Title.StartsWith("Settings, as", StringComparison.Ordinal) ? [] : section.Blocks
        .SelectMany(block => block switch
        {
            ReportBlock.Paragraph paragraph => [paragraph.Text],
            ReportBlock.Items items => items.Lines,
            ReportBlock.Picture { Figure: var figure } => [figure.Title, figure.Horizontal, figure.Vertical, figure.Summary, .. figure.Layers.Select(layer => layer switch { FigureLayer.Points one => one.Name, FigureLayer.Line one => one.Name, FigureLayer.Band one => one.Name, FigureLayer.Event one => one.Name, _ => "" })],
            ReportBlock.Table table => table.Rows.SelectMany(row => row.Zip(table.Headers).Where(cell => cell.Second is not ("typed" or "what happened" or "limit from")).Select(cell => cell.First.Text)).Concat(table.Headers),
            _ => (IEnumerable<string>)[],
        }).Where(text => Millimetres().IsMatch(text)).Select(text => $"{section.Title}: in millimetres: {text}");

    private static int Look(string section, ReportBlock block, List<string> faults) => block switch
    {
        ReportBlock.Paragraph paragraph => Look(section, paragraph.Text, faults),
        ReportBlock.Items items => items.Lines.Sum(line => Look(section, line, faults)),
        ReportBlock.Picture picture => Look(section, picture.Figure.Summary, faults),
        ReportBlock.Table table => table.Rows.Sum(row => Look($"{section}, {table.Name}", table.Headers, row, faults)),
        // The machine's description as its file has it: keys name the units.
        _ => 0,
    };

    private static int Look(string where, ImmutableArray<string> heads, ImmutableArray<ReportCell> row, List<string> faults)
    {
        string Cell(string head) => heads.IndexOf(head) is var at and >= 0 ? row[at].Text : "";
        bool IsNumber(string head) => heads.IndexOf(head) is var at and >= 0 && row[at].IsNumber;
        var told = 0;
        foreach (var (head, cell) in heads.Zip(row))
        {
            if (!cell.IsNumber && !Typed.Contains(head))
                told += Look($"{where}, {head}", cell.Text, faults);
            if (!cell.IsNumber)
                continue;
            told++;
            if (!Bare.Contains(head) && !Headed().IsMatch(head) && !(ByRow.Contains(head) && Cell("unit").Length > 0))
                faults.Add($"{where}: {head} {cell.Text} has no unit");
        }

        foreach (var (value, u, k) in Results.Where(result => IsNumber(result.Value)))
        {
            if (IsNumber(u) ? !IsNumber(k) : !Cell(u).StartsWith("none", StringComparison.Ordinal))
                faults.Add($"{where}: {value} {Cell(value)} has U {Cell(u)} and k {Cell(k)}");
        }

        return told;
    }

    private static int Look(string where, string sentence, List<string> faults)
    {
        var rest = Names().Replace(sentence, " ~ ");
        rest = Counts().Replace(Quantities().Replace(Quantities().Replace(rest, " ~ "), " ~ "), " ~ ");
        if (AnyNumber().IsMatch(rest))
            faults.Add($"{where}: \"{rest}\"");
        return AnyNumber().Count(sentence);
    }

    // Slopes and ratios are the controller's own, or the same number in inches.
    [GeneratedRegex(@"(?<![\w/])(mm|um)(?!\w|/m\b|/step)|_mm$")]
    private static partial Regex Millimetres();

    [GeneratedRegex("(_(mm|in|deg|rad|n|lbf|h|mm_min|in_min)|, (%|days))$|^hours$")]
    private static partial Regex Headed();

    // A count of checks stands alone; days, entries, checks, methods with their version, standards, hashes, seeds, and factors that are named.
    [GeneratedRegex("""
        \d{4}-\d\d-\d\d(\ \d\d:\d\d(:\d\d)?)?(\ [+-]\d\d:\d\d)? | \b\d\d?\ (Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)(\ \d{4})? | \bentr(y|ies)\ \d+(\ (to|and)\ \d+)? | ^\d*\ /\ \d*$ | \bP\d\d[a-z]?\b
        | ^(from\ )?\d+(\ to\ \d+)?$ | \b[a-z][a-z-]*(/|-)\d+\b | \bISO\ \d[\d:-]* | \b[0-9a-f]{32,}\b | \bhash\ [0-9a-f]{12}\b | \bseed\ \d+ | \bcommission\ \d[^ ]* | \bk\ ?=\ ?\d+(\.\d+)? | \bBirge\ ratio\ \d+\.\d+
        """, RegexOptions.IgnorePatternWhitespace)]
    private static partial Regex Names();

    // One number, or several that share the unit behind the last.
    [GeneratedRegex("""
        ([A-Z]\ )?(?<![\w.])[+-]?\d+(\.\d+)?([ ]?(,|to|and|x|by|or|\+/-|instead\ of)[ ]?([A-Z]\ )?[+-]?\d+(\.\d+)?)*
        [ ]?(mm/min|mm/m|mm\ per\ m|mm/s2|mm/s|mm|um|ppm|mrad|rad|deg(rees)?|in/min|in/m|in|N/mm|lbf/in|N\ m|N|V|A|Mohm|ohm|K|degC|us|m|min(utes)?|hours?|h|days?|months?|years?|s|%|1/h|1/in|more\ hours|steps/(mm|in)|mm/step|an\ hour|thousandths\ of\ an\ inch|teeth|times)(?![A-Za-z])
        """, RegexOptions.IgnorePatternWhitespace)]
    private static partial Regex Quantities();

    [GeneratedRegex("""
        \d+(\ of\ \d+)?\ (more\ |equal\ |full\ |degrees\ of\ )?(readings?|findings?|places?|repeats?|turns?|rungs?|points?|entries|positions?|residuals?|distances?|results?|counts?|degrees|freedom|angles?|heights?|events?|trips?|sets?|hits?|objects?|trials?)\b
        """, RegexOptions.IgnorePatternWhitespace)]
    private static partial Regex Counts();

    [GeneratedRegex(@"(?<![A-Za-z_\d.])[+-]?\d+(\.\d+)?")]
    private static partial Regex AnyNumber();
}
