using Commission.Core;
using Commission.Core.Motion;
using Commission.Core.Procedures;

namespace Commission.Workshop.Controllers;

/// <summary>Whether the moves that a run will ask a link for can be made at all, by what the journal says: told before anything is asked or opened.</summary>
public static class LinkedMoves
{
    private const string Direction = "P25", HomingTest = "P27", Switches = "P22";

    /// <summary>Why none of them would be made.</summary>
    /// <param name="run">The run. What is open in checks of its own stands in no way: it holds them.</param>
    /// <param name="facts">What is known of the machine.</param>
    /// <returns>The reason, and which procedure holds what is open; null where nothing stands in the way.</returns>
    public static Problem? WhyNone(ProcedureRun run, MotionFacts facts)
    {
        if (!run.HasMoves && !run.GoesToPlaces)
            return null;
        var held = run.Checks.Select(item => ((Step.Check)item.Step).Id).ToHashSet(StringComparer.Ordinal);
        if (facts.MissingChecks.Where(check => !held.Contains(check)).ToArray() is { Length: > 0 } missing)
            return Open("these checks are not passed yet: " + string.Join(", ", missing), "readiness");
        if (!run.GoesToPlaces || !facts.HasSwitches || held.Contains(Direction) || held.Contains(HomingTest) || MotionRules.WhyNoHoming(facts, watchedTest: false) is not { } why)
            return null;
        return Open(why, facts.Passed.Contains(Switches) ? "first-moves" : "readiness");
    }

    private static Problem Open(string why, string list) => new("nothing would move over the link: " + why, $"'{list}' holds what is open: procedure run {list}, then ask again");
}
