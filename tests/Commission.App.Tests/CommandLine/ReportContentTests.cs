using Commission.Adapters.Files;
using Commission.Adapters.Storage;
using Commission.Core.Reports;
using Commission.Tests;
using Commission.Workshop.Requests;

namespace Commission.App.Tests.CommandLine;

/// <summary>A report of walked work, item by item: every number with its unit and U, what both rest on, and what was not done.</summary>
public sealed class ReportContentTests : OwnFolder
{
    private static readonly string[] Walked = ["first-power-up", "gauge-study", "axis-scale", "tram", "noise"];

    [Fact]
    public async Task A_report_of_walked_work_holds_every_item_in_every_form()
    {
        var report = await Made();
        var sections = report.Sections.Select(section => section.Title).ToList();
        foreach (var title in (string[])["Findings", "Against the class of work", "What was not checked", "Checks", "Instruments", "Methods", "Where this comes from", "Raw readings"])
            Assert.Contains(title, sections);
        Assert.Equal("Findings", sections[0]);
        foreach (var form in (string[])[Plain(HtmlReport.Write(report)), Plain(MarkdownReport.Write(report)), Plain(CsvReport.Write(report))])
        {
            foreach (var item in (string[])[
                "method axis-scale/2; ", "what U contains", "limit of error of the instrument", "repeating helps", "caliper-150: caliper-digital, limit of error 0.03 mm", "hand study",
                "typed", "left out", "Never done: ", "Skipped and still open: ", "scatter about the fit: ", "degrees of freedom", "u fresh", "u shared", "source of the limit",
                "hash of the last one ", "written by commission 0.1.0-test", "does not say that the machine"])
                Assert.Contains(item, form, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Every_number_of_a_report_has_its_unit_and_its_U_with_k_or_the_reason_why_there_is_none()
    {
        var told = 0;
        foreach (var table in (await Made()).Sections.SelectMany(section => section.Blocks).OfType<ReportBlock.Table>())
        {
            int Column(string name) => table.Headers.IndexOf(name);
            if (Column("value") < 0 || Column("U") < 0)
                continue;
            foreach (var row in table.Rows.Where(row => row[Column("value")].IsNumber))
            {
                Assert.True(row[Column("unit")].Text.Length > 0, $"{table.Name}: {string.Join(" | ", row.Select(cell => cell.Text))}");
                var u = row[Column("U")];
                Assert.True(u.IsNumber ? Column("k") < 0 || row[Column("k")].IsNumber : u.Text.StartsWith("none", StringComparison.Ordinal), string.Join(" | ", row.Select(cell => cell.Text)));
                told++;
            }
        }

        Assert.True(told > 20, $"{told} numbers");
    }

    /// <summary>The procedures that are shipped.</summary>
    internal static ProcedureLibrary Library { get; } = new(new ProcedureTexts(""), new TextFiles());

    private async Task<string> Kept()
    {
        var store = Path.Combine(Folder, "store");
        Assert.Equal(0, (await Typed.Run(["rehearse", "--seed", "11", "--walk", .. Walked, "--keep", "--store", store])).Code);
        return store;
    }

    private async Task<Report> Made()
    {
        var store = await Kept();
        using var journal = new Stores("0.1.0-test", TimeProvider.System).Open(store, StoreNature.Practice, write: true).Require();
        journal.Append(new EntryBody.Skipped("list", "P08", "no plug to pull") { Machine = "Heron" }).Require();
        return new WriteReport(journal, "0.1.0-test", Library.Shipped).Run(new ReportRequest()).Require();
    }

    [Fact]
    public async Task Checks_stand_with_their_question_and_facts_as_facts()
    {
        var tables = (await Made()).Sections.Single(section => section.Title == "Checks").Blocks.OfType<ReportBlock.Table>().ToList();
        Assert.Equal(["check", "fact"], tables.Select(table => table.Name));
        var stop = tables[0].Rows.Single(row => row[0].Text.StartsWith("P07", StringComparison.Ordinal));
        Assert.Contains("emergency stop", stop[tables[0].Headers.IndexOf("question")].Text, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain(tables[0].Rows, row => row[0].Text.StartsWith("rated", StringComparison.Ordinal));
        Assert.Equal("What does the label of the DC supply for the drivers say?", tables[1].Rows.Single(row => row[0].Text.StartsWith("rated", StringComparison.Ordinal))[1].Text);
        Assert.All(tables.SelectMany(table => table.Rows), row => Assert.NotEqual("no text at hand", row[1].Text));
    }

    [Fact]
    public async Task A_session_stands_with_the_hazards_and_what_was_confirmed()
    {
        var store = await Kept();
        using var journal = new Stores("0.1.0-test", TimeProvider.System).Open(store, StoreNature.Practice, write: false).Require();
        var run = journal.Entries().First(entry => entry.Body is EntryBody.RunStarted { Procedure: "axis-scale" }).Sequence;
        var report = new WriteReport(journal, "0.1.0-test", Library.Shipped).Run(new ReportRequest { Session = run }).Require();
        var hazards = Library.Find("axis-scale").Require().Procedure.Hazards;
        Assert.Equal(hazards.Length, report.Sections.Single(section => section.Title == "Hazards").Blocks.OfType<ReportBlock.Items>().Single().Lines.Length);
        var said = report.Sections.SelectMany(section => section.Blocks).OfType<ReportBlock.Table>().Single(table => table.Name == "confirmation");
        Assert.True(said.Rows.Length > 1);
        Assert.All(said.Rows, row => Assert.True(row[1].Text.Length > 12 && !row[1].Text.StartsWith("no text", StringComparison.Ordinal), row[1].Text));
    }

    // Markup and quotes of the forms, which stand within sentences.
    private static string Plain(string text) => text.Replace("\\", "", StringComparison.Ordinal).Replace("&#39;", "'", StringComparison.Ordinal);
}
