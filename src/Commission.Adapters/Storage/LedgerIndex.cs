using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Upkeep;
using Commission.Workshop.Ports;
using LiteDB;

namespace Commission.Adapters.Storage;

/// <summary>
/// The index in one LiteDB file beside the journal. Where it is missing, damaged, behind or of another version it grows back;
/// where it knows more than the journal it is left alone and the journal is no longer written to.
/// </summary>
public sealed class LedgerIndex : IHistoryIndex
{
    private const int Version = 10;
    private const int Batch = 5000;

    // Between two instants that are remembered so many entries are read to find the last one of a day.
    private const int Stride = 100;

    private const string FileName = "index.db";

    private readonly JournalFolder journal;
    private readonly LiteDatabase database;
    private readonly IndexDocuments documents;
    private readonly bool write;

    private LedgerIndex(JournalFolder journal, LiteDatabase database, bool write) =>
        (this.journal, this.database, this.write, documents) = (journal, database, write, new IndexDocuments(database, write));

    /// <inheritdoc/>
    public long Last { get; private set; }

    /// <summary>Opens the index of a journal that is open for writing.</summary>
    /// <param name="journal">The journal.</param>
    /// <param name="progress">Told the part that is done, 0 to 1, while the index grows; null where nobody looks.</param>
    /// <returns>The index, or why there can be none; then the journal itself still answers, only slower. A contradiction is marked as a failure.</returns>
    public static Outcome<IHistoryIndex> Open(JournalFolder journal, IProgress<double>? progress = null)
    {
        if (journal.ReadOnlyReason is { } reason)
            return new Problem($"the index is not used: {reason}", "The journal answers by itself meanwhile");
        var path = Path.Combine(journal.Folder, FileName);
        var opened = Known(journal, path, write: true);
        if (opened is not null && Contradicts(journal, opened.Tip!, journal.Last.Sequence) is { } contradiction)
        {
            opened.Dispose();
            journal.StopWriting(contradiction);
            return new Problem(contradiction, "Nothing is written until this is settled: compare with the newest backup, named by history check") { File = path, IsFailure = true };
        }

        try
        {
            return (opened ?? Fresh(journal, path)).Grown(progress);
        }
        catch (Exception damaged) when (IsDamage(damaged))
        {
            return TryAgain(journal, path, progress);
        }
    }

    /// <summary>Opens the index of a journal that is only read. It is used as it stands, where it knows the whole journal.</summary>
    public static Outcome<IHistoryIndex> OpenToRead(JournalFolder journal)
    {
        var path = Path.Combine(journal.Folder, FileName);
        var opened = Known(journal, path, write: false);
        if (opened?.Tip is not { } tip)
            return new Problem("there is no index to read", "The journal answers by itself meanwhile");
        var last = tip.Sequence > journal.Last.Sequence ? journal.LastOnMedium() : journal.Last.Sequence;
        var contradiction = Contradicts(journal, tip, last);
        if (contradiction is null && tip.Sequence == journal.Last.Sequence)
            return opened;
        opened.Dispose();
        return contradiction is null
            ? new Problem("the index does not know the whole journal yet", "The journal answers by itself meanwhile")
            : new Problem(contradiction, "Compare with the newest backup, named by history check") { File = path, IsFailure = true };
    }

    /// <inheritdoc/>
    public IReadOnlyList<IndexedFinding> Trend(string machine, string characteristic, string? axis = null, string? place = null) =>
        documents.Trend(machine, characteristic, axis, place);

    /// <inheritdoc/>
    public IReadOnlyList<IndexedRun> Runs(string machine) => documents.Runs(machine);

    /// <inheritdoc/>
    public UpkeepFold Series(string machine, string item) => documents.Series(machine, item);

    /// <inheritdoc/>
    public IReadOnlyList<FindingMark> Findings(string machine) => documents.Findings(machine);

    /// <inheritdoc/>
    public IReadOnlyList<(long Entry, long Reading)> LeftOut(long first, long last) => [.. documents.Marks(first, last).Order()];

    /// <inheritdoc/>
    public PresentState Present(string? machine)
    {
        var (entries, upkeep) = PresentEntries(machine ?? "");
        return new PresentState(LedgerOf(entries, Last), upkeep, Whole: false);
    }

    /// <inheritdoc/>
    public ReportedState? Reported(string? machine, long? run, DateTimeOffset? asOf)
    {
        if (documents.Tip is not { } tip)
            return null;
        if (asOf is not { } instant || instant >= tip.Latest)
        {
            var name = machine ?? (Machines is [var only] ? only : "");
            return Behind(name, run, Last, PresentEntries(name), tip.Count);
        }

        // Where entries are missing only the journal can count them.
        var at = tip.Count == tip.Sequence ? LastUntil(instant) : 0;
        if (at == 0)
            return null;
        var then = machine ?? OnlyOne(PastEntries("", at).Entries);
        return Behind(then, run, at, PastEntries(then, at), at);
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> Machines => documents.Machines;

    /// <inheritdoc/>
    public void CatchUp()
    {
        if (write && journal.Last.Sequence != Last)
            Grow(null);
    }

    /// <inheritdoc/>
    public void Dispose() => database.Dispose();

    // A damaged file makes the library throw almost anything; what a programmer did wrong is not among it.
    internal static bool IsDamage(Exception thrown) => thrown is not (NullReferenceException or OutOfMemoryException);

    // An altered copy of a line shows by its hash: then the index is as good as none.
    internal static JournalEntry Entry(ReadOnlyMemory<byte> line) => JournalLine.Read(line).Match(
        entry => entry, problems => throw new InvalidDataException(problems[0].What));

    private IndexTip? Tip => documents.Tip;

    private ReportedState? Behind(string machine, long? run, long at, (List<JournalEntry> Entries, UpkeepFold Upkeep) present, long count) =>
        new EntriesBehind(documents, journal, at).Of(machine, run, present.Entries) is { } behind ? new ReportedState(LedgerOf(behind, at), present.Upkeep, count) : null;

    // The entry before the first one that is later, as a reader of the whole journal stops there; a clock may have been set back after it.
    private long LastUntil(DateTimeOffset instant)
    {
        var at = documents.NotAfter(instant);
        return journal.Entries(at + 1).TakeWhile(entry => entry.At <= instant).Select(entry => entry.Sequence).LastOrDefault(at);
    }

    private static string OnlyOne(IEnumerable<JournalEntry> entries) =>
        Ledger.From(entries).Machines.Values.Where(machine => !machine.Retired).ToList() is [var only] ? only.Description.Name : "";

    // No report prints what only the open runs of that time know.
    private (List<JournalEntry> Entries, UpkeepFold Upkeep) PastEntries(string machine, long at)
    {
        var entries = documents.Present(machine, at).Select(sequence => Entry(journal.LineOf(sequence) ?? throw new InvalidDataException("an entry is not there"))).ToList();
        return (entries, documents.Upkeep(machine, entries.Where(entry => entry.Body is EntryBody.MachineDescribed), at));
    }

    private (List<JournalEntry> Entries, UpkeepFold Upkeep) PresentEntries(string machine)
    {
        var open = documents.OpenRuns(machine).SelectMany(run => journal.EntriesOfRun(run.First, run.Last)).ToList();
        var marks = new EntriesBehind(documents, journal, Last).MarksOn(open);
        var entries = documents.Present(machine).Select(line => Entry(line)).Concat(open).Concat(marks).DistinctBy(entry => entry.Sequence).OrderBy(entry => entry.Sequence).ToList();
        return (entries, documents.Upkeep(machine, entries.Where(entry => entry.Body is EntryBody.MachineDescribed).Concat(open)));
    }

    private Ledger LedgerOf(IEnumerable<JournalEntry> entries, long at)
    {
        var last = Entry(journal.LineOf(at) ?? throw new InvalidDataException("the last entry is not there"));
        return Ledger.Present(entries, last.Sequence, last.At);
    }

    private static Outcome<IHistoryIndex> TryAgain(JournalFolder journal, string path, IProgress<double>? progress)
    {
        try
        {
            return Fresh(journal, path).Grown(progress);
        }
        catch (Exception failed) when (IsDamage(failed))
        {
            return new Problem($"the index cannot be made: {failed.Message.TrimEnd('.')}", "Free some space or change the rights of the file; the journal answers by itself meanwhile") { File = path };
        }
    }

    private static LedgerIndex Fresh(JournalFolder journal, string path)
    {
        File.Delete(path);
        File.Delete(path[..^3] + "-log.db");
        return new LedgerIndex(journal, Database(path, write: true), write: true);
    }

    private LedgerIndex Grown(IProgress<double>? progress)
    {
        try
        {
            Grow(progress);
            return this;
        }
        catch
        {
            Dispose();
            throw;
        }
    }

    // The index that is there; null where it is missing, damaged, empty or of another version.
    private static LedgerIndex? Known(JournalFolder journal, string path, bool write)
    {
        if (!File.Exists(path) || new FileInfo(path).Length == 0)
            return null;
        LiteDatabase? database = null;
        try
        {
            database = Database(path, write);
            var index = new LedgerIndex(journal, database, write);
            if (index.Tip is { Version: Version } tip)
            {
                index.Last = tip.Sequence;
                return index;
            }
        }
        catch (Exception damaged) when (IsDamage(damaged))
        {
            // A damaged index is as good as none: it grows back.
        }

        database?.Dispose();
        return null;
    }

    private static string? Contradicts(JournalFolder journal, IndexTip tip, long last)
    {
        if (tip.Store != journal.Store)
            return $"the index beside the journal belongs to the store '{tip.Store}', and the journal to '{journal.Store}'";
        if (tip.Sequence > last)
            return string.Create(CultureInfo.InvariantCulture, $"the index knows {tip.Sequence} entries and the journal {last}: entries are missing from its end");
        return journal.HashOf(tip.Sequence) is { } hash && hash != tip.Hash
            ? string.Create(CultureInfo.InvariantCulture, $"entry {tip.Sequence} is not the one the index knows: the journal was replaced")
            : null;
    }

    private static LiteDatabase Database(string path, bool write) => new(new ConnectionString { Filename = path, Collation = Collation.Binary, ReadOnly = !write });

    private DateTimeOffset Later((ReadOnlyMemory<byte> Line, JournalEntry Entry)[] batch, DateTimeOffset latest)
    {
        foreach (var (_, entry) in batch)
        {
            latest = entry.At > latest ? entry.At : latest;
            if (entry.Sequence % Stride == 0)
                documents.Reached(entry.Sequence, latest);
        }

        return latest;
    }

    // Batches keep memory flat; the tip comes last, so that an index that was broken off half way is behind, never ahead.
    private void Grow(IProgress<double>? progress)
    {
        var total = Math.Max(1, journal.Last.Sequence - Last);
        var (begun, tip) = (Last, Last);
        var (count, latest) = Tip is { } before ? (before.Count, before.Latest) : (0, DateTimeOffset.MinValue);
        foreach (var batch in journal.LinesWithEntries(Last + 1).Chunk(Batch))
        {
            documents.Take(batch, journal.LineOf);
            tip = batch[^1].Entry.Sequence;
            count += batch.Length;
            latest = Later(batch, latest);
            progress?.Report((double)(tip - begun) / total);
        }

        if (tip == Last)
            return;
        documents.Tip = new IndexTip(Version, journal.Store, tip, journal.HashOf(tip)!, count, latest);
        database.Checkpoint();
        Last = tip;
    }
}
