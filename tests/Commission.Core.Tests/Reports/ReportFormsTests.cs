using Commission.Core.Reports;

namespace Commission.Core.Tests.Reports;

public sealed class ReportFormsTests
{
    private static readonly Report Hostile = new()
    {
        Title = "<script>alert(1)</script>",
        AsOf = DateTimeOffset.UnixEpoch,
        Practice = true,
        Sections =
        [
            new ReportSection("Readings | of `X`", 1,
            [
                new ReportBlock.Paragraph("a\u001b[31mb"),
                new ReportBlock.Table("reading", ["text", "value, mm"], [["=1+1", new ReportCell("-0.02", IsNumber: true)], ["a|b", new ReportCell("+0.01", IsNumber: true)]]),
            ]),
        ],
    };

    [Theory]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("@x", "'@x")]
    [InlineData(" +x", "' +x")]
    [InlineData("-x,y", "\"'-x,y\"")]
    [InlineData("plain", "plain")]
    public void Text_that_a_spreadsheet_would_run_is_made_harmless(string text, string cell)
    {
        Assert.Equal(cell, CsvReport.Cell(text));
    }

    [Fact]
    public void Numbers_stand_as_they_are()
    {
        Assert.Contains("'=1+1,-0.02\n", CsvReport.Write(Hostile), StringComparison.Ordinal);
    }

    [Fact]
    public void What_people_typed_becomes_neither_markup_nor_control()
    {
        var html = HtmlReport.Write(Hostile);
        Assert.DoesNotContain("<script", html, StringComparison.Ordinal);
        Assert.DoesNotContain("\u001b", html, StringComparison.Ordinal);
        Assert.Contains("a\\|b", MarkdownReport.Write(Hostile), StringComparison.Ordinal);
    }

    // Paper is narrow: an instant that breaks over three lines makes every table three times as long.
    [Theory]
    [InlineData("2026-11-25 19:46 +00:00", "<td class=\"t\">2026")]
    [InlineData("2026-11-25 19:46:51 +00:00", "<td class=\"t\">2026")]
    [InlineData("within 1 % of 'pitch' each", "<td>within")]
    public void Instants_stay_on_one_line_and_sentences_may_break(string text, string cell)
    {
        var report = Hostile with { Sections = [new ReportSection("Checks", 1, [new ReportBlock.Table("check", ["at"], [[text]])])] };
        Assert.Contains(cell, HtmlReport.Write(report), StringComparison.Ordinal);
    }

    [Fact]
    public void Paper_has_margins_and_no_size_of_its_own_heads_repeat_and_rows_and_pictures_stay_whole()
    {
        var html = HtmlReport.Write(Hostile);
        Assert.DoesNotContain("size:A4", html, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("@page{size", html, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("<thead><tr><th>text", html, StringComparison.Ordinal);
        foreach (var rule in (string[])["@page{margin:14mm}", "figure{margin:.6em 0;break-inside:avoid}", "tr,li{break-inside:avoid}", "h2,h3{break-after:avoid}"])
            Assert.Contains(rule, html, StringComparison.Ordinal);
    }

    [Fact]
    public void The_page_fetches_nothing_and_says_where_it_is_practice()
    {
        var html = HtmlReport.Write(Hostile);
        Assert.Contains(">PRACTICE<", html, StringComparison.Ordinal);
        Assert.DoesNotContain("src=", html, StringComparison.Ordinal);
        Assert.DoesNotContain("href=", html, StringComparison.Ordinal);
    }
}
