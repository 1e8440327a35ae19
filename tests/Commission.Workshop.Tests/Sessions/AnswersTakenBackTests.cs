using Commission.Core.Procedures;
using Commission.Tests;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Tests.Sessions;

/// <summary>A wrong yes, a wrong no or a wrong fact is taken back while the run is open: the answer stays in the journal, taken back, and is given anew.</summary>
public sealed class AnswersTakenBackTests
{
    private const string Readiness = "readiness", Plates = "nominal-steps";

    [Fact]
    public void A_wrong_yes_is_taken_back_named_by_an_entry_and_its_check_is_not_passed_until_it_is_answered_again()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, Readiness, axis: null);
        session.HazardsRead().Require();
        session.Choose("yes").Require();
        Assert.Equal("p05", session.Needs.Step);
        Assert.True(Now(journal, "P05a").Body.Passed);

        var answer = session.TakeBack().Require();

        Assert.Equal("p05a", session.Needs.Step);
        var named = Assert.IsType<EntryBody.Noted>(journal.Entries().Last().Body);
        Assert.Equal((answer.Sequence, EntryBody.Noted.TakenBack, session.RunNumber), (named.About!.Value, named.Text, named.Run!.Value));
        Assert.Equal("yes", Assert.IsType<EntryBody.Checked>(journal.Entries().Single(entry => entry.Sequence == answer.Sequence).Body).Typed);
        Assert.Equal(("yes (taken back)", false), (Now(journal, "P05a").Body.Typed, Now(journal, "P05a").Body.Passed));
        session.Choose("yes").Require();
        Assert.True(Now(journal, "P05a").Body.Passed);
    }

    [Fact]
    public void A_wrong_no_is_taken_back_from_the_sheet_of_the_check_that_is_out()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, Readiness, axis: null);
        session.HazardsRead().Require();
        session.Choose("no").Require();
        Assert.IsType<Need.CheckOut>(session.Needs);
        session.TakeBack().Require();
        Assert.IsType<Need.Choose>(session.Needs);
        session.Choose("yes").Require();
        Assert.Equal("p05", session.Needs.Step);
    }

    [Fact]
    public void A_run_taken_up_afterwards_stands_where_the_answer_was_taken_back()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, Readiness, axis: null);
        session.HazardsRead().Require();
        session.Choose("yes").Require();
        session.Number("1", 1).Require();
        session.TakeBack().Require();
        session.Number("2", 2).Require();
        session.TakeBack().Require();
        session.TakeBack().Require();

        var again = SessionScene.Open(journal, Readiness, axis: null);
        Assert.True(again.Resumed);
        Assert.Equal("p05a", again.Needs.Step);
        again.Choose("yes").Require();
        Assert.Equal("p05", again.Needs.Step);
    }

    [Fact]
    public void A_wrong_fact_is_taken_back_and_the_machine_is_described_as_before()
    {
        using var journal = SessionScene.Journal();
        journal.Append(new EntryBody.MachineDescribed(SessionScene.Heron, Retired: false) { Machine = "Heron" }).Require();
        var session = SessionScene.Open(journal, Plates, axis: null);
        Until(session, need => need.Step.EndsWith("/micro", StringComparison.Ordinal));
        session.Number("61", 61).Require();
        Assert.Equal(61, Kept(journal).X.Microsteps);

        session.TakeBack().Require();

        Assert.EndsWith("/micro", session.Needs.Step, StringComparison.Ordinal);
        Assert.Null(session.Run.Machine.X.Microsteps);
        Assert.Null(Kept(journal).X.Microsteps);
        session.Number("16", 16).Require();
        Assert.Equal(16, Kept(journal).X.Microsteps);
        Assert.Equal(16, SessionScene.Open(journal, Plates, axis: null).Run.Machine.X.Microsteps);
    }

    [Fact]
    public void A_skip_that_is_taken_back_is_none()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "first-power-up", axis: null);
        Until(session, _ => session.Run.Current?.Step is Step.Check { MaySkip: true });
        session.Skip("no meter").Require();
        Assert.Single(Ledger.From(journal.Entries()).OpenSkips);
        session.TakeBack().Require();
        Assert.Empty(Ledger.From(journal.Entries()).OpenSkips);
    }

    [Fact]
    public void Nothing_is_taken_back_before_the_first_answer_behind_a_move_or_after_the_end()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, Readiness, axis: null);
        Assert.Equal("nothing was answered yet", Refused(session));
        session.HazardsRead().Require();
        Assert.Equal("nothing was answered yet", Refused(session));
        session.Choose("yes").Require();
        session.Leave("put-aside", "tea").Require();
        Assert.Equal("the run has ended", Refused(session));

        using var moving = SessionScene.Journal();
        var moved = ProcedureSession.Open(moving, SessionScene.Request(Readiness, axis: null) with { Procedure = WithAMove }).Require();
        moved.HazardsRead().Require();
        moved.Choose("yes").Require();
        Assert.IsType<Need.Motion>(moved.Needs);
        Assert.IsType<Outcome<JournalEntry>.Good>(moved.LastDone);
        moved.Confirm().Require();
        Assert.Equal("what was done at the machine since stays done", Refused(moved));
    }

    [Fact]
    public void A_reading_taken_since_comes_first_and_with_it_taken_back_the_answer_before_it_can_be()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "axis-scale", AxisName.X, Invented.Caliper);
        Answers.UntilReading(session);
        var taken = session.Read("8.00", 8).Require();
        Assert.Equal(taken.Sequence, session.LastDone.Require().Sequence);
        Assert.Equal(taken.Sequence, session.TakeBack().Require().Sequence);
        Assert.IsType<Need.TakeReading>(session.Needs);
        session.TakeBack().Require();
        Assert.IsNotType<Need.TakeReading>(session.Needs);
    }

    private static Procedure WithAMove { get; } = ProcedureReader.Read("some-steps.yaml", """
        format: commission.procedure/1
        id: some-steps
        title: Some steps
        purpose: Makes a move.
        minutes: 1
        hazards:
          - {what: The machine moves., do: Hands out.}
        steps:
          - {name: clear, check: {ask: Is it clear?, answer: yes-no, ifOut: Clear it.}}
          - {name: up, move: {moves: [{by: 1, axis: Z, feed: 100}], text: Up it goes.}}
          - {name: seen, check: {ask: Has it moved?, answer: yes-no, ifOut: Look again.}}
        evaluation: [Nothing is computed.]
        abort: [It goes elsewhere.]
        goodData: [It moved.]
        slips: [None.]
        """).Require();

    private static string Refused(ProcedureSession session) => Assert.IsType<Outcome<JournalEntry>.Bad>(session.TakeBack()).Problems[0].What;

    private static void Until(ProcedureSession session, Func<Need, bool> reached)
    {
        for (var i = 0; i < 400 && !reached(session.Needs); i++)
            Answers.Usual(session);
    }

    private static Entered<EntryBody.Checked> Now(MemoryJournal journal, string check) => Ledger.From(journal.Entries()).LatestChecks("Heron").Single(latest => latest.Key.Check == check).Made;

    private static Machine Kept(MemoryJournal journal) => Ledger.From(journal.Entries()).Machines["Heron"].Description;
}
