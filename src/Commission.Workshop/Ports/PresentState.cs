using Commission.Core.History;
using Commission.Core.Upkeep;

namespace Commission.Workshop.Ports;

/// <summary>How things stand now, as far as one machine goes.</summary>
/// <param name="Ledger">The ledger. Where it is not the whole one it holds what bears on the present (<see cref="PresentKey"/>) and open runs with all that is in them.</param>
/// <param name="Upkeep">What the states of all results are read from, whole.</param>
/// <param name="Whole">Whether the ledger is that of all entries.</param>
public sealed record PresentState(Ledger Ledger, UpkeepFold Upkeep, bool Whole)
{
    /// <summary>The present out of all entries.</summary>
    public static PresentState Of(IEnumerable<JournalEntry> entries) => entries.Aggregate(
        new PresentState(Ledger.Empty, UpkeepFold.Empty, Whole: true), (present, entry) => present.After(entry)!);

    /// <summary>The present after one more entry; null where it has to be read anew: what a withdrawal brings back, or a run that was over and is gone on with, may not be in it.</summary>
    public PresentState? After(JournalEntry entry) => !Whole && (entry.Body is EntryBody.Withdrawn || (entry.Body.Run is { } run && !Ledger.Runs.ContainsKey(run)))
        ? null
        : this with { Ledger = Ledger.After(entry), Upkeep = Upkeep.After(entry) };
}
