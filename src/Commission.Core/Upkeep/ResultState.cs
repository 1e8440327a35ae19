using System.Collections.Immutable;

namespace Commission.Core.Upkeep;

/// <summary>How a result stands, in order of precedence: the worst is shown.</summary>
public enum Standing
{
    /// <summary>The machine has no such thing.</summary>
    NotApplicable,

    /// <summary>There is no result.</summary>
    Never,

    /// <summary>It holds.</summary>
    Fresh,

    /// <summary>It has grown old.</summary>
    Due,

    /// <summary>Something it rests on has changed.</summary>
    Stale,

    /// <summary>It may not hold any more: a crash, or a closure that failed.</summary>
    Suspect,
}

/// <summary>The key under which results of one kind follow each other.</summary>
/// <param name="Machine">The machine.</param>
/// <param name="Item">Id of the work item.</param>
/// <param name="Axis">The axis or pair; null where the item belongs to the machine.</param>
/// <param name="Place">The place; null where there is only one.</param>
public sealed record ResultKey(string Machine, string Item, string? Axis = null, string? Place = null);

/// <summary>Why a result is not fresh.</summary>
/// <param name="Standing">What the reason makes of it.</param>
/// <param name="Because">The reason in words.</param>
/// <param name="Entry">Sequence of the entry that is the reason; null for the passing of time.</param>
public sealed record StandingReason(Standing Standing, string Because, long? Entry)
{
    /// <summary>Whether the entry changed a setting that a new result of this very item verifies.</summary>
    public bool Verifies { get; init; }

    /// <summary>Whether it is about this result alone: what rests on it stands as it stood.</summary>
    public bool Alone { get; init; }
}

/// <summary>How a result stands at an instant, with every reason.</summary>
public sealed record ResultState
{
    /// <summary>The key.</summary>
    public required ResultKey Key { get; init; }

    /// <summary>The worst of all reasons.</summary>
    public required Standing Standing { get; init; }

    /// <summary>All reasons, the worst first.</summary>
    public ImmutableArray<StandingReason> Reasons { get; init; } = [];

    /// <summary>Sequence of the finding or of the run's end that holds the result; null where there is none.</summary>
    public long? Result { get; init; }

    /// <summary>Sequences of the newest result of every place, the one of <see cref="Result"/> last.</summary>
    public ImmutableArray<long> OfPlaces { get; init; } = [];

    /// <summary>Instant of the last reading behind the result: age counts from it.</summary>
    public DateTimeOffset? MeasuredAt { get; init; }

    /// <summary>Instant from which it is due; null where there is no result.</summary>
    public DateTimeOffset? DueAt { get; init; }

    /// <summary>Entry of the written setting that a new result here verifies; null where there is none.</summary>
    public long? Verifies => Standing == Standing.Stale ? Reasons.Where(reason => reason.Verifies).Max(reason => reason.Entry) : null;

    /// <summary>The one entry that makes it stale; null where it is not stale, or for more than one reason.</summary>
    public long? StaleSince => Standing == Standing.Stale && Reasons.Where(reason => reason.Standing == Standing.Stale).Select(reason => reason.Entry).Distinct().ToList() is [{ } only] ? only : null;

    /// <summary>Whether what rests on it may be measured.</summary>
    public bool Usable => Standing is Standing.NotApplicable or Standing.Fresh or Standing.Due;
}
