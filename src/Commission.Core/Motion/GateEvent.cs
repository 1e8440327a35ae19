using System.Collections.Immutable;

namespace Commission.Core.Motion;

/// <summary>Something that happened to the gate. <see cref="At"/> is an instant on a clock that only goes forward.</summary>
public abstract record GateEvent
{
    private GateEvent(TimeSpan at) => At = at;

    /// <summary>When it happened.</summary>
    public TimeSpan At { get; }

    /// <summary>Time went on; nothing else happened.</summary>
    public sealed record Passed(TimeSpan At) : GateEvent(At);

    /// <summary>The link is open and its answers belong to its questions.</summary>
    public sealed record InStep(TimeSpan At) : GateEvent(At);

    /// <summary>The link is gone.</summary>
    /// <param name="At">When.</param>
    /// <param name="Why">What is known of it, one clause.</param>
    public sealed record Lost(TimeSpan At, string Why) : GateEvent(At);

    /// <summary>Whether this is the machine it is taken for.</summary>
    public sealed record IdentityTold(TimeSpan At, bool Confirmed) : GateEvent(At);

    /// <summary>Facts of the machine and its epoch.</summary>
    public sealed record FactsTold(TimeSpan At, MotionFacts Facts) : GateEvent(At);

    /// <summary>The controller told its state.</summary>
    public sealed record Reported(TimeSpan At, StateReport Report) : GateEvent(At);

    /// <summary>The controller greeted: it has restarted.</summary>
    public sealed record Greeted(TimeSpan At) : GateEvent(At);

    /// <summary>The first byte of what was to be sent has left.</summary>
    public sealed record Left(TimeSpan At) : GateEvent(At);

    /// <summary>The time of a confirmation was over before its first byte could leave; nothing was sent.</summary>
    public sealed record Voided(TimeSpan At) : GateEvent(At);

    /// <summary>The last line of what was sent was taken.</summary>
    public sealed record Accepted(TimeSpan At) : GateEvent(At);

    /// <summary>A line was refused.</summary>
    /// <param name="At">When.</param>
    /// <param name="Why">Our sentence for the refusal.</param>
    public sealed record RefusedLine(TimeSpan At, string Why) : GateEvent(At);

    /// <summary>A fault of the link that does not end it: no answer, half a line, a doubled acknowledgement.</summary>
    public sealed record Faulted(TimeSpan At, string Why) : GateEvent(At);

    /// <summary>Something was asked for; a box is to be drawn.</summary>
    public sealed record Asked(TimeSpan At, MotionAct Act) : GateEvent(At);

    /// <summary>The box was put away.</summary>
    public sealed record Withdrawn(TimeSpan At) : GateEvent(At);

    /// <summary>A key was typed on a screen.</summary>
    public sealed record KeyTyped(TimeSpan At, char Key) : GateEvent(At);

    /// <summary>A line was typed in plain mode.</summary>
    public sealed record TokenTyped(TimeSpan At, string Text) : GateEvent(At);

    /// <summary>STOP was pressed, or a signal asked for it.</summary>
    public sealed record StopPressed(TimeSpan At, string Why) : GateEvent(At);

    /// <summary>The operator has read what happened: up to the <see cref="Gate.Losses"/> told here, and nothing that came after; where none is told, all of it.</summary>
    public sealed record Understood(TimeSpan At, char Key, int? Losses = null) : GateEvent(At);

    /// <summary>Trust is lost by something that the program or the operator did: a setting written, drives off, a crash.</summary>
    public sealed record TrustLost(TimeSpan At, string Why) : GateEvent(At);

    /// <summary>The marked places were reached again.</summary>
    public sealed record ClosureChecked(TimeSpan At) : GateEvent(At);
}

/// <summary>What the gate wants done. Only the class that sends may carry it out.</summary>
public abstract record GateEffect
{
    private GateEffect()
    {
    }

    /// <summary>Draw the box.</summary>
    public sealed record Draw(Confirmation Box) : GateEffect;

    /// <summary>Send one move, and only if its first byte can leave in time.</summary>
    /// <param name="Move">The move.</param>
    /// <param name="NotAfter">Instant after which it is void.</param>
    public sealed record SendMove(PlannedMove Move, TimeSpan NotAfter) : GateEffect;

    /// <summary>Send the homing cycle.</summary>
    public sealed record SendHome(TimeSpan NotAfter) : GateEffect;

    /// <summary>Send the unlock line.</summary>
    public sealed record SendUnlock(TimeSpan NotAfter) : GateEffect;

    /// <summary>Send STOP before everything else.</summary>
    public sealed record SendStop : GateEffect;

    /// <summary>What was asked for is not done.</summary>
    public sealed record Refuse(string Why) : GateEffect;

    /// <summary>A list, or homing, ended as expected.</summary>
    public sealed record Ended(MotionAct Act) : GateEffect;

    /// <summary>Trust was lost.</summary>
    public sealed record Halted(string Why) : GateEffect;

    /// <summary>A note for the person.</summary>
    public sealed record Say(string Text) : GateEffect;
}

/// <summary>The gate after an event, and what it wants done.</summary>
/// <param name="Gate">The gate.</param>
/// <param name="Effects">What is to be done, in order.</param>
public sealed record GateDecision(Gate Gate, ImmutableArray<GateEffect> Effects);
