using Commission.Core;

namespace Commission.Tests;

/// <summary>A journal in which something is not as it should be; what it does take goes into the one behind it.</summary>
internal sealed class FaultyJournal(IJournal inner) : IJournal
{
    public const string DiskFull = "the entry could not be put on disk: the disk is full";

    /// <summary>How many entries it still takes before the disk is full; null where it never is.</summary>
    public int? Left { get; set; }

    /// <summary>Whether the program that held the store has left it.</summary>
    public bool IsFree { get; set; }

    public string? ReadOnlyReason { get; set; }

    public string? CutOff { get; init; }

    public StoreNature Nature => inner.Nature;

    public string Store => inner.Store;

    public IEnumerable<JournalEntry> Entries() => inner.Entries();

    public Outcome<JournalEntry> Append(EntryBody body)
    {
        if (ReadOnlyReason is { } reason)
            return new Problem("nothing can be written to the store: " + reason, "Read on, or start the program again once this is put right");
        if (Left is { } left && (Left = left - 1) < 0)
            return new Problem(DiskFull, "Make room, then try again; what was accepted before is kept") { File = "/home/m/heron" };
        return inner.Append(body);
    }

    public void Dispose() => inner.Dispose();
}
