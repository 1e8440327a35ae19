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
