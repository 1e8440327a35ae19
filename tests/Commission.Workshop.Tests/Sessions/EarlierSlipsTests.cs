using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Procedures;
using Commission.Tests;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Tests.Sessions;

/// <summary>A slip among the first readings is asked about as soon as the others tell which one it is, and nothing stands on it before.</summary>
public sealed class EarlierSlipsTests
{
    private static string Swapped(double value)
    {
        var text = value.ToString("F2", CultureInfo.InvariantCulture).ToCharArray();
        (text[0], text[1]) = (text[1], text[0]);
        return new string(text);
    }

    private static void Read(ProcedureSession session, string typed) => session.Read(typed, double.Parse(typed, CultureInfo.InvariantCulture)).Require();

    private static string Clean(Need.TakeReading need) => Answers.Axis(need).ToString("F2", CultureInfo.InvariantCulture);

    // Reads on as nobody slips; stops at a question.
    private static void Onward(ProcedureSession session, Func<Need.TakeReading, string> typed)
    {
        while (session.Needs is Need.TakeReading need)
            Read(session, typed(need));
    }

    private static ProcedureSession WithASwapInTheThird(MemoryJournal journal)
    {
        var session = SessionScene.Open(journal, "axis-scale", AxisName.X, Invented.Caliper);
        Answers.UntilReading(session);
        for (var i = 0; i < 3; i++)
        {
            var need = Assert.IsType<Need.TakeReading>(session.Needs);
            Read(session, i == 2 ? Swapped(Answers.Axis(need)) : Clean(need));
        }

        return session;
    }

    [Fact]
    public void Swapped_digits_in_the_third_reading_are_asked_about_at_once_with_what_was_meant()
    {
        using var journal = SessionScene.Journal();
        var session = WithASwapInTheThird(journal);
        var asked = Assert.IsType<Need.SlipQuestion>(session.Needs);
        Assert.Equal(2, asked.Reading.CellIndex);
        Assert.EndsWith("swapped", asked.Reason, StringComparison.Ordinal);
        session.AnswerSlip(SlipAnswer.AsSuggested).Require();
        Assert.Equal(asked.Suggestion, session.LastReading!.Value);
        Onward(session, Clean);
        Answers.UntilReading(session);
        Assert.Equal(AdviceAction.Leave, session.Evaluate().Require().Advice.Action);
    }

    [Fact]
    public void A_slip_of_the_first_reading_is_known_when_two_others_agree()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "axis-scale", AxisName.X, Invented.Caliper);
        Answers.UntilReading(session);
        Onward(session, need => need.Index == 0 ? (Answers.Axis(need) + 10).ToString("F2", CultureInfo.InvariantCulture) : Clean(need));
        var asked = Assert.IsType<Need.SlipQuestion>(session.Needs);
        Assert.Equal((0, 3), (asked.Reading.CellIndex, session.Run.Readings.Length));
        session.AnswerSlip(SlipAnswer.ReadAgain).Require();
        Assert.Equal(0, Assert.IsType<Need.TakeReading>(session.Needs).Index);
    }

    [Fact]
    public void What_was_kept_is_not_asked_about_again_is_named_in_the_finding_and_nothing_is_left_upon_it()
    {
        using var journal = SessionScene.Journal();
        var session = WithASwapInTheThird(journal);
        session.AnswerSlip(SlipAnswer.Keep).Require();
        Onward(session, Clean);
        Answers.UntilReading(session, (need, _) => need is Need.SlipQuestion ? throw new InvalidOperationException("asked again") : false);
        var finding = session.Evaluate().Require();
        Assert.Equal(AdviceAction.MeasureMore, finding.Advice.Action);
        Assert.StartsWith("Look at reading 3 first", finding.Advice.Next, StringComparison.Ordinal);
        Assert.StartsWith("Kept as typed though it was asked about: reading 3 (", finding.Remarks[0], StringComparison.Ordinal);
    }

    [Fact]
    public void The_question_about_an_earlier_reading_and_its_answer_are_found_again()
    {
        using var journal = SessionScene.Journal();
        var before = Assert.IsType<Need.SlipQuestion>(WithASwapInTheThird(journal).Needs);
        ProcedureSession Again() => ProcedureSession.Open(journal, SessionScene.Request("axis-scale", AxisName.X, Invented.Caliper) with { Resume = true }).Require();
        var session = Again();
        var after = Assert.IsType<Need.SlipQuestion>(session.Needs);
        Assert.Equal((before.Reading.Sequence, before.Suggestion), (after.Reading.Sequence, after.Suggestion));
        session.AnswerSlip(SlipAnswer.AsSuggested).Require();
        Assert.Equal(before.Suggestion, Again().LastReading!.Value);
    }

    [Fact]
    public void A_ratio_read_wrong_once_is_asked_about_when_its_repeat_differs()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "ratio-check", AxisName.X, Invented.Caliper);
        Answers.UntilReading(session);
        Onward(session, need => need.Index == 1 ? "40.1" : need.Cell.Given["commanded_mm"].ToString("F1", CultureInfo.InvariantCulture));
        Assert.Equal(1, Assert.IsType<Need.SlipQuestion>(session.Needs).Reading.CellIndex);
        Assert.Equal(3, session.Run.Readings.Length);
    }

    private static double Distance(Need.TakeReading need)
    {
        double At(string column) => need.Cell.Given[column];
        return Math.Round(Math.Sqrt(Math.Pow(At("x2_mm") - At("x1_mm"), 2) + Math.Pow(At("y2_mm") - At("y1_mm"), 2)) * 2) / 2;
    }

    private static (ProcedureSession Session, Need.SlipQuestion Asked) Contradicted(MemoryJournal journal, int odd)
    {
        var session = SessionScene.Open(journal, "diagonals", null, SessionScene.Tape);
        Answers.UntilReading(session);
        Onward(session, need => (Distance(need) + (need.Index == odd ? 3.5 : 0)).ToString("F1", CultureInfo.InvariantCulture));
        return (session, Assert.IsType<Need.SlipQuestion>(session.Needs));
    }

    // Found by use: the right repeat of a wrong distance was blamed, with a value to turn it into that nobody had read.
    [Fact]
    public void Of_two_readings_of_one_distance_the_question_names_both_offers_no_value_and_either_is_read_again()
    {
        using var journal = SessionScene.Journal();
        var (session, asked) = Contradicted(journal, odd: 2);
        Assert.Equal((5, 2, null), (asked.Reading.CellIndex, asked.Earlier?.CellIndex, asked.Suggestion));
        Assert.Equal($"{asked.Reading.Typed} lies 3.50 mm from reading 3, {asked.Earlier!.Typed}, of the same place; either may be off", asked.Reason);
        Assert.IsType<Core.Outcome<ProcedureRun>.Bad>(session.AnswerSlip(SlipAnswer.AsSuggested));

        session.AnswerSlip(SlipAnswer.EarlierAgain).Require();
        Assert.Equal(2, Assert.IsType<Need.TakeReading>(session.Needs).Index);
        Assert.True(session.Run.Readings[5].Stands);
        Read(session, asked.Reading.Typed);
        Assert.Equal(6, Assert.IsType<Need.TakeReading>(session.Needs).Index);
    }

    [Fact]
    public void The_earlier_one_that_was_taken_out_comes_back_with_its_question_and_both_are_found_again()
    {
        using var journal = SessionScene.Journal();
        ProcedureSession Again() => ProcedureSession.Open(journal, SessionScene.Request("diagonals", null, SessionScene.Tape) with { Resume = true }).Require();
        var (_, before) = Contradicted(journal, odd: 2);
        var asked = Assert.IsType<Need.SlipQuestion>(Again().Needs);
        Assert.Equal((before.Reason, before.Earlier!.Sequence), (asked.Reason, asked.Earlier!.Sequence));

        Again().AnswerSlip(SlipAnswer.EarlierAgain).Require();
        Assert.Equal(2, Assert.IsType<Need.TakeReading>(Again().Needs).Index);
        Again().TakeBack().Require();
        var back = Assert.IsType<Need.SlipQuestion>(Again().Needs);
        Assert.Equal((5, 2), (back.Reading.CellIndex, back.Earlier?.CellIndex));
    }

    [Fact]
    public void Two_readings_of_one_distance_that_differ_are_asked_about_at_the_second()
    {
        using var journal = SessionScene.Journal();
        var (session, asked) = Contradicted(journal, odd: 5);
        Assert.Equal((5, 6), (asked.Reading.CellIndex, session.Run.Readings.Length));

        // It is the same again, so it is the other one that does not belong.
        session.AnswerSlip(SlipAnswer.ReadAgain).Require();
        Read(session, asked.Reading.Typed);
        Assert.Equal(2, Assert.IsType<Need.SlipQuestion>(session.Needs).Reading.CellIndex);
    }

    [Fact]
    public void A_dial_reading_ten_times_too_large_is_asked_about_while_the_dial_is_there()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "tram", null, SessionScene.Indicator);
        Answers.UntilReading(session);
        double[] sweep = [0, 0.05, 0.07, 0.05, 0, -0.05, -0.07, -0.05];
        Onward(session, need => (need.Index == 2 ? 0.7 : sweep[need.Index]).ToString("F2", CultureInfo.InvariantCulture));
        var asked = Assert.IsType<Need.SlipQuestion>(session.Needs);
        Assert.Equal((2, 0.07), (asked.Reading.CellIndex, asked.Suggestion));
        Assert.Equal(8, session.Run.Readings.Length);
    }
}
