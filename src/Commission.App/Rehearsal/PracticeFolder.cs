using Commission.Core;
using Commission.Core.History;
using Commission.Workshop.Ports;

namespace Commission.App.Rehearsal;

/// <summary>The journal of practice that is not kept, where a store is asked for: it lies in no folder and is gone with the program.</summary>
internal sealed class PracticeFolder(IJournal journal) : IStoreFolder
{
    private static readonly Problem NotKept = new("practice that is not kept has no folder", "Begin it with rehearse --keep --store DIR");

    /// <inheritdoc/>
    public string Folder => "practice, not kept";

    /// <inheritdoc/>
    public StoreNature Nature => journal.Nature;

    /// <inheritdoc/>
    public string Store => journal.Store;

    /// <inheritdoc/>
    public string? ReadOnlyReason => null;

    /// <inheritdoc/>
    public IReadOnlyList<string> ForeignStores => [];

    /// <inheritdoc/>
    public IHistoryIndex? Index => null;

    /// <inheritdoc/>
    public CopyAge CopyAge => new(null, journal.LastEntry?.Sequence ?? 0);

    /// <inheritdoc/>
    public IEnumerable<JournalEntry> Entries() => journal.Entries();

    /// <inheritdoc/>
    public Outcome<JournalEntry> Append(EntryBody body) => journal.Append(body);

    /// <inheritdoc/>
    public IEnumerable<JournalEntry> Foreign(string store) => [];

    /// <inheritdoc/>
    public IEnumerable<ReadOnlyMemory<byte>> Lines()
    {
        var previous = JournalLine.NoPrevious;
        foreach (var entry in journal.Entries())
        {
            var line = JournalLine.Write(entry, previous).Require();
            previous = JournalLine.Self(line);
            yield return line;
        }
    }

    /// <inheritdoc/>
    public Outcome<long> Import(IReadOnlyList<ReadOnlyMemory<byte>> lines, string source) => NotKept;

    /// <inheritdoc/>
    public StoreCheck Check() => new(Lines().Count(line => JournalLine.Fits(line.Span)), journal.LastEntry?.Sequence ?? 0, JournalLine.Self(Lines().Last().Span), [], null);

    /// <inheritdoc/>
    public Outcome<BackupMade> BackUp(string? folder) => NotKept;

    /// <inheritdoc/>
    public void RememberReport()
    {
    }

    /// <inheritdoc/>
    public IReadOnlyList<Problem>? VerifyPart(int part) => null;

    // Each request closes the store it asked for; practice goes on.
    /// <inheritdoc/>
    public void Dispose()
    {
    }
}
