using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Procedures;
using Commission.Tests;
using Commission.Workshop.Requests;
using Commission.Workshop.Sessions;
using Microsoft.Extensions.Time.Testing;

namespace Commission.Workshop.Tests.Sessions;

/// <summary>The program may end, and the medium may fail, between two entries that belong together.</summary>
public sealed class RecoveredSessionTests
{
    [Fact]
    public void A_medium_that_fails_at_the_entry_that_follows_is_reported_and_not_passed_over()
    {
        var journal = new FaultyJournal(SessionScene.Journal());
        var session = SessionScene.Open(journal, "rails", axis: null);
        Answers.UntilReading(session);
        while (session.Needs is Need.TakeReading) session.Read("0.01", 0.01).Require();
        session.Number("0.05", 0.05).Require();
        journal.Left = 1;
        var problems = Assert.IsType<Outcome<ProcedureRun>.Bad>(session.Choose("yes")).Problems;
        Assert.Equal(FaultyJournal.DiskFull, problems[0].What);
        Assert.True(session.StoreFailed);

        journal.Left = null;
        var again = SessionScene.Open(journal, "rails", axis: null);
        Assert.IsType<Need.Ended>(again.Needs);
        Assert.Contains(journal.Entries(), entry => entry.Body is EntryBody.RunEnded { How: "completed" });
    }

    [Fact]
    public void A_corrected_reading_whose_naming_entry_was_lost_is_named_when_the_run_is_taken_up()
    {
        var journal = new FaultyJournal(SessionScene.Journal());
        var session = SessionScene.Open(journal, "axis-scale", AxisName.X, Invented.Caliper);
        Answers.UntilReading(session);
        for (var i = 0; i < 6; i++) session.Read("r", Answers.Axis((Need.TakeReading)session.Needs)).Require();
        var wrong = session.Read("off", Answers.Axis((Need.TakeReading)session.Needs) + 10).Require();
        journal.Left = 1;
        Assert.IsType<Outcome<ProcedureRun>.Bad>(session.AnswerSlip(SlipAnswer.AsSuggested));
        Assert.DoesNotContain(journal.Entries(), entry => entry.Body is EntryBody.Superseded);

        journal.Left = null;
        var again = SessionScene.Open(journal, "axis-scale", AxisName.X, Invented.Caliper);
        var named = journal.Entries().Select(entry => entry.Body).OfType<EntryBody.Superseded>().Single();
        Assert.Equal(wrong.Sequence, named.Reading);
        Assert.Equal(again.Run.Readings[^1].Sequence, named.By);
        Assert.Equal(7, Assert.IsType<Need.TakeReading>(again.Needs).Index);
    }

    [Fact]
    public void A_count_evaluated_from_answers_stands_in_the_journal_as_a_reading_and_can_be_computed_again()
    {
        var journal = new FaultyJournal(SessionScene.Journal());
        var session = SessionScene.Open(journal, "noise", axis: null);
        Answers.UntilReading(session, (need, run) => need is Need.Number && (run.Run.Current?.Name.EndsWith("trips", StringComparison.Ordinal) == true
            ? run.Number("3", 3) : run.Number("2,5", 2.5)) is Outcome<ProcedureRun>.Good);
        journal.Left = 1;
        Assert.IsType<Outcome<Finding>.Bad>(session.Evaluate());

        // The row reached the medium and its finding did not: it is not written twice.
        journal.Left = null;
        SessionScene.Open(journal, "noise", axis: null).Evaluate().Require();
        var (taken, made) = (Bodies<EntryBody.ReadingTaken>(journal).Single(), Bodies<EntryBody.FindingMade>(journal).Single());
        Assert.Equal((3.0, "3", 2.5), (taken.Value, taken.Typed, taken.Given["hours"]));
        Assert.Equal([journal.Entries().Single(entry => entry.Body == taken).Sequence], made.Readings);
        Assert.Equal(RecomputedAs.Same, Assert.Single(new Recompute(journal, CharacteristicKinds.Find).Run("Heron")).As);
    }

    private static IEnumerable<TBody> Bodies<TBody>(FaultyJournal journal) => journal.Entries().Select(entry => entry.Body).OfType<TBody>();
}
