using Commission.Core.Machines;

namespace Commission.Practice.Machines;

/// <summary>What one axis of a practice machine is really like. Lengths in mm, angles in rad.</summary>
public sealed record AxisState
{
    /// <summary>Travel between the ends.</summary>
    public required double TravelMm { get; init; }

    /// <summary>Travel of one turn of screw, pulley or pinion: the period of the periodic error.</summary>
    public required double TravelPerTurnMm { get; init; }

    /// <summary>Steps that really make one millimetre at the temperature of the instruments, averaged over the axis.</summary>
    public required double TrueStepsPerMm { get; init; }

    /// <summary>Height of the slow wave of the lead over the whole axis; adds h sin(pi c / travel).</summary>
    public double SlowWaveMm { get; init; }

    /// <summary>Amplitude of the error that comes back every turn.</summary>
    public double PeriodicAmplitudeMm { get; init; }

    /// <summary>Its phase: the error is A sin(2 pi x / turn + phase).</summary>
    public double PeriodicPhaseRad { get; init; }

    /// <summary>Clearance at the ends of the axis, positive.</summary>
    public double ClearanceMm { get; init; }

    /// <summary>Share by which the clearance is larger in the middle, where screws wear.</summary>
    public double WearShare { get; init; }

    /// <summary>Lost motion from the motor's friction lag, positive, both directions together.</summary>
    public double FrictionLagMm { get; init; }

    /// <summary>Stiffness of drive and frame along the axis, N/mm.</summary>
    public double StiffnessNPerMm { get; init; } = 3000;

    /// <summary>Standard deviation of coming back to a place from one side.</summary>
    public double RepeatabilityMm { get; init; }

    /// <summary>Expansion of the drive per kelvin.</summary>
    public double ExpansionPerK { get; init; }

    /// <summary>Standard deviation of the place where the home switch acts.</summary>
    public double SwitchScatterMm { get; init; }

    /// <summary>Standard deviation of the place where a hand stops at a fixed stop, where the axis has no switch: paper that just drags (invented, plausible).</summary>
    public double StopScatterMm { get; init; } = 0.02;

    /// <summary>Speed above which steps are lost, mm/min.</summary>
    public double LosesStepsAboveMmMin { get; init; } = 4500;

    /// <summary>What is lost at once when the motor falls out of step: one tooth of the rotor, mm.</summary>
    public double LossQuantumMm { get; init; }
}

/// <summary>What the frame is really like.</summary>
/// <param name="SquarenessXY">Squareness of X and Y, rad, positive where the angle from +X to +Y is less than 90 degrees.</param>
/// <param name="SquarenessXZ">The same of X and Z.</param>
/// <param name="SquarenessYZ">The same of Y and Z.</param>
/// <param name="TwistMm">Height of the far right corner over the plane of the three others.</param>
/// <param name="BowMm">Sag of the gantry in its middle, positive where it hangs down.</param>
public sealed record FrameState(double SquarenessXY, double SquarenessXZ, double SquarenessYZ, double TwistMm, double BowMm)
{
    /// <summary>By how much the rails of the gantry stand wider apart at the far end than at the near one, mm.</summary>
    public double RailSpreadMm { get; init; }
}

/// <summary>What the spindle is really like.</summary>
/// <param name="TiltX">Tilt against the axes along X, rad, in the sense of the sweep's a/R.</param>
/// <param name="TiltY">The same along Y.</param>
/// <param name="RunoutMm">Distance of the pin's axis from the axis of rotation at the collet, mm.</param>
/// <param name="RunoutAngleRad">Its direction.</param>
/// <param name="RunoutTilt">Tilt of the pin against the axis of rotation, rad.</param>
/// <param name="RunoutTiltAngleRad">Its direction.</param>
public sealed record SpindleState(
    double TiltX, double TiltY, double RunoutMm, double RunoutAngleRad, double RunoutTilt, double RunoutTiltAngleRad);

/// <summary>What the bed is really like, seen from the plane of X and Y.</summary>
/// <param name="SlopeX">Slope along X.</param>
/// <param name="SlopeY">Slope along Y.</param>
/// <param name="CrownMm">Height of the middle over the edges.</param>
/// <param name="TwistMm">Height of the far right corner over the plane of the three others.</param>
public sealed record BedState(double SlopeX, double SlopeY, double CrownMm, double TwistMm)
{
    /// <summary>A bed that the machine has cut itself: level as its own Z sees it.</summary>
    public static BedState Surfaced { get; } = new(0, 0, 0, 0) { FollowsMachine = true };

    /// <summary>Whether the machine has cut it: then it has the shape of the machine's own plane.</summary>
    public bool FollowsMachine { get; init; }
}

/// <summary>What a practice machine is really like: everything that a measurement can only guess.</summary>
public sealed record MachineState
{
    /// <summary>The X axis.</summary>
    public required AxisState X { get; init; }

    /// <summary>The Y axis.</summary>
    public required AxisState Y { get; init; }

    /// <summary>The Z axis.</summary>
    public required AxisState Z { get; init; }

    /// <summary>The frame.</summary>
    public required FrameState Frame { get; init; }

    /// <summary>The spindle.</summary>
    public required SpindleState Spindle { get; init; }

    /// <summary>The bed.</summary>
    public required BedState Bed { get; init; }

    /// <summary>Distance between the two drives of the gantry, mm.</summary>
    public double DriveWidthMm { get; init; } = 520;

    /// <summary>Difference of real and assumed cutter radius in a cut, mm.</summary>
    public double CutterRadiusErrorMm { get; init; }

    /// <summary>Trips per hour that nobody caused.</summary>
    public double FalseTripsPerHour { get; init; }

    /// <summary>By how much the drives are warmer than the instruments, K.</summary>
    public double DriveWarmerK { get; init; }

    /// <summary>The state of an axis.</summary>
    public AxisState this[AxisName axis] => axis switch
    {
        AxisName.X => X,
        AxisName.Y => Y,
        AxisName.Z => Z,
        _ => throw new ArgumentOutOfRangeException(nameof(axis)),
    };
}
