using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Workshop.Ports;
using LiteDB;

namespace Commission.Adapters.Storage;

/// <summary>
/// The index in one LiteDB file beside the journal. Where it is missing, damaged, behind or of another version it grows back;
/// where it knows more than the journal it is left alone and the journal is no longer written to.
/// </summary>
public sealed class LedgerIndex : IHistoryIndex
{
    private const int Version = 1;
    private const int Batch = 5000;
    private const string FileName = "index.db";

    private readonly JournalFolder journal;
    private readonly LiteDatabase database;
    private readonly IndexDocuments documents;

    private LedgerIndex(JournalFolder journal, LiteDatabase database) =>
        (this.journal, this.database, documents) = (journal, database, new IndexDocuments(database));

    /// <inheritdoc/>
    public long Last { get; private set; }

    /// <summary>Opens the index of a journal that is open for writing.</summary>
    /// <param name="journal">The journal.</param>
    /// <param name="progress">Told the part that is done, 0 to 1, while the index grows; null where nobody looks.</param>
    /// <returns>The index, or why there can be none; then the journal itself still answers, only slower.</returns>
    public static Outcome<IHistoryIndex> Open(JournalFolder journal, IProgress<double>? progress = null)
    {
        if (journal.ReadOnlyReason is { } reason)
            return new Problem($"the index is not used: {reason}", "The journal answers by itself meanwhile");
        var path = Path.Combine(journal.Folder, FileName);
        var known = Known(path);
        if (known is { } tip && Contradicts(journal, tip) is { } contradiction)
        {
            journal.StopWriting(contradiction);
            return new Problem(contradiction, "Nothing is written until this is settled: compare with the newest backup, named by history check") { File = path };
        }

        try
        {
            return Grown(journal, path, known is null, progress);
        }
        catch (Exception damaged) when (IsDamage(damaged))
        {
            return TryAgain(journal, path, progress);
        }
    }

    /// <inheritdoc/>
    public IReadOnlyList<IndexedFinding> Trend(string machine, string characteristic, string? axis = null, string? place = null) =>
        documents.Trend(machine, characteristic, axis, place);

    /// <inheritdoc/>
    public IReadOnlyList<IndexedRun> Runs(string machine) => documents.Runs(machine);

    /// <inheritdoc/>
    public void CatchUp() => Grow(null);

    /// <inheritdoc/>
    public void Dispose() => database.Dispose();

    private static Outcome<IHistoryIndex> TryAgain(JournalFolder journal, string path, IProgress<double>? progress)
    {
        try
        {
            return Grown(journal, path, fresh: true, progress);
        }
        catch (Exception failed) when (IsDamage(failed))
        {
            return new Problem($"the index cannot be made: {failed.Message.TrimEnd('.')}", "Free some space or change the rights of the file; the journal answers by itself meanwhile") { File = path };
        }
    }

    private static Outcome<IHistoryIndex> Grown(JournalFolder journal, string path, bool fresh, IProgress<double>? progress)
    {
        if (fresh)
            Delete(path);
        var index = new LedgerIndex(journal, Database(path));
        try
        {
            index.Last = index.documents.Tip?.Sequence ?? 0;
            index.Grow(progress);
            return index;
        }
        catch
        {
            index.Dispose();
            throw;
        }
    }

    // What the file says it knows; null where it is missing, damaged, empty or of another version or store.
    private static IndexTip? Known(string path)
    {
        if (!File.Exists(path) || new FileInfo(path).Length == 0)
            return null;
        try
        {
            using var database = Database(path);
            return new IndexDocuments(database).Tip is { Version: Version } tip ? tip : null;
        }
        catch (Exception damaged) when (IsDamage(damaged))
        {
            return null;
        }
    }

    private static string? Contradicts(JournalFolder journal, IndexTip tip)
    {
        if (tip.Store != journal.Store)
            return $"the index beside the journal belongs to the store '{tip.Store}', and the journal to '{journal.Store}'";
        if (tip.Sequence > journal.Last.Sequence)
            return string.Create(CultureInfo.InvariantCulture, $"the index knows {tip.Sequence} entries and the journal {journal.Last.Sequence}: entries are missing from its end");
        return journal.HashOf(tip.Sequence) is { } hash && hash != tip.Hash
            ? string.Create(CultureInfo.InvariantCulture, $"entry {tip.Sequence} is not the one the index knows: the journal was replaced")
            : null;
    }

    private static LiteDatabase Database(string path) => new(new ConnectionString { Filename = path, Collation = Collation.Binary });

    private static void Delete(string path)
    {
        File.Delete(path);
        File.Delete(path[..^3] + "-log.db");
    }

    // A damaged file makes the library throw almost anything; what a programmer did wrong is not among it.
    private static bool IsDamage(Exception thrown) => thrown is not (NullReferenceException or OutOfMemoryException);

    // Batches keep memory flat; the tip comes last, so that an index that was broken off half way is behind, never ahead.
    private void Grow(IProgress<double>? progress)
    {
        var total = Math.Max(1, journal.Last.Sequence - Last);
        var (begun, tip) = (Last, Last);
        foreach (var batch in journal.Entries(Last + 1).Chunk(Batch))
        {
            documents.Take(batch);
            tip = batch[^1].Sequence;
            progress?.Report((double)(tip - begun) / total);
        }

        if (tip == Last)
            return;
        documents.Tip = new IndexTip(Version, journal.Store, tip, journal.HashOf(tip)!);
        database.Checkpoint();
        Last = tip;
    }
}
