using System.Collections.Immutable;
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
/// <param name="link">The link.</param>
/// <param name="facts">Facts of the machine as the journal has them now; asked for again when the gate refuses.</param>
/// <param name="time">The clock.</param>
public sealed class LinkMotion(IControllerLink link, Func<MotionFacts> facts, TimeProvider time) : IMotion
{
    private IReadOnlyList<Move> wanted = [];
    private int made;
    private bool leads;
    private int? broughtAt;

    /// <inheritdoc/>
    public ImmutableArray<string> Box { get; private set; } = [];

    /// <inheritdoc/>
    public bool MoreToCome { get; private set; }

    /// <inheritdoc/>
    public string? Trouble => link.Now.Gate is { State: TrustState.Stopped } gate ? gate.Trouble ?? "the position is not trusted" : null;

    /// <inheritdoc/>
    public bool StopPressed => link.Now.Gate.StopPressed;

    /// <inheritdoc/>
    public int Losses => link.Now.Gate.Losses;

    /// <inheritdoc/>
    public Outcome<string> Propose(IReadOnlyList<Move> moves)
    {
        if (!moves.SequenceEqual(wanted))
            (wanted, made) = (moves, 0);
        // A check may have been passed, a crash told or the machine described anew, since the facts were told: the gate never asks by old ones.
        link.Tell(facts());
        return Ask().Then<string>(box => Drawn(box));
    }

    private Outcome<string> Drawn(Confirmation box)
    {
        Box = box.Lines;
        return box.Token;
    }

    private Outcome<Confirmation> Ask()
    {
        var gate = link.Now.Gate;
        if (StepMotion.Next(made < wanted.Count ? wanted[made] : null, gate) is not { } next)
            return StepMotion.WhyNone(gate);
        // Trust was lost since the step's first move: its moves begin anew, for the way in to a place is one of them.
        made = next.Leads ? 0 : made;
        leads = next.Leads || made < wanted.Count - 1;
        return link.Ask(next.Act);
    }

    /// <inheritdoc/>
    public void Withdraw() => link.Withdraw();

    /// <inheritdoc/>
    public async Task<bool> AcknowledgeAsync(int losses, CancellationToken cancellation)
    {
        // A board that restarts after STOP needs a moment before it tells its state again.
        await link.UntilAsync(now => now.Gate.Report?.State is ControllerState.Resting or ControllerState.Locked, TimeSpan.FromSeconds(5), time, cancellation).ConfigureAwait(false);
        link.Understood('S', losses);
        return Trouble is null;
    }

    /// <inheritdoc/>
    public async Task<Outcome<string>> CarryOutAsync(string token, Func<string, Outcome<ProcedureRun>> begun, CancellationToken cancellation)
    {
        var act = link.Now.Gate.Box?.Act;
        if (act is not null && BegunMove.InWords(act) is { } move && NotKept(begun, move) is { } problems)
        {
            link.Withdraw();
            return new Outcome<string>.Bad(problems);
        }

        MoreToCome = leads;
        broughtAt = null;
        var losses = link.Now.Gate.Losses;
        switch (await link.ConfirmAsync(token, cancellation).ConfigureAwait(false))
        {
            case MotionEnd.Reached:
                if (act is MotionAct.Go || (act is MotionAct.Home && made < wanted.Count && wanted[made] is Move.Home))
                    made++;
                if (!MoreToCome)
                    (broughtAt, wanted, made) = (losses, [], 0);
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

    private ImmutableArray<Problem>? NotKept(Func<string, Outcome<ProcedureRun>> begun, string move)
    {
        var asked = time.GetTimestamp();
        return begun(move) is Outcome<ProcedureRun>.Bad unkept ? unkept.Problems
            : time.GetElapsedTime(asked) < BegunMove.LongestEntry ? null
            : [new Problem("nothing moved: the store took long to keep what was confirmed", "Look at the prompt and type its words again")];
    }

    /// <inheritdoc/>
    public bool AlreadyThere(IReadOnlyList<Move> moves)
    {
        var gate = link.Now.Gate;
        if (gate is not { State: TrustState.Homed or TrustState.Placed, AcceptsReadings: true, InTravel: { } place }
            || !moves.All(move => move is Move.To to && Math.Abs(place[to.Axis] - to.Mm) <= LinkReading.Resolution(gate) / 2))
            return false;
        broughtAt = gate.Losses;
        return true;
    }

    /// <inheritdoc/>
    public bool OnTheWay(Move move, Move? then) => StepMotion.OnTheWay(move, then, link.Now.Gate);

    /// <inheritdoc/>
    public string? WhyNoReading(bool moved) => LinkReading.WhyNot(link.Now.Gate, moved, broughtAt);

    /// <inheritdoc/>
    public double? CommandedInstead(AxisName axis, double plannedMm) => LinkReading.CommandedInstead(link.Now.Gate, axis, plannedMm);

    /// <inheritdoc/>
    public void PowerChanged(bool drivesOn) => link.LoseTrust(drivesOn ? "the drives were switched on" : "the drives were switched off");
}
