using Commission.Core.Motion;
using Commission.Practice.Controller;
using Commission.Tests;
using Commission.Workshop.Controllers;

namespace Commission.Workshop.Tests.Controllers;

/// <summary>A link to the practice controller inside the process; its machine runs twenty times as fast as the clock.</summary>
internal sealed class LinkBench : IAsyncDisposable
{
    public static readonly MotionFacts Facts = CommissionedFacts.Heron;

    private LinkBench(PracticeController board, PracticeStream wire, ControllerLink link) => (Board, Wire, Link) = (board, wire, link);

    public PracticeController Board { get; }
    public PracticeStream Wire { get; }
    public ControllerLink Link { get; }

    /// <summary>A gate in step with its board, which was told at the first second that the machine rests.</summary>
    public static Gate AtRest(MachinePosition at) => new Gate { Dialect = ShippedDialects.Find("numbered-settings")!, Facts = Facts }
        .After(new GateEvent.InStep(TimeSpan.FromSeconds(1))).Gate
        .After(new GateEvent.Reported(TimeSpan.FromSeconds(1), StateReport.Of(ControllerState.Resting, at))).Gate;

    public static Task<LinkBench> OpenAsync(string dialect, double scale = 20, bool identified = true) =>
        OpenAsync(ShippedDialects.Find(dialect)!, scale, identified);

    public static async Task<LinkBench> OpenAsync(Dialect spoken, double scale = 20, bool identified = true, TimeProvider? time = null)
    {
        var board = new PracticeController(spoken, new ControllerBody([420, 580, 90], [400, 560, 80]));
        var wire = new PracticeStream(board, TimeProvider.System, scale);
        var link = await ControllerLink.OpenAsync(new StreamTransport(wire), spoken, Facts, time ?? TimeProvider.System, TestContext.Current.CancellationToken);
        var bench = new LinkBench(board, wire, link.Require());
        bench.Link.TellIdentity(identified);
        return bench;
    }

    public static async Task<LinkBench> HomedAsync(string dialect, double scale = 20, TimeProvider? time = null)
    {
        var bench = await OpenAsync(ShippedDialects.Find(dialect)!, scale: 60, time: time);
        await bench.UntilAsync(now => now.Gate.State is TrustState.Locked or TrustState.Unreferenced);
        Assert.IsType<MotionEnd.Reached>(await bench.GoAsync(new MotionAct.Home()));
        bench.Wire.Scale = scale;
        return bench;
    }

    /// <summary>Asks and confirms as plain mode does.</summary>
    public Task<MotionEnd> GoAsync(MotionAct act) =>
        Link.ConfirmAsync(Link.Ask(act).Require().Token, TestContext.Current.CancellationToken);

    /// <summary>Waits for an event of the link; ends by itself after fifteen seconds.</summary>
    public async Task UntilAsync(Func<LinkSnapshot, bool> reached)
    {
        var done = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        void Look(LinkSnapshot now)
        {
            if (reached(now))
                done.TrySetResult();
        }

        Link.Changed += Look;
        Look(Link.Now);
        try
        {
            await done.Task.WaitAsync(Patience.Longest, TestContext.Current.CancellationToken);
        }
        finally
        {
            Link.Changed -= Look;
        }
    }

    public async ValueTask DisposeAsync() => await Link.DisposeAsync();
}
