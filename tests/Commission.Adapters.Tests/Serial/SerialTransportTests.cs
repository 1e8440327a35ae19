using Commission.Adapters.Serial;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Practice.Controller;
using Commission.Tests;
using Commission.Workshop.Controllers;

namespace Commission.Adapters.Tests.Serial;

/// <summary>The practice controller behind a pseudo-terminal: real port code, no hardware. Linux; Windows has no pseudo-terminals.</summary>
public class SerialTransportTests
{
    private static readonly MotionFacts Facts = CommissionedFacts.Heron;

    private static PracticeController Board(string dialect) =>
        new(ShippedDialects.Find(dialect)!, new ControllerBody([420, 580, 90], [410, 570, 85]));

    private static async Task<ControllerLink> ConnectAsync(ITransport transport, string dialect)
    {
        var opened = await ControllerLink.OpenAsync(transport, ShippedDialects.Find(dialect)!, Facts, TimeProvider.System, TestContext.Current.CancellationToken);
        var link = opened.Require();
        link.TellIdentity(true);
        return link;
    }

    private static async Task UntilAsync(ControllerLink link, Func<LinkSnapshot, bool> reached)
    {
        var done = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        link.Changed += now =>
        {
            if (reached(now))
                done.TrySetResult();
        };
        // What came before anybody listened is not told again.
        if (reached(link.Now))
            done.TrySetResult();
        await done.Task.WaitAsync(Patience.Longest, TestContext.Current.CancellationToken);
    }

    public static TheoryData<string> Shipped => [.. ShippedDialects.Names];

    /// <summary>Each dialect by the port's own descriptor, and the framework's way, which Windows goes.</summary>
    public static TheoryData<string, bool> Ways => new(ShippedDialects.Names.SelectMany(name => new[] { (name, true), (name, false) }));

    [Theory]
    [MemberData(nameof(Ways))]
    public async Task Stop_leaves_while_whoever_takes_the_answers_blocks(string dialect, bool directly)
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there are no pseudo-terminals here");
        var board = Board(dialect);
        using var terminal = new PseudoTerminal(board);
        using var released = new ManualResetEventSlim();
        await using var link = await ConnectAsync(SerialTransport.Open(terminal.Path, 115200, controlLines: true, directly).Require(), dialect);
        var blocks = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        var stopped = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        board.StopTaken += () => stopped.TrySetResult();
        var stopping = new Thread(() => link.Stop("the operator pressed STOP"));
        var before = link.Now.Gate.ReportAt;
        link.Changed += now =>
        {
            if (now.Gate.ReportAt == before)
                return;
            blocks.TrySetResult();
            released.Wait();
        };
        try
        {
            await blocks.Task.WaitAsync(Patience.Longest, TestContext.Current.CancellationToken);
            stopping.Start();
            await stopped.Task.WaitAsync(Patience.Longest, TestContext.Current.CancellationToken);
        }
        finally
        {
            released.Set();
            if (stopping.ThreadState != ThreadState.Unstarted)
                stopping.Join();
        }
    }

    /// <summary>A board that reads nothing: what is written piles up in the system until no more is taken. STOP goes past it.</summary>
    [Fact]
    public async Task Stop_leaves_though_the_system_takes_no_more_bytes()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there are no pseudo-terminals here");
        var board = Board("numbered-settings");
        using var terminal = new PseudoTerminal(board);
        using var asleep = new ManualResetEventSlim();
        using var awake = new ManualResetEventSlim();
        var stopped = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        board.StopTaken += () => stopped.TrySetResult();
        await using var port = SerialTransport.Open(terminal.Path, 115200).Require();
        var sleeping = new Thread(() => terminal.Do(_ =>
        {
            asleep.Set();
            awake.Wait();
        }));
        sleeping.Start();
        asleep.Wait(TestContext.Current.CancellationToken);
        using (var enough = new CancellationTokenSource(TimeSpan.FromMilliseconds(50)))
            Assert.Throws<OperationCanceledException>(() => port.Write(new byte[4 << 20], enough.Token));
        port.Discard();
        using var limit = new CancellationTokenSource(Patience.Longest);
        port.Write("\u0018\u0018"u8.ToArray(), limit.Token);
        awake.Set();
        sleeping.Join();
        await stopped.Task.WaitAsync(Patience.Longest, TestContext.Current.CancellationToken);
    }

    [Theory]
    [MemberData(nameof(Shipped))]
    public async Task A_machine_is_homed_and_moved_over_a_pseudo_terminal(string dialect)
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there are no pseudo-terminals here");
        var board = Board(dialect);
        using var terminal = new PseudoTerminal(board, scale: 30);
        await using var link = await ConnectAsync(SerialTransport.Open(terminal.Path, 115200).Require(), dialect);
        Assert.Contains("control lines", link.Now.Remark);
        await UntilAsync(link, now => now.Gate.State is TrustState.Locked or TrustState.Unreferenced);
        link.Ask(new MotionAct.Home()).Require();
        Assert.Equal(new MotionEnd.Reached(), await link.ConfirmAsync("go home", TestContext.Current.CancellationToken));
        link.Ask(new MotionAct.Go([new(AxisName.X, -25, 1200)], 1200)).Require();
        Assert.Equal(new MotionEnd.Reached(), await link.ConfirmAsync("go X-25", TestContext.Current.CancellationToken));
        Assert.Equal(394, board.Body.InTravel(AxisName.X), 2);
    }

    [Fact]
    public async Task Pulling_the_cable_ends_the_link_with_a_sentence()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there are no pseudo-terminals here");
        using var terminal = new PseudoTerminal(Board("numbered-settings"));
        await using var link = await ConnectAsync(SerialTransport.Open(terminal.Path, 115200).Require(), "numbered-settings");
        await UntilAsync(link, now => now.Gate.State == TrustState.Locked);
        terminal.Do(board => board.Inject(ControllerFault.Unplug));
        await UntilAsync(link, now => now.Gate.State == TrustState.Shut);
        Assert.Contains("device is gone", link.Now.Gate.Trouble);
    }

    [Fact]
    public async Task A_port_is_opened_once_at_a_time_and_again_after_it_was_closed()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there are no pseudo-terminals here");
        using var terminal = new PseudoTerminal(Board("numbered-settings"));
        var first = SerialTransport.Open(terminal.Path, 115200).Require();
        Assert.Contains("in use", Assert.Single(Assert.IsType<Outcome<ITransport>.Bad>(SerialTransport.Open(terminal.Path, 115200)).Problems).What);
        await first.DisposeAsync();
        var second = SerialTransport.Open(terminal.Path, 115200).Require();
        await second.DisposeAsync();
    }

    /// <summary>A pseudo-terminal has no control lines: asked to raise them the system refuses, and the port is opened without, with a remark.</summary>
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_port_that_refuses_its_control_lines_is_opened_without_them_and_says_so(bool raised)
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there are no pseudo-terminals here");
        using var terminal = new PseudoTerminal(Board("numbered-settings"));
        await using var port = new SerialPorts().Open(terminal.Path, 115200, raised).Require();
        Assert.Equal(raised, port.Remark?.Contains("opened without", StringComparison.Ordinal) == true);
    }

    [Fact]
    public void A_missing_port_and_a_file_that_is_none_are_told_apart()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there are no pseudo-terminals here");
        string What(string name) => Assert.Single(Assert.IsType<Outcome<ITransport>.Bad>(SerialTransport.Open(name, 115200)).Problems).What;
        Assert.Contains("there is no port", What("/dev/no-such-port"));
        var file = Path.GetTempFileName();
        Assert.Contains("no serial port", What(file));
        File.Delete(file);
    }

    [Fact]
    public void Names_of_windows_ports_lose_what_drivers_write_behind_them_and_are_sorted_by_number() =>
        // Names as reported in a public tracker thread: registry values with garbage behind the number.
        Assert.Equal(["COM3", "COM9", "COM10"], PortNames.WindowsNames(["COM10", "COM9\u0000x", "COM3☺", "LPT1", "COM", "COM3"]));
}
