using Commission.Core.Procedures;
using Commission.Tests;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Tests.Sessions;

/// <summary>Readings that lie on another zero from one of them on, as after a sudden end with a caliper that was zeroed: one question, not one for each.</summary>
public sealed class AnotherZeroTests
{
    [Theory]
    [InlineData(5, -3.0)]
    [InlineData(6, -3.0)]
    [InlineData(6, 1.3)]
    [InlineData(6, 0.5)]
    [InlineData(8, -3.0)]
    [InlineData(9, -3.0)]
    public void Who_keeps_the_first_of_them_is_not_asked_about_those_that_lie_with_it(int before, double shift)
    {
        using var journal = SessionScene.Journal();
        var session = Opened(journal);
        Assert.Equal([before], Asked(session, before, shift, SlipAnswer.Keep));
        Assert.All(session.Run.Readings, reading => Assert.Equal(reading.CellIndex == before, reading.KeptThoughQuestioned));
    }

    [Fact]
    public void One_that_lies_elsewhere_than_the_one_that_was_kept_is_asked_about_by_itself()
    {
        using var journal = SessionScene.Journal();
        var session = Opened(journal);
        Asked(session, 6, 0, SlipAnswer.Keep, until: 6);
        Take(session, -3);
        session.AnswerSlip(SlipAnswer.Keep).Require();
        Take(session, 1);
        Assert.Equal(7, Assert.IsType<Need.SlipQuestion>(session.Needs).Reading.CellIndex);
    }

    [Fact]
    public void The_first_reading_after_a_sudden_end_is_offered_a_zero_of_its_own_and_the_finding_is_that_of_the_axis()
    {
        using var journal = SessionScene.Journal();
        Asked(Opened(journal), 6, 0, SlipAnswer.Keep, until: 6);
        var again = Opened(journal);
        Assert.True(again.Resumed);
        Take(again, -3);
        Assert.True(Assert.IsType<Need.SlipQuestion>(again.Needs).OtherZero);
        again.AnswerSlip(SlipAnswer.OwnZero).Require();
        Assert.Empty(Asked(again, 0, -3, SlipAnswer.Keep));
        Assert.Equal(["", "2"], again.Run.Readings.Where(reading => reading.Stands).Select(reading => reading.Zero).Distinct());
        Assert.Equal(10, again.Run.Readings.Count(reading => reading.Stands));

        // Taken up once more it is the same.
        Assert.Equal(["", "2"], Opened(journal).Run.Readings.Where(reading => reading.Stands).Select(reading => reading.Zero).Distinct());
        Answers.UntilReading(again);
        Assert.Equal(Core.Characteristics.AdviceAction.Leave, again.Evaluate().Require().Advice.Action);
    }

    [Fact]
    public void In_a_run_that_was_never_broken_off_no_other_zero_is_offered()
    {
        using var journal = SessionScene.Journal();
        var session = Opened(journal);
        Asked(session, 6, 0, SlipAnswer.Keep, until: 6);
        Take(session, -3);
        Assert.False(Assert.IsType<Need.SlipQuestion>(session.Needs).OtherZero);
        Assert.IsType<Outcome<ProcedureRun>.Bad>(session.AnswerSlip(SlipAnswer.OwnZero));
    }

    private static ProcedureSession Opened(MemoryJournal journal)
    {
        var session = SessionScene.Open(journal, "axis-scale", AxisName.X, Invented.Caliper);
        Answers.UntilReading(session);
        return session;
    }

    // An axis with nothing wrong, read by a hand that scatters.
    private static void Take(ProcedureSession session, double shift)
    {
        var need = Assert.IsType<Need.TakeReading>(session.Needs);
        session.Read("r", Math.Round(need.Cell.Given["commanded_mm"] - 135 + Hand[need.Index] + shift, 2)).Require();
    }

    private static double[] Hand { get; } = [0.013, -0.006, 0.009, -0.015, 0.002, 0.011, -0.012, 0.004, -0.009, 0.007];

    // The cells that were asked about, where every reading from one on is shifted.
    private static List<int> Asked(ProcedureSession session, int before, double shift, SlipAnswer answer, int until = int.MaxValue)
    {
        var asked = new List<int>();
        while ((session.Needs is Need.TakeReading need && need.Index < until) || session.Needs is Need.SlipQuestion)
        {
            if (session.Needs is Need.SlipQuestion question)
            {
                asked.Add(question.Reading.CellIndex);
                session.AnswerSlip(answer).Require();
            }
            else
            {
                Take(session, ((Need.TakeReading)session.Needs).Index >= before ? shift : 0);
            }
        }

        return asked;
    }
}
