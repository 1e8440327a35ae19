using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.History;
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
    /// <param name="ledger">The journal with the findings.</param>
    /// <param name="units">Units to show lengths in.</param>
    public static IEnumerable<string> Lines(Standings standings, Ledger ledger, ShownUnits units)
    {
        foreach (var state in standings.States)
        {
            yield return $"{state.Key.Item,-17} {state.Key.Axis,-2} {StandingWords.Of(state.Standing)}";
            foreach (var reason in state.Reasons)
                yield return "                       " + reason.Because;
            foreach (var lost in Lost(state, ledger))
                yield return "                       " + units.Told(Words.Clean(lost.Clause));
        }

        foreach (var line in After(standings, units))
            yield return line;
    }

    /// <summary>The same for the ear: one sentence for each result, its name first, with what was found and why it stands so.</summary>
    /// <param name="standings">The standings.</param>
    /// <param name="ledger">The journal with the findings.</param>
    /// <param name="units">Units to show lengths in.</param>
    public static IEnumerable<string> Sentences(Standings standings, Ledger ledger, ShownUnits units)
    {
        foreach (var state in standings.States.Where(state => state.Standing is not Standing.NotApplicable))
        {
            var found = state.Result is { } result && ledger.Findings.TryGetValue(result, out var record) ? record.Made.Body : null;
            // The verdict of a result that does not hold is withheld, as on the bench.
            var value = found is null ? "" : $", {FindingText.Parameter(found.Finding.Headline, found.Options.Coverage, units, found.Finding.Kind)}{(state.Usable ? ", " + FindingWords.Of(found.Finding.Verdict) : "")}";
            var why = string.Concat(state.Reasons.Select(reason => $" {Words.Capital(reason.Because)}."));
            why += string.Concat(Lost(state, ledger).Select(lost => $" It {lost.Clause}."));
            yield return Words.Clean($"{Words.Capital(ResultName.Of(state.Key.Item, state.Key.Axis, null))}: {StandingWords.Of(state.Standing)}{value}.{units.Told(why)}");
        }

        foreach (var line in After(standings, units))
            yield return line;
    }

    private static ImmutableArray<LostFact> Lost(ResultState state, Ledger ledger) =>
        state.Result is { } result && ledger.Findings.TryGetValue(result, out var record) ? RestingFacts.Of(ledger, record.Made) : [];

    private static IEnumerable<string> After(Standings standings, ShownUnits units)
    {
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
