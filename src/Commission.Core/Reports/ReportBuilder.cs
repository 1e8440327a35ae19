using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Upkeep;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>Makes the report of one machine from what its store holds: findings first, then what they rest on, then what was not done.</summary>
public static class ReportBuilder
{
    /// <summary>The state of a machine.</summary>
    /// <param name="ledger">The ledger up to the instant of the report.</param>
    /// <param name="scope">What it tells of.</param>
    public static Report Build(Ledger ledger, ReportScope scope) => new()
    {
        Title = Invariant($"Commissioning report: {scope.Machine.Name}"),
        AsOf = scope.AsOf,
        Practice = ledger.Born?.Body.Nature == StoreNature.Practice,
        Sections = Filled(State(ledger, scope, [])),
    };

    /// <summary>The sections of the state of a machine.</summary>
    /// <param name="ledger">The ledger up to the instant of the state.</param>
    /// <param name="scope">What it tells of.</param>
    /// <param name="elsewhere">Entries of findings that count here too and are told in full at another place of the same report.</param>
    internal static ImmutableArray<ReportSection> State(Ledger ledger, ReportScope scope, IReadOnlyCollection<long> elsewhere)
    {
        var latest = Latest(ledger, scope);
        var told = latest.FindAll(finding => !elsewhere.Contains(finding.Sequence));
        return
        [
            Summary(ledger, scope, latest),
            AcceptanceSection.Of(ledger, scope, latest),
            StandingSections.Of(scope),
            WorkAreaSection.Of(ledger, scope),
            .. told.Select(finding => FindingSections.Of(ledger, scope, finding)),
            .. TrendSections.Of(scope),
            NotDone(ledger, scope),
            SettingsSections.Changes(ledger, scope),
            SettingsSections.Checks(ledger, scope),
            InstrumentSection.Of(ledger, scope, latest),
            Methods(latest),
            Machine(scope),
            Origin(scope),
            new ReportSection("Raw readings", 1, [new ReportBlock.Paragraph("As typed and as understood; what was left out or replaced stands here with its reason.")]),
            .. told.Select(finding => FindingSections.RawOf(ledger, scope, finding)),
        ];
    }

    /// <summary>The sections; where one has nothing to tell, it says so.</summary>
    internal static ImmutableArray<ReportSection> Filled(ImmutableArray<ReportSection> sections) =>
        [.. sections.Select(section => section.Blocks.All(Empty) ? section with { Blocks = [new ReportBlock.Paragraph("None.")] } : section)];

    private static bool Empty(ReportBlock block) => block is ReportBlock.Items { Lines.IsEmpty: true } or ReportBlock.Table { Rows.IsEmpty: true };

    /// <summary>The finding of each key that counts, in the order of the kinds.</summary>
    internal static List<FindingRecord> Latest(Ledger ledger, ReportScope scope) => [.. ledger.FindingsInForce(scope.Machine.Name)];

    /// <summary>Findings in a table, one a row.</summary>
    internal static ReportBlock.Table Table(ReportScope scope, IEnumerable<FindingRecord> findings)
    {
        var upkeep = StandingSections.Upkeep(scope);
        return new(
            "finding",
            ["characteristic", "axis", "place", "value", "U", "unit", "k", "verdict", "advice", "stands", "age, days", "made at", "entry"],
            [.. findings.Select(finding => Row(scope, finding, upkeep))]);
    }

    /// <summary>Where a report comes from: the journal with its count and hash, the program.</summary>
    internal static ReportSection Origin(ReportScope scope) => new("Where this comes from", 1,
    [
        new ReportBlock.Items(
        [
            Invariant($"journal: {scope.Entries} entries, hash of the last one {scope.Tip}"),
            $"written by commission {scope.Program}",
        ]),
    ]);

    /// <summary>The methods behind findings, with their versions.</summary>
    internal static ReportSection Methods(IEnumerable<FindingRecord> findings) => new("Methods", 1,
    [
        new ReportBlock.Items(
        [
            .. findings.Select(finding => finding.Made.Body.Finding).GroupBy(finding => finding.Method).OrderBy(g => g.Key, StringComparer.Ordinal)
                .Select(g => $"{g.Key}: {CharacteristicKinds.TitleOf(g.First().Kind)}"),
            "U is the expanded uncertainty: the standard uncertainty of all that stands in its table, times k, which comes from the distribution of its parts",
            "within and outside count a guard band: the value with its uncertainty lies on one side of the limit; else undecided",
        ]),
    ]);

    private static ReportSection Summary(Ledger ledger, ReportScope scope, List<FindingRecord> latest) => new("Findings", 1,
    [
        new ReportBlock.Paragraph(Invariant($"State as of {scope.AsOf:yyyy-MM-dd HH:mm zzz}. {latest.Count} {(latest.Count == 1 ? "finding counts" : "findings count")}. U is the expanded uncertainty; its coverage factor k and what it contains stand with every finding.")),
        Table(scope, latest),
        FindingSections.Reasons(latest),
        new ReportBlock.Items([.. SettingsSections.OpenSkips(ledger, scope)]),
    ]);

    private static ImmutableArray<ReportCell> Row(ReportScope scope, FindingRecord finding, MachineUpkeep upkeep)
    {
        var made = finding.Made.Body;
        var headline = FindingSections.Headline(made.Finding, scope.Units);
        var age = (scope.AsOf - finding.Made.At).TotalDays;
        return
        [
            CharacteristicKinds.TitleOf(made.Characteristic), made.Axis ?? "", made.Place ?? "",
            headline.Value, FindingSections.Short(headline), headline.Unit, headline.Factor,
            FindingWords.Of(made.Finding.Verdict), FindingWords.Of(made.Finding.Advice.Action).Replace('-', ' '), StandingWords.Of(finding, upkeep),
            FindingSections.Number(age, "0.0"), Invariant($"{finding.Made.At:yyyy-MM-dd HH:mm zzz}"), FindingSections.Number(finding.Sequence, "0"),
        ];
    }

    private static ReportSection NotDone(Ledger ledger, ReportScope scope)
    {
        // A quantity found by one way is found: other ways to it are no omissions.
        var never = StandingSections.Upkeep(scope).All.Where(state => state.Standing == Standing.Never)
            .ToLookup(state => WorkGraph.Find(state.Key.Item) is { Findings.IsEmpty: false });
        var failed = ledger.LatestChecks(scope.Machine.Name).Where(check => !check.Made.Body.Passed);
        var withdrawn = ledger.Findings.Values.Where(f => !f.Counts && f.Made.Body.Machine == scope.Machine.Name);
        ImmutableArray<string> omitted =
        [
            .. Named("Never done: ", never[false]),
            .. Named("Not yet measured: ", never[true]),
            .. failed.Select(check => Invariant($"Checked and not passed: {check.Key.Words}, entry {check.Made.Sequence}")),
            .. withdrawn.Select(f => Invariant($"Withdrawn: finding {f.Sequence} of {f.Made.Body.Characteristic} ({f.Withdrawn!.Body.Reason})")),
            .. SettingsSections.OpenSkips(ledger, scope),
        ];
        return new ReportSection("What was not checked", 1,
        [
            new ReportBlock.Paragraph("This report tells what was checked. It does not say that the machine, its wiring or its guards are without danger."),
            new ReportBlock.Items(omitted.IsEmpty ? ["Of the order of work nothing is missing, no check failed and none is skipped."] : omitted),
        ]);
    }

    private static ImmutableArray<string> Named(string begin, IEnumerable<ResultState> states) =>
        [.. states.GroupBy(state => state.Key.Item)
            .Select(item => (StandingSections.Title(item.First().Key) + " " + string.Join(" and ", item.Select(state => state.Key.Axis).OfType<string>())).TrimEnd())
            .ToList() is { Count: > 0 } titles ? (string[])[begin + string.Join(", ", titles)] : []];

    private static ReportSection Machine(ReportScope scope) => new("The machine as described", 1, [new ReportBlock.Verbatim([.. MachineText.Lines(scope.Machine)])]);
}
