using Commission.Core.Procedures;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Pages;
using Commission.Workshop.Sessions;
using Microsoft.Extensions.Time.Testing;

namespace Commission.Workshop.Tests.Sessions;

/// <summary>The list before the first motion: in order, stopped by the first check that is out, each answer kept as evidence, skips open until they are done.</summary>
public sealed class FirstPowerUpTests
{
    [Fact]
    public void The_first_check_that_is_out_opens_nothing_says_what_to_do_and_who_may_and_goes_on_when_it_is_in()
    {
        using var journal = SessionScene.Journal();
        var session = Open(journal);
        Until(session, "p09");
        session.Number("47.5", 47.5).Require();
        var rated = session.Run.Values["rated-volts"].Number!.Value;
        var need = Assert.IsType<Need.CheckOut>(session.Needs);
        Assert.Equal("P09", need.Check.Id);
        Assert.Contains("Set the supply with its screw", need.Check.IfOut, StringComparison.Ordinal);
        Assert.IsType<Outcome<ProcedureRun>.Bad>(session.Confirm());
        Assert.IsType<Outcome<ProcedureRun>.Bad>(session.Choose("yes"));
        Assert.IsType<Need.CheckOut>(session.Needs);
        session.RepeatCheck().Require();
        session.Number("r", rated).Require();
        Assert.Equal("p10", session.Needs.Step);
        Assert.Contains("licensed electrician", ((Need.Number)session.Needs).Check!.Who, StringComparison.Ordinal);
    }

    [Fact]
    public void Each_check_leaves_who_when_value_limit_and_source_behind()
    {
        using var journal = SessionScene.Journal();
        var session = Open(journal);
        Until(session, "supply-alone");
        var checks = journal.Entries().Where(entry => entry.Body is EntryBody.Checked).ToArray();
        Assert.Equal(["P01", "P02", "P03", "P04"], checks.Select(entry => ((EntryBody.Checked)entry.Body).Check));
        Assert.All(checks, entry => Assert.Equal("M", entry.Body.Operator));
        Assert.All(checks, entry => Assert.Equal(new FakeTimeProvider().Start, entry.At));
        var earth = (EntryBody.Checked)checks[1].Body;
        Assert.Equal(("at most 0.1 ohm", "ohm", true), (earth.Limit, earth.Unit, earth.Passed));
        Assert.InRange(earth.Value!.Value, 0, 0.1);
        Assert.Contains("DIN VDE 0701-0702", earth.Source, StringComparison.Ordinal);
    }

    [Fact]
    public void A_skip_needs_its_reason_stays_open_in_the_ledger_and_closes_when_the_check_is_made()
    {
        using var journal = SessionScene.Journal();
        var session = Open(journal);
        Until(session, "p33");
        session.Skip("extinguisher ordered").Require();
        var open = Assert.Single(Ledger.From(journal.Entries()).OpenSkips);
        Assert.Equal(("P33", "extinguisher ordered"), (open.Made.Body.Check, open.Made.Body.Reason));
        session.Leave("put-aside", "tea").Require();

        var again = Open(journal, resume: false);
        Until(again, "p33");
        again.Choose("yes").Require();
        Assert.Empty(Ledger.From(journal.Entries()).OpenSkips);
    }

    [Fact]
    public void A_skipped_check_is_printed_in_report_card_and_session_and_stands_on_the_bench_until_it_is_done_and_then_no_longer()
    {
        using var journal = SessionScene.Journal();
        journal.Append(new EntryBody.MachineDescribed(SessionScene.Heron, Retired: false) { Machine = "Heron" }).Require();
        var session = Open(journal);
        Until(session, "p33");
        session.Skip("extinguisher ordered").Require();
        session.Leave("put-aside", "tea").Require();
        foreach (var place in Printed(journal))
            Assert.Matches("P33.{0,40}extinguisher ordered", place.Value.ReplaceLineEndings(" "));

        var again = Open(journal, resume: false);
        Until(again, "p33");
        again.Choose("yes").Require();
        again.Leave("put-aside", "tea").Require();
        foreach (var place in Printed(journal).Where(place => place.Key != "session"))
            Assert.DoesNotContain("extinguisher ordered", place.Value, StringComparison.Ordinal);
    }

    private static Dictionary<string, string> Printed(Workshop.Ports.MemoryJournal journal)
    {
        string Report(ReportRequest request) => Core.Reports.MarkdownReport.Write(new WriteReport(journal, "test").Run(request).Require());
        var first = journal.Entries().First(entry => entry.Body is EntryBody.RunStarted).Sequence;
        var desk = new Desk(new DeskMeans { Journal = journal, Procedures = [], Clock = new FakeTimeProvider(), Begin = (_, _, _, _) => new Problem("none", "None") });
        return new()
        {
            ["report"] = Report(new ReportRequest { Machine = "Heron" }), ["card"] = Report(new ReportRequest { Machine = "Heron", Card = true }),
            ["session"] = Report(new ReportRequest { Machine = "Heron", Session = first }), ["bench"] = Commission.Workshop.Screens.SheetFrame.Text(desk.Show(80, 40)),
        };
    }

    [Theory]
    [InlineData("p05")]
    [InlineData("p06")]
    [InlineData("p07")]
    [InlineData("p29")]
    public void Checks_of_the_emergency_stop_cannot_be_skipped(string step)
    {
        using var journal = SessionScene.Journal();
        var session = Open(journal);
        Until(session, step);
        Assert.IsType<Outcome<ProcedureRun>.Bad>(session.Skip("no time"));
        Assert.Empty(Ledger.From(journal.Entries()).OpenSkips);
    }

    [Fact]
    public void What_asks_for_mains_work_names_the_electrician_and_what_asks_for_motion_its_hazards()
    {
        var procedure = SessionScene.Request("first-power-up", null).Procedure;
        foreach (var id in new[] { "P02", "P03", "P04", "P05", "P10", "P31" })
            Assert.All(procedure.AllSteps.OfType<Step.Check>().Where(check => check.Id == id), check => Assert.Contains("electrician", check.Who, StringComparison.Ordinal));
        Assert.Contains(procedure.Hazards, hazard => hazard.What.Contains("Mains", StringComparison.Ordinal) && hazard.Do.Contains("Local code", StringComparison.Ordinal));
        Assert.All(procedure.AllSteps.OfType<Step.Check>().Where(check => check.Id.StartsWith('P')), check => Assert.False(string.IsNullOrEmpty(check.Source), check.Id));
    }

    private static ProcedureSession Open(Workshop.Ports.IJournal journal, bool resume = true) =>
        ProcedureSession.Open(journal, SessionScene.Request("first-power-up", null) with { Resume = resume }).Require();

    // Answers what is well inside every limit.
    private static void Until(ProcedureSession session, string step)
    {
        for (var i = 0; i < 200 && session.Needs.Step != step; i++)
        {
            if (session.Needs is Need.Number && session.Run.Current?.Step is Step.Check check)
            {
                var value = check.Limits.OfType<Limit.Relative>().FirstOrDefault() is { } relative ? session.Run.Values[relative.To].Number!.Value : check.Limits switch
                {
                    [Limit.Between between] => (between.Low + between.High) / 2,
                    [Limit.AtLeast { Least.Number: { } least }] => 2 * least,
                    [Limit.AtMost { Most.Number: { } most }] => most / 2,
                    [Limit.AtMost { Most: { Name: { } name } }] => session.Run.Values[name].Number!.Value / 2,
                    [Limit.AtLeast { Least: { Name: { } name, Fraction: var share } }] => 2 * share * session.Run.Values[name].Number!.Value,
                    _ => 1,
                };
                session.Number("r", value).Require();
            }
            else
            {
                Answers.Usual(session);
            }
        }

        Assert.Equal(step, session.Needs.Step);
    }
}
