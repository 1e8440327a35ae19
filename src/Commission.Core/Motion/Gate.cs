using System.Collections.Immutable;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;

namespace Commission.Core.Motion;

/// <summary>What is under way.</summary>
/// <param name="Act">What was confirmed.</param>
/// <param name="From">The state it began in, to which its normal end leads back.</param>
/// <param name="Rest">Moves still to be sent, already cut; the first of them is the one under way.</param>
/// <param name="Start">Position shown where the move under way began, mm.</param>
/// <param name="Since">When the move under way was handed to the sender.</param>
/// <param name="Left">Whether its first byte has left.</param>
/// <param name="Accepted">Whether its last line was taken.</param>
public sealed record Underway(
    MotionAct Act, TrustState From, ImmutableArray<PlannedMove> Rest, MachinePosition Start, TimeSpan Since, bool Left, bool Accepted)
{
    /// <summary>The position first shown after homing was acknowledged, mm; null before, and for moves.</summary>
    public MachinePosition? HomedAt { get; init; }
}

/// <summary>
/// The gate: one value, one transition. Everything that could move the machine passes it; it obeys <see cref="MotionTable"/>.
/// </summary>
public sealed partial record Gate
{
    /// <summary>The dialect: what STOP is, how long a move may last, which locks allow homing.</summary>
    public required Dialect Dialect { get; init; }

    /// <summary>Facts of the machine.</summary>
    public required MotionFacts Facts { get; init; }

    /// <summary>The state of trust.</summary>
    public TrustState State { get; private init; } = TrustState.Shut;

    /// <summary>Whether there is a link whose answers belong to its questions.</summary>
    public bool LinkInStep { get; private init; }

    /// <summary>Whether the controller is known to be the one of this machine.</summary>
    public bool IdentityConfirmed { get; private init; }

    /// <summary>The last report; null before the first.</summary>
    public StateReport? Report { get; private init; }

    /// <summary>When the last report came.</summary>
    public TimeSpan ReportAt { get; private init; }

    /// <summary>The position shown last, mm, kept through reports that tell none, so that they hide no jump; null before the first and after a restart.</summary>
    public MachinePosition? LastShown { get; private init; }

    /// <summary>When an unlocking that is still to show was confirmed; null where none is under way.</summary>
    public TimeSpan? UnlockingSince { get; private init; }

    /// <summary>What is added to the shown position to get the position in the travel, mm; null where the position is not trusted.</summary>
    public MachinePosition? Offset { get; private init; }

    /// <summary>Axes put on their reference place so far, with what is added to their shown position, mm.</summary>
    public ImmutableSortedDictionary<AxisName, double> References { get; private init; } = ImmutableSortedDictionary<AxisName, double>.Empty;

    /// <summary>When the position was placed, or its closure last checked.</summary>
    public TimeSpan ClosedAt { get; private init; }

    /// <summary>The open box; null where none is.</summary>
    public Confirmation? Box { get; private init; }

    /// <summary>What is under way; null where nothing is.</summary>
    public Underway? Underway { get; private init; }

    /// <summary>What happened, as long as the operator has not acknowledged it; null where nothing waits.</summary>
    public string? Trouble { get; private init; }

    /// <summary>Whether STOP is among what happened and was not acknowledged: then it is asked what was seen.</summary>
    public bool StopPressed { get; private init; }

    /// <summary>How often trust was lost: where the machine was brought before the last time it is not known to stand any more.</summary>
    public int Losses { get; private init; }

    /// <summary>The instant of the last event.</summary>
    public TimeSpan Now { get; private init; }

    /// <summary>Whether a reading may be accepted: at rest, in a state that knows itself to be at rest, and heard of lately.</summary>
    public bool AcceptsReadings =>
        State is TrustState.Homed or TrustState.Placed or TrustState.Unreferenced
        && Report?.State == ControllerState.Resting && Now - ReportAt <= MotionTable.AnswerLasts;

    /// <summary>The position in the travel, mm; null where it is not trusted.</summary>
    public MachinePosition? InTravel => Offset is { } offset && Report?.Shown is { } shown ? shown.Plus(offset) : null;

    /// <summary>The one transition. Total: what does not fit is answered by a note or a refusal, never by an exception.</summary>
    public GateDecision After(GateEvent happened)
    {
        var at = happened.At > Now ? happened.At : Now;
        var slept = LinkInStep && at - Now > MotionTable.LongestGap;
        var now = this with { Now = at };
        var (gate, first) = slept ? now.Halt("the program did not run for more than 5 s") : now.Watched();
        var (next, second) = gate.On(happened, at);
        return new(next, first.IsEmpty ? second : first.AddRange(second));
    }

    private GateDecision On(GateEvent happened, TimeSpan at) => happened switch
    {
        GateEvent.Passed => Quiet(this),
        GateEvent.InStep => Quiet((this with { LinkInStep = true, Report = null, LastShown = null }).Settled()),
        GateEvent.Lost lost => Quiet(WithoutLink(lost.Why)),
        GateEvent.IdentityTold told => (this with { IdentityConfirmed = told.Confirmed }).Reconsidered("it is not certain which machine answers"),
        GateEvent.FactsTold told => Described(told.Facts),
        GateEvent.Reported told => Heard(told.Report, at),
        GateEvent.Greeted => State == TrustState.Shut
            ? Quiet(this with { Report = null, LastShown = null, Trouble = Trouble ?? (LinkInStep ? "the controller restarted" : null) })
            : (this with { Report = null, LastShown = null }).Halt("the controller restarted"),
        GateEvent.Left => Quiet(Underway is { } u && !u.Left ? this with { Underway = u with { Left = true, Since = at } } : this),
        GateEvent.Voided => NotSent(),
        GateEvent.Accepted => Quiet(Underway is { } u ? this with { Underway = u with { Accepted = true } } : this),
        GateEvent.RefusedLine refused => Halt(refused.Why),
        GateEvent.Faulted fault => Halt(fault.Why),
        GateEvent.StopPressed stop => Stopped(stop.Why),
        // A setting may have moved the place where homing ends.
        GateEvent.TrustLost lost => (this with { Facts = Facts with { HomeShown = null } }).Halt(lost.Why),
        GateEvent.Understood understood => Acknowledged(understood),
        GateEvent.ClosureChecked => Quiet(State == TrustState.Placed ? this with { ClosedAt = at } : this),
        GateEvent.Asked asked => Ask(asked.Act),
        GateEvent.Withdrawn => Quiet(this with { Box = null }),
        GateEvent.KeyTyped typed => Typed(typed.Key),
        GateEvent.TokenTyped typed => Typed(typed.Text),
        _ => throw new System.Diagnostics.UnreachableException(),
    };

    /// <summary>A position is counted from the ends of the travel as they were described: told otherwise it says nothing any more.</summary>
    private GateDecision Described(MotionFacts told)
    {
        var gate = this with { Facts = Learned(told) };
        var counts = Facts.TravelMm == told.TravelMm && Facts.PullOffMm == told.PullOffMm && Facts.HomeHigh.SetEquals(told.HomeHigh);
        if (counts || (Offset is null && References.IsEmpty))
            return gate.Reconsidered("the readiness list is no longer met");
        var (halted, effects) = gate.Halt("the machine was described anew, with other ends of its travel");
        return new(halted.Clear ? halted : halted with { State = TrustState.Shut }, effects);
    }

    // What the controller shows after homing was learned over this link: no description of the machine knows it.
    private MotionFacts Learned(MotionFacts told) => told with { HomeShown = told.HomeShown ?? Facts.HomeShown };

    private static GateDecision Quiet(Gate gate) => new(gate, []);

    private GateDecision With(params ReadOnlySpan<GateEffect> effects) => new(this, [.. effects]);

    /// <summary>Trust ends, whatever was under way is void. While moving STOP goes out: ending motion needs nobody's leave.</summary>
    private GateDecision Halt(string why)
    {
        var halted = this with { Box = null, Underway = null, UnlockingSince = null, Offset = null, References = References.Clear(), Losses = Losses + 1, Trouble = Told(why) };
        return State switch
        {
            TrustState.Shut => Quiet(halted with { Trouble = Trouble }),
            TrustState.Stopped => halted.With(new GateEffect.Say(why)),
            TrustState.Moving => (halted with { State = TrustState.Stopped }).With(new GateEffect.SendStop(), new GateEffect.Halted(why)),
            _ => (halted with { State = TrustState.Stopped }).With(new GateEffect.Halted(why)),
        };
    }

    // What happens while something waits to be read waits with it; the same again says nothing new.
    private string Told(string why) => Trouble is null ? why : Trouble.Contains(why, StringComparison.Ordinal) ? Trouble : $"{Trouble}; then {why}";

    private GateDecision Stopped(string why)
    {
        if (!LinkInStep)
            return With(new GateEffect.Say("Nothing is connected. Nothing was sent."));
        var (halted, effects) = Halt(why);
        var stopped = (State == TrustState.Shut ? halted with { Trouble = Trouble ?? why } : halted) with { StopPressed = true };
        return new(stopped, [new GateEffect.SendStop(), .. effects.Where(effect => effect is not GateEffect.SendStop)]);
    }

    private Gate WithoutLink(string why) => this with
    {
        State = TrustState.Shut,
        LinkInStep = false,
        IdentityConfirmed = false,
        Report = null,
        LastShown = null,
        Offset = null,
        References = References.Clear(),
        Box = null,
        Underway = null,
        UnlockingSince = null,
        Losses = Losses + 1,
        // What interrupted trust is still to be read after the link is back; a link that was never trusted leaves nothing to read.
        Trouble = State == TrustState.Shut ? Trouble : Told(why),
    };

    private bool Clear => LinkInStep && IdentityConfirmed && Facts.MissingChecks.IsEmpty;

    /// <summary>Leaves shut once everything is cleared and the controller rests or is locked.</summary>
    private Gate Settled() => State != TrustState.Shut || !Clear ? this : Report?.State switch
    {
        ControllerState.Resting or ControllerState.Locked when Trouble is not null => this with { State = TrustState.Stopped },
        ControllerState.Resting => this with { State = TrustState.Unreferenced },
        ControllerState.Locked => this with { State = TrustState.Locked },
        // Moving or held: a job that is not ours.
        _ => this,
    };

    private GateDecision Reconsidered(string why)
    {
        if (State == TrustState.Shut)
            return Quiet(Settled());
        if (Clear)
            return Quiet(this with { Box = null });
        var (halted, effects) = Halt(why);
        return new(halted with { State = TrustState.Shut }, effects);
    }

    private GateDecision Acknowledged(GateEvent.Understood read)
    {
        if (State != TrustState.Stopped && (State != TrustState.Shut || Trouble is null))
            return Quiet(this);
        if (read.Losses is { } losses && losses != Losses)
            return With(new GateEffect.Say("More has happened than was read."));
        if ("XYZHU".Contains(char.ToUpperInvariant(read.Key)))
            return With(new GateEffect.Say("This key confirms moves and acknowledges nothing."));
        if (Now - ReportAt > MotionTable.AnswerLasts || Report is null)
            return With(new GateEffect.Say("The controller has not told its state since then."));
        return Report.State switch
        {
            // What happened is read by this; the gate stays shut as long as anything else keeps it so.
            ControllerState.Resting or ControllerState.Locked when State == TrustState.Shut => Quiet((this with { Trouble = null, StopPressed = false }).Settled()),
            ControllerState.Resting => Quiet(this with { State = TrustState.Unreferenced, Trouble = null, StopPressed = false }),
            ControllerState.Locked => Quiet(this with { State = TrustState.Locked, Trouble = null, StopPressed = false }),
            _ => With(new GateEffect.Say("The controller is not at rest.")),
        };
    }
}
