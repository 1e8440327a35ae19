using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The link in the words of the live strip, and a step's moves as what the gate is asked for.</summary>
public static class LinkWords
{
    private static readonly TimeSpan Silent = TimeSpan.FromSeconds(1);

    // A shorter way is no move: the axis stands there already.
    private const double LeastMoveMm = 0.0005;

    /// <summary>The strip.</summary>
    /// <param name="now">What is known.</param>
    /// <param name="practice">Whether it is the practice controller.</param>
    /// <param name="hidden">Axis whose position would tell the reading; null for none.</param>
    /// <param name="units">Units of the positions.</param>
    public static LiveStrip Live(LinkSnapshot now, bool practice, AxisName? hidden, ShownUnits units)
    {
        var word = now.Age > Silent ? "silent" : State(now.State);
        var trusted = now.Gate.State is TrustState.Homed or TrustState.Placed or TrustState.Moving;
        var at = (trusted ? now.Gate.InTravel : null) ?? now.Gate.Report?.Shown;
        var head = practice ? $"link practice {word}" : $"link {word}";
        return trusted && at is { } position
            ? new($"{head} . cmd{(units == ShownUnits.Inches ? " in" : "")} {string.Join("  ", Enum.GetValues<AxisName>().Select(axis => Axis(axis, position, hidden, units))).TrimEnd()} . {(practice ? "trusted" : "position trusted")}", Stops: true)
            : new($"{head} . cmd ??? ??? ??? . NOT TRUSTED: {Why(now.Gate)}", Stops: true);
    }

    /// <summary>A state in our words, as short as the strip needs.</summary>
    public static string State(ControllerState state) => state switch
    {
        ControllerState.Resting => "rest",
        ControllerState.Moving => "moving",
        ControllerState.Held => "held",
        ControllerState.Locked => "locked",
        _ => "unknown",
    };

    /// <summary>What the gate is asked for by a move of a step.</summary>
    /// <param name="move">The move.</param>
    /// <param name="gate">The gate, for where the machine stands.</param>
    /// <returns>The act; null where the axis stands there already, or where it stands is not known.</returns>
    public static MotionAct? Act(Move move, Gate gate) => move switch
    {
        Move.Home => new MotionAct.Home(),
        Move.By by => new MotionAct.Go([new(by.Axis, by.Mm, by.FeedMmMin)], by.FeedMmMin),
        Move.To to when gate.InTravel is { } at && Math.Abs(to.Mm - at[to.Axis]) > LeastMoveMm =>
            new MotionAct.Go([new(to.Axis, to.Mm - at[to.Axis], to.FeedMmMin)], to.FeedMmMin),
        _ => null,
    };

    /// <summary>What the gate is asked for by all moves of a step: a list only where no hand is needed between them.</summary>
    public static MotionAct? Act(IReadOnlyList<Move> moves, Gate gate)
    {
        if (moves.Count == 1)
            return Act(moves[0], gate);
        var at = gate.InTravel;
        var planned = new List<PlannedMove>();
        foreach (var move in moves)
        {
            switch (move)
            {
                case Move.By by:
                    planned.Add(new(by.Axis, by.Mm, by.FeedMmMin));
                    at = at?.With(by.Axis, at.Value[by.Axis] + by.Mm);
                    break;
                case Move.To to when at is { } now:
                    if (Math.Abs(to.Mm - now[to.Axis]) > LeastMoveMm)
                        planned.Add(new(to.Axis, to.Mm - now[to.Axis], to.FeedMmMin));
                    at = now.With(to.Axis, to.Mm);
                    break;
                default:
                    return null;
            }
        }

        return planned.Count == 0 ? null : new MotionAct.Go([.. planned], planned.Max(move => move.SpeedMmPerMin)) { HandsFree = planned.Count > 1 };
    }

    /// <summary>Why the position is not trusted, a clause.</summary>
    public static string Why(Gate gate) => gate.Trouble ?? gate.State switch
    {
        TrustState.Locked => "locked, not homed",
        TrustState.Unreferenced => "not homed",
        _ => gate.LinkInStep ? gate.IdentityConfirmed ? "checks missing" : "which machine?" : "not in step",
    };

    private static string Axis(AxisName axis, MachinePosition at, AxisName? hidden, ShownUnits units) =>
        axis == hidden ? $"{axis}  hidden " : $"{axis} {units.Digits(at[axis]),7}";
}
