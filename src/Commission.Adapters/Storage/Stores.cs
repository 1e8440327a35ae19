using System.Diagnostics;
using Commission.Core;
using Commission.Core.History;
using Commission.Workshop.Ports;

namespace Commission.Adapters.Storage;

/// <summary>Stores in folders of this computer.</summary>
/// <param name="program">Version of the program, for the first entry of a new store.</param>
/// <param name="clock">Gives the instants of the entries.</param>
public sealed class Stores(string program, TimeProvider clock) : IStores
{
    /// <summary>Told the part that is done while an index grows back; null where nobody looks.</summary>
    public IProgress<double>? Progress { get; init; }

    private const string Letters = "abcdefghijkmnpqrstuvwxyz23456789";

    /// <inheritdoc/>
    public bool Exists(string folder) => Directory.Exists(Path.Combine(folder, "journal"));

    /// <inheritdoc/>
    public Outcome<IStoreFolder> Open(string folder, StoreNature nature, bool write) =>
        JournalFolder.Open(folder, new JournalOpening
        {
            Nature = nature,
            Program = program,
            Clock = clock,
            NewStore = NewId,
            Write = write,
            Create = write,
        }).Match<Outcome<IStoreFolder>>(
            journal => journal is JournalFolder store
                ? new Outcome<IStoreFolder>.Good(Attended(store))
                : throw new UnreachableException("A folder's journal is a store folder."),
            problems => new Outcome<IStoreFolder>.Bad([.. problems.Select(problem => problem with { IsFailure = true })]));

    // The index is asked before the backup is made: what contradicts it must not be copied over what it knows.
    private JournalFolder Attended(JournalFolder store)
    {
        store.UseIndex(Progress);
        store.BackUpBeforeWriting();
        return store;
    }

    // From a random identifier of the framework: its cryptographic generator needs a library that may be missing.
    private static string NewId() => string.Concat(Guid.NewGuid().ToByteArray().Skip(10).Select(b => Letters[b % Letters.Length]));
}
