using Commission.Core;

namespace Commission.Tests;

/// <summary>A journal in which something is not as it should be; what it does take goes into the one behind it.</summary>
internal sealed class FaultyJournal(IJournal inner) : IJournal
{
    public const string DiskFull = "the entry could not be put on disk: the disk is full";

    /// <summary>How many entries it still takes before the disk is full; null where it never is.</summary>
    public int? Left { get; set; }

    public string? ReadOnlyReason { get; init; }

    public string? CutOff { get; init; }

    public StoreNature Nature => inner.Nature;

    public string Store => inner.Store;

    public IEnumerable<JournalEntry> Entries() => inner.Entries();

    public Outcome<JournalEntry> Append(EntryBody body)
    {
        if (ReadOnlyReason is { } reason)
            return new Problem("nothing can be written: " + reason, "Close the other program");
        if (Left is { } left && (Left = left - 1) < 0)
            return new Problem(DiskFull, "Make room, then press Enter again");
        return inner.Append(body);
    }

    public void Dispose() => inner.Dispose();
}
