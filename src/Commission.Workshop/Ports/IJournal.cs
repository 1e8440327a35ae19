using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;

namespace Commission.Workshop.Ports;

/// <summary>The journal of a store: append-only, durable before an append returns.</summary>
public interface IJournal : IDisposable
{
    /// <summary>Real or practice.</summary>
    StoreNature Nature { get; }

    /// <summary>Short id of the store.</summary>
    string Store { get; }

    /// <summary>Whether nothing can be written (another writer, a newer entry type, a damaged store), with the reason; null where it can.</summary>
    string? ReadOnlyReason { get; }

    /// <summary>Whether another program held the store when it was opened, and holds it no longer: a new start writes. Asked for anew at each call.</summary>
    bool IsFree => false;

    /// <summary>What opening found and set aside, in sentences for the user; empty where there was nothing.</summary>
    IReadOnlyList<Problem> Notices => [];

    /// <summary>Limits by class of work that hold for the machines of this store.</summary>
    AcceptanceClasses Limits => AcceptanceClasses.Shipped;

    /// <summary>Text of the last line that was cut off by a sudden end and set aside; null where there was none. It is shown and never used.</summary>
    string? CutOff => null;

    /// <summary>All entries in order, read again at each call.</summary>
    IEnumerable<JournalEntry> Entries();

    /// <summary>The entries from one sequence on, in order, read again at each call.</summary>
    /// <param name="from">The first sequence wanted.</param>
    IEnumerable<JournalEntry> Entries(long from) => Entries().Where(entry => entry.Sequence >= from);

    /// <summary>The last entry; null where there is none.</summary>
    JournalEntry? LastEntry => Entries().LastOrDefault();

    /// <summary>Hash of an entry as it stands on the medium; null where there is none to ask for.</summary>
    string? HashOf(long sequence) => null;

    /// <summary>How things stand now, without reading the whole past where that can be had.</summary>
    /// <param name="machine">The machine; null for what concerns no machine in particular, with the descriptions of all.</param>
    PresentState Present(string? machine) => PresentState.Of(Entries());

    /// <summary>All that a report prints, without reading the whole past; null where only the whole journal can tell.</summary>
    /// <param name="machine">The machine; null for the only one.</param>
    /// <param name="run">The run it tells of; null for the findings in force.</param>
    /// <param name="asOf">The instant it tells of; null for now.</param>
    ReportedState? Reported(string? machine, long? run, DateTimeOffset? asOf = null) => null;

    /// <summary>All findings of a machine in order, without reading the whole past; null where only the whole journal can tell.</summary>
    /// <param name="machine">The machine.</param>
    IReadOnlyList<FindingMark>? Findings(string machine) => null;

    /// <summary>All runs of a machine in order, those that are over too, without reading the whole past; null where only the whole journal can tell.</summary>
    /// <param name="machine">The machine.</param>
    IReadOnlyList<IndexedRun>? Runs(string machine) => null;

    /// <summary>Entries that leave readings within a range out, or put others in their place, without reading the whole past; null where only the whole journal can tell.</summary>
    /// <param name="first">First reading of the range.</param>
    /// <param name="last">Last reading of the range.</param>
    IReadOnlyList<(long Entry, long Reading)>? LeftOut(long first, long last) => null;

    /// <summary>Appends an entry and returns only when it is on the medium.</summary>
    /// <returns>The entry, or why it could not be written.</returns>
    Outcome<JournalEntry> Append(EntryBody body);
}
