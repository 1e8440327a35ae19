using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Quantities;

namespace Commission.Core.Plans;

/// <summary>Why a plan is the one chosen, and what to do where none reaches.</summary>
internal static class PlanWords
{
    public static string Because(PlanQuestion question, PlanDesign design, Planner.Candidate chosen, double floor, ImmutableArray<PlanWay> others)
    {
        var head = chosen.Way.Predicted[0];
        if (question.Goal is not { } goal) return $"No limit was given: this is the usual plan, with U {Shown(head.ExpandedUncertainty, head.Unit)}.";
        if (chosen.Way.Reaches == true)
            return $"The shortest way to U of {Shown(goal, head.Unit)} or less with this instrument: U {Shown(head.ExpandedUncertainty, head.Unit)}.{Shorter(chosen.Way, others)}";
        var why = floor >= goal
            ? $"No number of repeats reaches {Shown(goal, head.Unit)} with this instrument: {Shown(floor, head.Unit)} would stay if the scatter were averaged away."
            : $"It would take about {Needed(chosen.Way, goal, floor)} readings to reach {Shown(goal, head.Unit)}; a longer base or a better instrument is cheaper.";
        var best = others.FirstOrDefault(way => way.Reaches == true) ?? others.OrderBy(way => way.Expanded).FirstOrDefault();
        return best is null ? why
            : best.Reaches == true ? $"{why} This would: {best.Name}, {Price(best)}{Needs(best)}."
            : $"{why} Nearest to it: {best.Name}, {Price(best)}{Needs(best)}.";
    }

    /// <summary>Readings, minutes and U of a way.</summary>
    public static string Price(PlanWay way) => string.Create(CultureInfo.InvariantCulture,
        $"{way.Readings} readings, {way.Minutes:0} min, U {Shown(way.Predicted[0].ExpandedUncertainty, way.Predicted[0].Unit)}");

    /// <summary>A size in the unit it is shown in, two significant digits.</summary>
    public static string Shown(double value, string unit)
    {
        var shown = ValueFormat.ShownIn(unit);
        return $"{ValueFormat.Pair(0, value / shown.Factor, signed: false).Uncertainty ?? "0"} {shown.Symbol}";
    }

    private static string Shorter(PlanWay chosen, ImmutableArray<PlanWay> others) =>
        others.Where(way => way.Reaches == true && way.Minutes < chosen.Minutes).MinBy(way => way.Minutes) is { } shorter
            ? $" Shorter: {shorter.Name}, {Price(shorter)}{Needs(shorter)}."
            : "";

    private static string Needs(PlanWay way) => way.Needs is { } needs ? $"; it needs {needs}" : "";

    // The scatter's share falls with the number; what stays does not.
    private static int Needed(PlanWay way, double goal, double floor)
    {
        var u = way.Predicted[0];
        var scatter = (u.ExpandedUncertainty * u.ExpandedUncertainty) - (floor * floor);
        return (int)Math.Ceiling(way.Readings * scatter / Math.Max((goal * goal) - (floor * floor), 1e-30));
    }
}
