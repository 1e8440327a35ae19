using System.Collections.Immutable;
using Commission.Core.History;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Core.Tests.History;
using Commission.Core.Upkeep;

namespace Commission.Core.Tests.Reports;

public sealed class WallCardTests
{
    private static readonly Machine Heron = new()
    {
        Name = "Heron", TravelMm = [420, 580, 90],
        X = new() { Compensation = Compensation.Millimetres, StepsPerMm = 320 }, Y = new() { Compensation = Compensation.Steps, StepsPerMm = 320 }, Z = new() { Compensation = Compensation.Millimetres },
    };

    [Fact]
    public void A_told_compensation_stands_on_the_card_as_the_controller_wants_it()
    {
        var card = Card(ShownUnits.Millimetres, Told("X", 0.042), Told("Y", 0.042));
        Assert.Contains("0.042 mm", card, StringComparison.Ordinal);
        // 0.042 mm x 320 steps/mm = 13.44 steps.
        Assert.Contains("13 steps", card, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("mm", "114.3 mm (limit at most 127 mm)")]
    [InlineData("in", "4.5 in (limit at most 5.00 in)")]
    public void A_check_that_was_typed_in_inches_stands_in_the_units_of_the_reader(string units, string said)
    {
        // As the run keeps it: typed in inches, value and limit in mm.
        var check = new EntryBody.Checked { Machine = "Heron", Step = "list", Check = "P29", Typed = "4.5", Value = 114.3, Unit = "mm", Limit = "at most 127 mm", Passed = true };
        Assert.Contains(said, Card(ShownUnits.Named(units), check), StringComparison.Ordinal);
        var row = Row(Scope(ShownUnits.Named(units), check), check);
        Assert.Equal(said, $"{row[2].Text} (limit {row[3].Text})");
    }

    // A percent, a slope and a count are kept in the unit they are typed in.
    [Theory]
    [InlineData(5, "%", "at most 10 %", "5 %", "at most 10 %")]
    [InlineData(0.13, "mm/m", "from -20 to 20 mm/m", "0.13 mm/m", "from -20 to 20 mm/m")]
    [InlineData(3, "1", "from 0 to 100000 1", "3", "from 0 to 100000")]
    public void A_check_that_is_no_length_stands_as_it_was_typed_in_both_units(double value, string unit, string limit, string found, string shownLimit)
    {
        var check = new EntryBody.Checked { Machine = "Heron", Step = "list", Check = "P11", Typed = "x", Value = value, Unit = unit, Limit = limit, Passed = true };
        foreach (var units in (ShownUnits[])[ShownUnits.Millimetres, ShownUnits.Inches])
        {
            // What has no source and a wide range is a fact: it has no limit to be shown.
            var row = Row(Scope(units, check with { Source = "a sheet" }), check with { Source = "a sheet" });
            Assert.Equal((found, shownLimit), (row[2].Text, row[3].Text));
        }
    }

    [Fact]
    public void A_verdict_stands_with_place_U_and_k_and_where_there_is_no_U_its_reason_stands_below()
    {
        var made = LedgerTests.Found("axis-scale", "X");
        var known = made with { Place = "ratio", Finding = made.Finding with { Verdict = Verdict.Within, Parameters = [new FittedParameter { Name = "scaleError", Unit = "1", Value = 2e-4, ExpandedUncertainty = 1e-4, CoverageFactor = 2.13 }] } };
        var bare = made with { Characteristic = "event-rate", Axis = null, Finding = made.Finding with { Kind = "event-rate", Verdict = Verdict.Undecided, Parameters = [new FittedParameter { Name = "upperRate", Unit = "1/h", Value = 1.5, WhyNoUncertainty = "it is a bound itself" }] } };
        var card = Card(ShownUnits.Millimetres, known, bare);
        Assert.Contains("| axis scale, ratio | X | +200 | 100 | ppm | 2.13 | within |", card, StringComparison.Ordinal);
        Assert.Contains("- no U for event rate: it is a bound itself", card, StringComparison.Ordinal);
    }

    // The finding says "Set no more than 2463 mm/min, seven tenths of it.": 0.7 x 3518.4375 = 2462.9.
    [Theory]
    [InlineData("mm", "| X | 2463 | 3518 | none | mm/min |", "not known; set at most 2463 mm/min")]
    [InlineData("in", "| X | 96.97 | 138.5 | none | in/min |", "not known; set at most 96.97 in/min")]
    public void The_speed_to_set_stands_before_the_one_at_which_no_step_was_lost(string units, string row, string rate)
    {
        var found = LedgerTests.Found("speed-ladder", "X");
        var card = Card(ShownUnits.Named(units), found with { Finding = found.Finding with { Parameters = [new FittedParameter { Name = "limit", Unit = "mm/min", Value = 3518.4375, WhyNoUncertainty = "a ladder gives a rung" }] } });
        Assert.Contains(row, card, StringComparison.Ordinal);
        Assert.Contains(rate, card, StringComparison.Ordinal);
        Assert.DoesNotContain("+3518", card, StringComparison.Ordinal);
    }

    [Fact]
    public void A_rate_that_was_written_since_all_settings_were_saved_is_the_one_that_is_held()
    {
        var saved = new EntryBody.SettingsSaved("numbered-settings", [new SavedSetting("110", "greatestRate", "mm/min", "3000.000", 3000)]) { Machine = "Heron" };
        var written = new EntryBody.SettingWritten { Machine = "Heron", Key = "110", Name = "greatestRate", Axis = "X", Before = 3000, After = 2800, ReadBack = 2800, Stage = "read-back" };
        Assert.Contains("| X | 320.000 steps/mm | not known | 2800 mm/min |", Card(ShownUnits.Millimetres, saved, written), StringComparison.Ordinal);
        Assert.Contains("| X | 320.000 steps/mm | not known | 3000.000 mm/min |", Card(ShownUnits.Millimetres, written, saved), StringComparison.Ordinal);
    }

    [Fact]
    public void A_full_machine_has_every_item_of_the_card_on_it()
    {
        var found = LedgerTests.Found("axis-scale", "X");
        FittedParameter Of(string name, string unit, double value) => new() { Name = name, Unit = unit, Value = value, StandardUncertainty = value / 10, ExpandedUncertainty = value / 5, CoverageFactor = 2 };
        var saved = new EntryBody.SettingsSaved("numbered-settings", [new SavedSetting("110", "greatestRate", "mm/min", "3000.000", 3000), new SavedSetting("120", "acceleration", "mm/s2", "200.000", 200)]) { Machine = "Heron" };
        var card = Card(
            ShownUnits.Millimetres, saved, Told("X", 0.042), Told("Y", 0.042),
            new EntryBody.SettingWritten { Machine = "Heron", Name = "homeOffset", Axis = "Y", After = 0.35, Stage = "told" },
            new EntryBody.Checked { Machine = "Heron", Step = "list", Check = "P05", Typed = "y", Limit = "yes", Passed = true },
            found with { Finding = found.Finding with { Verdict = Verdict.Within, Parameters = [Of("scaleError", "1", 2e-4)] } },
            found with { Characteristic = "speed-ladder", Finding = found.Finding with { Kind = "speed-ladder", Parameters = [Of("limit", "mm/min", 3500)] } });

        // Settings as the controller wants them, with the decimals and the unit it was read with.
        Assert.Contains("| X | 320.000 steps/mm | 0.042 mm | 3000.000 mm/min | 200.000 mm/s2 | 420 mm |", card, StringComparison.Ordinal);
        Assert.Contains("- home offset Y: 0.35 mm, of ", card, StringComparison.Ordinal);
        Assert.Contains("| X | 2450 | 3500 | 700 | mm/min | 2.00 |", card, StringComparison.Ordinal);
        Assert.Contains("| axis scale | X | +200 | 40 | ppm | 2.00 | within |", card, StringComparison.Ordinal);
        Assert.Matches(@"## Next dates\n\n\| due \| result \|\n\| --- \| --- \|\n(\|.*\n)*\| \d{4}-\d\d-\d\d \|.*axis scale X", card);
        Assert.Contains("- P05, takes the supply off the drives: passed on ", card, StringComparison.Ordinal);
        Assert.Contains("not tested since the last change of the machine: P05a", card, StringComparison.Ordinal);
        Assert.All(StaleTable.Rows, row => Assert.Contains($"| {ChangeWord.Find(row.Change)!.Title} | {row.Todo} |", card, StringComparison.Ordinal));
    }

    private static ImmutableArray<ReportCell> Row(ReportScope scope, EntryBody.Checked check)
    {
        var ledger = Ledger.From(Chain(check));
        return CheckSections.Blocks(ledger, scope, ledger.Checks).OfType<ReportBlock.Table>().First().Rows[0];
    }

    private static EntryBody.SettingWritten Told(string axis, double mm) =>
        new() { Machine = "Heron", Name = Backlash.CompensationSetting, Axis = axis, Before = 0, After = mm, Stage = "told" };

    private static JournalEntry[] Chain(params EntryBody[] bodies) => [.. LedgerTests.Chain([new EntryBody.MachineDescribed(Heron, Retired: false) { Machine = "Heron" }, .. bodies])];

    private static string Card(ShownUnits units, params EntryBody[] bodies) => MarkdownReport.Write(WallCard.Build(Ledger.From(Chain(bodies)), Scope(units, bodies)));

    private static ReportScope Scope(ShownUnits units, params EntryBody[] bodies)
    {
        var chain = Chain(bodies);
        return new() { Machine = Heron, AsOf = chain[^1].At, Entries = chain.Length, Tip = "0", Program = "1", Upkeep = UpkeepFold.From(chain), Units = units };
    }
}
