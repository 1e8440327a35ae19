using System.Collections.Immutable;
using Commission.Core.Instruments;

namespace Commission.Core.History;

/// <summary>
/// What a chain of entries amounts to: a pure projection, entry by entry. Two ledgers of the same entries hold the same,
/// whether they were made in one go or from a prefix and the rest.
/// </summary>
public sealed partial record Ledger
{
    private Ledger()
    {
    }

    /// <summary>The ledger of no entries.</summary>
    public static Ledger Empty { get; } = new();

    /// <summary>The first entry of the store; null before there is one.</summary>
    public Entered<EntryBody.StoreBorn>? Born { get; private init; }

    /// <summary>Machines by name.</summary>
    public ImmutableSortedDictionary<string, MachineRecord> Machines { get; private init; } = ByName<MachineRecord>();

    /// <summary>Instruments by name, with their latest description.</summary>
    public ImmutableSortedDictionary<string, Entered<EntryBody.InstrumentDescribed>> Instruments { get; private init; } =
        ByName<Entered<EntryBody.InstrumentDescribed>>();

    /// <summary>Every description of an instrument, in order: a check against a block describes it anew.</summary>
    public ImmutableList<Entered<EntryBody.InstrumentDescribed>> InstrumentVersions { get; private init; } = [];

    /// <summary>The instruments in use, as they are described now.</summary>
    public IEnumerable<Instrument> Kit => Instruments.Values.Where(instrument => !instrument.Body.Retired).Select(instrument => instrument.Body.Description);

    /// <summary>An instrument of a name: the owner's, in use or not, else that of the catalogue; null where there is none.</summary>
    /// <param name="name">Its name, or an id of the catalogue.</param>
    public Instrument? Instrument(string name) => Instruments.TryGetValue(name, out var owned) ? owned.Body.Description : InstrumentCatalogue.Find(name);

    /// <summary>Handles of operators.</summary>
    public ImmutableSortedSet<string> Operators { get; private init; } = ImmutableSortedSet.Create<string>(StringComparer.Ordinal);

    /// <summary>Handle of whoever said last to be at the keys; null where nobody did.</summary>
    public string? LastOperator { get; private init; }

    /// <summary>Hand studies that count, in order.</summary>
    public ImmutableList<Entered<EntryBody.StudyMade>> Studies { get; private init; } = [];

    /// <summary>Runs by the sequence of their first entry.</summary>
    public ImmutableSortedDictionary<long, RunRecord> Runs { get; private init; } = ImmutableSortedDictionary<long, RunRecord>.Empty;

    /// <summary>Readings by sequence.</summary>
    public ImmutableSortedDictionary<long, ReadingRecord> Readings { get; private init; } = ImmutableSortedDictionary<long, ReadingRecord>.Empty;

    /// <summary>Findings by sequence.</summary>
    public ImmutableSortedDictionary<long, FindingRecord> Findings { get; private init; } = ImmutableSortedDictionary<long, FindingRecord>.Empty;

    /// <summary>Changes in order.</summary>
    public ImmutableList<ChangeRecord> Changes { get; private init; } = [];

    /// <summary>Snapshots of a controller's settings, in order.</summary>
    public ImmutableList<Entered<EntryBody.SettingsSaved>> SettingsSaved { get; private init; } = [];

    /// <summary>Writes of settings, in order, intended ones too; what was told and taken back is not among them.</summary>
    public ImmutableList<Entered<EntryBody.SettingWritten>> SettingsWritten { get; private init; } = [];

    /// <summary>Withdrawals by the entry that each takes back.</summary>
    public ImmutableSortedDictionary<long, Entered<EntryBody.Withdrawn>> Withdrawals { get; private init; } = ImmutableSortedDictionary<long, Entered<EntryBody.Withdrawn>>.Empty;

    /// <summary>Checks in order.</summary>
    public ImmutableList<Entered<EntryBody.Checked>> Checks { get; private init; } = [];

    /// <summary>Skips that nothing has made good yet.</summary>
    public ImmutableList<SkipRecord> OpenSkips { get; private init; } = [];

    /// <summary>Notes, and answers to questions, in order.</summary>
    public ImmutableList<Entered<EntryBody.Noted>> Notes { get; private init; } = [];

    /// <summary>Moves carried out, in order.</summary>
    public ImmutableList<Entered<EntryBody.Moved>> Moves { get; private init; } = [];

    /// <summary>Stops, in order.</summary>
    public ImmutableList<Entered<EntryBody.Stopped>> Stops { get; private init; } = [];

    /// <summary>Sequence of the last entry; 0 where there is none.</summary>
    public long LastSequence { get; private init; }

    /// <summary>Instant of the last entry; null where there is none.</summary>
    public DateTimeOffset? LastAt { get; private init; }

    /// <summary>Number of entries whose type this version does not know.</summary>
    public int UnknownEntries { get; private init; }

    /// <summary>The ledger of a chain.</summary>
    /// <param name="entries">Entries in order, of one chain.</param>
    public static Ledger From(IEnumerable<JournalEntry> entries) => entries.Aggregate(Empty, (ledger, entry) => ledger.After(entry));

    /// <summary>The ledger of the entries that bear on the present, with the end of the whole chain.</summary>
    /// <param name="entries">Entries in order, each of the chain.</param>
    /// <param name="last">Sequence of the last entry of the chain.</param>
    /// <param name="at">Its instant.</param>
    public static Ledger Present(IEnumerable<JournalEntry> entries, long last, DateTimeOffset at) => From(entries) with { LastSequence = last, LastAt = at };

    /// <summary>The readings of a run in order.</summary>
    /// <param name="run">The run's number.</param>
    public IEnumerable<ReadingRecord> ReadingsOf(long run) =>
        Runs.TryGetValue(run, out var found) ? found.Readings.Select(sequence => Readings[sequence]) : [];

    /// <summary>The readings of a finding, as far as the ledger holds them, in order.</summary>
    public IEnumerable<ReadingRecord> ReadingsOf(EntryBody.FindingMade made) => made.Readings.Where(Readings.ContainsKey).Select(sequence => Readings[sequence]);

    /// <summary>The newest run that can be taken up again; null where none can.</summary>
    /// <param name="machine">The machine.</param>
    /// <param name="procedure">The procedure; null for any.</param>
    /// <param name="axis">The axis; null for any.</param>
    public RunRecord? Resumable(string machine, string? procedure = null, string? axis = null) => Runs.Values
        .Where(run => run.Resumable && run.Started.Body.Machine == machine)
        .Where(run => procedure is null || run.Started.Body.Procedure == procedure)
        .LastOrDefault(run => axis is null || run.Started.Body.Axis == axis);

    /// <summary>Number of the machine's epoch at an entry, from 1: one more for each change until then that reaches the whole machine and stands.</summary>
    /// <param name="machine">The machine.</param>
    /// <param name="sequence">Sequence of the entry; the last one where not given.</param>
    public int Epoch(string machine, long sequence = long.MaxValue) => 1 + EpochBreaks(machine).Count(change => change.Told.Sequence <= sequence);

    /// <summary>Sequence of the entry with which the machine's present epoch began; 0 where it was never described.</summary>
    /// <param name="machine">The machine.</param>
    public long EpochBegan(string machine) => EpochBreaks(machine).LastOrDefault()?.Told.Sequence
        ?? (Machines.TryGetValue(machine, out var known) ? known.FirstSequence : 0);

    /// <summary>The latest check of each key, in the order of the keys' words, then of their steps.</summary>
    /// <param name="machine">The machine.</param>
    /// <param name="since">Sequence after which checks count.</param>
    public IEnumerable<(CheckKey Key, Entered<EntryBody.Checked> Made)> LatestChecks(string machine, long since = 0) => Checks
        .Where(check => check.Body.Machine == machine && check.Sequence > since)
        .GroupBy(check => KeyOf(check.Body), (key, made) => (Key: key, Made: made.Last()))
        .OrderBy(latest => latest.Key.Words, StringComparer.Ordinal).ThenBy(latest => latest.Key.Step, StringComparer.Ordinal);

    /// <summary>How each id of a check stands in the machine's present epoch: the latest of its keys, and one that did not pass before all others.</summary>
    /// <param name="machine">The machine.</param>
    public ImmutableSortedDictionary<string, Entered<EntryBody.Checked>> ChecksNow(string machine) => LatestChecks(machine, EpochBegan(machine))
        .GroupBy(latest => latest.Key.Check, latest => latest.Made)
        .Aggregate(ByName<Entered<EntryBody.Checked>>(), (now, made) => now.SetItem(made.Key, made.OrderBy(check => check.Body.Passed).ThenByDescending(check => check.Sequence).First()));

    /// <summary>The key of a check: with procedure and axis of its run.</summary>
    public CheckKey KeyOf(EntryBody.Checked made)
    {
        var run = made.Run is long number && Runs.TryGetValue(number, out var found) ? found.Started.Body : null;
        return CheckKey.Of(made.Check, made.Step, run?.Procedure, run?.Axis);
    }

    /// <summary>The newest hand study of an operator with an instrument; null where there is none.</summary>
    public Entered<EntryBody.StudyMade>? Study(string @operator, string instrument) =>
        Studies.FindLast(study => study.Body.Study.Operator == @operator && study.Body.Study.Instrument == instrument);

    /// <summary>The hand study that readings with an instrument are judged by: the operator's own; where nobody is named that of an unnamed hand, or else of the only one that studied it. Null where there is none.</summary>
    /// <param name="operator">Handle of the operator; null where nobody is named.</param>
    /// <param name="instrument">Name of the instrument; null where none is named.</param>
    public Entered<EntryBody.StudyMade>? Hand(string? @operator, string? instrument)
    {
        if (instrument is null)
            return null;
        var own = Study(@operator ?? HandStudy.Unnamed, instrument);
        if (own is not null || @operator is not null)
            return own;
        var all = Studies.FindAll(study => study.Body.Study.Instrument == instrument);
        return all.DistinctBy(study => study.Body.Study.Operator).Count() == 1 ? all[^1] : null;
    }

    /// <summary>The newest finding that counts for a key; null where there is none.</summary>
    public FindingRecord? Latest(string machine, string characteristic, string? axis = null, string? place = null) => Findings.Values
        .LastOrDefault(finding => finding.Counts && finding.Made.Body is var made && made.Machine == machine
            && made.Characteristic == characteristic && made.Axis == axis && made.Place == place);

    /// <summary>Readings that a finding still contains, though they were left out or replaced after it was computed.</summary>
    /// <param name="finding">The finding.</param>
    public IEnumerable<(long Reading, long Entry, string Reason)> LeftOutSince(Entered<EntryBody.FindingMade> finding) => finding.Body.Readings.IsDefaultOrEmpty ? [] : finding.Body.Readings
        .Select(sequence => Readings.GetValueOrDefault(sequence)).OfType<ReadingRecord>()
        .Select(reading => reading.Standing switch
        {
            ReadingStanding.Excluded left => (reading.Sequence, left.Entry, left.Reason),
            ReadingStanding.Superseded old => (reading.Sequence, old.Entry, old.Reason),
            _ => (reading.Sequence, Entry: 0L, Reason: ""),
        })
        .Where(left => left.Entry > finding.Sequence);

    /// <summary>The newest finding that counts of each characteristic, axis and place of a machine, in the order of these words.</summary>
    /// <param name="machine">The machine.</param>
    public IEnumerable<FindingRecord> FindingsInForce(string machine) => Findings.Values.Where(finding => finding.Counts && finding.Made.Body.Machine == machine)
        .GroupBy(finding => (finding.Made.Body.Characteristic, finding.Made.Body.Axis, finding.Made.Body.Place)).Select(group => group.Last())
        .OrderBy(finding => finding.Made.Body.Characteristic, StringComparer.Ordinal).ThenBy(finding => finding.Made.Body.Axis, StringComparer.Ordinal)
        .ThenBy(finding => finding.Made.Body.Place, StringComparer.Ordinal);

    private IEnumerable<ChangeRecord> EpochBreaks(string machine) => Changes.Where(change => change.Counts
        && change.Told.Body.Machine == machine && ChangeWord.Find(change.Told.Body.Change)?.Reach == ChangeReach.Machine);

    private static ImmutableSortedDictionary<string, T> ByName<T>() => ImmutableSortedDictionary.Create<string, T>(StringComparer.Ordinal);
}
