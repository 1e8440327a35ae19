using System.Collections.Immutable;
using Commission.Core.History;
using Commission.Core.Reports;
using Commission.Core.Upkeep;

namespace Commission.Core.Tests.Reports;

/// <summary>Whether a difference between two findings is larger than its uncertainty.</summary>
public sealed class ComparisonReportTests
{
    private static readonly Machine Heron = new() { Name = "Heron", TravelMm = [420, 580, 90] };

    [Theory]
    // Fresh parts of 30 and 40 make 50, with k = 2 a U of 100; the part both share through the caliper falls out.
    [InlineData("caliper", 99e-6, "no difference beyond U")]
    [InlineData("caliper", 101e-6, "differs by more than U")]
    // With another instrument the shared part of 120 counts twice: 2 sqrt(30^2 + 120^2 + 40^2 + 120^2) = 354.
    [InlineData("rule", 353e-6, "no difference beyond U")]
    [InlineData("rule", 355e-6, "differs by more than U")]
    public void What_one_instrument_does_to_both_results_alike_is_not_counted(string second, double difference, string says)
    {
        var then = Made(2, "caliper", 0, 30e-6);
        var now = Made(3, second, difference, 40e-6);
        var report = ComparisonReport.Build(Ledger.From([Described, then]), Scope([Described, then]), Ledger.From([Described, then, now]), Scope([Described, then, now]));
        var row = Assert.Single(report.Sections[0].Blocks.OfType<ReportBlock.Table>().Single().Rows);
        Assert.Equal(says, row[13].Text);
    }

    [Fact]
    public void What_was_not_known_then_is_told_as_such()
    {
        var now = Made(2, "caliper", 0, 30e-6);
        var report = ComparisonReport.Build(Ledger.From([Described]), Scope([Described]), Ledger.From([Described, now]), Scope([Described, now]));
        Assert.Equal("not known then", Assert.Single(report.Sections[0].Blocks.OfType<ReportBlock.Table>().Single().Rows)[13].Text);
    }

    [Fact]
    public void Both_states_follow_the_table_each_under_its_own_instant_and_a_finding_of_both_is_told_once()
    {
        var (one, two) = (Made(2, "caliper", 0, 30e-6), Made(3, "caliper", 1e-4, 30e-6));
        ImmutableArray<JournalEntry> after = [Described, one, two];
        var report = ComparisonReport.Build(Ledger.From([Described, one]), Scope([Described, one]), Ledger.From(after), Scope(after));
        var titles = report.Sections.Select(section => section.Title).ToList();
        Assert.Equal("What differs", titles[0]);
        Assert.Distinct(report.Sections.Where(section => section.Level == 1).Select(section => section.Title));
        foreach (var instant in (string[])["1970-01-03 00:00 +00:00", "1970-01-04 00:00 +00:00"])
        {
            foreach (var title in (string[])["Findings", "Against the class of work", "How every result stands", "axis scale X", "What was not checked", "Instruments", "Methods", "Where this comes from", "Raw readings"])
                Assert.Contains($"{title}, as of {instant}", titles);
        }

        Assert.Equal("Heron: 1970-01-03 00:00 +00:00 against 1970-01-04 00:00 +00:00", report.Title);
        // The same finding in both: once.
        var same = ComparisonReport.Build(Ledger.From([Described, one]), Scope([Described, one]), Ledger.From([Described, one]), Scope([Described, one]) with { AsOf = DateTimeOffset.UnixEpoch.AddDays(9) });
        Assert.Equal(["axis scale X, as of 1970-01-10 00:00 +00:00"], same.Sections.Where(section => section.Level == 1 && section.Title.StartsWith("axis scale", StringComparison.Ordinal)).Select(section => section.Title));
    }

    [Fact]
    public void Instants_of_one_minute_are_told_apart_by_their_seconds()
    {
        ImmutableArray<JournalEntry> all = [Described];
        var report = ComparisonReport.Build(Ledger.From(all), Scope(all), Ledger.From(all), Scope(all) with { AsOf = all[0].At.AddSeconds(7) });
        Assert.Equal("Heron: 1970-01-02 00:00:00 +00:00 against 1970-01-02 00:00:07 +00:00", report.Title);
    }

    [Fact]
    public void What_was_withdrawn_failed_or_skipped_between_the_two_is_told_with_its_reason()
    {
        var made = Made(2, "caliper", 0, 30e-6);
        ImmutableArray<JournalEntry> then = [Described, made, Entry(3, new EntryBody.Skipped("list", "P31", "no meter") { Machine = "Heron" })];
        ImmutableArray<JournalEntry> now =
        [
            .. then, Entry(4, new EntryBody.Withdrawn(2, "the block was dirty") { Machine = "Heron" }), Entry(5, new EntryBody.Skipped("list", "P08", "no plug to pull") { Machine = "Heron" }),
            Entry(6, new EntryBody.Checked { Machine = "Heron", Step = "list", Check = "P05", Typed = "no", Limit = "yes", Passed = false }),
            Entry(7, new EntryBody.Checked { Machine = "Heron", Step = "list", Check = "P31", Typed = "yes", Limit = "yes", Passed = true }),
        ];
        var report = MarkdownReport.Write(ComparisonReport.Build(Ledger.From(then), Scope(then), Ledger.From(now), Scope(now)));
        Assert.Contains("| withdrawn: the block was dirty (entry 4) | 2 /", report, StringComparison.Ordinal);
        Assert.Contains("- Withdrawn: axis scale X, finding of entry 2: the block was dirty (entry 4)", report, StringComparison.Ordinal);
        Assert.Contains("- Skipped and still open: P08 (no plug to pull), entry 5", report, StringComparison.Ordinal);
        Assert.Contains("- Made good: P31, skipped in entry 3 (no meter)", report, StringComparison.Ordinal);
        Assert.Matches(@"## Checks between\n\n(\|.*\n){2}\| P05 \|.*\| no \|", report);
    }

    private static JournalEntry Described { get; } = Entry(1, new EntryBody.MachineDescribed(Heron, Retired: false) { Machine = Heron.Name });

    private static JournalEntry Made(long sequence, string instrument, double value, double fresh)
    {
        const double shared = 120e-6;
        var u = Math.Sqrt((fresh * fresh) + (shared * shared));
        return Entry(sequence, new EntryBody.FindingMade
        {
            Machine = Heron.Name,
            Characteristic = "axis-scale",
            Axis = "X",
            Instrument = instrument,
            Options = new FitOptions(),
            Finding = new Finding
            {
                Kind = "axis-scale", Method = "axis-scale/1", Rows = 4, Used = 4, Verdict = Verdict.None,
                Parameters = [new FittedParameter { Name = "scaleError", Unit = "1", Value = value, FreshUncertainty = fresh, SharedUncertainty = shared, StandardUncertainty = u, CoverageFactor = 2, ExpandedUncertainty = 2 * u }],
                Advice = new Advice { Action = AdviceAction.Leave, Because = "nothing" },
            },
        });
    }

    private static JournalEntry Entry(long sequence, EntryBody body) => new($"abc:{sequence}", sequence, DateTimeOffset.UnixEpoch.AddDays(sequence), body);

    private static ReportScope Scope(ImmutableArray<JournalEntry> entries) => new()
    {
        Machine = Heron, AsOf = entries[^1].At, Entries = entries.Length, Tip = "0", Program = "1", Upkeep = UpkeepFold.From(entries),
    };
}
