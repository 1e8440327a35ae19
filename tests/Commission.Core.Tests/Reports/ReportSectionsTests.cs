using System.Collections.Immutable;
using Commission.Core.History;
using Commission.Core.Instruments;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Core.Tests.History;
using Commission.Core.Upkeep;

namespace Commission.Core.Tests.Reports;

/// <summary>What single sections of a report say.</summary>
public sealed class ReportSectionsTests
{
    private static readonly Machine Heron = new() { Name = "Heron", TravelMm = [420, 580, 90] };
    private static readonly Instrument Caliper = new("caliper", InstrumentKind.CaliperDigital, 0.03, 0.01, 150, "its sheet");

    [Fact]
    public void A_quantity_found_by_one_way_is_no_omission_of_the_others()
    {
        var found = With(LedgerTests.Found("square-reversal", null), Known);
        var line = Assert.Single(Lines("What was not checked", found), line => line.StartsWith("Not yet measured: ", StringComparison.Ordinal));
        Assert.DoesNotContain("squareness of X and Y", line, StringComparison.Ordinal);
        Assert.DoesNotContain("plate", line, StringComparison.Ordinal);
        Assert.Contains("lost motion X and Y and Z", line, StringComparison.Ordinal);
        Assert.Contains("squareness of X and Y", Assert.Single(Lines("What was not checked", With(LedgerTests.Found("tram", null), Known)), line => line.StartsWith("Not yet measured: ", StringComparison.Ordinal)), StringComparison.Ordinal);
    }

    [Theory]
    // U 0.0094 has four decimals, its parts five: 0.00000017 is nothing beside it.
    [InlineData(0.0094, 0.00000017, "0")]
    [InlineData(0.019, 0, "0")]
    [InlineData(0.019, 1e-20, "0")]
    [InlineData(0.019, 0.0091, "0.0091")]
    [InlineData(0.0056, 0.00027, "0.00027")]
    public void A_part_of_U_is_told_to_one_digit_more_than_U_and_nothing_as_0(double u, double shared, string shown)
    {
        var found = With(LedgerTests.Found("axis-scale", "X"), new FittedParameter { Name = "zero", Unit = "mm", Value = 1, StandardUncertainty = u / 2, FreshUncertainty = u / 2, SharedUncertainty = shared, ExpandedUncertainty = u, CoverageFactor = 2 });
        var table = Section("axis scale X", found).Blocks.OfType<ReportBlock.Table>().First();
        Assert.Equal(shown, table.Rows[0][table.Headers.IndexOf("u shared")].Text);
    }

    [Fact]
    public void The_reason_why_there_is_no_U_stands_below_the_table()
    {
        var found = With(LedgerTests.Found("axis-scale", "X"), new FittedParameter { Name = "zero", Unit = "mm", Value = 1, WhyNoUncertainty = "no instrument named" }, new FittedParameter { Name = "reversal", Unit = "mm", WhyNoUncertainty = "one direction only" });
        var section = Section("axis scale X", found);
        Assert.Equal("none", section.Blocks.OfType<ReportBlock.Table>().First().Rows[0][2].Text);
        var lines = section.Blocks.OfType<ReportBlock.Items>().SelectMany(items => items.Lines).ToList();
        Assert.Contains("no U for zero: no instrument named", lines);
        Assert.Contains("not given, reversal: one direction only", lines);
    }

    [Fact]
    public void Every_description_of_an_instrument_that_findings_rest_on_is_told_with_its_check_and_those_since()
    {
        var (second, third) = (Caliper with { LimitMm = 0.0175, Source = "checked against 30 mm" }, Caliper with { LimitMm = 0.02, Source = "checked against 50 mm" });
        var found = With(LedgerTests.Found("axis-scale", "X"), Known);
        // Entries: 2 described, 3 finding, 4 checked, 5 its readings, 6 finding, 7 checked, 8 out of use.
        var lines = Lines(
            "Instruments",
            new EntryBody.InstrumentDescribed(Caliper, Retired: false), found with { Options = new FitOptions { Instrument = Caliper } },
            new EntryBody.InstrumentDescribed(second, Retired: false), new EntryBody.Noted(4, "read on 30 mm: 30.01, 30.01, 30.02 mm"), found with { Axis = "Y", Options = new FitOptions { Instrument = second } },
            new EntryBody.InstrumentDescribed(third, Retired: false), new EntryBody.InstrumentDescribed(third, Retired: true));
        Assert.Collection(
            lines,
            line => Assert.Matches("limit of error 0.03 mm.*described on .*, entry 2; 1 finding rests on it here, the last of entry 3$", line),
            line => Assert.Matches("limit of error 0.0175 mm.*entry 4; 1 finding rests on it here, the last of entry 6$", line),
            line => Assert.Equal("caliper, check of entry 4: read on 30 mm: 30.01, 30.01, 30.02 mm", line),
            line => Assert.Matches("limit of error 0.02 mm.*entry 7; no finding here rests on this description$", line),
            line => Assert.Matches("^caliper: out of use since .*, entry 8$", line));
    }

    [Fact]
    public void A_session_prints_hazards_statements_and_questions_of_the_text_it_was_carried_out_by_or_why_not()
    {
        var procedure = ProcedureReader.Read("x.yaml", Text).Require();
        var started = new EntryBody.RunStarted { Machine = "Heron", Procedure = "rattle", ProcedureHash = "abc", Axis = "Y" };
        var checks = new EntryBody.Checked { Machine = "Heron", Run = 2, Step = "loose", Check = "P77", Typed = "y", Limit = "yes", Passed = true };
        ImmutableArray<JournalEntry> chain =
        [
            .. LedgerTests.Chain(
                new EntryBody.MachineDescribed(Heron, Retired: false) { Machine = "Heron" }, started, new EntryBody.Confirmed("hazards", "S") { Machine = "Heron", Run = 2 },
                new EntryBody.Confirmed("shim", "yes") { Machine = "Heron", Run = 2 }, checks, checks with { Step = "root", Check = "root", Typed = "13", Value = 13, Unit = "mm", Limit = "from 0 to 80 mm" }),
        ];
        string Report(Func<string, string, Procedure?> texts) => MarkdownReport.Write(SessionReport.Build(Ledger.From(chain), Scope(chain) with { Procedures = texts }, 2).Require());
        var told = Report((id, hash) => (id, hash) == ("rattle", "abc") ? procedure : null);
        Assert.Contains("- Fingers under the gantry. Keep them out.", told, StringComparison.Ordinal);
        Assert.Contains("| shim | The shim under Y is 0.5 mm thick. | yes |", told, StringComparison.Ordinal);
        Assert.Contains("| P77 Y | Is nothing loose on Y? | y | yes |", told, StringComparison.Ordinal);
        Assert.Contains("| root of rattle Y | How long is the root? | 13 mm |", told, StringComparison.Ordinal);
        Assert.DoesNotContain("| root of rattle Y | How long is the root? | 13 mm | from", told, StringComparison.Ordinal);
        var untold = Report((_, _) => null);
        Assert.Contains("- No text: the text of rattle with the hash abc is not carried in this program.", untold, StringComparison.Ordinal);
        Assert.Contains("| P77 Y | no text at hand | y | yes |", untold, StringComparison.Ordinal);
        Assert.Contains("- No text for P77, root: the text of rattle", untold, StringComparison.Ordinal);
    }

    [Fact]
    public void A_session_says_of_a_finding_that_was_withdrawn_since_why_and_not_that_it_is_fresh()
    {
        var started = new EntryBody.RunStarted { Machine = "Heron", Procedure = "axis-scale", ProcedureHash = "abc", Axis = "X" };
        ImmutableArray<JournalEntry> chain =
        [
            .. LedgerTests.Chain(
                new EntryBody.MachineDescribed(Heron, Retired: false) { Machine = "Heron" }, started, With(LedgerTests.Found("axis-scale", "X"), Known) with { Run = 2 }, new EntryBody.Withdrawn(3, "a block was loose")),
        ];
        var told = SessionReport.Build(Ledger.From(chain), Scope(chain), 2).Require();
        var table = told.Sections[0].Blocks.OfType<ReportBlock.Table>().Single();
        Assert.Equal("withdrawn: a block was loose", table.Rows[0][table.Headers.IndexOf("stands")].Text);
        Assert.Contains("- stands: withdrawn: a block was loose", MarkdownReport.Write(told), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("34.75", "34.75 mm")]
    [InlineData("34,75", "34,75 mm")]
    [InlineData("1.36811023622047", "1.36811023622047 in")]
    [InlineData("34.75 mm", "34.75 mm")]
    [InlineData("3475", "3475")]
    public void What_was_typed_has_the_unit_in_which_it_was_understood(string typed, string shown)
    {
        Assert.Equal(shown, TypedText.Of(new EntryBody.ReadingTaken { Recorded = 1, Step = "r", Cell = 0, Place = "far", Typed = typed, Value = 34.75, Unit = "mm" }));
    }

    private const string Text =
        """
        format: commission.procedure/1
        id: rattle
        title: Does it rattle
        purpose: Looks for play.
        minutes: 5
        hazards:
          - what: Fingers under the gantry.
            do: Keep them out.
        steps:
          - name: shim
            confirm: The shim under {axis} is 0.5 mm thick.
          - name: loose
            check:
              id: P77
              ask: Is nothing loose on {axis}?
              answer: yes-no
              ifOut: Tighten it.
          - name: root
            check:
              id: root
              ask: How long is the root?
              answer: number
              unit: mm
              between: [0, 80]
              ifOut: Type it again.
        evaluation:
          - It rattles or not.
        abort:
          - None.
        goodData:
          - None.
        slips:
          - None.
        """;

    private static FittedParameter Known { get; } = new() { Name = "squareness", Unit = "rad", Value = 1e-4, StandardUncertainty = 1e-5, ExpandedUncertainty = 2e-5, CoverageFactor = 2 };

    private static EntryBody.FindingMade With(EntryBody.FindingMade made, params FittedParameter[] parameters) => made with { Finding = made.Finding with { Parameters = [.. parameters] } };

    private static ImmutableArray<string> Lines(string title, params EntryBody[] bodies) => [.. Section(title, bodies).Blocks.OfType<ReportBlock.Items>().SelectMany(items => items.Lines)];

    private static ReportSection Section(string title, params EntryBody[] bodies)
    {
        ImmutableArray<JournalEntry> chain = [.. LedgerTests.Chain([new EntryBody.MachineDescribed(Heron, Retired: false) { Machine = "Heron" }, .. bodies])];
        return ReportBuilder.Build(Ledger.From(chain), Scope(chain)).Sections.First(section => section.Title == title);
    }

    private static ReportScope Scope(ImmutableArray<JournalEntry> chain) => new()
    {
        Machine = Heron, AsOf = chain[^1].At, Entries = chain.Length, Tip = "0", Program = "1", Upkeep = UpkeepFold.From(chain), Units = ShownUnits.Millimetres,
    };
}
