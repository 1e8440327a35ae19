using Commission.Core;
using Commission.Core.History;

namespace Commission.Workshop.Ports;

/// <summary>A journal that lies in a folder: what can be done with the folder as a whole.</summary>
public interface IStoreFolder : IJournal
{
    /// <summary>Folder of the store.</summary>
    string Folder { get; }

    /// <summary>Ids of the stores whose chains were brought in beside the store's own.</summary>
    IReadOnlyList<string> ForeignStores { get; }

    /// <summary>Entries of a chain that was brought in.</summary>
    /// <param name="store">Id of its store.</param>
    IEnumerable<JournalEntry> Foreign(string store);

    /// <summary>All lines as they stand on the medium, without line ends: the store's own chain, then the others by id.</summary>
    IEnumerable<ReadOnlyMemory<byte>> Lines();

    /// <summary>Brings in the lines of an export: chains the store does not know, or what is new in those it does.</summary>
    /// <param name="lines">Lines without line ends.</param>
    /// <param name="source">Name of the file, for problems.</param>
    /// <returns>Number of new entries, or why nothing was brought in.</returns>
    Outcome<long> Import(IReadOnlyList<ReadOnlyMemory<byte>> lines, string source);

    /// <summary>Verifies every byte of every chain.</summary>
    StoreCheck Check();

    /// <summary>Copies all chains and verifies the copy.</summary>
    /// <param name="folder">Where to; null for the store's own backups, which are thinned.</param>
    /// <returns>What was copied, or why it was not.</returns>
    Outcome<BackupMade> BackUp(string? folder);

    /// <summary>The index, caught up with the journal; null where none can be used, and then the journal answers by itself.</summary>
    IHistoryIndex? Index { get; }

    /// <summary>The last copy made to another place with <see cref="BackUp"/>.</summary>
    CopyAge CopyAge { get; }

    /// <summary>Leaves a record of how far the journal reached beside the store: the last report is a witness of what must be there.</summary>
    void RememberReport();

    /// <summary>Verifies one closed part of the journal; the open one is verified on opening.</summary>
    /// <param name="part">Number of the part, from 0.</param>
    /// <returns>What does not hold in it; null where there is no such closed part.</returns>
    IReadOnlyList<Problem>? VerifyPart(int part);
}

/// <summary>What a verification found.</summary>
/// <param name="Entries">Entries that verify, over all chains.</param>
/// <param name="Last">Sequence of the last entry of the store's own chain.</param>
/// <param name="Tip">Hash of that entry: two stores with the same one hold the same.</param>
/// <param name="Faults">Where a chain does not hold; empty where all does.</param>
/// <param name="NewestBackup">Name of the newest backup that verifies; null where there is none.</param>
public sealed record StoreCheck(long Entries, long Last, string Tip, IReadOnlyList<Problem> Faults, string? NewestBackup);

/// <summary>A verified copy.</summary>
/// <param name="Folder">Where it lies.</param>
/// <param name="Entries">Entries in it.</param>
/// <param name="Tip">Hash of the last entry of the store's own chain.</param>
public sealed record BackupMade(string Folder, long Entries, string Tip);
