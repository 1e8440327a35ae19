using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Motion;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;

namespace Commission.Workshop.Controllers;

/// <summary>What a desk tells, in the order in which it happened.</summary>
public abstract record LinkTold
{
    private LinkTold()
    {
    }

    /// <summary>Something changed; <see cref="LinkDesk.Now"/> holds the newest state. Many changes in a row are told once.</summary>
    public sealed record Changed : LinkTold;

    /// <summary>The link is open.</summary>
    /// <param name="Remark">What the person is to know of the port; null where nothing.</param>
    public sealed record Opened(string? Remark) : LinkTold;

    /// <summary>The link could not be opened, or a request was refused.</summary>
    public sealed record Refused(ImmutableArray<Problem> Problems) : LinkTold;

    /// <summary>The link is closed.</summary>
    public sealed record Closed : LinkTold;

    /// <summary>A box stands open.</summary>
    public sealed record Box(Confirmation Confirmation) : LinkTold;

    /// <summary>What was confirmed has come to its end.</summary>
    public sealed record Ended(MotionAct Act, MotionEnd How) : LinkTold;

    /// <summary>All settings as they are now; kept in the store where there is one.</summary>
    public sealed record Settings(SettingsSnapshot Snapshot) : LinkTold;

    /// <summary>What would be written; nothing is yet.</summary>
    public sealed record Planned(ImmutableArray<PlannedWrite> Writes) : LinkTold;

    /// <summary>What was written, as read back.</summary>
    public sealed record Written(ImmutableArray<SavedSetting> ReadBack) : LinkTold;
}

/// <summary>
/// A link made ready for screens. Every call returns at once, whatever the port does: opening, settings and moves run elsewhere,
/// and what comes of them is told through the delegate handed in, which is to post to the screen's thread and nothing else
/// (<c>told => pump.Post(() => sheet.On(told))</c>). <see cref="Now"/> is a field and may be read while drawing.
/// </summary>
/// <remarks>
/// In order: <see cref="Open"/> after the person has answered <see cref="ConnectController.Warning"/>; <see cref="Tell"/> and
/// <see cref="TellIdentity"/>; then <see cref="Ask"/> draws a box, <see cref="Key"/> takes every key while a box stands or something
/// moves, <see cref="Stop"/> works always. Closing while something moves stops it.
/// </remarks>
/// <param name="connect">Opens links.</param>
/// <param name="tell">Takes what happened; called on threads of the link, one call at a time.</param>
/// <param name="journal">The store; null where no machine is known.</param>
/// <param name="machine">The machine's name; null where none is known.</param>
public sealed class LinkDesk(ConnectController connect, Action<LinkTold> tell, IJournal? journal = null, string? machine = null) : IAsyncDisposable
{
    private static readonly TimeSpan LongestStop = TimeSpan.FromMilliseconds(500);

    private readonly Lock telling = new();
    private readonly CancellationTokenSource ending = new();
    private volatile ControllerLink? link;
    private volatile LinkSnapshot? now;
    private ControllerSettings? settings;
    private int changePending;
    private int opening;

    /// <summary>What is known now; null where no link is open. Reading it waits for nothing.</summary>
    public LinkSnapshot? Now => now;

    /// <summary>The open link; null where none is. For requests that take one.</summary>
    public IControllerLink? Link => link;

    /// <summary>Begins to open the link. This acts on the machine: ask the person first.</summary>
    /// <param name="address">The controller.</param>
    /// <param name="facts">Facts of the machine; null where none is known.</param>
    public void Open(ControllerAddress address, MotionFacts? facts)
    {
        if (link is not null || Interlocked.Exchange(ref opening, 1) != 0)
            return;
        Begin(async () =>
        {
            try
            {
                var opened = await connect.RunAsync(address, facts, ending.Token).ConfigureAwait(false);
                Tell(opened.Match(Hold, problems => new LinkTold.Refused(problems)));
            }
            finally
            {
                opening = 0;
            }
        });
    }

    /// <summary>Tells facts of the machine.</summary>
    public void Tell(MotionFacts facts) => link?.Tell(facts);

    /// <summary>Tells whether this is the machine it is taken for.</summary>
    public void TellIdentity(bool confirmed) => link?.TellIdentity(confirmed);

    /// <summary>Asks for a box; it is told, or why there is none.</summary>
    public void Ask(MotionAct act)
    {
        if (link is { } open)
            Tell(open.Ask(act).Match<LinkTold>(box => new LinkTold.Box(box), problems => new LinkTold.Refused(problems)));
    }

    /// <summary>Puts the box away.</summary>
    public void Withdraw() => link?.Withdraw();

    /// <summary>A key while a box stands open or something moves. What it confirmed is told when it has ended.</summary>
    public void Key(char key)
    {
        if (link is not { } open)
            return;
        var act = open.Now.Gate.Box?.Act;
        var end = open.ConfirmAsync(key, ending.Token);
        if (act is not null)
            Begin(async () => Tell(new LinkTold.Ended(act, await end.ConfigureAwait(false))));
    }

    /// <summary>STOP. The bytes leave by the writing thread; this returns at once.</summary>
    /// <returns>Whether there is a link that it was sent over.</returns>
    public bool Stop(string why)
    {
        if (link is not { } open)
            return false;
        open.Stop(why);
        return true;
    }

    /// <summary>STOP if a move is under way, for the last moments of the program; waits until its bytes are out.</summary>
    /// <returns>Whether it was sent.</returns>
    public bool StopBeforeEnd(string why) => link?.StopAndWait(why, LongestStop) == true;

    /// <summary>The operator has read what happened, up to a count of losses; null for all of it.</summary>
    public void Understood(char key, int? losses) => link?.Understood(key, losses);

    /// <summary>Trust is lost: a crash told, drives off.</summary>
    public void LoseTrust(string why) => link?.LoseTrust(why);

    /// <summary>The marked places were reached again.</summary>
    public void ClosureChecked() => link?.ClosureChecked();

    /// <summary>Reads all settings and keeps them where there is a store.</summary>
    public void SaveSettings() => With(s => s.SaveAsync(ending.Token), snapshot => new LinkTold.Settings(snapshot));

    /// <summary>Tells what a new ratio of an axis would change.</summary>
    public void PlanSteps(Core.Machines.AxisName axis, double stepsPerMm) =>
        With(s => s.PlanStepsAsync(axis, stepsPerMm, ending.Token), writes => new LinkTold.Planned(writes));

    /// <summary>Tells what setting back to a snapshot would change: plain settings first.</summary>
    public void PlanRestore(SettingsSnapshot snapshot) =>
        With(s => s.PlanRestoreAsync(snapshot, ending.Token), groups => new LinkTold.Planned([.. groups.SelectMany(group => group)]));

    /// <summary>Writes what was planned and confirmed, and reads it back.</summary>
    public void Write(ImmutableArray<PlannedWrite> planned) =>
        With(s => s.WriteAsync(planned, ending.Token), written => new LinkTold.Written(written));

    /// <summary>Closes the link; what moves is stopped first.</summary>
    public void Close()
    {
        if (link is not { } open)
            return;
        (link, now, settings) = (null, null, null);
        Begin(async () =>
        {
            await open.DisposeAsync().ConfigureAwait(false);
            Tell(new LinkTold.Closed());
        });
    }

    private LinkTold Hold(ControllerLink opened)
    {
        settings = new(opened, journal, machine);
        opened.Changed += Seen;
        now = opened.Now;
        link = opened;
        return new LinkTold.Opened(opened.Now.Remark);
    }

    private void Seen(LinkSnapshot seen)
    {
        if (link is null)
            return;
        now = seen;
        if (Interlocked.Exchange(ref changePending, 1) == 0)
            Tell(new LinkTold.Changed());
    }

    /// <summary>To be called by whoever takes <see cref="LinkTold.Changed"/>, before <see cref="Now"/> is read: the next change is then told anew.</summary>
    public void Taken() => changePending = 0;

    private void With<T>(Func<ControllerSettings, Task<Outcome<T>>> act, Func<T, LinkTold> told)
    {
        if (settings is not { } held)
            Tell(new LinkTold.Refused([new Problem("no link is open", "Open it on the controller's page: C, then S")]));
        else
            Begin(async () => Tell((await act(held).ConfigureAwait(false)).Match(told, problems => new LinkTold.Refused(problems))));
    }

    private void Begin(Func<Task> work) => _ = Task.Run(async () =>
    {
        try
        {
            await work().ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (ending.IsCancellationRequested)
        {
            // The desk is put away: nobody is left to be told.
        }
        catch (Exception error) when (!ending.IsCancellationRequested)
        {
            // A page that waits for an answer gets one, whatever happened.
            Tell(new LinkTold.Refused([new Problem($"the link failed: {error.GetType().Name}", "Close it, open it again and read all settings before anything moves")]));
        }
    });

    private void Tell(LinkTold told)
    {
        lock (telling)
            tell(told);
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await ending.CancelAsync().ConfigureAwait(false);
        if (link is { } open)
            await open.DisposeAsync().ConfigureAwait(false);
        (link, now) = (null, null);
    }
}
