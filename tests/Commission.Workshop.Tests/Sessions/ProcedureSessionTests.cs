using System.Collections.Immutable;
using Commission.Core.Instruments;
using Commission.Core.Procedures;
using Commission.Tests;
using Commission.Workshop.Sessions;
using CsCheck;
using Microsoft.Extensions.Time.Testing;

namespace Commission.Workshop.Tests.Sessions;

public sealed class ProcedureSessionTests
{
    private static Machine Heron { get; } = new()
    {
        Name = "Heron",
        TravelMm = [420, 580, 90],
        Class = WorkClass.Plastics,
        X = new AxisDescription { Drive = DriveKind.Screw, TravelPerTurnMm = 5, StepsPerMm = 320, Grade = 7, Setting = RatioSetting.StepsPerMm, SettingDecimals = 3 },
    };

    private static SessionRequest Request() => SessionScene.Request("axis-scale", AxisName.X, Invented.Caliper, Heron);

    [Fact]
    public void A_run_taken_up_after_six_readings_asks_for_the_seventh_cell_and_numbers_go_on()
    {
        var journal = SessionScene.Journal();
        var first = Opened(journal);
        WalkToReadings(first);
        ReadSome(first, 6);

        var again = Opened(journal);

        Assert.True(again.Resumed);
        var need = Assert.IsType<Need.TakeReading>(again.Needs);
        Assert.Equal(6, need.Index);
        Assert.Equal(7, again.Read("77.00", Answers.Axis(need)).Require().Recorded);
    }

    [Fact]
    public void Ten_readings_of_an_axis_that_does_what_it_is_told_end_in_a_finding_that_leaves_it()
    {
        var journal = SessionScene.Journal();
        var session = Opened(journal);
        WalkToReadings(session);
        ReadSome(session, 10);
        session.Confirm().Require();
        var finding = session.Evaluate().Require();

        Assert.Equal(Core.Characteristics.AdviceAction.Leave, finding.Advice.Action);
        Assert.True(session.Run.HasEnded);
        var made = journal.Entries().Select(entry => entry.Body).OfType<EntryBody.FindingMade>().Single();
        Assert.Equal(10, made.Readings.Length);
        Assert.Contains(journal.Entries(), entry => entry.Body is EntryBody.RunEnded { How: "completed" });
    }

    [Fact]
    public void A_reading_that_was_left_out_or_taken_back_counts_again_and_does_so_when_the_run_is_taken_up()
    {
        var journal = SessionScene.Journal();
        var session = Opened(journal);
        WalkToReadings(session);
        ReadSome(session, 3);
        var third = session.Run.Readings[^1].Sequence;
        session.LeaveOut(third, "jaw slipped").Require();
        session.PutBack(third).Require();
        Assert.Null(session.Run.Readings[^1].Excluded);
        session.ReadAgain(third).Require();
        Assert.Equal(2, Assert.IsType<Need.TakeReading>(session.Needs).Index);
        session.PutBack(third).Require();
        Assert.Equal(3, Assert.IsType<Need.TakeReading>(session.Needs).Index);
        Assert.IsType<Outcome<ProcedureRun>.Bad>(session.PutBack(third));
        // Four entries say what happened; the ledger and a run that is taken up agree with the screen.
        Assert.True(Ledger.From(journal.Entries()).Readings[third].Counts);
        var again = Opened(journal);
        Assert.Equal(3, Assert.IsType<Need.TakeReading>(again.Needs).Index);
        Assert.All(again.Run.Readings, reading => Assert.True(reading is { Stands: true, Excluded: null }));
    }

    [Fact]
    public void A_place_that_was_read_again_since_is_not_put_back_over_the_newer_reading()
    {
        var journal = SessionScene.Journal();
        var session = Opened(journal);
        WalkToReadings(session);
        ReadSome(session, 3);
        var third = session.Run.Readings[^1].Sequence;
        session.ReadAgain(third).Require();
        ReadSome(session, 1);
        var bad = Assert.IsType<Outcome<ProcedureRun>.Bad>(session.PutBack(third));
        Assert.Contains("its place was read again since", bad.Problems[0].What, StringComparison.Ordinal);
    }

    // Found in review: screens took anybody's study, plain mode the operator's own; and a study made where nobody was named was not kept at all.
    [Fact]
    public void A_hand_is_judged_by_its_own_study_and_one_that_is_not_named_keeps_its_study_too()
    {
        var journal = SessionScene.Journal();
        var session = ProcedureSession.Open(journal, SessionScene.Request("gauge-study", axis: null, Invented.Caliper) with { Operator = null }).Require();
        for (var i = 0; i < 400 && session.Needs is not Need.Ended; i++)
        {
            if (session.Needs is Need.TakeReading)
                session.Read("r", 20 + (0.01 * (i % 3))).Require();
            else if (session.Needs is Need.Evaluate)
                session.Evaluate().Require();
            else
                Answers.Usual(session);
        }

        var kept = Ledger.From(journal.Entries());
        Assert.Equal("owner", kept.Hand(null, "caliper 150")?.Body.Study.Operator);
        Assert.Null(kept.Hand("M", "caliper 150"));
        foreach (var person in (string[])["M", "K"])
            journal.Append(new EntryBody.StudyMade(new HandStudy(person, "caliper 150", 0.02, 14)) { Operator = person }).Require();
        kept = Ledger.From(journal.Entries());
        Assert.Equal((string[])["owner", "M", "K"], ((string?[])[null, "M", "K"]).Select(person => kept.Hand(person, "caliper 150")!.Body.Study.Operator));
        Assert.Null(kept.Hand(null, "tape"));
    }

    [Fact]
    public void A_swapped_digit_is_recorded_first_then_asked_about_and_the_answer_is_an_entry_of_its_own()
    {
        var journal = SessionScene.Journal();
        var session = Opened(journal);
        WalkToReadings(session);
        ReadSome(session, 6);
        var need = Assert.IsType<Need.TakeReading>(session.Needs);
        var taken = session.Read("off", Answers.Axis(need) + 18.01).Require();

        Assert.Contains(journal.Entries(), entry => entry.Sequence == taken.Sequence && entry.Body is EntryBody.ReadingTaken);
        Assert.IsType<Need.SlipQuestion>(session.Needs);
        session.AnswerSlip(SlipAnswer.ReadAgain).Require();
        Assert.Equal(6, Assert.IsType<Need.TakeReading>(session.Needs).Index);
        Assert.Contains(journal.Entries(), entry => entry.Body is EntryBody.Superseded superseded && superseded.Reading == taken.Sequence);
    }

    [Fact]
    public void A_question_that_was_open_when_the_program_ended_is_open_again()
    {
        var journal = SessionScene.Journal();
        var session = Opened(journal);
        WalkToReadings(session);
        ReadSome(session, 6);
        session.Read("off", Answers.Axis((Need.TakeReading)session.Needs) + 10).Require();

        var question = Assert.IsType<Need.SlipQuestion>(Opened(journal).Needs);
        Assert.NotNull(question.Suggestion);
    }

    [Fact]
    public void A_corrected_reading_counts_as_a_reading_and_the_typed_one_stays()
    {
        var journal = SessionScene.Journal();
        var session = Opened(journal);
        WalkToReadings(session);
        ReadSome(session, 6);
        var wanted = Answers.Axis((Need.TakeReading)session.Needs);
        session.Read("off", wanted + 10).Require();
        session.AnswerSlip(SlipAnswer.AsSuggested).Require();

        var need = Assert.IsType<Need.TakeReading>(session.Needs);
        Assert.Equal(7, need.Index);
        Assert.Equal(8, session.Run.Readings.Length);
        Assert.Equal(wanted, session.Run.Readings[^1].Value, 1e-9);
        Assert.Equal(8, Opened(journal).Run.Readings.Length);
    }

    [Fact]
    public void A_run_begun_with_another_text_of_the_procedure_is_not_taken_up_in_silence()
    {
        var journal = SessionScene.Journal();
        WalkToReadings(Opened(journal));
        var bad = Assert.IsType<Outcome<ProcedureSession>.Bad>(ProcedureSession.Open(journal, Request() with { ProcedureHash = "h2" }));
        Assert.Contains("another text", bad.Problems[0].What, StringComparison.Ordinal);
    }

    [Fact]
    public void Where_the_medium_refuses_a_reading_the_run_stands_where_it_stood()
    {
        var journal = new FaultyJournal(SessionScene.Journal());
        var session = ProcedureSession.Open(journal, Request()).Require();
        WalkToReadings(session);
        journal.Left = 0;
        Assert.IsType<Outcome<TakenReading>.Bad>(session.Read("1", 1));
        Assert.True(session.StoreFailed);
        Assert.Empty(session.Run.Readings);
    }

    [Fact]
    public void Any_run_replayed_from_its_entries_is_the_same_run() =>
        Gen.Int[0, 8].Array[0, 40].SampleFixed(answers =>
        {
            var journal = SessionScene.Journal();
            var session = Opened(journal);
            foreach (var answer in answers) Answer(session, answer);
            if (session.Run.HasEnded) return true;
            var again = Opened(journal).Run;
            return again.Position == session.Run.Position && again.NextCell == session.Run.NextCell
                && again.Readings.Select(reading => (reading.Sequence, reading.Value, reading.Superseded, reading.Excluded)).SequenceEqual(
                    session.Run.Readings.Select(reading => (reading.Sequence, reading.Value, reading.Superseded, reading.Excluded)))
                && again.Needs.GetType() == session.Needs.GetType();
        }, iter: 200);

    private static void Answer(ProcedureSession session, int how)
    {
        switch (session.Needs)
        {
            case Need.HazardsFirst: session.HazardsRead(); break;
            case Need.Instruct or Need.Confirm: session.Confirm(); break;
            case Need.SlipQuestion: session.AnswerSlip((SlipAnswer)(how % 3)); break;
            case Need.TakeReading need when how < 6: session.Read("r", Answers.Axis(need)); break;
            case Need.TakeReading need when how == 6: session.Read("r", Answers.Axis(need) + 10); break;
            case Need.TakeReading when how == 7 && session.LastReading is { } last: session.ReadAgain(last.Sequence); break;
            case Need.TakeReading when session.LastReading is { } last: session.LeaveOut(last.Sequence, "dropped"); break;
            default: break;
        }
    }

    private static ProcedureSession Opened(IJournal journal) => ProcedureSession.Open(journal, Request()).Require();

    private static void WalkToReadings(ProcedureSession session)
    {
        session.HazardsRead().Require();
        while (session.Needs is Need.Instruct or Need.Confirm) session.Confirm().Require();
    }

    private static void ReadSome(ProcedureSession session, int count)
    {
        for (var i = 0; i < count; i++)
        {
            var value = Answers.Axis((Need.TakeReading)session.Needs);
            session.Read(value.ToString(System.Globalization.CultureInfo.InvariantCulture), value).Require();
        }
    }
}
