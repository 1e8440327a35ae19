using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Core.Upkeep;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary>Standings in lines.</summary>
internal static class StandingsText
{
    private const int ShownNext = 5;

    /// <summary>Every result in a line, then what to do next, then what was skipped.</summary>
    /// <param name="standings">The standings.</param>
    /// <param name="units">Units to show lengths in.</param>
    public static IEnumerable<string> Lines(Standings standings, ShownUnits units)
    {
        foreach (var state in standings.States)
        {
            yield return $"{state.Key.Item,-17} {state.Key.Axis,-2} {StandingWords.Of(state.Standing)}";
            foreach (var reason in state.Reasons)
                yield return "                       " + reason.Because;
        }

        yield return units.Told(Words.Clean(standings.WorkArea.Sentence));
        foreach (var check in standings.CrossChecks)
            yield return "compared: " + units.Told(Words.Clean(check.Sentence));
        foreach (var work in standings.Next.Take(ShownNext))
        {
            yield return $"next: {work.Procedure}{(work.State.Key.Axis is { } axis ? " " + axis : "")}, {work.Minutes} min: {work.Because}";
            yield return "      left undone: " + work.Skipping;
        }

        foreach (var skip in standings.Skips)
            yield return $"skipped: {Words.Clean(skip.Words)}: {Words.Clean(skip.Made.Body.Reason)}";
    }
}
