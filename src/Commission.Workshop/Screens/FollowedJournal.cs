using Commission.Core;
using Commission.Core.History;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Screens;

/// <summary>A journal that the screens read often: its entries are read from the medium once and kept, and what is appended goes to the medium first.</summary>
public sealed class FollowedJournal(IJournal journal) : IJournal
{
    private readonly Lock _gate = new();
    private List<JournalEntry>? _entries;

    /// <inheritdoc/>
    public StoreNature Nature => journal.Nature;

    /// <inheritdoc/>
    public string Store => journal.Store;

    /// <inheritdoc/>
    public string? ReadOnlyReason => journal.ReadOnlyReason;

    /// <inheritdoc/>
    public IReadOnlyList<Problem> Notices => journal.Notices;

    /// <inheritdoc/>
    public string? CutOff => journal.CutOff;

    /// <inheritdoc/>
    public IEnumerable<JournalEntry> Entries()
    {
        lock (_gate)
        {
            _entries ??= [.. journal.Entries()];
            // A view that grows at its end only: what was handed out stays as it was.
            return _entries.Take(_entries.Count).ToArray();
        }
    }

    /// <summary>Forgets what was kept: the journal was replaced as a whole, and is read anew.</summary>
    public void Reread()
    {
        lock (_gate)
            _entries = null;
    }

    /// <summary>Entries after a sequence, without a copy of the rest.</summary>
    public IReadOnlyList<JournalEntry> After(long sequence)
    {
        lock (_gate)
        {
            _entries ??= [.. journal.Entries()];
            var first = _entries.Count;
            while (first > 0 && _entries[first - 1].Sequence > sequence)
                first--;
            return _entries.GetRange(first, _entries.Count - first);
        }
    }

    /// <inheritdoc/>
    public Outcome<JournalEntry> Append(EntryBody body)
    {
        lock (_gate)
        {
            _entries ??= [.. journal.Entries()];
            var outcome = journal.Append(body);
            if (outcome is Outcome<JournalEntry>.Good good)
                _entries.Add(good.Value);
            return outcome;
        }
    }

    // The journal belongs to whoever opened it.
    /// <inheritdoc/>
    public void Dispose()
    {
    }
}
