using Commission.Core;
using Commission.Core.Machines;
using Commission.Core.Motion;
using Commission.Core.Procedures;

namespace Commission.Workshop.Controllers;

/// <summary>An act that a step comes to.</summary>
/// <param name="Act">What the gate is asked for.</param>
/// <param name="Leads">Whether it only leads to the step's move, by homing, by a reference place or out of a lock; else it is the move itself.</param>
public sealed record StepAct(MotionAct Act, bool Leads);

/// <summary>
/// A step's moves as acts of the gate, the same in plain mode and on the screens: one act for each move, and where the position is not
/// trusted first what makes it so. Whether any of it may be sent the gate decides.
/// </summary>
public static class StepMotion
{
    // A shorter way is no move: the axis stands there already.
    private const double LeastMoveMm = 0.0005;

    /// <summary>The next act.</summary>
    /// <param name="next">The move that the step asks for; null for what makes the position trusted.</param>
    /// <param name="gate">The gate, for where the machine stands.</param>
    /// <returns>The act; null where there is none, <see cref="WhyNone"/> says why.</returns>
    public static StepAct? Next(Move? next, Gate gate) => gate.State switch
    {
        TrustState.Locked => Leave(gate, next),
        TrustState.Unreferenced when next is Move.By { Mm: >= -MotionTable.UntrustedDistanceMm and <= MotionTable.UntrustedDistanceMm } little =>
            new(Go(new(little.Axis, little.Mm, Math.Min(little.FeedMmMin, gate.Facts.FirstMotionSpeedMmPerMin)), little, gate), Leads: false),
        TrustState.Homed or TrustState.Placed when next is not (null or Move.Home) => Trusted(gate, next) is { } go ? new(go, Leads: false) : null,
        // A machine without a switch on every axis is told so where homing is what was asked for.
        _ when next is Move.Home || gate.Facts.HasSwitches => new(Homing(next), next is not Move.Home),
        _ => Reference(gate) is { } reference ? new(reference, Leads: true) : null,
    };

    /// <summary>Why <see cref="Next"/> found no act.</summary>
    public static Problem WhyNone(Gate gate) => gate.State is not TrustState.Unreferenced
        ? new("nothing moves: the position is not trusted", "Home the machine, or put its axes on their marked places")
        : Unplaced(gate) is var axis && gate.Facts.HomeNamed.Contains(axis)
            ? new("nothing moves: the reference place of Z is its upper stop, and the machine's description names the lower end",
                "Carry out 'reference-corner', or give Z homeAt high with 'machine edit'")
            : new($"nothing moves: it is not told at which end {axis} has its reference place", "Carry out 'reference-corner', or give homeAt with 'machine edit'");

    /// <summary>Whether the axis stands where the move ends, as far as that can be told.</summary>
    public static bool StandsThere(Move move, Gate gate) =>
        move is Move.To to && gate is { State: TrustState.Homed or TrustState.Placed, InTravel: { } at } && Math.Abs(to.Mm - at[to.Axis]) <= LeastMoveMm;

    /// <summary>
    /// Whether the move that follows passes where this one ends, in the same sense and over the same axis: then it alone reaches its place from
    /// the side that is wanted, and one box shows it all.
    /// </summary>
    public static bool OnTheWay(Move move, Move? then, Gate gate) =>
        move is Move.To way && then is Move.To to && way.Axis == to.Axis && gate is { State: TrustState.Homed or TrustState.Placed, InTravel: { } at }
        && (to.Mm - way.Mm) * (way.Mm - at[way.Axis]) > 0;

    private static MotionAct.Home Homing(Move? next) => new(WatchedTest: next is Move.Home { Watched: true });

    // Homing where the lock allows it, for it leads on; else the lock is left first.
    private static StepAct Leave(Gate gate, Move? next) => Homing(next) is var home && MotionRules.WhyNot(gate, home) is null
        ? new(home, next is not Move.Home)
        : new(new MotionAct.Unlock(), Leads: true);

    private static AxisName Unplaced(Gate gate)
    {
        AxisName[] order = [AxisName.Z, AxisName.X, AxisName.Y];
        return order.FirstOrDefault(one => !gate.References.ContainsKey(one), AxisName.Z);
    }

    // The corner that the operator has named takes the place of home: each axis stands at its stop there. Z has one stop only, the
    // upper: below it lies whatever is on the bed, of no height known here.
    private static MotionAct.SetReference? Reference(Gate gate)
    {
        var axis = Unplaced(gate);
        var high = gate.Facts.HomeHigh.Contains(axis);
        return gate.Facts.HomeNamed.Contains(axis) && (high || axis != AxisName.Z) ? new(axis, high ? gate.Facts.TravelMm[axis] : 0) : null;
    }

    private static MotionAct.Go? Trusted(Gate gate, Move next)
    {
        if (gate.InTravel is not { } place)
            return null;
        return next switch
        {
            Move.To to => Go(new(to.Axis, Math.Round(to.Mm - place[to.Axis], 4), Speed(gate, to.FeedMmMin)), to, gate),
            Move.By by => Go(new(by.Axis, by.Mm, Speed(gate, by.FeedMmMin)), by, gate),
            _ => null,
        };
    }

    // Placed by hand: half the step's speed.
    private static double Speed(Gate gate, double feed) => gate.State == TrustState.Placed ? feed / 2 : feed;

    private static MotionAct.Go Go(PlannedMove move, Move step, Gate gate) => new([move], gate.State == TrustState.Placed ? move.SpeedMmPerMin * 2 : move.SpeedMmPerMin)
    {
        SurfaceMm = step.Above?.SurfaceMm,
        ClearanceMm = step.Above?.ClearanceMm ?? 0,
        StepSaysDown = step is Move.By { Axis: AxisName.Z, Mm: < 0 },
    };
}
