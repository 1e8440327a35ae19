using System.Collections.Immutable;
using Commission.Core.History;
using Commission.Core.Procedures;

namespace Commission.Workshop.Screens.Pages;

/// <summary>How the checks of the power-up list stand in the machine's present epoch.</summary>
/// <param name="Count">How many it has.</param>
/// <param name="Open">Ids of those that have not passed.</param>
/// <param name="Out">Ids of those that did not hold when they were made last, in order.</param>
public sealed record PowerUpChecks(int Count, ImmutableArray<string> Open, ImmutableArray<string> Out)
{
    /// <summary>How many have passed.</summary>
    public int Passed => Count - Open.Length;

    /// <summary>How they stand.</summary>
    /// <param name="ledger">The ledger.</param>
    /// <param name="machine">The machine.</param>
    /// <param name="wanted">The checks of the list that apply to the machine; empty where the list is not at hand, and then all that were made count.</param>
    public static PowerUpChecks Of(Ledger ledger, string machine, ImmutableArray<RunItem> wanted)
    {
        var now = ledger.ChecksNow(machine);
        var ids = wanted.IsEmpty ? [.. now.Keys] : wanted.Select(IdOf).ToImmutableArray();
        return new PowerUpChecks(
            ids.Length,
            [.. wanted.IsEmpty ? ids.Where(id => !now[id].Body.Passed) : wanted.Where(item => !Passes(item)).Select(IdOf)],
            [.. now.Where(check => !check.Value.Body.Passed && !check.Value.Body.IsTakenBack && ids.Contains(check.Key)).Select(check => check.Key)]);

        // A check may be made by another list too, and is then known by its number; one that is made more than once by what its key says, of which a store keeps the latest at hand.
        bool Passes(RunItem item)
        {
            var id = IdOf(item);
            var latest = ids.Count(other => other == id) == 1 ? now.GetValueOrDefault(id)
                : ledger.Checks.FindLast(check => check.Body.Machine == machine && CheckKey.Of(check.Body.Check, check.Body.Step, null, null) == CheckKey.Of(id, item.Name, null, null) && check.Sequence > ledger.EpochBegan(machine));
            return latest?.Body.Passed == true;
        }
    }

    private static string IdOf(RunItem item) => ((Step.Check)item.Step).Id;
}
