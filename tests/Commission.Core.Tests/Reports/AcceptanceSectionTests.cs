using System.Globalization;
using Commission.Core.History;
using Commission.Core.Reports;
using Commission.Core.Upkeep;

namespace Commission.Core.Tests.Reports;

/// <summary>The machine against its class of work, with an example of own arithmetic: ex 300, ey -100 ppm, g 500 urad at (600, 400).</summary>
public sealed class AcceptanceSectionTests
{
    private static readonly Machine Table = new() { Name = "Heron", TravelMm = [600, 400, 90], Class = WorkClass.Plastics };

    private static readonly JournalEntry[] Measured =
    [
        Entry(1, new EntryBody.MachineDescribed(Table, Retired: false) { Machine = Table.Name }),
        Found(2, "axis-scale", "X", "scaleError", "1", 300e-6, 100e-6),
        Found(3, "axis-scale", "Y", "scaleError", "1", -100e-6, 141e-6),
        Found(4, "squareness", null, "squareness", "rad", 500e-6, 300e-6),
    ];

    [Fact]
    public void The_worst_corner_stands_first_with_its_U_limit_and_verdict()
    {
        var row = Rows(Measured)[0];

        // (300e-6 x 600 + 500e-6 x 400, -100e-6 x 400) = (0.38, -0.04): length 0.3821 mm.
        Assert.Equal(Math.Sqrt((0.38 * 0.38) + (0.04 * 0.04)), Number(row[3]), 0.006);
        // u of X: root of (600 x 100e-6)^2 + (400 x 300e-6)^2 = 0.1342 mm, that of Y 0.0564 mm; the larger one times 2 is 0.268 mm.
        Assert.Equal(2 * Math.Sqrt((0.06 * 0.06) + (0.12 * 0.12)), Number(row[4]), 0.006);
        Assert.Equal("mm", row[5].Text);
        // Plastics: root of (500e-6 x 600)^2 + (500e-6 x 400)^2, and half of 0.08 mm: 0.4006 mm.
        Assert.Equal(Math.Sqrt((0.3 * 0.3) + (0.2 * 0.2)) + 0.04, Number(row[7]), 0.005);
        // No more decimals than the value.
        Assert.True(row[7].Text.Length <= row[3].Text.Length, $"{row[7].Text} beside {row[3].Text}");
        Assert.Equal("undecided", row[9].Text);
    }

    [Fact]
    public void The_worst_corner_names_what_limits_it_and_the_cheapest_improvement()
    {
        var row = Rows(Measured)[0];

        // Variances in mm^2: X 0.06^2 = 0.0036, Y 0.0564^2 = 0.00318, squareness 0.12^2 = 0.0144: 68 of 100.
        Assert.Equal("squareness of X and Y, 68 % of the variance", row[10].Text);
        Assert.Equal("Measure squareness of X and Y more closely. Take a longer base.", row[11].Text);
    }

    // What limits a result and the cheapest improvement stand with every finding, not only with the corner.
    [Fact]
    public void Every_result_with_a_limit_has_its_line_after_the_worst_corner_with_what_limits_it_and_what_improves_it()
    {
        var all = AcceptanceClasses.Shipped.Kinds.Select((kind, at) => Found(at + 2, kind, null, CharacteristicKinds.Find(kind)!.Parameters[0].Name, CharacteristicKinds.Find(kind)!.Parameters[0].Unit, 1e-5, 1e-6)).ToList();
        var rows = Rows([Measured[0], .. all]);

        Assert.Equal("worst corner of the work area", rows[0][0].Text);
        Assert.Equal(AcceptanceClasses.Shipped.Kinds.Select(kind => CharacteristicKinds.Find(kind)!.Title).Order(StringComparer.Ordinal), rows[1..].Select(row => row[0].Text).Order(StringComparer.Ordinal));
        Assert.All(rows[1..], row =>
        {
            Assert.True(row[3].IsNumber && row[4].IsNumber && row[7].Text.Length > 0 && row[8].Text.Length > 0, row[0].Text);
            Assert.Equal("instrument, 90 % of the variance", row[10].Text);
            Assert.NotEmpty(row[11].Text);
        });
    }

    [Fact]
    public void Each_finding_stands_against_the_limit_of_the_class()
    {
        var rows = Rows(Measured);

        Assert.Equal(4, rows.Length);
        // 300 ppm and U 200 ppm reach 500 ppm and no further; 100 and 282 stay below; 500 urad and U 600 reach across 500.
        Assert.Equal(["within", "within", "undecided"], rows[1..].Select(row => row[9].Text));
        Assert.Equal(["500", "500"], rows[1..3].Select(row => row[7].Text));
        Assert.Equal("0.5", rows[3][7].Text);
        Assert.Equal("class of work: plastics", rows[1][8].Text);
        Assert.Equal("instrument, 90 % of the variance", rows[3][10].Text);
        Assert.Equal(["None is needed.", "None is needed.", "Take another instrument, or have this one checked: more readings do not help."], rows[1..].Select(row => row[11].Text));
    }

    [Fact]
    public void The_verdict_of_what_no_longer_holds_is_withheld_in_table_and_card()
    {
        JournalEntry[] loosened = [.. Measured, Entry(5, new EntryBody.ChangeTold("machine-moved", null, "across the shop") { Machine = Table.Name })];
        var row = Rows(loosened)[3];
        Assert.Equal("withheld: stale", row[9].Text);
        Assert.StartsWith("Measure it again: ", row[11].Text, StringComparison.Ordinal);
        Assert.Equal("within", Rows(loosened)[1][9].Text);
        var judged = loosened.Select(entry => entry.Body is EntryBody.FindingMade made ? entry with { Body = made with { Finding = made.Finding with { Verdict = Verdict.Within } } } : entry).ToArray();
        var card = MarkdownReport.Write(WallCard.Build(Ledger.From(judged), Scope(judged)));
        Assert.Contains("withheld: stale", card, StringComparison.Ordinal);
    }

    [Fact]
    public void Limits_of_the_owner_take_the_place_of_the_shipped_ones_and_are_named()
    {
        const string text = """{"format":"commission.acceptance/1","limits":[{"kind":"axis-scale","unit":"1","wood":0.002,"plastics":0.0003,"aluminium":0.0001}]}""";
        var own = AcceptanceClasses.Read(text, "classes.json").Require();
        var section = ReportBuilder.Build(Ledger.From(Measured), Scope(Measured) with { Limits = own }).Sections.Single(one => one.Title == "Against the class of work");
        Assert.Contains("own limits, classes.json beside the journal", section.Blocks.OfType<ReportBlock.Paragraph>().First().Text, StringComparison.Ordinal);
        var rows = section.Blocks.OfType<ReportBlock.Table>().Single().Rows;
        Assert.Equal(["300", "300", "0.5"], rows[1..].Select(row => row[7].Text));
        Assert.Equal(["class of work: plastics, own limits, classes.json beside the journal", "class of work: plastics"], new[] { rows[1], rows[3] }.Select(row => row[8].Text));
        // Now 100 ppm with U 282 ppm reach across 300 ppm.
        Assert.Equal("undecided", rows[2][9].Text);
        // 300e-6 x 600 in place of 500e-6 x 600 in the limit of the corner.
        Assert.Equal(Math.Sqrt((0.18 * 0.18) + (0.2 * 0.2)) + 0.04, Number(rows[0][7]), 0.005);
    }

    // A limit of an own file that was written before planes had theirs holds for all of them.
    [Fact]
    public void Angles_of_Z_to_the_bed_have_a_limit_of_their_own()
    {
        double For(AcceptanceClasses classes, string? place) => classes.For("square-reversal", WorkClass.Aluminium, place)!.Value;
        Assert.Equal([2e-4, 3e-4, 3e-4], new[] { null, "XZ", "YZ" }.Select(place => For(AcceptanceClasses.Shipped, place)));

        var old = AcceptanceClasses.Read("""{"format":"commission.acceptance/1","limits":[{"kind":"square-reversal","unit":"rad","wood":1e-3,"plastics":5e-4,"aluminium":4e-4}]}""", "classes.json").Require();
        Assert.Equal([4e-4, 4e-4], new[] { null, "XZ" }.Select(place => For(old, place)));
        var apart = AcceptanceClasses.Read("""{"format":"commission.acceptance/1","limits":[{"kind":"square-reversal","plane":"Z","unit":"rad","wood":1e-3,"plastics":5e-4,"aluminium":4e-4}]}""", "classes.json").Require();
        Assert.Equal([2e-4, 4e-4], new[] { null, "YZ" }.Select(place => For(apart, place)));
        Assert.Equal(["class of work: aluminium", "class of work: aluminium, own limits, classes.json beside the journal"],
            new[] { null, "YZ" }.Select(place => apart.For("square-reversal", WorkClass.Aluminium, place)!.Typed));
    }

    [Fact]
    public void Who_gave_a_limit_stands_beside_it()
    {
        ReportCell From(LimitFrom? from)
        {
            var made = (EntryBody.FindingMade)Measured[1].Body;
            var limited = made with { Options = made.Options with { Tolerance = ToleranceText.Parse("800ppm").Require() with { From = from } } };
            return Rows([Measured[0], Measured[1] with { Body = limited }])[1][8];
        }

        Assert.Equal("given for this result", From(LimitFrom.Request).Text);
        Assert.Equal("the procedure", From(LimitFrom.Procedure).Text);
        Assert.Equal("given for this result or by its procedure", From(null).Text);
    }

    // A limit in mm belongs to a length: 0.2 mm over 600 mm are 333 ppm.
    [Fact]
    public void A_limit_in_mm_is_shown_in_the_unit_of_the_result_with_its_length()
    {
        var made = (EntryBody.FindingMade)Measured[1].Body;
        var limited = made with
        {
            Options = made.Options with { Tolerance = ToleranceText.Parse("0.2mm").Require() },
            Finding = made.Finding with { Limit = 0.2 / 600, LimitOverMm = 600, Verdict = Verdict.Undecided },
        };
        var row = Rows([Measured[0], Measured[1] with { Body = limited }])[1];
        Assert.Equal(["+300", "200", "ppm", "333", "given for this result: 0.2mm over 600 mm", "undecided"], new[] { 3, 4, 5, 7, 8, 9 }.Select(column => row[column].Text));
    }

    // Two verdicts for one result: none was given when it was made, and the class of work has one.
    [Fact]
    public void An_advice_that_was_given_without_a_limit_does_not_contradict_the_class_of_work()
    {
        var made = (EntryBody.FindingMade)Measured[1].Body;
        var changing = made with { Finding = made.Finding with { Advice = made.Finding.Advice with { Action = AdviceAction.Change } } };
        var row = Rows([Measured[0], Measured[1] with { Body = changing }])[1];
        Assert.Equal(("within", "class of work: plastics"), (row[9].Text, row[8].Text));
        Assert.StartsWith("None is needed for this class of work. The finding had no limit", row[11].Text, StringComparison.Ordinal);
    }

    // What people call lost motion is the reversal value with its sign turned; a size has no plus.
    [Fact]
    public void Lost_motion_is_positive_where_there_is_play_in_table_card_and_comparison_and_sizes_have_no_plus()
    {
        JournalEntry[] entries = [.. Measured, Found(5, "backlash", "X", "reversal", "mm", -0.032, 0.005), Found(6, "runout", null, "tirAtTip", "mm", 0.037, 0.005), Found(7, "axis-scale", "X", "reversal", "mm", -0.030, 0.005)];
        var rows = Rows(entries);
        Assert.Equal("0.032", rows.Single(row => row[0].Text == "lost motion")[3].Text);
        Assert.Equal("0.037", rows.Single(row => row[0].Text == "runout")[3].Text);
        Assert.Equal("0.032", Build(entries).Sections.Single(section => section.Title == "Findings").Blocks.OfType<ReportBlock.Table>().Single().Rows.Single(row => row[0].Text == "lost motion")[3].Text);
        var judged = entries.Select(entry => entry.Body is EntryBody.FindingMade made ? entry with { Body = made with { Finding = made.Finding with { Verdict = Verdict.Within } } } : entry).ToArray();
        Assert.Contains("| lost motion | X | 0.032 |", MarkdownReport.Write(WallCard.Build(Ledger.From(judged), Scope(judged))), StringComparison.Ordinal);
        var compared = CrossCheck.All(Ledger.From(entries), Table.Name).Single(check => check.Title == "lost motion of X").Sentence;
        Assert.Contains("lost motion with caliper 0.032 +/- 0.010 mm", compared, StringComparison.Ordinal);
        Assert.DoesNotContain("-0.03", compared, StringComparison.Ordinal);
    }

    [Fact]
    public void Of_contradicting_results_the_corner_names_what_to_find_out_and_gives_no_verdict()
    {
        var circle = Found(5, "test-circle", null, "squareness", "rad", -4e-3, 1e-4);
        var row = Rows([.. Measured, circle])[0];
        Assert.Equal("withheld: results do not agree", row[9].Text);
        Assert.StartsWith("Find out why the results of squareness of X and Y do not agree", row[11].Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("{", 1, "not JSON")]
    [InlineData("{\"format\":\"commission.acceptance/2\",\"limits\":[]}", 1, "does not say")]
    [InlineData("{\"format\":\"commission.acceptance/1\"}", 1, "has no list")]
    [InlineData("{\"format\":\"commission.acceptance/1\",\"limits\":[\n{\"kind\":\"axis-scale\",\"unit\":\"1\",\"wood\":1e-3,\"plastics\":1e-3,\"aluminium\":1e-3},\n{\"kind\":\"dream\"}]}", 3, "\"dream\" is no kind")]
    [InlineData("{\"format\":\"commission.acceptance/1\",\"limits\":[\n{\"kind\":\"backlash\",\"unit\":\"um\",\"wood\":1,\"plastics\":1,\"aluminium\":1}]}", 2, "the unit of backlash is \"mm\", not \"um\"")]
    [InlineData("{\"format\":\"commission.acceptance/1\",\"limits\":[\n{\"kind\":\"backlash\",\"unit\":\"mm\",\"wood\":1,\"plastics\":0,\"aluminium\":1}]}", 2, "\"plastics\" of backlash is no finite number above 0")]
    [InlineData("{\"format\":\"commission.acceptance/1\",\"limits\":[\n{\"kind\":\"backlash\",\"unit\":\"mm\",\"wood\":1,\"plastics\":1e999,\"aluminium\":1}]}", 2, "\"plastics\" of backlash is no finite number above 0")]
    [InlineData("{\"format\":\"commission.acceptance/1\",\"limits\":[\n{\"kind\":\"square-reversal\",\"plane\":\"XZ\",\"unit\":\"rad\",\"wood\":1,\"plastics\":1,\"aluminium\":1}]}", 2, "the plane of square-reversal is \"Z\"")]
    [InlineData("{\"format\":\"commission.acceptance/1\",\"limits\":[\n{\"kind\":\"backlash\",\"unit\":\"mm\",\"wod\":1,\"wood\":1,\"plastics\":1,\"aluminium\":1}]}", 2, "\"wod\" is no member")]
    public void What_is_wrong_with_a_file_of_limits_is_told_with_its_line(string text, int line, string what)
    {
        var problem = Assert.IsType<Outcome<AcceptanceClasses>.Bad>(AcceptanceClasses.Read(text, "classes.json")).Problems[0];
        Assert.Equal(("classes.json", line), (problem.File, problem.Line));
        Assert.Contains(what, problem.What, StringComparison.Ordinal);
        Assert.Contains("the shipped limits stand", problem.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void Where_nothing_was_measured_one_sentence_says_so()
    {
        var section = Section([Measured[0]]);
        Assert.Equal("Nothing has been measured yet, so nothing can be set against the class of work.", Assert.IsType<ReportBlock.Paragraph>(Assert.Single(section.Blocks)).Text);
    }

    [Fact]
    public void What_is_missing_for_the_worst_corner_is_named_and_no_number_given()
    {
        var row = Rows(Measured[..3])[0];
        Assert.Equal("not given", row[3].Text);
        Assert.StartsWith("Measure what is missing: squareness of X and Y", row[11].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void All_three_forms_carry_it_with_the_same_bytes_in_any_culture()
    {
        string[] Forms() => [HtmlReport.Write(Build(Measured)), MarkdownReport.Write(Build(Measured)), CsvReport.Write(Build(Measured))];
        var before = CultureInfo.CurrentCulture;
        var first = Forms();
        var comma = (CultureInfo)CultureInfo.InvariantCulture.Clone();
        comma.NumberFormat.NumberDecimalSeparator = ",";
        comma.NumberFormat.NegativeSign = "\u2212";
        try
        {
            CultureInfo.CurrentCulture = comma;
            Assert.Equal(first, Forms());
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }

        Assert.All(first, text => Assert.Contains("worst corner of the work area", text, StringComparison.Ordinal));
        Assert.All(first, text => Assert.Contains("squareness of X and Y, 68 % of the variance", text, StringComparison.Ordinal));
    }

    [Fact]
    public void The_map_and_its_table_come_from_the_function_of_the_worst_corner()
    {
        var blocks = Build(Measured).Sections.Single(section => section.Title == "Position error over the work area").Blocks;
        var figure = blocks.OfType<ReportBlock.Picture>().Single().Figure;
        var sent = figure.Layers.OfType<FigureLayer.Points>().Single(points => points.Mark == FigureMark.Dot).Values;
        var reached = figure.Layers.OfType<FigureLayer.Points>().Single(points => points.Mark == FigureMark.Fitted).Values;

        Assert.Equal(25, sent.Length);
        Assert.Equal((600, 400), (sent[^1].X, sent[^1].Y));
        Assert.Equal(Math.Sqrt((0.38 * 0.38) + (0.04 * 0.04)), sent[^1].Level!.Value, 1e-9);
        // A field is 400 / 4 = 100 mm, the longest arrow 0.38 mm: 263 times would fit, 200 is the round number below.
        Assert.Equal(600 + (200 * 0.38), reached[^1].X, 1e-9);
        Assert.Equal(400 - (200 * 0.04), reached[^1].Y, 1e-9);
        // In the middle half of each: (0.19, -0.02) mm.
        Assert.Equal(300 + (200 * 0.19), reached[12].X, 1e-9);

        var table = blocks.OfType<ReportBlock.Table>().Single();
        Assert.Equal(9, table.Rows.Length);
        Assert.Equal(["600", "400"], table.Rows[^1].Take(2).Select(cell => cell.Text));
        Assert.Equal(0.38, Number(table.Rows[^1][2]), 0.006);
        Assert.Equal(-0.04, Number(table.Rows[^1][3]), 0.006);
        Assert.Equal(0.268, Number(table.Rows[^1][5]), 0.006);
        Assert.Contains("200 times", HtmlReport.Write(Build(Measured)), StringComparison.Ordinal);
    }

    [Fact]
    public void Where_the_error_is_not_known_there_is_no_map() =>
        Assert.DoesNotContain(Build(Measured[..3]).Sections.Single(section => section.Title == "Position error over the work area").Blocks, block => block is ReportBlock.Picture);

    [Fact]
    public void A_questioned_reading_is_told_in_two_sentences()
    {
        var finding = ((EntryBody.FindingMade)Measured[1].Body).Finding with
        {
            Suspects = [new Suspect(10, "It lies -0.041 mm off the line through the others.", "Measure it again."), new Suspect(0, "All may be inches", "Were they typed in inches?")],
        };
        var lines = FindingText.Lines(finding, 0.95);
        Assert.Contains("look at reading 10: It lies -0.041 mm off the line through the others. Measure it again.", lines);
        Assert.Contains("look at the series: All may be inches. Were they typed in inches?", lines);
    }

    private static double Number(ReportCell cell) => double.Parse(cell.Text, CultureInfo.InvariantCulture);

    private static ReportCell[][] Rows(JournalEntry[] entries) => [.. Section(entries).Blocks.OfType<ReportBlock.Table>().Single().Rows.Select(row => row.ToArray())];

    private static ReportSection Section(JournalEntry[] entries) => Build(entries).Sections.Single(section => section.Title == "Against the class of work");

    private static Report Build(JournalEntry[] entries) => ReportBuilder.Build(Ledger.From(entries), Scope(entries));

    private static ReportScope Scope(JournalEntry[] entries) => new()
    {
        Machine = Table, AsOf = entries[^1].At, Entries = entries.Length, Tip = "0", Program = "1", Upkeep = UpkeepFold.From(entries),
    };

    private static JournalEntry Found(long sequence, string kind, string? axis, string parameter, string unit, double value, double u) => Entry(sequence, new EntryBody.FindingMade
    {
        Machine = Table.Name, Characteristic = kind, Axis = axis, Instrument = "caliper", Options = new FitOptions(),
        Finding = new Finding
        {
            Kind = kind, Method = kind + "/1", Rows = 4, Used = 4, Verdict = Verdict.None,
            Parameters = [new FittedParameter { Name = parameter, Unit = unit, Value = value, StandardUncertainty = u, FreshUncertainty = u, SharedUncertainty = 0, CoverageFactor = 2, ExpandedUncertainty = 2 * u }],
            Budget = [new BudgetLine("instrument", 0.9, RepeatingHelps: false), new BudgetLine("repeats", 0.1, RepeatingHelps: true)],
            Advice = new Advice { Action = AdviceAction.MeasureMore, Because = "it is not decided", Next = "Take a longer base." },
        },
    });

    private static JournalEntry Entry(long sequence, EntryBody body) => new($"abc:{sequence}", sequence, DateTimeOffset.UnixEpoch.AddDays(sequence), body);
}
