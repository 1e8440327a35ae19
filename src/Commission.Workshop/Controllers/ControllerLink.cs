using System.Threading.Channels;
using Commission.Core;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Controllers;

/// <summary>
/// The one class that sends. It binds gate, dialect and port: what happens goes into the gate, what the gate wants done goes out,
/// nothing else does. One line waits for its answer at most; STOP waits for nothing.
/// </summary>
public sealed partial class ControllerLink : IControllerLink
{
    private static readonly TimeSpan Tick = TimeSpan.FromMilliseconds(50);
    private static readonly TimeSpan AnswerTime = TimeSpan.FromSeconds(2);
    private static readonly TimeSpan OwedTime = TimeSpan.FromSeconds(3);
    private static readonly TimeSpan UnreadTime = TimeSpan.FromSeconds(5);
    private const int NoiseLimit = 20;
    private const string Unreadable = "the answers cannot be read; is the speed of the port right?";

    private readonly ITransport transport;
    private readonly TimeProvider time;
    private readonly SleepingClock clock;
    private readonly LineReader reader;
    private readonly LinkWriter writer;
    private readonly LineExchange exchange = new();
    private readonly StatusMemory memory = new();
    private readonly CancellationTokenSource ending = new();
    private readonly Channel<Func<Task>> jobs = Channel.CreateUnbounded<Func<Task>>();
    private readonly Lock turn = new();
    private readonly TaskCompletionSource greeted = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private Task pump = Task.CompletedTask;
    private Task talk = Task.CompletedTask;
    private Task watch = Task.CompletedTask;
    private Gate gate;
    private (MotionAct Act, TaskCompletionSource<MotionEnd> End)? waiter;
    private TimeSpan heardAt;
    private TimeSpan? unreadSince;
    private bool heard;
    private int noise;
    private int closed;

    private ControllerLink(ITransport transport, Dialect dialect, MotionFacts facts, TimeProvider time)
    {
        (this.transport, this.time, Dialect) = (transport, time, dialect);
        clock = new(time);
        reader = new(dialect);
        gate = new() { Dialect = dialect, Facts = facts };
        writer = new(transport, dialect.Stop, At, gone => Lose("the port failed: " + PlainText.Of(gone.Message)));
    }

    /// <inheritdoc/>
    public Dialect Dialect { get; }

    /// <inheritdoc/>
    public event Action<LinkSnapshot>? Changed;

    /// <inheritdoc/>
    public LinkSnapshot Now
    {
        get
        {
            lock (turn)
                return new(gate, heard ? At() - heardAt : null, transport.Remark);
        }
    }

    /// <summary>Opens the dialogue: greeting or two seconds of silence, then the harmless query; nothing else is sent to find out who answers.</summary>
    public static async Task<Outcome<ControllerLink>> OpenAsync(
        ITransport transport, Dialect dialect, MotionFacts facts, TimeProvider time, CancellationToken cancellation)
    {
        var link = new ControllerLink(transport, dialect, facts, time);
        link.pump = Task.Run(link.PumpAsync, CancellationToken.None);
        try
        {
            await link.greeted.Task.WaitAsync(TimeSpan.FromSeconds(2), time, cancellation).ConfigureAwait(false);
        }
        catch (TimeoutException)
        {
            // Not every board restarts when its port is opened.
        }
        catch (OperationCanceledException)
        {
            await link.DisposeAsync().ConfigureAwait(false);
            throw;
        }
        if (await link.AnswersAsync(cancellation).ConfigureAwait(false))
        {
            link.Feed(at => new GateEvent.InStep(at));
            link.talk = Task.Run(link.TalkAsync, CancellationToken.None);
            link.watch = Task.Run(link.WatchAsync, CancellationToken.None);
            return link;
        }
        await link.DisposeAsync().ConfigureAwait(false);
        return new Problem("nothing that fits this dialect answered at the port",
            "Check power, cable, speed and dialect; close other programs that use the port; procedure show silent-board --handbook has ten lines to go down");
    }

    private async Task<bool> AnswersAsync(CancellationToken cancellation)
    {
        for (var attempt = 0; attempt < 3 && !pump.IsCompleted; attempt++)
        {
            var before = heardAt;
            if (Dialect.Status.Form == StatusForm.Bracketed)
                await writer.SendAsync(Dialect.Status.Ask, TimeSpan.MaxValue, writer.Epoch).ConfigureAwait(false);
            else
                await LineAsync(Dialect.Status.Ask, TimeSpan.MaxValue, writer.Epoch, TimeSpan.FromSeconds(0.8)).ConfigureAwait(false);
            for (var wait = 0; wait < 16; wait++)
            {
                lock (turn)
                    if (gate.Report is not null || told is not null)
                        return true;
                await Task.Delay(Tick, time, cancellation).ConfigureAwait(false);
            }
            exchange.Forgive();
        }
        return false;
    }

    // A report that came before the link was in step; proves that somebody speaks the dialect.
    private StateReport? told;

    private TimeSpan At() => clock.Now;

    // The epoch of the writer as far as the gate knows: what is confirmed while a STOP is out that the gate has not heard of belongs to an older one, and never leaves.
    private long known;

    // Why STOP was pressed, until the gate has been told.
    private string? pressed;

    /// <param name="happened">What happened.</param>
    /// <param name="stopEpoch">The epoch that a STOP already handed to the writer has begun; null where none was.</param>
    private GateDecision Feed(Func<TimeSpan, GateEvent> happened, long? stopEpoch = null)
    {
        GateDecision decision;
        lock (turn)
        {
            // The board may be heard to restart because of a STOP before the gate has been told of it: the cause comes first.
            if (Interlocked.Exchange(ref pressed, null) is { } why && stopEpoch is null)
                Step(at => new GateEvent.StopPressed(at, why), writer.Epoch);
            decision = Step(happened, stopEpoch);
        }

        // Outside the lock: who listens may ask.
        Changed?.Invoke(Now);
        return decision;
    }

    private GateDecision Step(Func<TimeSpan, GateEvent> happened, long? stopEpoch = null)
    {
        var decision = gate.After(happened(At()));
        gate = decision.Gate;
        foreach (var effect in decision.Effects)
            CarryOut(effect, stopIsOut: stopEpoch is not null);
        known = Math.Max(known, stopEpoch ?? 0);
        Finish(decision);
        return decision;
    }

    private void CarryOut(GateEffect effect, bool stopIsOut)
    {
        var epoch = known;
        switch (effect)
        {
            case GateEffect.SendStop when !stopIsOut:
                known = writer.Stop();
                break;
            case GateEffect.Halted:
                // An unlocking that waits for its turn was confirmed before this happened.
                known = writer.Void();
                break;
            case GateEffect.SendMove send:
                jobs.Writer.TryWrite(() => SendAsync([.. MotionLines.Of(Dialect, send.Move)], send.NotAfter, epoch, AnswerTime, send.Move.Seconds));
                break;
            case GateEffect.SendHome send:
                jobs.Writer.TryWrite(() => SendAsync([.. Dialect.Motion.Home], send.NotAfter, epoch, TimeSpan.FromSeconds(Dialect.Motion.LongestHomingS), 0));
                break;
            case GateEffect.SendUnlock send:
                jobs.Writer.TryWrite(() => SendAsync([Dialect.Motion.Unlock!], send.NotAfter, epoch, AnswerTime, 0));
                break;
        }
    }

    private void Finish(GateDecision decision)
    {
        if (waiter is not { } waits)
            return;
        MotionEnd? end = null;
        foreach (var effect in decision.Effects)
        {
            end ??= effect switch
            {
                GateEffect.Ended => new MotionEnd.Reached(),
                GateEffect.Halted halted => new MotionEnd.Stopped(halted.Why),
                GateEffect.Refuse refuse when gate.State != TrustState.Moving => new MotionEnd.NotBegun(refuse.Why),
                _ => null,
            };
        }
        if (end is null && waits.Act is MotionAct.Unlock && gate.State == TrustState.Unreferenced)
            end = new MotionEnd.Reached();
        if (end is null && !gate.LinkInStep)
            end = new MotionEnd.Stopped(gate.Trouble ?? "the link was lost");
        if (end is null)
            return;
        waiter = null;
        waits.End.TrySetResult(end);
    }

    private void Lose(string why)
    {
        // What was confirmed is confirmed for a link that there is: a port that comes to life again sends nothing of it.
        lock (turn)
            known = writer.Void();
        exchange.GiveUp(why, staysOwed: false);
        Feed(at => new GateEvent.Lost(at, why));
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (Interlocked.Exchange(ref closed, 1) != 0)
            return;
        if (Now.Gate.State == TrustState.Moving)
            Stop("the link is closed while the machine moves");
        // The writer first: it sends a STOP that was asked for before it ends.
        writer.Dispose();
        await ending.CancelAsync().ConfigureAwait(false);
        jobs.Writer.TryComplete();
        exchange.GiveUp("the link is closed", staysOwed: false);
        foreach (var step in new[] { Task.WhenAll(pump, talk, watch), Task.Run(async () => await transport.DisposeAsync().ConfigureAwait(false)) })
        {
            try
            {
                await step.WaitAsync(TimeSpan.FromSeconds(2)).ConfigureAwait(false);
            }
            catch (Exception late) when (late is TimeoutException or IOException or OperationCanceledException or ObjectDisposedException)
            {
                // A port that does not close in time is left to the system: the program must end.
            }
        }
        lock (turn)
            if (gate.LinkInStep)
                gate = gate.After(new GateEvent.Lost(At(), "the link was closed")).Gate;
    }
}
