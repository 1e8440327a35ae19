using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Controllers;

/// <content>What the operator and the steps may do.</content>
public sealed partial class ControllerLink
{
    /// <summary>What is told where a setting was written: trust in the position ends by it.</summary>
    public const string SettingWritten = "a setting was written";

    /// <inheritdoc/>
    public void Tell(MotionFacts facts) => Feed(at => new GateEvent.FactsTold(at, facts));

    /// <inheritdoc/>
    public void TellIdentity(bool confirmed) => Feed(at => new GateEvent.IdentityTold(at, confirmed));

    /// <inheritdoc/>
    public Outcome<Confirmation> Ask(MotionAct act)
    {
        foreach (var effect in Feed(at => new GateEvent.Asked(at, act)).Effects)
        {
            if (effect is GateEffect.Draw drawn)
                return drawn.Box;
            if (effect is GateEffect.Refuse refused)
                return new Problem("nothing moves: " + refused.Why, Remedy(refused.Why));
        }
        return new Problem("nothing moves: the link was interrupted", "Read what happened, then ask again");
    }

    private string Remedy(string why) => gate switch
    {
        { State: TrustState.Shut, Facts.MissingChecks.IsEmpty: false } => "The procedure 'readiness' holds them (W lists it); then ask again",
        { State: TrustState.Shut } when MotionRules.NotOurs(gate) is not null => "End it at the machine, then ask again",
        _ when why == MotionRules.Unheard => "Look at its power and its cable, then ask again",
        _ => "Put that right, then ask again",
    };

    /// <inheritdoc/>
    public void Withdraw() => Feed(at => new GateEvent.Withdrawn(at));

    /// <inheritdoc/>
    public Task<MotionEnd> ConfirmAsync(string token, CancellationToken cancellation) =>
        ConfirmAsync(at => new GateEvent.TokenTyped(at, token), cancellation);

    /// <inheritdoc/>
    public Task<MotionEnd> ConfirmAsync(char key, CancellationToken cancellation) =>
        ConfirmAsync(at => new GateEvent.KeyTyped(at, key), cancellation);

    private async Task<MotionEnd> ConfirmAsync(Func<TimeSpan, GateEvent> typed, CancellationToken cancellation)
    {
        var end = new TaskCompletionSource<MotionEnd>(TaskCreationOptions.RunContinuationsAsynchronously);
        lock (turn)
        {
            if (gate.Box is not { } box)
            {
                Step(typed);
                return new MotionEnd.NotBegun("no move is asked for");
            }
            // Who asked before and still waits, as for an unlocking that does not show, waits no longer.
            waiter?.End.TrySetResult(new MotionEnd.NotBegun("something else was confirmed"));
            waiter = (box.Act, end);
            var decision = Step(typed);
            var begun = decision.Effects.Any(effect => effect is GateEffect.SendMove or GateEffect.SendHome or GateEffect.SendUnlock);
            if (!begun && !end.Task.IsCompleted)
            {
                waiter = null;
                var why = decision.Effects.OfType<GateEffect.Say>().FirstOrDefault()?.Text ?? "the box stays open";
                end.SetResult(gate.Box is null ? new MotionEnd.Reached() : new MotionEnd.NotBegun(why));
            }
        }
        Changed?.Invoke(Now);
        // Who no longer waits for a move must not leave it moving.
        using var gaveUp = cancellation.Register(() => Stop("the program was told to end while the machine moved"));
        return await end.Task.ConfigureAwait(false);
    }

    /// <inheritdoc/>
    public void Stop(string why)
    {
        // First the bytes: they wait for no lock of the gate.
        Volatile.Write(ref pressed, why);
        var epoch = writer.Stop();
        Feed(at => new GateEvent.StopPressed(at, why), epoch);
    }

    /// <summary>Sends STOP if a move of ours is under way and waits until its bytes are out: for the last moments of the program.</summary>
    /// <returns>Whether STOP was sent.</returns>
    public bool StopAndWait(string why, TimeSpan longest)
    {
        if (Now.Gate.State != TrustState.Moving)
            return false;
        Stop(why);
        return writer.WaitStopLeft(longest);
    }

    /// <inheritdoc/>
    public void Understood(char key, int? losses = null) => Feed(at => new GateEvent.Understood(at, key, losses));

    /// <inheritdoc/>
    public void LoseTrust(string why) => Feed(at => new GateEvent.TrustLost(at, why));

    /// <inheritdoc/>
    public void ClosureChecked() => Feed(at => new GateEvent.ClosureChecked(at));

    /// <inheritdoc/>
    public Task<Outcome<ImmutableArray<SavedSetting>>> SettingsAsync(CancellationToken cancellation) =>
        JobAsync(ListAsync, Closed<ImmutableArray<SavedSetting>>()).WaitAsync(cancellation);

    /// <inheritdoc/>
    public Task<Outcome<SavedSetting>> WriteAsync(DialectSetting setting, string value, CancellationToken cancellation) =>
        JobAsync(() => WriteAndReadBackAsync(setting, value), new Problem($"{setting.To(value)}: not sent, the link is closed", "Connect again")).WaitAsync(cancellation);

    private static Outcome<T> Closed<T>() => new Problem("the link is closed", "Connect again");
}
