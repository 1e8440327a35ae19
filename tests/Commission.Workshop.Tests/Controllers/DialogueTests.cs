using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Tests;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;
using Xunit;

namespace Commission.Workshop.Tests.Controllers;

public class DialogueTests
{
    private const string Unlock = """
        commission.dialogue/1
        < Ready ['$' for help]
        ? <Alarm|MPos:0.000,0.000,0.000>
        > $X
        ? <Idle|MPos:0.000,0.000,0.000>
        < ok
        """;

    private static async Task<string> PlayAsync(string script, Func<ControllerLink, Task> acts)
    {
        var transport = new ScriptedTransport(script);
        var opened = await ControllerLink.OpenAsync(transport, ShippedDialects.Find("numbered-settings")!, LinkBench.Facts, TimeProvider.System,
            TestContext.Current.CancellationToken);
        await using var link = opened.Require();
        link.TellIdentity(true);
        await acts(link);
        return transport.Verdict;
    }

    private static async Task UnlocksAsync(ControllerLink link)
    {
        var locked = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        link.Changed += now =>
        {
            if (now.Gate.State == TrustState.Locked)
                locked.TrySetResult();
        };
        await locked.Task.WaitAsync(Patience.Longest, TestContext.Current.CancellationToken);
        link.Ask(new MotionAct.Unlock()).Require();
        Assert.IsType<MotionEnd.Reached>(await link.ConfirmAsync("unlock", TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task Unlocking_is_one_line_and_nothing_else_is_sent() => Assert.Equal("", await PlayAsync(Unlock, UnlocksAsync));

    [Fact]
    public async Task A_line_that_was_to_be_sent_and_was_not_is_told() =>
        Assert.Equal("left over: > $G", await PlayAsync(Unlock + "\n> $G", UnlocksAsync));

    [Fact]
    public async Task A_wrong_line_is_told()
    {
        var verdict = await PlayAsync(Unlock, async link =>
        {
            await UnlocksAsync(link);
            link.Ask(new MotionAct.Go([new(AxisName.X, 2, 100)], 100)).Require();
            await link.ConfirmAsync("go X+2", TestContext.Current.CancellationToken);
        });
        Assert.Contains("sent \"$J=G21G91X2F100\", expected nothing", verdict);
    }

    [Fact]
    public void What_is_recorded_shows_line_ends_and_bytes_in_letters() =>
        Assert.Equal("G1 X1\\x0A\\x18\\x5C", RecordingTransport.Escaped("G1 X1\n\u0018\\"));
}
