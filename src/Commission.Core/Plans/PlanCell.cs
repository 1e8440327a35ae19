using System.Collections.Immutable;
using Commission.Core.Machines;

namespace Commission.Core.Plans;

/// <summary>One reading that a plan asks for: where, coming from which side, and what is known before it is taken.</summary>
public sealed record PlanCell
{
    /// <summary>Name of the place in words: <c>near</c>, <c>far</c>, <c>mark A to mark C</c>, <c>45 degrees</c>.</summary>
    public required string Place { get; init; }

    /// <summary>Numbers known before the reading, by canonical column name: <c>commanded_mm</c>, <c>angle_deg</c> …</summary>
    public ImmutableSortedDictionary<string, double> Given { get; init; } = ImmutableSortedDictionary<string, double>.Empty;

    /// <summary>Words known before the reading, by column name: <c>direction</c>, <c>edges</c>, <c>object</c> …</summary>
    public ImmutableSortedDictionary<string, string> Words { get; init; } = ImmutableSortedDictionary<string, string>.Empty;

    /// <summary>The positions the machine takes before the reading, in order; empty where nothing moves.</summary>
    public ImmutableArray<Position> GoTo { get; init; } = [];

    /// <summary>The side the last position is reached from; null where it does not matter.</summary>
    public Approach? Approach { get; init; }
}

/// <summary>A position of one axis in the machine's own coordinates.</summary>
/// <param name="Axis">The axis.</param>
/// <param name="Mm">Commanded position, mm.</param>
public sealed record Position(AxisName Axis, double Mm);
