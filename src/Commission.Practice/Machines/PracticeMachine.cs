using Commission.Core.Machines;
using Commission.Practice.Draws;

namespace Commission.Practice.Machines;

/// <summary>A point of the real world, mm, in a square frame that stands still.</summary>
public readonly record struct RealPoint(double X, double Y, double Z)
{
    /// <summary>Distance to another point, mm.</summary>
    public double DistanceTo(RealPoint other)
    {
        var (x, y, z) = (other.X - X, other.Y - Y, other.Z - Z);
        return Math.Sqrt((x * x) + (y * y) + (z * z));
    }
}

/// <summary>A commanded position with the side it was reached from, +1 or -1 for each axis.</summary>
public readonly record struct Target(double X, double Y, double Z, int FromX = 1, int FromY = 1, int FromZ = -1);

/// <summary>A machine that exists in numbers alone: what it really does when it is told to go somewhere.</summary>
/// <remarks>
/// The forward model: position = (1 + e) c + slow wave + d B(c)/2 + periodic error, for a commanded c reached in direction d; in the
/// square frame the point is (X + Y sin g, Y cos g). It contains no fit and uses none.
/// </remarks>
public sealed record PracticeMachine(Machine Description, MachineState State, PracticeSettings Settings)
{
    /// <summary>The demo machine, invented: a bench router for string-instrument parts, as its builder left it.</summary>
    public static PracticeMachine Heron(ulong seed) => HeronMachine.Draw(seed);

    /// <summary>The same machine without a switch on any axis, whose owner has not said yet at which end the stops are.</summary>
    public PracticeMachine WithoutSwitches()
    {
        static AxisDescription Bare(AxisDescription axis) => axis with { Switches = Switches.None, HomeAt = HomeEnd.Unknown };
        return this with { Description = Description with { X = Bare(Description.X), Y = Bare(Description.Y), Z = Bare(Description.Z) } };
    }

    /// <summary>Scale error of an axis with the present setting, averaged over the axis; positive where it travels too far.</summary>
    public double ScaleError(AxisName axis) => (Settings.StepsPerMm[(int)axis] / State[axis].TrueStepsPerMm) - 1;

    /// <summary>Scale error between two commanded places: the mean slope of the error there, periodic error and lost motion left out.</summary>
    public double ScaleErrorBetween(AxisName axis, double fromMm, double toMm)
    {
        var slow = SlowWave(axis, toMm) - SlowWave(axis, fromMm);
        return ScaleError(axis) + (slow / (toMm - fromMm));
    }

    /// <summary>Lost motion without compensation at a commanded place under a force against the motion, mm, positive.</summary>
    public double LostMotion(AxisName axis, double placeMm, double forceN = 0)
    {
        var state = State[axis];
        var relative = Math.Clamp(placeMm / state.TravelMm, 0, 1);
        var worn = 1 + (state.WearShare * 4 * relative * (1 - relative));
        return (state.ClearanceMm * worn) + state.FrictionLagMm + (2 * forceN / state.StiffnessNPerMm);
    }

    /// <summary>Reversal value at a commanded place with the compensation that is set, mm, normally negative.</summary>
    public double Reversal(AxisName axis, double placeMm, double forceN = 0) =>
        Settings.CompensationMm[(int)axis] - LostMotion(axis, placeMm, forceN);

    /// <summary>Standard deviation of the place an axis comes back to after switching on, mm: by its switch, else by a hand against its stop.</summary>
    public double ReturnScatterMm(AxisName axis) =>
        Description[axis].Switches == Switches.None ? State[axis].StopScatterMm : State[axis].SwitchScatterMm;

    /// <summary>Squareness of X and Y with the present offset of the gantry's ends, rad.</summary>
    public double SquarenessXY => State.Frame.SquarenessXY - (Settings.GantryOffsetMm / State.DriveWidthMm);

    /// <summary>Squareness of X, or of Y, and Z as a square on the bed shows it: the bed's own slope counts, rad.</summary>
    public double SquarenessToBed(AxisName axis) => axis == AxisName.Y
        ? State.Frame.SquarenessYZ + State.Bed.SlopeY
        : State.Frame.SquarenessXZ + State.Bed.SlopeX;

    /// <summary>Error that comes back every turn, at a commanded place, mm.</summary>
    public double PeriodicError(AxisName axis, double placeMm)
    {
        var state = State[axis];
        if (state.PeriodicAmplitudeMm == 0)
            return 0;
        var turns = (1 + ScaleError(axis)) * placeMm / state.TravelPerTurnMm;
        return state.PeriodicAmplitudeMm * PortableMath.Sin((2 * Math.PI * (turns - Math.Floor(turns))) + state.PeriodicPhaseRad);
    }

    /// <summary>Where an axis really stands, mm from its zero, without the scatter of coming back.</summary>
    /// <param name="axis">The axis.</param>
    /// <param name="commandedMm">Commanded position, mm.</param>
    /// <param name="from">+1 where it was reached while increasing, -1 while decreasing.</param>
    public double AxisPosition(AxisName axis, double commandedMm, int from)
    {
        var state = State[axis];
        var stretched = (1 + ScaleError(axis)) * (1 + (state.ExpansionPerK * State.DriveWarmerK)) * commandedMm;
        return stretched + SlowWave(axis, commandedMm) + PeriodicError(axis, commandedMm) + (from * Reversal(axis, commandedMm) / 2);
    }

    /// <summary>Where the tool really stands.</summary>
    public RealPoint Point(Target target)
    {
        var x = AxisPosition(AxisName.X, target.X, target.FromX);
        var y = AxisPosition(AxisName.Y, target.Y, target.FromY);
        var z = AxisPosition(AxisName.Z, target.Z, target.FromZ);
        var (frame, g) = (State.Frame, SquarenessXY);
        var height = HeightOfFrame(target.X / State.X.TravelMm, target.Y / State.Y.TravelMm);
        return new RealPoint(
            x + (y * PortableMath.Sin(g)) + (z * PortableMath.Sin(frame.SquarenessXZ)),
            (y * PortableMath.Cos(g)) + (z * PortableMath.Sin(frame.SquarenessYZ)),
            z + height);
    }

    /// <summary>Height of the bed under a place, as the machine's own Z would find it, mm.</summary>
    public double BedHeight(double xMm, double yMm)
    {
        var (u, v, bed) = (xMm / State.X.TravelMm, yMm / State.Y.TravelMm, State.Bed);
        if (bed.FollowsMachine)
            return 0;
        var crown = bed.CrownMm * 16 * u * (1 - u) * v * (1 - v);
        return (bed.SlopeX * xMm) + (bed.SlopeY * yMm) + crown + (bed.TwistMm * u * v) - HeightOfFrame(u, v);
    }

    /// <summary>Largest error over the corners of a work area: scale, squareness and half the lost motion together, mm.</summary>
    /// <remarks>hypot(|ex x + g y| + |Bx|/2, |ey y| + |By|/2) at its largest; work area from the corner (0, 0).</remarks>
    public double CornerErrorMm(double workX, double workY)
    {
        var (ex, ey, g) = (ScaleError(AxisName.X), ScaleError(AxisName.Y), SquarenessXY);
        var bx = Math.Abs(Reversal(AxisName.X, workX / 2)) / 2;
        var by = Math.Abs(Reversal(AxisName.Y, workY / 2)) / 2;
        var largest = 0.0;
        foreach (var (x, y) in new[] { (0.0, 0.0), (workX, 0.0), (0.0, workY), (workX, workY) })
        {
            var (dx, dy) = (Math.Abs((ex * x) + (g * y)) + bx, Math.Abs(ey * y) + by);
            largest = Math.Max(largest, Math.Sqrt((dx * dx) + (dy * dy)));
        }

        return largest;
    }

    private double SlowWave(AxisName axis, double placeMm)
    {
        var state = State[axis];
        return state.SlowWaveMm == 0 ? 0 : state.SlowWaveMm * PortableMath.Sin(Math.PI * placeMm / state.TravelMm);
    }

    private double HeightOfFrame(double u, double v) =>
        (State.Frame.TwistMm * u * v) - (State.Frame.BowMm * 4 * u * (1 - u));
}
