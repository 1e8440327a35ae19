using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Upkeep;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Screens.Pages;

/// <content>The past: what newer entries replaced is read where it is asked for, and no more of it than that.</content>
public sealed partial class Desk
{
    private const int MostNamed = 256;

    private readonly Dictionary<long, JournalEntry> _named = [];
    private ((long Made, long Last) At, Ledger? Ledger) _behind;
    private ((long Last, string? Running) At, bool Known, string? Why) _undo;
    private ((string? Machine, long Sequence) At, IReadOnlyList<FindingMark> Marks) _findings;
    private ((string? Machine, long Sequence) At, ImmutableArray<TrendView> Of) _trends;

    /// <summary>All series of results of the machine, in the order of the work, each as its last result stands. No time takes a result away, so that they hold until the next entry.</summary>
    public ImmutableArray<TrendView> Trends
    {
        get
        {
            var at = (MachineName, Ledger.LastSequence);
            if (_trends.Of.IsDefault || _trends.At != at)
                _trends = (at, Machine is { } machine ? TrendsOf(machine) : []);
            return _trends.Of;
        }
    }

    private ImmutableArray<TrendView> TrendsOf(Machine machine)
    {
        var (upkeep, limits) = (new MachineUpkeep(Fold, machine, Now, Means.Journal.Limits), new WorkLimits(Means.Journal.Limits, machine.Class));
        return
        [
            .. WorkGraph.All.SelectMany(item => Fold.Results.Keys.Where(key => key.Item == item.Id && (key.Machine == machine.Name || key.Machine.Length == 0)))
                .Distinct().OrderBy(key => WorkGraph.All.IndexOf(WorkGraph.Find(key.Item)!)).ThenBy(key => key.Axis, StringComparer.Ordinal).ThenBy(key => key.Place, StringComparer.Ordinal).Select(key => TrendOfResults.Of(Fold, key, limits)?.By(upkeep)).OfType<TrendView>(),
        ];
    }

    /// <summary>What the journal amounts to, with all that newer findings replaced and all readings: read when it is asked for.</summary>
    public Ledger Past
    {
        get
        {
            if (!_present.Whole)
                _present = PresentState.Of(Means.Journal.Entries());
            return _present.Ledger;
        }
    }

    /// <summary>Why U undoes nothing now, a clause; null where it does. Looked for once for each entry: keys ask many times.</summary>
    public string? NothingToUndo
    {
        get
        {
            var at = (Means.Journal.LastEntry?.Sequence ?? 0, Running?.Session.Run.Procedure.Id);
            if (_undo.At != at || !_undo.Known)
                _undo = (at, true, Undo.WhyNot(this));
            return _undo.Why;
        }
    }

    /// <summary>All findings of the machine, newest first; each is read where it is looked at.</summary>
    public IReadOnlyList<FindingMark> Findings
    {
        get
        {
            var at = (MachineName, Ledger.LastSequence);
            if (_findings.At != at)
                _findings = (at, [.. (MachineName is { } machine ? Marks(machine) : []).Reverse()]);
            return _findings.Marks;
        }
    }

    /// <summary>A finding by its sequence; null where this journal has none there.</summary>
    public Entered<EntryBody.FindingMade>? FindingAt(long sequence) => Ledger.Findings.TryGetValue(sequence, out var known) ? known.Made
        : EntryAt(sequence) is { Body: EntryBody.FindingMade made } entry ? new(entry.Sequence, entry.At, made) : null;

    /// <summary>An entry by its sequence; null where this journal has none there.</summary>
    public JournalEntry? EntryAt(long sequence)
    {
        if (_named.TryGetValue(sequence, out var known))
            return known;
        // Of a list only what is drawn is asked for, again at every key.
        if (_named.Count >= MostNamed)
            _named.Clear();
        return Means.Journal.Entries(sequence).FirstOrDefault() is { } entry && entry.Sequence == sequence ? _named[sequence] = entry : null;
    }

    /// <summary>What bears on the present and all that a finding rests on, its readings with what became of them.</summary>
    public Ledger Behind(Entered<EntryBody.FindingMade> made)
    {
        if (_present.Whole || made.Body.Readings.IsDefaultOrEmpty)
            return Ledger.Findings.ContainsKey(made.Sequence) ? Ledger : Past;
        var at = (made.Sequence, Ledger.LastSequence);
        if (_behind.At != at || _behind.Ledger is null)
            _behind = (at, made.Body.Run is { } run ? Means.Journal.Reported(made.Body.Machine, run)?.Ledger : null);
        return _behind.Ledger ??= Past;
    }

    /// <summary>Whether what a finding rests on can be read without the whole journal: what is only shown beside a list is not worth that.</summary>
    public bool IsNear(Entered<EntryBody.FindingMade> made) => _present.Whole || Ledger.Findings.ContainsKey(made.Sequence) || (made.Body.Run is not null && !made.Body.Readings.IsDefaultOrEmpty);

    /// <summary>Readings that a finding still contains, though they were left out after it was computed: what it rests on is read only where any were.</summary>
    public IEnumerable<(long Reading, long Entry, string Reason)> LeftOutSince(Entered<EntryBody.FindingMade> made) => made.Body.Readings is { IsDefaultOrEmpty: false } readings
        && (_present.Whole || Means.Journal.LeftOut(readings.Min(), readings.Max()) is not { } marks || marks.Any(mark => mark.Entry > made.Sequence && readings.Contains(mark.Reading)))
            ? Behind(made).LeftOutSince(made) : [];

    /// <summary>All that explains an entry: what a run did the run tells, of anything else what bears on the present. Only how much rests on an instrument, and what became of a finding that belongs to no run and was replaced, takes the whole journal.</summary>
    public Ledger About(JournalEntry entry)
    {
        if (_present.Whole)
            return Ledger;
        if ((entry.Body is EntryBody.RunStarted ? entry.Sequence : entry.Body.Run) is { } run)
            return (entry.Body.Machine is { } machine ? Means.Journal.Reported(machine, run)?.Ledger : null) ?? Past;
        return entry.Body is EntryBody.InstrumentDescribed || (entry.Body is EntryBody.FindingMade && !Ledger.Findings.ContainsKey(entry.Sequence)) ? Past : Ledger;
    }

    private IEnumerable<FindingMark> Marks(string machine) => (_present.Whole ? null : Means.Journal.Findings(machine))
        ?? Past.Findings.Values.Where(finding => finding.Made.Body.Machine == machine).Select(finding => new FindingMark(finding.Sequence, finding.Counts));
}
