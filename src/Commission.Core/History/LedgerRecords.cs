using System.Collections.Immutable;
using Commission.Core.Characteristics;

namespace Commission.Core.History;

/// <summary>An entry of one kind with its place in the chain.</summary>
/// <param name="Sequence">Sequence in its chain.</param>
/// <param name="At">When it was written.</param>
/// <param name="Body">What it says.</param>
public sealed record Entered<TBody>(long Sequence, DateTimeOffset At, TBody Body)
    where TBody : EntryBody;

/// <summary>A machine with its latest description.</summary>
/// <param name="Described">The latest description.</param>
/// <param name="FirstSequence">Sequence of its first description.</param>
public sealed record MachineRecord(Entered<EntryBody.MachineDescribed> Described, long FirstSequence)
{
    /// <summary>The description, with each ratio as it was last written to the controller or told since: what is reckoned from it begins at what is in force.</summary>
    public Machines.Machine Description => Ratios.Aggregate(Described.Body.Description, (machine, ratio) => machine.With(ratio.Key, machine[ratio.Key] with { StepsPerMm = ratio.Value }));

    /// <summary>Ratios written or told since the machine was described, steps for one millimetre.</summary>
    public ImmutableSortedDictionary<Machines.AxisName, double> Ratios { get; init; } = ImmutableSortedDictionary<Machines.AxisName, double>.Empty;

    /// <summary>Whether it is out of use.</summary>
    public bool Retired => Described.Body.Retired;
}

/// <summary>Whether a reading counts.</summary>
public abstract record ReadingStanding
{
    private ReadingStanding()
    {
    }

    /// <summary>It counts.</summary>
    public sealed record Accepted : ReadingStanding;

    /// <summary>Another took its place, or it was taken back.</summary>
    /// <param name="Entry">Sequence of the entry that says so.</param>
    /// <param name="By">Sequence of the reading in its place; null where none is.</param>
    /// <param name="Reason">Why.</param>
    public sealed record Superseded(long Entry, long? By, string Reason) : ReadingStanding;

    /// <summary>It was left out; it stays in its cell.</summary>
    /// <param name="Entry">Sequence of the entry that says so.</param>
    /// <param name="Reason">Why.</param>
    public sealed record Excluded(long Entry, string Reason) : ReadingStanding;
}

/// <summary>A reading and whether it counts.</summary>
/// <param name="Taken">The reading.</param>
/// <param name="Standing">Whether it counts.</param>
public sealed record ReadingRecord(Entered<EntryBody.ReadingTaken> Taken, ReadingStanding Standing)
{
    /// <summary>Sequence of the reading.</summary>
    public long Sequence => Taken.Sequence;

    /// <summary>Whether a fit may use it.</summary>
    public bool Counts => Standing is ReadingStanding.Accepted;

    /// <summary>What a kind reads of it.</summary>
    public KeptReading Kept => new()
    {
        Given = Taken.Body.Given,
        Words = Taken.Body.Words,
        Typed = Taken.Body.Typed,
        Value = Taken.Body.Value,
        Excluded = Standing is ReadingStanding.Excluded left ? left.Reason : null,
        Instrument = Taken.Body.Instrument,
        Number = Taken.Body.Number,
        Place = Taken.Body.Place,
    };
}

/// <summary>How a run stands.</summary>
public enum RunStanding
{
    /// <summary>Begun, not ended; after a restart it can be taken up again.</summary>
    Open,

    /// <summary>Put aside by the operator; it can be taken up again.</summary>
    PutAside,

    /// <summary>Carried out to its end.</summary>
    Completed,

    /// <summary>Given up.</summary>
    Aborted,
}

/// <summary>A run of a procedure.</summary>
public sealed record RunRecord
{
    /// <summary>The entry that began it.</summary>
    public required Entered<EntryBody.RunStarted> Started { get; init; }

    /// <summary>How it stands.</summary>
    public RunStanding Standing { get; init; }

    /// <summary>The entry that ended it or put it aside; null while it is open.</summary>
    public Entered<EntryBody.RunEnded>? Ended { get; init; }

    /// <summary>Sequences of its readings, in order, those that do not count too.</summary>
    public ImmutableList<long> Readings { get; init; } = [];

    /// <summary>Its confirmations, in order.</summary>
    public ImmutableList<Entered<EntryBody.Confirmed>> Confirmations { get; init; } = [];

    /// <summary>Sequences of its findings.</summary>
    public ImmutableList<long> Findings { get; init; } = [];

    /// <summary>Sequence of its last entry.</summary>
    public long LastSequence { get; init; }

    /// <summary>Sequence of its first entry: the run's number.</summary>
    public long Sequence => Started.Sequence;

    /// <summary>Whether it can be taken up again.</summary>
    public bool Resumable => Standing is RunStanding.Open or RunStanding.PutAside;
}

/// <summary>A finding and whether it still counts.</summary>
/// <param name="Made">The finding.</param>
/// <param name="Withdrawn">The withdrawal; null where it counts.</param>
public sealed record FindingRecord(Entered<EntryBody.FindingMade> Made, Entered<EntryBody.Withdrawn>? Withdrawn)
{
    /// <summary>Sequence of the finding.</summary>
    public long Sequence => Made.Sequence;

    /// <summary>Whether it counts.</summary>
    public bool Counts => Withdrawn is null;
}

/// <summary>A change and whether it was taken back.</summary>
/// <param name="Told">The change.</param>
/// <param name="Withdrawn">The withdrawal; null where it counts.</param>
public sealed record ChangeRecord(Entered<EntryBody.ChangeTold> Told, Entered<EntryBody.Withdrawn>? Withdrawn)
{
    /// <summary>Whether it counts.</summary>
    public bool Counts => Withdrawn is null;
}

/// <summary>A skip that nothing has made good yet.</summary>
/// <param name="Made">The skip.</param>
/// <param name="Procedure">Id of the procedure it was made in; null outside runs.</param>
/// <param name="Axis">Axis of that run; null where it had none.</param>
public sealed record SkipRecord(Entered<EntryBody.Skipped> Made, string? Procedure, string? Axis)
{
    /// <summary>The key of the check that was skipped; null for another step.</summary>
    public CheckKey? Key => Made.Body.Check is { } check ? CheckKey.Of(check, Made.Body.Step, Procedure, Axis) : null;

    /// <summary>What was skipped, where: check or step, procedure, axis.</summary>
    public string Words => $"{Made.Body.Check ?? Made.Body.Step}{(Procedure is null ? "" : " of " + Procedure)}{(Axis ?? Key?.Axis) switch { null => "", var axis => " " + axis }}";
}
