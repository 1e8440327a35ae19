using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Screens;

/// <summary>A journal that the screens read often: what is appended goes to the medium first and is then followed; where all entries are wanted they are read once and kept.</summary>
public sealed class FollowedJournal(IJournal journal) : IJournal
{
    private const long FirstSpan = 64;

    private readonly Lock _gate = new();
    private readonly List<JournalEntry> _appended = [];
    private readonly Dictionary<string, (long Last, int Count)> _counts = new(StringComparer.Ordinal);
    private List<JournalEntry>? _entries;

    /// <inheritdoc/>
    public StoreNature Nature => journal.Nature;

    /// <inheritdoc/>
    public string Store => journal.Store;

    /// <inheritdoc/>
    public string? ReadOnlyReason => journal.ReadOnlyReason;

    /// <inheritdoc/>
    public bool IsFree => journal.IsFree;

    /// <inheritdoc/>
    public IReadOnlyList<Problem> Notices => journal.Notices;

    /// <inheritdoc/>
    public AcceptanceClasses Limits => journal.Limits;

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
        {
            _entries = null;
            _appended.Clear();
            _counts.Clear();
        }
    }

    /// <inheritdoc/>
    public IEnumerable<JournalEntry> Entries(long from) => journal.Entries(from);

    /// <inheritdoc/>
    public string? HashOf(long sequence) => journal.HashOf(sequence);

    /// <inheritdoc/>
    public PresentState Present(string? machine) => journal.Present(machine);

    /// <inheritdoc/>
    public JournalEntry? LastEntry => journal.LastEntry;

    /// <inheritdoc/>
    public ReportedState? Reported(string? machine, long? run, DateTimeOffset? asOf = null) => journal.Reported(machine, run, asOf);

    /// <inheritdoc/>
    public IReadOnlyList<FindingMark>? Findings(string machine) => journal.Findings(machine);

    /// <inheritdoc/>
    public IReadOnlyList<IndexedRun>? Runs(string machine) => journal.Runs(machine);

    /// <inheritdoc/>
    public IReadOnlyList<(long Entry, long Reading)>? LeftOut(long first, long last) => journal.LeftOut(first, last);

    /// <summary>What was appended here after a sequence.</summary>
    public IReadOnlyList<JournalEntry> After(long sequence)
    {
        lock (_gate)
        {
            var first = _appended.Count;
            while (first > 0 && _appended[first - 1].Sequence > sequence)
                first--;
            return _appended.GetRange(first, _appended.Count - first);
        }
    }

    /// <summary>Whether an entry stands in the log of a machine: it is its own, or that of no machine.</summary>
    /// <param name="entry">The entry.</param>
    /// <param name="machine">The machine; null where there is none yet.</param>
    public static bool IsOf(JournalEntry entry, string? machine) => machine is null || entry.Body.Machine is null || entry.Body.Machine == machine;

    /// <summary>How many entries stand in the log of a machine: counted once, and then as they come.</summary>
    /// <param name="machine">The machine.</param>
    /// <param name="last">Sequence of the last entry.</param>
    public int CountOf(string machine, long last)
    {
        lock (_gate)
        {
            var (until, count) = _counts.GetValueOrDefault(machine);
            if (until < last)
                _counts[machine] = (last, count += journal.Entries(until + 1).TakeWhile(entry => entry.Sequence <= last).Count(entry => IsOf(entry, machine)));
            return count;
        }
    }

    /// <summary>The newest entries of a kind, newest first, without reading more of the past than they take.</summary>
    /// <param name="last">Sequence of the last entry.</param>
    /// <param name="count">How many at most.</param>
    /// <param name="wanted">Which.</param>
    public IReadOnlyList<JournalEntry> Newest(long last, int count, Func<JournalEntry, bool> wanted) => [.. Backwards(last).Where(wanted).Take(count)];

    /// <summary>The entries, newest first, read as far back as they are asked for.</summary>
    /// <param name="last">Sequence of the first one given.</param>
    public IEnumerable<JournalEntry> Backwards(long last)
    {
        for (var (until, span) = (last, FirstSpan); until > 0; span *= 4)
        {
            var from = Math.Max(1, until - span + 1);
            foreach (var entry in journal.Entries(from).TakeWhile(entry => entry.Sequence <= until).Reverse())
                yield return entry;
            until = from - 1;
        }
    }

    /// <inheritdoc/>
    public Outcome<JournalEntry> Append(EntryBody body)
    {
        lock (_gate)
        {
            var outcome = journal.Append(body);
            if (outcome is Outcome<JournalEntry>.Good good)
            {
                _appended.Add(good.Value);
                _entries?.Add(good.Value);
            }

            return outcome;
        }
    }

    // The journal belongs to whoever opened it.
    /// <inheritdoc/>
    public void Dispose()
    {
    }
}
