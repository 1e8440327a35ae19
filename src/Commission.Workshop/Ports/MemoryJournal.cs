using System.Globalization;
using Commission.Core;
using Commission.Core.History;

namespace Commission.Workshop.Ports;

/// <summary>A journal that is gone with the process: for practice that is not kept, and for tests.</summary>
public sealed class MemoryJournal : IJournal
{
    private readonly Lock gate = new();
    private readonly List<JournalEntry> entries = [];
    private readonly TimeProvider clock;

    /// <summary>A journal with its first entry.</summary>
    /// <param name="nature">Real or practice.</param>
    /// <param name="store">Short id of the store.</param>
    /// <param name="program">Version of the program.</param>
    /// <param name="clock">Gives the instants of the entries.</param>
    public MemoryJournal(StoreNature nature, string store, string program, TimeProvider clock)
    {
        (Nature, Store, this.clock) = (nature, store, clock);
        Append(new EntryBody.StoreBorn(nature, store, program)).Require();
    }

    /// <inheritdoc/>
    public StoreNature Nature { get; }

    /// <inheritdoc/>
    public string Store { get; }

    /// <inheritdoc/>
    public string? ReadOnlyReason => null;

    /// <inheritdoc/>
    public IEnumerable<JournalEntry> Entries()
    {
        lock (gate)
            return [.. entries];
    }

    /// <inheritdoc/>
    public Outcome<JournalEntry> Append(EntryBody body)
    {
        lock (gate)
        {
            var sequence = entries.Count + 1L;
            var id = string.Create(CultureInfo.InvariantCulture, $"{Store}:{sequence}");
            var entry = new JournalEntry(id, sequence, clock.GetLocalNow(), body);
            entries.Add(entry);
            return entry;
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
    }
}
