using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Core.Upkeep;
using Commission.Workshop.Sessions;
using Xunit;

namespace Commission.Workshop.Tests.Sessions;

/// <summary>Cases that owners have, each carried out as a session.</summary>
public sealed class PeoplesCasesTests
{
    [Fact]
    public void A_ratio_twice_too_large_is_answered_with_the_microstep_switches_and_never_calibrated_away()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "ratio-check", AxisName.X, new Instrument("rule", InstrumentKind.Rule, 0.2, 0.5, 300, "invented"));
        Answers.UntilReading(session);
        foreach (var typed in new[] { 40.0, 120.5, 200.5 }) session.Read("r", typed).Require();
        var finding = session.Evaluate().Require();
        Assert.Equal(AdviceAction.FindTheFault, finding.Advice.Action);
        Assert.Contains("microstep switches", finding.Advice.Next, StringComparison.Ordinal);
        Assert.Null(finding.Advice.Setting);
        Assert.IsType<Need.Ended>(session.Needs);
    }

    [Fact]
    public void A_ratio_right_within_a_rules_reach_is_within_and_does_not_pass_for_a_calibration()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "ratio-check", AxisName.X, new Instrument("rule", InstrumentKind.Rule, 0.2, 0.5, 300, "invented"));
        Answers.UntilReading(session);
        foreach (var typed in new[] { 20.0, 60.0, 100.0 }) session.Read("r", typed).Require();
        var finding = session.Evaluate().Require();
        Assert.Equal((Verdict.Within, AdviceAction.Leave), (finding.Verdict, finding.Advice.Action));
        var fold = UpkeepFold.From(journal.Entries());
        Assert.Contains(fold.Results.Keys, key => key.Item == "ratio-check");
        Assert.DoesNotContain(fold.Results.Keys, key => key.Item == "axis-scale");
    }

    [Fact]
    public void A_caliper_of_unknown_limit_gets_its_scatter_and_what_would_give_the_rest()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "axis-scale", AxisName.X, SessionScene.Caliper with { LimitMm = null, RangeMm = null });
        Assert.Contains("limit of error", session.Run.Assumption, StringComparison.Ordinal);
        Answers.UntilReading(session);
        Assert.InRange(Span(session), 100, 142);
        while (session.Needs is Need.TakeReading need) session.Read("r", Answers.Axis(need)).Require();
        Answers.UntilReading(session);
        var finding = session.Evaluate().Require();
        Assert.NotNull(finding.Headline.FreshUncertainty);
        Assert.Null(finding.Headline.ExpandedUncertainty);
        Assert.Contains("limit of error", finding.Headline.WhyNoUncertainty, StringComparison.Ordinal);
        Assert.Equal(AdviceAction.MeasureMore, finding.Advice.Action);
    }

    [Fact]
    public void With_no_instrument_named_the_plan_suits_a_caliper_of_150_mm_and_says_so()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "axis-scale", AxisName.X);
        Assert.Contains("150 mm", session.Run.Assumption, StringComparison.Ordinal);
        Answers.UntilReading(session);
        Assert.InRange(Span(session), 100, 142);
    }

    private static double Span(ProcedureSession session) =>
        session.Run.Cells.Max(cell => cell.Given["commanded_mm"]) - session.Run.Cells.Min(cell => cell.Given["commanded_mm"]);
}
