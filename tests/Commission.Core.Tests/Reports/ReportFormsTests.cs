using Commission.Core.Reports;
using Xunit;

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

    [Fact]
    public void The_page_fetches_nothing_and_says_where_it_is_practice()
    {
        var html = HtmlReport.Write(Hostile);
        Assert.Contains(">PRACTICE<", html, StringComparison.Ordinal);
        Assert.DoesNotContain("src=", html, StringComparison.Ordinal);
        Assert.DoesNotContain("href=", html, StringComparison.Ordinal);
    }
}
