using System.Collections.Immutable;
using Commission.Core.Machines;

namespace Commission.Core.Upkeep;

/// <summary>What a characteristic belongs to.</summary>
public enum WorkScope
{
    /// <summary>The machine as a whole, or its X-Y plane.</summary>
    Machine,

    /// <summary>Each axis by itself.</summary>
    Axis,

    /// <summary>The operator and the instruments, not a machine.</summary>
    Hand,
}

/// <summary>Where a characteristic does not apply at all.</summary>
public enum WorkCondition
{
    /// <summary>It applies everywhere.</summary>
    Always,

    /// <summary>Only with switches.</summary>
    Switches,

    /// <summary>Only with two motors on an axis, and switches that say where they stand.</summary>
    MotorPair,

    /// <summary>Only where no axis has a switch.</summary>
    NoSwitches,
}

/// <summary>An edge of the dependency graph.</summary>
/// <param name="Item">Id of the item that is used.</param>
/// <param name="UsesValue">Whether its value is used: then it must be valid, and its staleness comes along. Else it is advice on the order.</param>
public sealed record WorkNeed(string Item, bool UsesValue);

/// <summary>A kind of drive whose result grows old sooner.</summary>
/// <param name="Drive">The drive.</param>
/// <param name="Days">Days after which the result is due, fewer than those of the item.</param>
/// <param name="Because">Why, as a clause.</param>
public sealed record SoonerDue(DriveKind Drive, int Days, string Because);

/// <summary>One characteristic in the order of work: a node of the dependency graph.</summary>
public sealed record WorkItem
{
    /// <summary>Id.</summary>
    public required string Id { get; init; }

    /// <summary>Name in running text.</summary>
    public required string Title { get; init; }

    /// <summary>What it belongs to.</summary>
    public WorkScope Scope { get; init; }

    /// <summary>Procedures that find it, the cheapest first.</summary>
    public required ImmutableArray<string> Procedures { get; init; }

    /// <summary>Ids of the kinds of finding that hold its value.</summary>
    public ImmutableArray<string> Findings { get; init; } = [];

    /// <summary>What it rests on.</summary>
    public ImmutableArray<WorkNeed> Needs { get; init; } = [];

    /// <summary>Where it applies.</summary>
    public WorkCondition When { get; init; }

    /// <summary>Minutes it takes, setting up included.</summary>
    public required int Minutes { get; init; }

    /// <summary>Days after which it is due.</summary>
    public required int DueAfterDays { get; init; }

    /// <summary>Drives of an axis on which it is due sooner.</summary>
    public ImmutableArray<SoonerDue> Sooner { get; init; } = [];

    /// <summary>What it costs to go on without it, in a sentence.</summary>
    public required string Skipping { get; init; }
}
