using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Core.Procedures;
using Commission.Workshop.Ports;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Controllers;

/// <summary>
/// The moves of a session over a link, one box for each. What a step asks for becomes acts of the gate by <see cref="StepMotion"/>, homing or
/// setting reference places first where the position is not trusted; whether any of it may be sent the gate decides.
/// </summary>
public sealed class LinkMotion : IMotion, IDisposable
{
    private readonly IControllerLink link;
    private readonly Func<MotionFacts> facts;
    private readonly TimeProvider time;
    private IReadOnlyList<Move> wanted = [];
    private int made;
    private bool leads;
    private volatile bool stands;

    /// <param name="link">The link.</param>
    /// <param name="facts">Facts of the machine as the journal has them now; asked for again when the gate refuses.</param>
    /// <param name="time">The clock.</param>
    public LinkMotion(IControllerLink link, Func<MotionFacts> facts, TimeProvider time)
    {
        (this.link, this.facts, this.time) = (link, facts, time);
        link.Changed += Seen;
    }

    /// <inheritdoc/>
    public ImmutableArray<string> Box { get; private set; } = [];

    /// <inheritdoc/>
    public bool MoreToCome { get; private set; }

    /// <inheritdoc/>
    public string? Trouble => link.Now.Gate is { State: TrustState.Stopped } gate ? gate.Trouble ?? "the position is not trusted" : null;

    /// <inheritdoc/>
    public Outcome<string> Propose(IReadOnlyList<Move> moves)
    {
        if (!moves.SequenceEqual(wanted))
            (wanted, made) = (moves, 0);
        return Ask() is Outcome<Confirmation>.Good { Value: var first } ? Drawn(first) : AskedAgain().Then<string>(box => Drawn(box));
    }

    private Outcome<string> Drawn(Confirmation box)
    {
        Box = box.Lines;
        return box.Token;
    }

    // A check may have been passed, or the machine described anew, since the facts were told.
    private Outcome<Confirmation> AskedAgain()
    {
        link.Tell(facts());
        return Ask();
    }

    private Outcome<Confirmation> Ask()
    {
        var gate = link.Now.Gate;
        if (StepMotion.Next(made < wanted.Count ? wanted[made] : null, gate) is not { } next)
            return StepMotion.WhyNone(gate);
        leads = next.Leads || made < wanted.Count - 1;
        return link.Ask(next.Act);
    }

    /// <inheritdoc/>
    public void Withdraw() => link.Withdraw();

    /// <inheritdoc/>
    public async Task<bool> AcknowledgeAsync(CancellationToken cancellation)
    {
        // A board that restarts after STOP needs a moment before it tells its state again.
        await link.UntilAsync(now => now.Gate.Report?.State is ControllerState.Resting or ControllerState.Locked, TimeSpan.FromSeconds(5), time, cancellation).ConfigureAwait(false);
        link.Understood('S');
        return Trouble is null;
    }

    /// <inheritdoc/>
    public async Task<Outcome<string>> CarryOutAsync(string token, CancellationToken cancellation)
    {
        var act = link.Now.Gate.Box?.Act;
        MoreToCome = leads;
        stands = false;
        switch (await link.ConfirmAsync(token, cancellation).ConfigureAwait(false))
        {
            case MotionEnd.Reached:
                if (act is MotionAct.Go || (act is MotionAct.Home && made < wanted.Count && wanted[made] is Move.Home))
                    made++;
                if (!MoreToCome)
                    (stands, wanted, made) = (true, [], 0);
                return string.Join(' ', Box);
            case MotionEnd.NotBegun notBegun:
                return new Problem("nothing moved: " + notBegun.Why, "Look at the prompt and type its words again");
            case MotionEnd.Stopped stopped:
                (wanted, made) = ([], 0);
                return new Problem("stopped: " + stopped.Why + "; the position is not trusted any more", "Read what happened, look at the machine, then go on or put the run aside") { IsFailure = true };
            default:
                throw new System.Diagnostics.UnreachableException();
        }
    }

    /// <inheritdoc/>
    public bool AlreadyThere(IReadOnlyList<Move> moves)
    {
        var gate = link.Now.Gate;
        return gate is { State: TrustState.Homed or TrustState.Placed, AcceptsReadings: true, InTravel: { } place }
            && moves.All(move => move is Move.To to && Math.Abs(place[to.Axis] - to.Mm) <= Resolution / 2) && (stands = true);
    }

    /// <inheritdoc/>
    public string? WhyNoReading(bool moved)
    {
        var gate = link.Now.Gate;
        if (!gate.AcceptsReadings)
            return gate.Trouble ?? (gate.State == TrustState.Shut && !gate.Facts.MissingChecks.IsEmpty
                ? "over the link these checks are to be passed first: " + string.Join(", ", gate.Facts.MissingChecks)
                : string.Create(CultureInfo.InvariantCulture, $"the link is {gate.State.ToString().ToLowerInvariant()} and the controller {StateWord(gate)}"));
        return moved && !(stands && gate.State is TrustState.Homed or TrustState.Placed)
            ? "the position was lost since the machine was brought here" : null;
    }

    private static string StateWord(Gate gate) => gate.Report?.State switch
    {
        ControllerState.Resting => "rests",
        ControllerState.Moving => "moves",
        ControllerState.Held => "is held",
        ControllerState.Locked => "is locked",
        _ => "does not tell its state",
    };

    /// <inheritdoc/>
    public double? CommandedInstead(AxisName axis, double plannedMm) =>
        link.Now.Gate.InTravel is { } place && Math.Abs(place[axis] - plannedMm) > Resolution ? Math.Round(place[axis], link.Dialect.Status.Decimals) : null;

    private double Resolution => Math.Pow(10, -link.Dialect.Status.Decimals);

    /// <inheritdoc/>
    public void PowerChanged(bool drivesOn)
    {
        stands = false;
        link.LoseTrust(drivesOn ? "the drives were switched on" : "the drives were switched off");
    }

    private void Seen(LinkSnapshot now)
    {
        if (now.Gate.State is TrustState.Stopped or TrustState.Shut or TrustState.Locked)
            stands = false;
    }

    /// <inheritdoc/>
    public void Dispose() => link.Changed -= Seen;
}
