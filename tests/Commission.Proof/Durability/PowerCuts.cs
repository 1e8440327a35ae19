using Commission.Adapters.Storage;
using Commission.Core.History;

namespace Commission.Proof.Durability;

/// <summary>Replays the writes and flushes of a session up to random points, as a power cut would leave them, and opens what is left.</summary>
internal static class PowerCuts
{
    private const int Readings = 60;

    /// <summary>Plays that many cuts.</summary>
    /// <returns>Cuts after which an acknowledged reading was gone or different, the store did not open, or could not go on.</returns>
    /// <exception cref="InvalidOperationException">A store did not open, or an acknowledged reading was lost.</exception>
    internal static int Run(int cuts, int seed)
    {
        var random = new Random(seed);
        var medium = new CutPowerMedium();
        var acknowledged = Session(medium);
        for (var cut = 0; cut < cuts; cut++)
        {
            var until = random.Next(1, medium.Count + 1);
            var stays = (cut % 3) switch { 0 => 0, 1 => 0.5, _ => 0.9 };
            Expect(medium.CutPower(until, random, stays), acknowledged.Count(at => at <= until), cut);
        }

        return cuts;
    }

    // Small segments, so that many cuts fall on the change from one to the next.
    private static JournalOpening Opening(string store) => new()
    {
        Nature = StoreNature.Practice, Program = "proof", Clock = TimeProvider.System, NewStore = () => store, SegmentBytes = 3000,
    };

    private static List<int> Session(CutPowerMedium medium)
    {
        using var journal = JournalFolder.OpenOn(_ => medium, Opening("proof1")).Require();
        var acknowledged = new List<int>();
        for (var recorded = 1; recorded <= Readings; recorded++)
        {
            journal.Append(KillRun.Reading(recorded)).Require();
            acknowledged.Add(medium.Count);
        }

        return acknowledged;
    }

    private static void Expect(CutPowerMedium left, int acknowledged, int cut)
    {
        using var journal = JournalFolder.OpenOn(_ => left, Opening("proof2")).Require();
        var there = journal.Entries().Select(entry => entry.Body).OfType<EntryBody.ReadingTaken>().ToList();
        for (var at = 0; at < acknowledged; at++)
        {
            if (at >= there.Count || there[at].Value != KillRun.Reading(at + 1).Value)
                throw new InvalidOperationException($"cut {cut}: reading {at + 1} of {acknowledged} acknowledged ones was lost or altered");
        }

        journal.Append(KillRun.Reading(there.Count + 1)).Require();
    }
}
