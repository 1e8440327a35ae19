using Commission.Core.Procedures;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Tests.Sessions;

/// <summary>Answers that are no readings and cannot be so: by their sign, or by what is known besides.</summary>
public sealed class OddAnswersTests
{
    // An upper limit is one for a size: a negative number kept it, whatever its size was.
    [Theory]
    [InlineData("p05", -48, 48.0)]
    [InlineData("p05", 3, null)]
    [InlineData("p30", -2, 2.0)]
    public void A_size_below_zero_is_asked_about_though_it_keeps_its_limit(string step, double value, double? meant)
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "readiness", axis: null);
        Until(session, need => need.Step == step);
        Assert.Equal(meant, SignWatch.About(session.Run, value)?.Suggestion);
    }

    [Fact]
    public void A_gap_that_may_lean_either_way_and_a_temperature_are_not_asked_about()
    {
        using var journal = SessionScene.Journal();
        var twist = SessionScene.Open(journal, "frame-twist", axis: null);
        Until(twist, need => need is Need.Number);
        Assert.Null(SignWatch.About(twist.Run, -3));
    }

    [Fact]
    public void A_fact_that_contradicts_the_others_names_what_they_make_and_one_below_zero_is_no_fact()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "nominal-steps", axis: null);
        Until(session, need => need.Step.EndsWith("/turn", StringComparison.Ordinal));
        session.Number("5", 5).Require();
        Assert.NotNull(SignWatch.About(session.Run, -1.8));
        Assert.IsType<Outcome<ProcedureRun>.Bad>(session.Number("-1.8", -1.8));
        Assert.Contains("211.76 full steps", session.Run.Clash(new RunEvent.NumberGiven("1.7", 1.7))!.Reason, StringComparison.Ordinal);
        session.Number("1.8", 1.8).Require();
        // The ratio of before may change with its parts: they are held together when the last of them is told.
        Assert.Null(session.Run.Clash(new RunEvent.NumberGiven("16", 16)));
        session.Number("8", 8).Require();
        session.Number("1", 1).Require();
        var ratio = session.Run.Clash(new RunEvent.NumberGiven("640", 640))!;
        Assert.Equal(320, session.Run.Settling(ratio));
        Assert.Null(session.Run.Clash(new RunEvent.NumberGiven("0", 0)));
    }

    // Found in use: the ladder had no rung then, and its evaluation no reading.
    [Fact]
    public void A_ladder_that_would_end_below_its_start_is_asked_about_before_it_is_kept()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "speed-ladder", AxisName.X, SessionScene.Indicator);
        Until(session, need => need.Step == "start-speed");
        Assert.Null(AnswerDoubt.About(session.Run, "500", new RunEvent.NumberGiven("500", 500)));
        session.Number("500", 500).Require();
        Assert.Equal(new AnswerDoubt("the ladder would begin at 500 mm/min and end at 60 mm/min: not one rung lies between", null), AnswerDoubt.About(session.Run, "60", new RunEvent.NumberGiven("60", 60)));
        Assert.Null(AnswerDoubt.About(session.Run, "600", new RunEvent.NumberGiven("600", 600)));
        Assert.Null(AnswerDoubt.About(session.Run, "500", new RunEvent.NumberGiven("500", 500)));
    }

    // What is for Z alone is no step of X: not counted, not on its way.
    [Fact]
    public void Steps_for_another_axis_are_not_counted()
    {
        using var journal = SessionScene.Journal();
        var (x, z) = (SessionScene.Open(journal, "axis-scale", AxisName.X).Run, SessionScene.Open(journal, "axis-scale", AxisName.Z).Run);
        Assert.Equal((6, 7), (x.StepCount, z.StepCount));
        Assert.Equal(1, x.StepNumber);
    }

    private static void Until(ProcedureSession session, Func<Need, bool> reached)
    {
        for (var i = 0; i < 400 && !reached(session.Needs); i++)
            Answers.Usual(session);
    }
}
