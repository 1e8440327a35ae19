using System.Globalization;
using Microsoft.Extensions.Time.Testing;

namespace Commission.App.Tests.CommandLine;

/// <summary>What reports say, and that a day or a culture changes no byte of them.</summary>
public sealed class ReportTests : TypedRequests
{
    [Fact]
    public async Task The_state_of_a_machine_tells_findings_first_and_then_what_was_not_checked()
    {
        await Keep(1);
        var report = await Run("report");
        Assert.Equal(0, report.Code);
        string[] order = ["## Findings", "## How every result stands", "## axis scale X", "## What was not checked", "## Methods", "## Where this comes from", "## Raw readings"];
        var places = order.Select(heading => Array.IndexOf(report.Lines, heading)).ToArray();
        Assert.DoesNotContain(-1, places);
        Assert.Equal(places.Order(), places);
        Assert.Contains("axis-scale/2", report.Out, StringComparison.Ordinal);
        Assert.Contains("excluded: slipped", report.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_page_holds_its_pictures_and_fetches_nothing()
    {
        await Keep(1);
        var page = At("r.html");
        Assert.Equal(0, (await Run("report", "--out", page)).Code);
        var html = await File.ReadAllTextAsync(page, TestContext.Current.CancellationToken);
        Assert.Contains("<svg ", html, StringComparison.Ordinal);
        Assert.DoesNotContain("<script", html, StringComparison.Ordinal);
        Assert.DoesNotContain("href=", html, StringComparison.Ordinal);
        Assert.DoesNotContain("src=", html, StringComparison.Ordinal);
        Assert.Contains("@page", html, StringComparison.Ordinal);
    }

    // A script names the file it means; question by question a file is not lost unseen.
    [Fact]
    public async Task A_file_that_is_there_is_replaced_and_told_and_question_by_question_asked_about_first()
    {
        await Keep(1);
        var file = At("r.md");
        await File.WriteAllTextAsync(file, "old", TestContext.Current.CancellationToken);
        var asked = await Typed.RunWith("no\n", "report", "--plain", "--out", file, "--store", Store);
        Assert.Equal(2, asked.Code);
        Assert.Equal($"ask confirm replace: {file} is there already. yes or S replaces it, no leaves it.", asked.Lines[^1]);
        Assert.Contains("nothing is written", asked.Error, StringComparison.Ordinal);
        Assert.Equal("old", await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken));
        var yes = await Typed.RunWith("yes\n", "report", "--plain", "--out", file, "--store", Store);
        Assert.Equal((0, $"report written to {file}, in place of the file that was there"), (yes.Code, yes.Lines[^1]));
        var script = await Run("report", "--out", file);
        Assert.Equal((0, $"report written to {file}, in place of the file that was there\n"), (script.Code, script.Out));
        Assert.DoesNotContain("in place", (await Run("report", "--out", At("new.md"))).Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("r.html")]
    [InlineData("r.md")]
    [InlineData("r.csv")]
    public async Task A_culture_changes_no_byte(string name)
    {
        await Keep(1);
        Assert.Equal(0, (await Run("report", "--out", At("1" + name))).Code);
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = new CultureInfo("") { NumberFormat = { NumberDecimalSeparator = ",", NegativeSign = "\u2212" }, DateTimeFormat = { DateSeparator = "." } };
            Assert.Equal(0, (await Run("report", "--out", At("2" + name))).Code);
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }

        Assert.Equal(await File.ReadAllBytesAsync(At("1" + name), TestContext.Current.CancellationToken), await File.ReadAllBytesAsync(At("2" + name), TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task Before_a_date_only_what_was_known_then_counts_and_after_it_results_grow_old()
    {
        await Keep(1);
        Assert.Equal(2, (await Run("report", "--as-of", "2001-01-01")).Code);
        var later = await Run("report", "--as-of", "2999-01-01");
        Assert.Contains("State as of 2999-01-01", later.Out, StringComparison.Ordinal);
        Assert.Contains(later.Lines, line => line.StartsWith("| axis scale | X | due |", StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_card_has_settings_with_their_decimals_the_stop_and_what_to_do_after_a_change()
    {
        await Keep(1);
        var card = await Run("report", "--card");
        Assert.Contains("| X | 320.000 steps/mm |", card.Out, StringComparison.Ordinal);
        Assert.Contains("not tested since the last change of the machine: P05", card.Out, StringComparison.Ordinal);
        Assert.Contains("| Spindle taken out and mounted again | tram the spindle", card.Out, StringComparison.Ordinal);
        Assert.Contains(card.Lines, line => line.StartsWith("| axis scale | X |", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_session_tells_of_one_run_alone()
    {
        await Keep(1);
        await Keep(1.001);
        var runs = (await Run("history", "list")).Lines.Where(line => line.Contains("procedure from-file begun", StringComparison.Ordinal)).Select(line => line.TrimStart().Split(' ')[0]).ToArray();
        var session = await Run("report", "--session", runs[1]);
        Assert.StartsWith($"# Session {runs[1]}: from-file X on Heron", session.Out, StringComparison.Ordinal);
        Assert.Single(session.Lines, line => line.StartsWith("| axis scale | X |", StringComparison.Ordinal));
        var none = await Run("report", "--session", "1");
        Assert.Equal(2, none.Code);
        Assert.Contains($"Its runs: {runs[0]}, {runs[1]}", none.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_check_made_after_the_last_finding_stands_beside_the_description_that_the_finding_rests_on_with_what_it_read()
    {
        await Keep(1);
        Assert.Equal(0, (await Run("instrument", "add", "caliper-150", "--like", "caliper-150")).Code);
        await Keep(1);
        Assert.Equal(0, (await Run("instrument", "check", "caliper-150", "30", "30.01", "30.01", "30.02", "--block-limit", "0.001")).Code);
        Assert.Equal(0, (await Run("instrument", "retire", "caliper-150")).Code);
        var report = await Run("report");
        var lines = report.Out.Split("## Instruments")[1].Split("##")[0].Split('\n').Where(line => line.StartsWith("- ", StringComparison.Ordinal)).ToList();
        Assert.Equal(4, lines.Count);
        Assert.Matches("limit of error 0.03 mm.*1 finding rests on it here", lines[0]);
        Assert.Matches("checked against 30 mm.*no finding here rests on this description", lines[1]);
        Assert.Contains("read on 30 mm: 30.01, 30.01, 30.02 mm; limit of error of the block 0.001 mm", lines[2], StringComparison.Ordinal);
        Assert.Contains("out of use since", lines[3], StringComparison.Ordinal);
        Assert.Equal(0, (await Run("history", "check")).Code);
    }

    [Fact]
    public async Task Two_dates_compared_say_whether_the_difference_is_larger_than_its_uncertainty()
    {
        await Keep(1);
        var same = await Run("report", "--as-of", "2998-01-01", "--against", "2999-01-01");
        Assert.Contains("the same finding", same.Out, StringComparison.Ordinal);
        Assert.Equal(2, (await Run("report", "--card", "--against", "2999-01-01")).Code);
    }

    [Fact]
    public async Task Lengths_are_reported_in_inches_where_asked_for_and_the_columns_say_so()
    {
        await Keep(1);
        var report = await Run("report", "--units", "in");
        Assert.Contains("commanded\\_in", report.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("commanded\\_mm", report.Out, StringComparison.Ordinal);
        Assert.Contains("| reversal | ", report.Out, StringComparison.Ordinal);
        Assert.Contains("| in | ", report.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Limits_of_the_owner_lie_beside_the_journal_and_a_mistake_in_them_is_told_with_its_line()
    {
        await Keep(1);
        var file = Path.Combine(Folder, "store", "classes.json");
        await File.WriteAllTextAsync(file, """{"format":"commission.acceptance/1","limits":[{"kind":"axis-scale","unit":"1","wood":0.002,"plastics":0.0003,"aluminium":0.0001}]}""", TestContext.Current.CancellationToken);
        var own = await Run("report");
        Assert.Equal("", own.Error);
        Assert.Contains("own limits, classes.json beside the journal", own.Out, StringComparison.Ordinal);
        await File.WriteAllTextAsync(file, "{\"format\":\"commission.acceptance/1\",\"limits\":[\n{\"kind\":\"dream\"}]}", TestContext.Current.CancellationToken);
        var wrong = await Run("report");
        Assert.Equal(0, wrong.Code);
        Assert.Contains("classes.json:2:1: limit 1: \"dream\" is no kind of characteristic. ", wrong.Error, StringComparison.Ordinal);
        Assert.Contains("the shipped limits", wrong.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_name_takes_the_place_of_its_handle_in_the_report_and_never_enters_the_journal()
    {
        await Keep(1);
        Assert.Equal(0, (await Run("history", "change", "crash")).Code);
        using (var store = new Commission.Adapters.Storage.Stores("1", TimeProvider.System).Open(At("store"), Commission.Core.History.StoreNature.Real, write: true).Require())
        {
            var run = store.Append(new Commission.Core.History.EntryBody.RunStarted { Machine = "Heron", Operator = "al", Procedure = "backlash", ProcedureHash = "0", Axis = "X" }).Require();
            store.Append(new Commission.Core.History.EntryBody.ReadingTaken
            {
                Machine = "Heron", Operator = "al", Run = run.Sequence, Recorded = 1, Step = "r", Cell = 0, Place = "far", Typed = "0.01", Value = 0.01, Unit = "mm",
            }).Require();
        }

        var session = (await Run("history", "list")).Lines.Last(line => line.Contains("backlash", StringComparison.Ordinal)).TrimStart().Split(' ')[0];
        await File.WriteAllTextAsync(Path.Combine(Folder, "store", "names.txt"), "al: Example Person\n", TestContext.Current.CancellationToken);
        var with = (await Run("report", "--session", session, "--names")).Out;
        var without = (await Run("report", "--session", session)).Out;
        Assert.Contains("| Example Person |", with, StringComparison.Ordinal);
        Assert.DoesNotContain("| al |", with, StringComparison.Ordinal);
        Assert.Contains("| al |", without, StringComparison.Ordinal);
        Assert.Equal(0, (await Run("history", "export", "--out", At("out.jsonl"))).Code);
        Assert.DoesNotContain("Example", await File.ReadAllTextAsync(At("out.jsonl"), TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("de-DE")]
    [InlineData("ar-SA")]
    [InlineData("tr-TR")]
    [InlineData("fa-IR")]
    [InlineData("th-TH")]
    public async Task No_culture_changes_a_byte_of_report_card_or_trend(string name)
    {
        await Keep(1);
        async Task<string> All()
        {
            foreach (var file in (string[])["a.html", "a.md", "a.csv"])
                Assert.Equal(0, (await Run("report", "--as-of", "2999-01-01", "--out", At(file))).Code);
            var files = string.Concat(((string[])["a.html", "a.md", "a.csv"]).Select(file => File.ReadAllText(At(file))));
            return files + (await Run("report", "--card")).Out + (await Run("history", "trend", "axis-scale", "--axis", "X")).Out + (await Run("history", "trend", "axis-scale", "--axis", "X", "--json")).Out;
        }

        var (before, first) = (CultureInfo.CurrentCulture, await All());
        CultureInfo other;
        try
        {
            other = new CultureInfo(name);
        }
        catch (CultureNotFoundException)
        {
            // Where the system carries no cultures, what differs in them is made by hand.
            other = new CultureInfo("") { NumberFormat = { NumberDecimalSeparator = ",", NegativeSign = "\u200f-" }, DateTimeFormat = { DateSeparator = "." } };
        }

        try
        {
            CultureInfo.CurrentCulture = CultureInfo.CurrentUICulture = other;
            Assert.Equal(first, await All());
        }
        finally
        {
            CultureInfo.CurrentCulture = CultureInfo.CurrentUICulture = before;
        }
    }

    [Fact]
    public async Task Names_stand_in_a_report_only_where_they_are_asked_for()
    {
        await Keep(1);
        Assert.Equal(2, (await Run("report", "--names")).Code);
        await File.WriteAllTextAsync(Path.Combine(Folder, "store", "names.txt"), "al: Ada L.\n", TestContext.Current.CancellationToken);
        Assert.Equal(0, (await Run("report", "--names")).Code);
        Assert.DoesNotContain("Ada L.", (await Run("report")).Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(-11)]
    [InlineData(5.75)]
    [InlineData(14)]
    public async Task Neither_the_day_nor_the_zone_of_the_reader_changes_a_byte(double hours)
    {
        await Keep(1);
        string All(TimeProvider clock)
        {
            using var journal = new Commission.Adapters.Storage.Stores("1", clock).Open(At("store"), Commission.Core.History.StoreNature.Real, write: false).Require();
            return string.Concat(new Commission.Workshop.Requests.ReportRequest[] { new(), new() { Card = true }, new() { AsOf = "2999-01-01" }, new() { Against = "2999-01-01" } }
                .Select(request => new Commission.Workshop.Requests.WriteReport(journal, "1").Run(request).Require())
                .Select(report => Core.Reports.HtmlReport.Write(report) + Core.Reports.MarkdownReport.Write(report) + Core.Reports.CsvReport.Write(report)));
        }

        var elsewhere = new FakeTimeProvider(new DateTimeOffset(2044, 2, 29, 23, 59, 0, TimeSpan.Zero));
        elsewhere.SetLocalTimeZone(TimeZoneInfo.CreateCustomTimeZone("elsewhere", TimeSpan.FromHours(hours), "elsewhere", "elsewhere"));
        Assert.Equal(All(TimeProvider.System), All(elsewhere));
    }

    private async Task Keep(double scale)
    {
        if (!Directory.Exists(At("store")))
            Assert.Equal(0, (await Run("machine", "new", "Heron", "--travel-mm", "420,580,90", "--steps-per-mm", "320", "--lead-mm", "5", "--screw-grade", "7")).Code);
        var rows = from place in new[] { 10, 70, 130 }
                   from side in new[] { "+", "-" }
                   from turn in new[] { 0, 1 }
                   select FormattableString.Invariant($"{place},{(place * scale) + (side == "+" ? 0.01 : -0.01) + (0.02 * turn):0.000},{side},\n");
        await File.WriteAllTextAsync(At("readings.csv"), "commanded_mm,measured_mm,direction,excluded\n" + string.Concat(rows) + "70,75.00,+,slipped\n", TestContext.Current.CancellationToken);
        Assert.InRange((await Run("fit", "axis-scale", At("readings.csv"), "--keep", "--axis", "X", "--instrument", "caliper-150", "--tolerance", "0.5mm")).Code, 0, 3);
    }
}
