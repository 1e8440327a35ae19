using Commission.Core.Motion;
using Commission.Tests;
using Commission.Workshop.Controllers;

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

    /// <summary>Who waits for the greeting asks at once: what was asked before the link had taken it in would be given up with what is of before the restart.</summary>
    [Fact]
    public async Task Nothing_is_asked_before_the_greeting_was_taken_in()
    {
        var watched = new GreetingWatched(new ScriptedTransport(Unlock));
        await using var link = (await ControllerLink.OpenAsync(watched, ShippedDialects.Find("numbered-settings")!, LinkBench.Facts, watched, TestContext.Current.CancellationToken)).Require();
        Assert.True(watched.Looks > 0);
        Assert.False(watched.Early);
    }

    [Fact]
    public void What_is_recorded_shows_line_ends_and_bytes_in_letters() =>
        Assert.Equal("G1 X1\\x0A\\x18\\x5C", RecordingTransport.Escaped("G1 X1\n\u0018\\"));

    /// <summary>Holds up whoever takes in the greeting at each look at the clock, long enough for a question that does not wait.</summary>
    private sealed class GreetingWatched(ScriptedTransport played) : TimeProvider, ITransport
    {
        private static readonly TimeSpan Held = TimeSpan.FromMilliseconds(150);
        private readonly ManualResetEventSlim asked = new();
        private int reads, taking;

        public bool Early { get; private set; }

        public int Looks { get; private set; }

        public string? Remark => played.Remark;

        public bool Alive => played.Alive;

        public override long GetTimestamp()
        {
            if (Environment.CurrentManagedThreadId == taking)
            {
                Looks++;
                Early |= asked.Wait(Held);
            }

            return base.GetTimestamp();
        }

        public async ValueTask<int> ReadAsync(Memory<byte> into, CancellationToken cancellation)
        {
            taking = 0;
            var count = await played.ReadAsync(into, cancellation);
            taking = reads++ == 0 ? Environment.CurrentManagedThreadId : 0;
            return count;
        }

        public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellation)
        {
            asked.Set();
            return played.WriteAsync(bytes, cancellation);
        }

        public ValueTask DisposeAsync()
        {
            asked.Dispose();
            return played.DisposeAsync();
        }
    }
}
