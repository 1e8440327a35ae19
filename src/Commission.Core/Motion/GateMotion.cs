using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;

namespace Commission.Core.Motion;

/// <content>Confirmations, and what reports mean while something moves and while nothing should.</content>
public sealed partial record Gate
{
    private GateDecision Ask(MotionAct act) => MotionRules.WhyNot(this, act) is { } why
        ? (this with { Box = null }).With(new GateEffect.Refuse(why))
        : Draw(new Confirmation(act, Now, MotionRules.Describe(this, act)));

    private GateDecision Draw(Confirmation box) => (this with { Box = box }).With(new GateEffect.Draw(box));

    private GateDecision Typed(char key)
    {
        if (State == TrustState.Moving)
            return Stopped("a key was pressed while the machine moved");
        if (Box is null)
            return Quiet(this);
        if (Now - Box.DrawnAt < MotionTable.BoxSettles)
            return With(new GateEffect.Say("Typed before the box could be read: not used."));
        if (char.ToUpperInvariant(key) == Box.Letter)
            return Begin(Box.Act);
        return key is '\r' or '\n'
            ? (this with { Box = null }).With(new GateEffect.Refuse("Enter means: do not"))
            : With(new GateEffect.Say($"This box waits for {Box.Letter}."));
    }

    private GateDecision Typed(string text)
    {
        if (State == TrustState.Moving)
            return Stopped("a line was typed while the machine moved");
        if (Box is null)
            return Quiet(this);
        return text == Box.Token
            ? Begin(Box.Act)
            : (this with { Box = null }).With(new GateEffect.Refuse($"that was not \"{Box.Token}\": nothing moves"));
    }

    private GateDecision Begin(MotionAct act)
    {
        var open = this with { Box = null };
        if (MotionRules.WhyNot(open, act) is { } why)
            return open.With(new GateEffect.Refuse(why));
        var until = Now + MotionTable.ConfirmationLasts;
        return act switch
        {
            MotionAct.Go go => open.Start(act, [.. go.Moves.SelectMany(move => move.Cut(Dialect.Stop.LongestMoveS))], until),
            MotionAct.Home => open.Start(act, [], until),
            MotionAct.Unlock => (open with { UnlockingSince = Now }).With(new GateEffect.SendUnlock(until)),
            MotionAct.SetReference set => Quiet(open.Referenced(set)),
            _ => throw new System.Diagnostics.UnreachableException(),
        };
    }

    private GateDecision Start(MotionAct act, ImmutableArray<PlannedMove> moves, TimeSpan until)
    {
        var begun = this with
        {
            State = TrustState.Moving,
            Underway = new(act, State, moves, Report!.Shown ?? default, Now, Left: false, Accepted: false),
        };
        return begun.With(moves.IsEmpty ? new GateEffect.SendHome(until) : new GateEffect.SendMove(moves[0], until));
    }

    private Gate Referenced(MotionAct.SetReference set)
    {
        var references = References.SetItem(set.Axis, set.PlaceMm - Report!.Shown!.Value[set.Axis]);
        var referenced = this with { References = references };
        return references.Count < 3 ? referenced : referenced with
        {
            State = TrustState.Placed,
            Offset = new MachinePosition(references[AxisName.X], references[AxisName.Y], references[AxisName.Z]),
            ClosedAt = Now,
        };
    }

    /// <summary>Nothing had left: the list is void, the state is the one before. Where something had, the link contradicts itself, and the rest is void as after any fault.</summary>
    private GateDecision NotSent() => Underway switch
    {
        null when UnlockingSince is null => Quiet(this),
        null => (this with { UnlockingSince = null }).With(TooLate),
        { Left: true } => Halt("the link reports as not sent what had left"),
        var u => (this with { State = u.From, Underway = null }).With(TooLate),
    };

    private static GateEffect.Refuse TooLate => new("the confirmation was older than 1 s before it could be sent; it is void");

    /// <summary>What time alone changes: answers grow old, a placed position wears out, a move takes too long.</summary>
    private GateDecision Watched()
    {
        if (State == TrustState.Placed && Now - ClosedAt > MotionTable.PlacedLasts)
            return Halt("30 min have passed since the marked places were last checked");
        if (UnlockingSince is { } since && Now - since > MotionTable.UnlockShows)
            return (this with { UnlockingSince = null }).With(new GateEffect.Refuse("the controller stays locked: the unlocking did not reach it, or what locked it is still there"));
        if (State != TrustState.Moving || Underway is not { } u)
            return Quiet(this);
        var heard = ReportAt > u.Since ? ReportAt : u.Since;
        if (Now - heard > LongestSilence(u))
            return Halt("no answer for more than 1 s while moving");
        return Now - u.Since > LongestDuration(u) ? Halt("the move has not ended in its time") : Quiet(this);
    }

    private TimeSpan LongestSilence(Underway u) => u.Act is MotionAct.Home && !Dialect.Motion.AnswersWhileHoming
        ? TimeSpan.FromSeconds(Dialect.Motion.LongestHomingS)
        : MotionTable.AnswerLasts;

    // Half as long again and three seconds, for ramps and for controllers that slow down by themselves.
    private TimeSpan LongestDuration(Underway u) => TimeSpan.FromSeconds(
        u.Rest.IsEmpty ? Dialect.Motion.LongestHomingS : u.Rest[0].Seconds * 1.5 + 3);

    private GateDecision Heard(StateReport report, TimeSpan at)
    {
        var before = LastShown;
        var told = this with { Report = report, ReportAt = at, LastShown = report.Shown ?? LastShown };
        return State switch
        {
            TrustState.Shut => Quiet(told.Settled()),
            TrustState.Stopped => Quiet(told),
            TrustState.Moving => told.HeardMoving(report),
            TrustState.Locked => report.State switch
            {
                ControllerState.Locked => Quiet(told),
                ControllerState.Resting => Quiet(told with { State = TrustState.Unreferenced, Box = null, UnlockingSince = null }),
                _ => told.Halt("the machine moves, and no move was confirmed"),
            },
            _ => told.HeardResting(before, report),
        };
    }

    private GateDecision HeardResting(MachinePosition? before, StateReport report) => report.State switch
    {
        ControllerState.Locked => Halt(MotionRules.Alarm(Dialect, report.Alarm)),
        ControllerState.Moving or ControllerState.Held => Halt("the machine moves, and no move was confirmed"),
        ControllerState.Unknown => Halt("the controller told a state that this program does not know"),
        _ when before is { } was && report.Shown is { } now && !Near(was, now) => Halt("the shown position changed, and no move was confirmed"),
        _ => Quiet(this),
    };

    private GateDecision HeardMoving(StateReport report)
    {
        var u = Underway!;
        return report.State switch
        {
            ControllerState.Locked when u is { Act: MotionAct.Home, From: TrustState.Locked, Accepted: false } => Quiet(this),
            ControllerState.Locked => Halt(MotionRules.Alarm(Dialect, report.Alarm)),
            ControllerState.Held => Halt("the controller paused the move"),
            ControllerState.Unknown => Halt("the controller told a state that this program does not know"),
            _ when u.Act is MotionAct.Home => HeardHoming(u, report),
            _ => HeardGoing(u, report),
        };
    }

    private GateDecision HeardHoming(Underway u, StateReport report)
    {
        if (report.Shown is not { } shown || !u.Accepted)
            return Quiet(this);
        // What moves after homing was acknowledged makes the place where it comes to rest no home.
        if (u.HomedAt is { } first && !Near(first, shown))
            return Halt("the machine moved after homing had ended");
        if (report.State != ControllerState.Resting)
            return Quiet(this with { Underway = u with { HomedAt = shown } });
        if (u.Act is MotionAct.Home { WatchedTest: true })
            return Tried(u);
        if (Facts.HomeShown is { } home && !Near(home, shown))
            return Halt("homing ended, but the shown position is not the home position");
        return (this with
        {
            State = TrustState.Homed,
            Underway = null,
            Offset = MotionRules.HomeInTravel(Facts).Minus(shown),
            References = References.Clear(),
            Facts = Facts with { HomeShown = shown, Moved = [AxisName.X, AxisName.Y, AxisName.Z] },
        }).With(new GateEffect.Ended(u.Act));
    }

    // In the test a stick presses each switch anywhere in the travel: where the machine rests now is no home, whatever the controller shows.
    private GateDecision Tried(Underway u) => (this with
    {
        State = TrustState.Unreferenced,
        Underway = null,
        Offset = null,
        References = References.Clear(),
        Losses = Losses + 1,
        Facts = Facts with { Moved = [AxisName.X, AxisName.Y, AxisName.Z] },
    }).With(new GateEffect.Ended(u.Act));

    private GateDecision HeardGoing(Underway u, StateReport report)
    {
        if (report.Shown is not { } shown)
            return Quiet(this);
        var move = u.Rest[0];
        var end = u.Start.With(move.Axis, u.Start[move.Axis] + move.DistanceMm);
        if (!OnTheWay(move.Axis, u.Start, end, shown))
            return Halt("the machine is not where this move leads");
        if (report.State != ControllerState.Resting)
            return Quiet(this);
        // The answer to the line may come after the rest; without it the move has not ended in order.
        if (u.Left && Near(end, shown))
            return u.Accepted ? NextOf(u, shown) : Quiet(this);
        // The controller needs a moment before it begins; then standing still at the start is as unexpected as anything.
        return Now - u.Since <= MotionTable.AnswerLasts && Near(u.Start, shown) ? Quiet(this) : Halt("the machine came to rest before the end of the move");
    }

    private GateDecision NextOf(Underway u, MachinePosition shown)
    {
        var rest = u.Rest.RemoveAt(0);
        if (!rest.IsEmpty)
            return (this with { Underway = u with { Rest = rest, Start = shown, Since = Now, Left = false, Accepted = false } })
                .With(new GateEffect.SendMove(rest[0], Now + MotionTable.ConfirmationLasts));
        var moved = Facts.Moved.Union(((MotionAct.Go)u.Act).Moves.Select(move => move.Axis));
        return (this with { State = u.From, Underway = null, Facts = Facts with { Moved = moved } }).With(new GateEffect.Ended(u.Act));
    }

    // One step, and what two shown positions may differ by their last decimal.
    private double Slack(AxisName axis) => Facts.StepMm[axis] + Math.Pow(10, -Dialect.Status.Decimals);

    private bool Near(MachinePosition a, MachinePosition b) =>
        Enum.GetValues<AxisName>().All(axis => Math.Abs(a[axis] - b[axis]) <= Slack(axis));

    private bool OnTheWay(AxisName moving, MachinePosition start, MachinePosition end, MachinePosition shown) =>
        Enum.GetValues<AxisName>().All(axis => axis == moving
            ? shown[axis] >= Math.Min(start[axis], end[axis]) - Slack(axis) && shown[axis] <= Math.Max(start[axis], end[axis]) + Slack(axis)
            : Math.Abs(shown[axis] - start[axis]) <= Slack(axis));
}
