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
    public void A_long_table_tells_once_on_a_page_what_is_the_same_in_every_row_and_other_forms_keep_every_cell()
    {
        ReportCell One(string text) => new(text, IsNumber: true);
        var table = new ReportBlock.Table("reading", ["entry", "reading", "unit", "at", "left out"],
        [
            [One("7"), One("0.01"), "mm", "2026-11-25 19:46:51 +00:00", ""], [One("8"), One("0.02"), "mm", "2026-11-25 19:47:02 +00:00", ""],
        ])
        { Long = true };
        var report = Hostile with { Sections = [new ReportSection("Raw readings", 1, [table])] };
        var html = HtmlReport.Write(report);
        Assert.Contains("<caption>Every row: unit: mm; at: 2026-11-25 +00:00; left out: none</caption>", html, StringComparison.Ordinal);
        Assert.Contains("<tr><td class=\"n\">7</td><td class=\"n\">0.01</td><td class=\"t\">19:46:51</td></tr>", html, StringComparison.Ordinal);
        Assert.Contains("<div class=\"half\">", html, StringComparison.Ordinal);
        Assert.Contains("7,0.01,mm,2026-11-25 19:46:51 +00:00,\n", CsvReport.Write(report), StringComparison.Ordinal);
        Assert.Contains("| 7 | 0.01 | mm | 2026-11-25 19:46:51 +00:00 |  |", MarkdownReport.Write(report), StringComparison.Ordinal);
        // Two zones are no one day.
        var zones = report with { Sections = [new ReportSection("Raw readings", 1, [table with { Rows = [table.Rows[0], table.Rows[1].SetItem(3, "2026-11-25 19:47:02 +01:00")] }])] };
        Assert.Contains("2026-11-25 19:47:02 +01:00</td>", HtmlReport.Write(zones), StringComparison.Ordinal);
        Assert.DoesNotContain("<caption>", HtmlReport.Write(report with { Sections = [new ReportSection("Raw readings", 1, [table with { Long = false }])] }), StringComparison.Ordinal);
    }

    // On Letter: pictures float beside what they belong to, and long tables stand in two columns.
    [Fact]
    public void On_paper_a_picture_leaves_room_for_the_words_beside_it()
    {
        var html = HtmlReport.Write(Hostile);
        var print = html[html.IndexOf("@media print", StringComparison.Ordinal)..];
        foreach (var rule in (string[])["figure{float:right;", "h2{font-size:12pt;margin:.8em 0 .3em;clear:both}", ".half{columns:2;"])
            Assert.Contains(rule, print, StringComparison.Ordinal);
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
