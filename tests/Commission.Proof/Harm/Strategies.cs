namespace Commission.Proof.Harm;

/// <summary>The strategies of Table A.</summary>
internal static class Strategies
{
    public static IReadOnlyList<Strategy> All { get; } =
    [
        new("a leave as built", true, Rivals.Leave),
        new("b one reading, corrected", true, Rivals.OneReading),
        new("c mean of three, corrected", true, Rivals.MeanOfThree),
        new("d line through five, corrected", true, Rivals.LineThroughFive),
        new("e three rounds, 3-4-5", true, Rivals.Iterate),
        new("f ten readings an axis, advice", false, AxisPlan.FollowAdvice, "axis-scale"),
        new("g plate, joint rule 5 %", false, Plate.JointRuleAtFivePercent, "plate"),
    ];
}
