using System.Globalization;
using Commission.Core.Procedures;
using Commission.Tests;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Tests.Sessions;

/// <summary>One step back after another leads through the readings to the beginning: nothing counts by it that was refused, and no run ends by it.</summary>
public sealed class ReadingsTakenBackTests
{
    // Found in use: going back after "read again" made the refused slip count, without its question, and the next step back only took it out again.
    [Fact]
    public void After_read_again_one_step_back_opens_the_question_again_and_the_next_ones_walk_back()
    {
        using var journal = SessionScene.Journal();
        var session = AtSlip(journal);
        session.AnswerSlip(SlipAnswer.ReadAgain).Require();

        session.TakeBack().Require();
        Assert.Equal("98.70", Assert.IsType<Need.SlipQuestion>(session.Needs).Reading.Typed);
        Assert.IsType<Need.SlipQuestion>(SessionScene.Open(journal, Study, null, Invented.Caliper).Needs);
        session.TakeBack().Require();
        Assert.Equal(3, Asked(session));
        for (var left = 2; left >= 0; left--)
        {
            session.TakeBack().Require();
            Assert.Equal(left, Asked(session));
        }

        session.TakeBack().Require();
        Assert.IsNotType<Need.TakeReading>(session.Needs);
        Assert.DoesNotContain(session.Run.Readings, reading => reading.Stands);
    }

    [Fact]
    public void Read_again_and_read_anew_the_slip_stays_refused_however_far_back_one_goes()
    {
        using var journal = SessionScene.Journal();
        var session = AtSlip(journal);
        session.AnswerSlip(SlipAnswer.ReadAgain).Require();
        session.Read("89.70", 89.7).Require();
        session.TakeBack().Require();
        session.TakeBack().Require();
        Assert.Equal(2, Asked(session));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_run_does_not_end_by_going_back_from_the_question_about_its_last_reading(bool leftOut)
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, Study, null, Invented.Caliper);
        Answers.UntilReading(session);
        for (var i = 0; i < 20; i++)
            Type(session, i == 19 ? "70.00" : (20 + (10 * Thing(session)) + (i % 3 * 0.01)).ToString("F2", CultureInfo.InvariantCulture));
        var question = Assert.IsType<Need.SlipQuestion>(session.Needs);
        if (leftOut)
            session.LeaveOut(question.Reading.Sequence, "a slip").Require();
        else
            session.AnswerSlip(SlipAnswer.ReadAgain).Require();
        session.TakeBack().Require();
        Assert.Equal("70.00", Assert.IsType<Need.SlipQuestion>(session.Needs).Reading.Typed);
        Assert.Empty(session.Findings);
        session.TakeBack().Require();
        Assert.Equal(9, Asked(session));
    }

    [Fact]
    public void What_was_to_be_read_again_without_a_question_counts_again_and_is_taken_back_by_the_next_step()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "axis-scale", AxisName.X, Invented.Caliper);
        Answers.UntilReading(session);
        session.Read("8.00", 8).Require();
        session.ReadAgain(session.LastReading!.Sequence).Require();
        session.TakeBack().Require();
        Assert.Equal(1, Asked(session));
        session.TakeBack().Require();
        Assert.Equal(0, Asked(session));
        Assert.DoesNotContain(session.Run.Readings, reading => reading.Stands);
    }

    // Found in use: the row that told of the slip was taken back and read again, and the slip in the row before was not asked about any more.
    [Fact]
    public void A_question_about_an_earlier_row_stands_again_when_the_row_that_told_of_it_is_taken_back_and_read_the_same()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "axis-scale", AxisName.X, Invented.Caliper);
        Answers.UntilReading(session);
        string[] typed = [.. Enumerable.Range(0, 3).Select(row => Next(session, row == 1 ? -10 : 0))];
        var asked = Assert.IsType<Need.SlipQuestion>(session.Needs);
        Assert.Equal((1, typed[1]), (asked.Reading.CellIndex, asked.Reading.Typed));

        session.TakeBack().Require();
        Assert.Equal(2, Asked(session));
        Type(session, typed[2]);
        var again = Assert.IsType<Need.SlipQuestion>(session.Needs);
        Assert.Equal((asked.Reading.Sequence, asked.Reason, asked.Suggestion), (again.Reading.Sequence, again.Reason, again.Suggestion));
    }

    // A step back is no second look: the slip itself is asked about once more too.
    [Fact]
    public void A_slip_that_was_taken_back_and_is_typed_as_it_was_is_asked_about_again()
    {
        using var journal = SessionScene.Journal();
        var session = AtSlip(journal);
        session.TakeBack().Require();
        Type(session, "98.70");
        Assert.Equal("98.70", Assert.IsType<Need.SlipQuestion>(session.Needs).Reading.Typed);
    }

    // The next reading of a perfect axis, off by so much.
    private static string Next(ProcedureSession session, double offMm)
    {
        var typed = (Answers.Axis(Assert.IsType<Need.TakeReading>(session.Needs)) + offMm).ToString("F2", CultureInfo.InvariantCulture);
        Type(session, typed);
        return typed;
    }

    private const string Study = "gauge-study";

    // Found in use: a standard deviation of 14.6 mm was entered as that of the hand, and every later uncertainty stood on it.
    [Theory]
    [InlineData(0.01, true)]
    [InlineData(30, false)]
    public void What_no_hand_does_is_a_finding_and_no_study(double offMm, bool isKept)
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, Study, null, Invented.Caliper);
        Answers.UntilReading(session);
        while (session.Needs is Need.TakeReading need)
        {
            Type(session, (20 + (10 * Thing(session)) + (need.Index % 2 * offMm)).ToString("F2", CultureInfo.InvariantCulture));
            if (session.Needs is Need.SlipQuestion)
                Answers.UntilReading(session);
        }

        Answers.UntilReading(session);
        session.Evaluate().Require();
        Assert.Equal(isKept, journal.Entries().Any(entry => entry.Body is EntryBody.StudyMade));
    }

    private static ProcedureSession AtSlip(MemoryJournal journal)
    {
        var session = SessionScene.Open(journal, Study, null, Invented.Caliper);
        Answers.UntilReading(session);
        foreach (var typed in new[] { "89.70", "89.71", "89.69", "98.70" })
            Type(session, typed);
        Assert.IsType<Need.SlipQuestion>(session.Needs);
        return session;
    }

    // A length of its own for each thing.
    private static int Thing(ProcedureSession session) => Assert.IsType<Need.TakeReading>(session.Needs).Cell.Words["object"].Split(' ')[0] switch { "first" => 0, "second" => 1, "third" => 2, "fourth" => 3, "fifth" => 5, _ => 6 };

    private static void Type(ProcedureSession session, string typed) => session.Read(typed, double.Parse(typed, CultureInfo.InvariantCulture)).Require();

    private static int Asked(ProcedureSession session) => Assert.IsType<Need.TakeReading>(session.Needs).Index;
}
