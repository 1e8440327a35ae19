using System.Globalization;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Workshop.Ports;

namespace Commission.Adapters.Storage;

/// <summary>A journal in a folder: its own chain in <c>journal</c>, others in <c>chains</c>, copies in <c>backups</c>.</summary>
public sealed partial class JournalFolder : IStoreFolder
{
    private readonly Lock gate = new();
    private readonly JournalOpening opening;
    private readonly Func<string, IMedium> mediumOf;
    private readonly StoreLock? held;
    private JournalChain chain;
    private IHistoryIndex? index;
    private bool unsure;

    private JournalFolder(string folder, JournalOpening opening, Func<string, IMedium> mediumOf, StoreLock? held, JournalChain chain, string? readOnly)
    {
        (Folder, this.opening, this.mediumOf, this.held, this.chain) = (folder, opening, mediumOf, held, chain);
        ReadOnlyReason = readOnly;
    }

    /// <inheritdoc/>
    public string Folder { get; }

    /// <inheritdoc/>
    public StoreNature Nature => chain.Nature ?? opening.Nature;

    /// <inheritdoc/>
    public string Store => chain.Store!;

    /// <inheritdoc/>
    public string? ReadOnlyReason { get; private set; }

    /// <inheritdoc/>
    public bool IsFree => held is null && opening.Write && Folder.Length > 0 && StoreLock.IsFree(Folder);

    /// <inheritdoc/>
    public IReadOnlyList<Problem> Notices => [.. chain.Notices, .. copyTroubles];

    /// <inheritdoc/>
    public string? CutOff => chain.CutOff;

    /// <inheritdoc/>
    public AcceptanceClasses Limits { get; private set; } = AcceptanceClasses.Shipped;

    /// <summary>Sequence and hash of the last entry.</summary>
    public (long Sequence, string Tip) Last
    {
        get
        {
            lock (gate)
                return (chain.Last, chain.Tip);
        }
    }

    /// <summary>Opens the store in a folder.</summary>
    /// <returns>The journal, perhaps one that can only be read, with the reason; or why not even that.</returns>
    public static Outcome<IJournal> Open(string folder, JournalOpening opening)
    {
        var full = Path.GetFullPath(folder);
        if (!opening.Create && !Directory.Exists(Path.Combine(full, "journal")))
            return new Problem($"there is no store in '{folder}'", "Name the store's folder with --store, or make a machine first");
        var (held, readOnly) = opening.Write ? Take(full, opening.Clock) : (null, "it was opened for reading");
        var opened = Open(full, opening, name => new FolderMedium(Path.Combine(full, name)), held, readOnly);
        if (opened is Outcome<IJournal>.Bad)
            held?.Dispose();
        return opened.Then<IJournal>(journal => ((JournalFolder)journal).WithOwnLimits());
    }

    /// <summary>Opens a store whose chains lie on any medium, without a lock.</summary>
    /// <param name="mediumOf">The medium for a folder of the store by name.</param>
    /// <param name="opening">How it is opened.</param>
    public static Outcome<IJournal> OpenOn(Func<string, IMedium> mediumOf, JournalOpening opening) => Open("", opening, mediumOf, null, null);

    /// <inheritdoc/>
    public IEnumerable<JournalEntry> Entries() => Read(chain.Lines());

    /// <inheritdoc/>
    public IEnumerable<JournalEntry> Entries(long from) => Read(chain.Lines(from));

    /// <inheritdoc/>
    public JournalEntry? LastEntry => chain.Line(Last.Sequence) is { } line ? Read(line) : Entries().LastOrDefault();

    /// <summary>The entry that began a run, and those that belong to it.</summary>
    internal IEnumerable<JournalEntry> EntriesOfRun(long first, long last) => Entries(first).TakeWhile(entry => entry.Sequence <= last)
        .Where(entry => entry.Sequence == first || entry.Body.Run == first);

    /// <summary>The entries from one sequence on, with their lines.</summary>
    internal IEnumerable<(ReadOnlyMemory<byte> Line, JournalEntry Entry)> LinesWithEntries(long from) => chain.Lines(from).Select(line => (line.Line, Read(line)));

    /// <summary>The line of an entry; null where it is not there or damaged.</summary>
    internal ReadOnlyMemory<byte>? LineOf(long sequence) => chain.Line(sequence)?.Line;

    /// <inheritdoc/>
    public PresentState Present(string? machine) => Quick(quick => quick.Present(machine)) ?? PresentState.Of(Entries());

    /// <inheritdoc/>
    public ReportedState? Reported(string? machine, long? run, DateTimeOffset? asOf = null) => Quick(quick => quick.Reported(machine?.Trim(), run, asOf));

    /// <inheritdoc/>
    public IReadOnlyList<FindingMark>? Findings(string machine) => Quick(quick => quick.Findings(machine));

    /// <inheritdoc/>
    public IReadOnlyList<IndexedRun>? Runs(string machine) => Quick(quick => quick.Runs(machine));

    /// <inheritdoc/>
    public IReadOnlyList<(long Entry, long Reading)>? LeftOut(long first, long last) => Quick(quick => quick.LeftOut(first, last));

    // An index that cannot be read is as good as none: the journal answers by itself.
    private T? Quick<T>(Func<IHistoryIndex, T?> ask)
        where T : class
    {
        try
        {
            return Index is { } quick ? ask(quick) : null;
        }
        catch (Exception damaged) when (LedgerIndex.IsDamage(damaged))
        {
            return null;
        }
    }

    /// <summary>Hash of an entry; null where it is not there or damaged.</summary>
    public string? HashOf(long sequence) => chain.Line(sequence)?.Place.Self;

    /// <inheritdoc/>
    public IHistoryIndex? Index
    {
        get
        {
            index?.CatchUp();
            return index;
        }
    }

    /// <summary>Stops writing: a witness knows what the journal does not.</summary>
    /// <param name="reason">The reason in a sentence.</param>
    public void StopWriting(string reason) => ReadOnlyReason ??= reason;

    /// <inheritdoc/>
    public Outcome<JournalEntry> Append(EntryBody body)
    {
        lock (gate)
        {
            if (ReadOnlyReason is { } reason)
                return new Problem($"nothing can be written to the store: {reason}", "Read on, or start the program again once this is put right");
            return Writable().Then(_ => Numbered(body));
        }
    }

    private Outcome<JournalEntry> Numbered(EntryBody body)
    {
        var sequence = chain.Last + 1;
        var id = string.Create(CultureInfo.InvariantCulture, $"{Store}:{sequence}");
        var entry = new JournalEntry(id, sequence, opening.Clock.GetLocalNow(), body);
        return JournalLine.Write(entry, chain.Tip).Then(line => Append(entry, line));
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        copying.Wait();
        lock (gate)
        {
            // The lock is let go whatever happens before: nobody else could write to the store.
            try
            {
                Keep();
            }
            finally
            {
                using (held)
                    chain.Dispose();
            }
        }
    }

    /// <summary>Opens the index and asks it as a witness.</summary>
    /// <param name="progress">Told the part that is done while it grows; null where nobody looks.</param>
    internal void UseIndex(IProgress<double>? progress)
    {
        var opened = ReadOnlyReason is null ? LedgerIndex.Open(this, progress) : LedgerIndex.OpenToRead(this);
        index = opened.Match<IHistoryIndex?>(
            found => found,
            problems =>
            {
                if (problems[0].IsFailure)
                    chain.Notices.Add(Contradicted(problems[0].What));
                else if (ReadOnlyReason is null)
                    chain.Notices.AddRange(problems);
                return null;
            });
    }

    /// <summary>Sequence of the last entry on the medium now: another program may have written since this one opened.</summary>
    internal long LastOnMedium()
    {
        using var now = JournalChain.Open(mediumOf("journal"), write: false, opening.SegmentBytes);
        return now.Last;
    }

    // What was written since goes into the index; where that fails it grows back the next time.
    private void Keep()
    {
        try
        {
            using (index)
                index?.CatchUp();
        }
        catch (Exception failed) when (LedgerIndex.IsDamage(failed))
        {
            chain.Notices.Add(new Problem($"the index could not be kept: {failed.Message.TrimEnd('.')}", "Nothing has to be done: it grows back") { File = Folder });
        }

        index = null;
    }

    // A file of limits that cannot be used is told and left out: the shipped limits stand.
    private JournalFolder WithOwnLimits()
    {
        var file = Path.Combine(Folder, AcceptanceClasses.FileName);
        try
        {
            if (!File.Exists(file))
                return this;
            var read = AcceptanceClasses.Read(File.ReadAllText(file), file);
            Limits = read.Match(own => own, _ => Limits);
            chain.Notices.AddRange(read.Match(_ => [], problems => problems));
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException)
        {
            chain.Notices.Add(new Problem($"the file of limits cannot be read: {unreadable.Message.TrimEnd('.')}", "Look at its rights; the shipped limits stand") { File = file });
        }

        return this;
    }

    private static (StoreLock? Held, string? ReadOnly) Take(string folder, TimeProvider clock)
    {
        try
        {
            new FolderMedium(folder).Make();
        }
        catch (Exception refused) when (refused is IOException or UnauthorizedAccessException)
        {
            return (null, $"the folder cannot be made ({refused.Message.TrimEnd('.')})");
        }

        return StoreLock.Take(folder, clock).Match<(StoreLock?, string?)>(taken => (taken, null), problems => (null, problems[0].What));
    }

    private static Outcome<IJournal> Open(string folder, JournalOpening opening, Func<string, IMedium> mediumOf, StoreLock? held, string? readOnly)
    {
        JournalChain chain;
        try
        {
            chain = JournalChain.Open(mediumOf("journal"), readOnly is null, opening.SegmentBytes);
        }
        catch (Exception failed) when (readOnly is null && failed is IOException or UnauthorizedAccessException)
        {
            // A full disk cannot take what is set aside, but it can still be read.
            readOnly = $"the folder cannot be written to ({failed.Message.TrimEnd('.')})";
            chain = JournalChain.Open(mediumOf("journal"), write: false, opening.SegmentBytes);
        }

        var journal = new JournalFolder(folder, opening, mediumOf, held, chain, readOnly);
        return journal.Settle().Match<Outcome<IJournal>>(
            _ => journal,
            problems =>
            {
                chain.Dispose();
                return new Outcome<IJournal>.Bad(problems);
            });
    }

    // Nature, newer entry types, and the first entry of a store that has none yet.
    private Outcome<bool> Settle()
    {
        if (chain.Store is null)
        {
            if (chain.Notices.Count > 0)
                return new Problem("nothing in the journal can be read", "Keep the folder as it is and restore the newest backup into a new one") { File = Folder };
            if (ReadOnlyReason is { } reason)
                return new Problem($"there is no store yet and none can be made: {reason}", "Name another folder with --store");
            return TryWriting(() => chain.Begin(opening.NewStore(), opening.Nature)).Then(_ => Bear());
        }

        if (chain.Nature is null)
            ReadOnlyReason ??= "the journal's first lines are damaged: whether it is one of a real machine cannot be told";
        if (opening.Write && Nature != opening.Nature)
            return Nature == StoreNature.Practice
                ? new Problem("this store belongs to the practice machine", "Name the folder of the real machine with --store, or go on practising: rehearse --keep --store with this folder")
                : new Problem("this store belongs to a real machine", "Practise in another folder");
        var unknown = chain.Types.Except(JournalLine.Types).ToList();
        if (unknown.Count > 0)
            ReadOnlyReason ??= $"a newer version of the program wrote entries of a kind this one does not know ({string.Join(", ", unknown.Select(Shown))})";
        foreach (var contradiction in Witnesses.Contradictions(Folder, chain.Last, HashOf))
        {
            ReadOnlyReason ??= contradiction;
            chain.Notices.Add(Contradicted(contradiction));
        }

        return chain.Last == 0 && ReadOnlyReason is null ? Bear() : true;
    }

    private Problem Contradicted(string what) => new(what, NewestSoundBackup() is { } backup
        ? $"Nothing is written until this is settled: go on in a copy of '{backup}', or bring its entries in with history import"
        : "Nothing is written until this is settled, and no sound backup is here: look for a copy elsewhere")
    { File = Folder };

    private Outcome<bool> Bear() => Append(new EntryBody.StoreBorn(Nature, Store, opening.Program)).Then<bool>(_ => true);

    private Outcome<JournalEntry> Append(JournalEntry entry, byte[] line)
    {
        var written = TryWriting(() => chain.Append(line, JournalLine.Place(line)!.Value));
        if (written is Outcome<bool>.Bad bad)
            return new Outcome<JournalEntry>.Bad(bad.Problems);

        // The entry is on the medium; if the next segment cannot be begun, that is the next entry's trouble.
        TryWriting(chain.CloseWhereFull);
        return entry;
    }

    // After a failed write nobody knows what stands behind the last sound line: it is read again before anything more is written.
    private Outcome<bool> Writable() => unsure ? TryWriting(() => chain = chain.PutRight()) : true;

    private Outcome<bool> TryWriting(Action write)
    {
        try
        {
            write();
            unsure = false;
            return true;
        }
        catch (Exception failed) when (failed is IOException or UnauthorizedAccessException)
        {
            var why = IsFull(failed) ? "the disk is full" : failed.Message.TrimEnd('.');
            unsure = true;
            return new Problem($"the entry could not be put on disk: {why}", $"{(IsFull(failed) ? "Make room" : "Look at the disk")}, then try again; what was accepted before is kept") { File = Folder };
        }
    }

    // Told as a sentence: the system's own names a file that nobody looks for. The number is that of POSIX (ENOSPC) or of Windows (ERROR_DISK_FULL).
    private static bool IsFull(Exception failed) => failed is IOException && (failed.HResult & 0xFFFF) is 28 or 112;

    // An entry that verifies but cannot be understood was written by a version that knows more.
    private static IEnumerable<JournalEntry> Read(IEnumerable<(ReadOnlyMemory<byte> Line, LinePlace Place)> lines) => lines.Select(Read);

    private static JournalEntry Read((ReadOnlyMemory<byte> Line, LinePlace Place) line) => JournalLine.Read(line.Line, line.Place).Match(
        entry => entry,
        _ => new JournalEntry(string.Create(CultureInfo.InvariantCulture, $"{line.Place.Store}:{line.Place.Sequence}"), line.Place.Sequence, default, new EntryBody.Unknown(line.Place.Type)));

    private static string Shown(string word) => new([.. word.Where(letter => !char.IsControl(letter)).Take(40)]);
}
