using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Machines;

namespace Commission.Core.Motion;

/// <summary>One relative move of one axis.</summary>
/// <param name="Axis">The axis.</param>
/// <param name="DistanceMm">Signed distance, mm; positive is right, away, up.</param>
/// <param name="SpeedMmPerMin">Speed, mm/min, positive.</param>
public sealed record PlannedMove(AxisName Axis, double DistanceMm, double SpeedMmPerMin)
{
    /// <summary>Seconds at that speed, ramps not counted.</summary>
    public double Seconds => Math.Abs(DistanceMm) / SpeedMmPerMin * 60;

    /// <summary>The direction in words.</summary>
    public string Direction => (Axis, DistanceMm >= 0) switch
    {
        (AxisName.X, true) => "to the right",
        (AxisName.X, false) => "to the left",
        (AxisName.Y, true) => "away from you",
        (AxisName.Y, false) => "towards you",
        (_, true) => "up",
        (_, false) => "down",
    };

    /// <summary>The move as short text, for example <c>X+25</c>.</summary>
    public string Short => string.Create(CultureInfo.InvariantCulture, $"{Axis}{DistanceMm:+0.####;-0.####}");

    /// <summary>Equal parts that last at most so long each.</summary>
    public ImmutableArray<PlannedMove> Cut(double longestSeconds)
    {
        var parts = (int)Math.Max(1, Math.Ceiling(Seconds / longestSeconds - 1e-9));
        return [.. Enumerable.Repeat(this with { DistanceMm = DistanceMm / parts }, parts)];
    }
}

/// <summary>Something that needs a confirmation of motion.</summary>
public abstract record MotionAct
{
    private MotionAct()
    {
    }

    /// <summary>Moves of a step.</summary>
    /// <param name="Moves">The moves in order; more than one only where <see cref="HandsFree"/>.</param>
    /// <param name="StepSpeedMmPerMin">Greatest speed the step allows, mm/min.</param>
    public sealed record Go(ImmutableArray<PlannedMove> Moves, double StepSpeedMmPerMin) : MotionAct
    {
        /// <summary>Whether no hand is needed inside between the moves.</summary>
        public bool HandsFree { get; init; }

        /// <summary>Whether the step says that Z goes down where the position is not trusted.</summary>
        public bool StepSaysDown { get; init; }

        /// <summary>Height of the surface below the tool, mm in travel; null where the step names none, then Z never goes down.</summary>
        public double? SurfaceMm { get; init; }

        /// <summary>Clearance kept above the surface, mm.</summary>
        public double ClearanceMm { get; init; }

        /// <summary>Seconds of all moves.</summary>
        public double Seconds => Moves.Sum(move => move.Seconds);
    }

    /// <summary>The homing cycle of all axes, Z first.</summary>
    /// <param name="WatchedTest">Whether it is the watched slow homing test itself; a stick ends it in mid-travel, so the position stays not trusted.</param>
    public sealed record Home(bool WatchedTest = false) : MotionAct;

    /// <summary>Leave a lock without homing.</summary>
    public sealed record Unlock : MotionAct;

    /// <summary>The operator has put an axis on its marked reference place.</summary>
    /// <param name="Axis">The axis.</param>
    /// <param name="PlaceMm">Where the place lies in the travel, mm.</param>
    public sealed record SetReference(AxisName Axis, double PlaceMm) : MotionAct;

    /// <summary>The text that confirms it in plain mode.</summary>
    public string Token => this switch
    {
        Go go => "go " + go.Moves[0].Short,
        Home => "go home",
        Unlock => "unlock",
        SetReference set => $"set reference {set.Axis}",
        _ => throw new System.Diagnostics.UnreachableException(),
    };

    /// <summary>The key that confirms it on a screen.</summary>
    public char Letter => this switch
    {
        Go go => go.Moves[0].Axis.ToString()[0],
        Home => 'H',
        Unlock => 'U',
        SetReference set => set.Axis.ToString()[0],
        _ => throw new System.Diagnostics.UnreachableException(),
    };

    /// <summary>What the table permits it by.</summary>
    public Permit Permit => this switch
    {
        Go => Permit.Move,
        Home => Permit.Home,
        Unlock => Permit.Unlock,
        SetReference => Permit.SetReference,
        _ => throw new System.Diagnostics.UnreachableException(),
    };
}
