using Commission.Core.Readings;

namespace Commission.Core.Tests.Readings;

public sealed class CsvReadingsTests
{
    private static readonly ColumnSpec[] Scale =
    [
        new("commanded_mm", ColumnContent.Length, "commanded position"),
        new("measured_mm", ColumnContent.Length, "reading"),
        new("direction", ColumnContent.Direction, "sense of the last approach") { Required = false },
    ];

    private static ReadingTable Good(string text) => CsvReadings.Read("a.csv", text, Scale).Require();

    private static IReadOnlyList<Problem> Bad(string text) =>
        CsvReadings.Read("a.csv", text, Scale).Match(_ => [], problems => (IReadOnlyList<Problem>)problems);

    [Theory]
    [InlineData("commanded_mm,measured_mm,direction\n20,20.06,+\n80,-80.15,minus\n")]
    [InlineData("\uFEFFcommanded_mm;measured_mm;direction\r\n20;20,06;plus\r\n\r\n# a note\r\n80;\u221280,15;\u2212\r\n")]
    [InlineData("Commanded_MM\tmeasured_mm\tdirection\r20\t20,06\t+\r80\t-80,15\t-")]
    [InlineData("commanded_mm,measured_mm,direction\n20,\"20.06\",\"'+\"\n80,-80.15,'-\n")]
    [InlineData("commanded_mm,measured_um,direction\n20,20060,+\n80,-80150,-\n")]
    public void The_same_readings_come_out_of_every_spelling(string text)
    {
        var table = Good(text);

        Assert.Equal([20.0, 80.0], table.Rows.Select(row => row["commanded_mm"]));
        Assert.Equal([20.06, -80.15], table.Rows.Select(row => row["measured_mm"]), (a, b) => Math.Abs(a - b) < 1e-12);
        Assert.Equal([1, -1], table.Rows.Select(row => row.Sign()));
    }

    [Fact]
    public void Inches_in_the_header_become_millimetres_and_a_remark_says_so()
    {
        var table = Good("commanded_in,measured_in\n1,1.001\n");

        Assert.Equal(25.4, table.Rows[0]["commanded_mm"], 12);
        Assert.Contains(table.Remarks, remark => remark.Contains("commanded_in", StringComparison.Ordinal));
        Assert.Equal("1.001", table.Rows[0].Typed["measured_mm"]);
    }

    [Fact]
    public void Radians_become_degrees()
    {
        ColumnSpec[] columns = [new("angle_deg", ColumnContent.Angle, "angle")];

        Assert.Equal(180, CsvReadings.Read("a.csv", "angle_rad\n3.141592653589793\n", columns).Require().Rows[0]["angle_deg"], 9);
    }

    [Fact]
    public void A_single_column_may_have_decimal_commas()
    {
        ColumnSpec[] columns = [new("reading_mm", ColumnContent.Length, "reading")];

        Assert.Equal(10.02, CsvReadings.Read("a.csv", "reading_mm\n10,02\n", columns).Require().Rows[0]["reading_mm"]);
    }

    [Fact]
    public void All_problems_are_told_at_once_with_line_column_and_field()
    {
        var problems = Bad("commanded_mm,measured_mm,direction\n20,abc,+\n80,,sideways\n");

        Assert.Equal(
            ["a.csv:2:4: [measured_mm]", "a.csv:3:4: [measured_mm]", "a.csv:3:5: [direction]"],
            problems.Select(p => p.ToString()[..p.ToString().IndexOf(']', StringComparison.Ordinal)] + "]"));
        Assert.All(problems, p => Assert.NotEmpty(p.Remedy));
    }

    [Fact]
    public void The_column_counts_characters_and_not_code_units()
    {
        ColumnSpec[] columns = [new("name", ColumnContent.Word, ""), new("reading_mm", ColumnContent.Length, "")];
        var problem = CsvReadings.Read("a.csv", "name,reading_mm\n\U0001F600,x\n", columns).Match(_ => null!, p => p[0]);

        Assert.Equal(3, problem.Column);
    }

    [Fact]
    public void A_missing_column_is_a_problem_and_an_unknown_one_a_remark()
    {
        Assert.Contains(Bad("commanded_mm\n20\n"), p => p.Field == "measured_mm" && p.Line == 1);
        Assert.Contains("unit", Bad("commanded_mm,measured\n20,20\n").Single().Remedy, StringComparison.Ordinal);
        Assert.Contains(Good("commanded_mm,measured_mm,mood\n20,20,fair\n").Remarks, r => r.Contains("mood", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("")]
    [InlineData("# only a note\n")]
    [InlineData("commanded_mm,measured_mm\n")]
    [InlineData("commanded_mm,measured_mm\n20,NaN\n")]
    [InlineData("commanded_mm,measured_mm\n20,1e999\n")]
    [InlineData("commanded_mm,measured_mm\n20,20,06\n")]
    [InlineData("commanded_mm,measured_mm,measured_in\n20,20,1\n")]
    [InlineData("commanded_mm;measured_mm\n20;1.234,5\n")]
    public void What_cannot_be_understood_is_refused(string text) => Assert.NotEmpty(Bad(text));

    [Fact]
    public void Rows_left_out_keep_their_reason_and_may_be_empty()
    {
        var table = Good("commanded_mm,measured_mm,excluded,instrument\n20,,slipped,caliper\n80,80.1,,caliper\n90,90,no,\n");

        Assert.Equal("slipped", table.Rows[0].Excluded);
        Assert.Equal([2, 3], table.Used.Select(row => row.Number));
        Assert.Equal("caliper", table.Rows[1].Instrument);
    }

    [Fact]
    public void Control_characters_never_come_through()
    {
        var table = Good("commanded_mm,measured_mm,excluded\n20,20,\u001b[31mred\n");

        Assert.Equal("[31mred", table.Rows[0].Excluded);
    }

    [Fact]
    public void Any_column_of_numbers_is_taken_where_asked_and_words_are_left_aside()
    {
        var table = CsvReadings.Read("a.csv", "y,x_in,who\n1E-3,2,ann\n2,3,bob\n", [], anyNumeric: true).Require();

        Assert.Equal(["y", "x_in"], table.Columns);
        Assert.Equal(2, table.Rows[0]["x_in"]);
        Assert.Contains(table.Remarks, r => r.Contains("who", StringComparison.Ordinal));
    }

    [Fact]
    public void No_text_makes_the_reader_throw()
    {
        foreach (var piece in new[] { "\"", "\"\"\"", ",,,", ";", "\t\t", "\0", "\ud83d", "#", "'", "'+", "\r", "commanded_mm,\"measured_mm\n1,2" })
            _ = CsvReadings.Read("a.csv", "commanded_mm,measured_mm\n" + piece + "\n" + piece, Scale);
    }
}
