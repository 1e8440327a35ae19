using Commission.Core.Machines;

namespace Commission.Core.Procedures;

/// <summary>One move that a step asks for. It says what is wanted; what may really be sent is decided elsewhere.</summary>
public abstract record Move
{
    private Move()
    {
    }

    /// <summary>The move in words, without the axis' letter as a command: <c>X to 204.2 mm, coming from below</c>.</summary>
    public required string Words { get; init; }

    /// <summary>What lies below the tool on a way down; null where the step names nothing, and then no link goes down.</summary>
    public SurfaceBelow? Above { get; init; }

    /// <summary>To a position of the machine.</summary>
    /// <param name="Axis">The axis.</param>
    /// <param name="Mm">Where it ends, mm in the machine's coordinates.</param>
    /// <param name="FeedMmMin">Highest speed, mm/min.</param>
    public sealed record To(AxisName Axis, double Mm, double FeedMmMin) : Move;

    /// <summary>By a distance from where it stands.</summary>
    /// <param name="Axis">The axis.</param>
    /// <param name="Mm">Distance with its sign, mm.</param>
    /// <param name="FeedMmMin">Highest speed, mm/min.</param>
    public sealed record By(AxisName Axis, double Mm, double FeedMmMin) : Move;

    /// <summary>Finds the home switches.</summary>
    /// <param name="Axis">The axis; null for all, Z first.</param>
    /// <param name="Watched">Whether this is the watched slow test of homing itself, which comes before homing is trusted.</param>
    public sealed record Home(AxisName? Axis, bool Watched = false) : Move;
}

/// <summary>What a step names below the tool.</summary>
/// <param name="SurfaceMm">Height of the surface in the travel of Z, mm from its low end.</param>
/// <param name="ClearanceMm">How far above it Z stays, mm.</param>
public sealed record SurfaceBelow(double SurfaceMm, double ClearanceMm);
