using System.Text;
using System.Threading.Channels;
using Commission.Core.Motion;
using Commission.Workshop.Controllers;
using Microsoft.Extensions.Time.Testing;

namespace Commission.Workshop.Tests.Controllers;

/// <summary>What the link does as time goes on, on a clock that goes on only where the link waits.</summary>
public class SteppedLinkTests
{
    private static readonly TimeSpan Step = TimeSpan.FromMilliseconds(50);

    // Only so that a wait without an end is told; on a computer with nothing else to do it takes a second.
    private const int Longest = 600_000;

    /// <summary>
    /// Goes on only when nobody has anything to do: the link's two loops wait for time, one of them perhaps for an answer, and the
    /// port has nothing left to say. So no wait ends because the computer was slow.
    /// </summary>
    private sealed class SteppedTime(Port port) : FakeTimeProvider
    {
        // Waits for the next step, and for an answer.
        private int steps, answers;

        public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) => new Wait(this, callback, state, dueTime, period);

        private ITimer Begin(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) => base.CreateTimer(callback, state, dueTime, period);

        private void Count(TimeSpan dueTime, int more) => _ = dueTime == Step ? Interlocked.Add(ref steps, more) : Interlocked.Add(ref answers, more);

        // One loop looks at time, the other asks for the state unless it waits for an answer that does not come.
        private bool NobodyActs => port.Drained && (port.OwesAnAnswer ? Volatile.Read(ref steps) > 0 && Volatile.Read(ref answers) > 0 : Volatile.Read(ref steps) > 1);

        /// <summary>Goes on by a twentieth of a second at a time until something is reached.</summary>
        /// <returns>The time that took.</returns>
        public async Task<TimeSpan> GoAsync(Func<bool> reached)
        {
            var began = GetTimestamp();
            while (!reached())
            {
                while (!NobodyActs)
                {
                    TestContext.Current.CancellationToken.ThrowIfCancellationRequested();
                    await Task.Yield();
                }

                Assert.True(GetElapsedTime(began) < TimeSpan.FromMinutes(3), "it was not reached in three minutes of this clock");
                Advance(Step);
            }

            return GetElapsedTime(began);
        }

        private sealed class Wait : ITimer
        {
            private readonly SteppedTime time;
            private readonly TimeSpan dueTime;
            private readonly ITimer inner;
            private int over;

            public Wait(SteppedTime time, TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
            {
                (this.time, this.dueTime) = (time, dueTime);
                inner = time.Begin(
                    told =>
                    {
                        Over();
                        callback(told);
                    },
                    state,
                    dueTime,
                    period);
                // Only now: a wait that is counted before it has begun would be slept through by all the steps that this thread is kept from running.
                time.Count(dueTime, 1);
            }

            private void Over()
            {
                if (Interlocked.Exchange(ref over, 1) == 0)
                    time.Count(dueTime, -1);
            }

            public bool Change(TimeSpan dueTime, TimeSpan period) => inner.Change(dueTime, period);

            public void Dispose()
            {
                Over();
                inner.Dispose();
            }

            public ValueTask DisposeAsync()
            {
                Dispose();
                return ValueTask.CompletedTask;
            }
        }
    }

    /// <summary>A board of the dialect whose questions are lines; what it answers to homing are bytes that mean nothing, as at a wrong speed.</summary>
    private sealed class Port : ITransport
    {
        private readonly Channel<byte[]> said = Channel.CreateUnbounded<byte[]>();

        public Port() => Say("start\n");

        private int parts;
        private int taken;
        private volatile int understood;
        private volatile bool owes;

        public string? Remark => null;

        public bool Alive { get; set; } = true;

        /// <summary>Whether the last line sent was answered by nothing that can be read.</summary>
        public bool OwesAnAnswer => owes;

        public void Say(string text)
        {
            Interlocked.Increment(ref parts);
            said.Writer.TryWrite(Encoding.Latin1.GetBytes(text));
        }

        /// <summary>Whether all that was said has been read and understood, and the next read waits.</summary>
        public bool Drained => understood == Volatile.Read(ref parts);

        public async ValueTask<int> ReadAsync(Memory<byte> into, CancellationToken cancellation)
        {
            understood = taken;
            var bytes = await said.Reader.ReadAsync(cancellation);
            taken++;
            bytes.CopyTo(into);
            return bytes.Length;
        }

        public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellation)
        {
            var line = Encoding.Latin1.GetString(bytes.Span);
            var owed = line.StartsWith("G28", StringComparison.Ordinal);
            Say(owed ? "\u00fe\u0095\u00e3" : line == "M114\n" ? "X:0.00 Y:0.00 Z:0.00\nok\n" : "ok\n");
            owes = owed;
            return ValueTask.CompletedTask;
        }

        public ValueTask DisposeAsync() => ValueTask.CompletedTask;
    }

    private static async Task<ControllerLink> OpenAsync(Port port, SteppedTime time)
    {
        var link = (await ControllerLink.OpenAsync(port, ShippedDialects.Find("letter-words")!, LinkBench.Facts, time, TestContext.Current.CancellationToken)).Require();
        link.TellIdentity(true);
        await time.GoAsync(() => link.Now.Gate.State == TrustState.Unreferenced);
        return link;
    }

    private static Task<MotionEnd> Homing(ControllerLink link, CancellationToken cancellation)
    {
        link.Ask(new MotionAct.Home()).Require();
        return link.ConfirmAsync("go home", cancellation);
    }

    /// <summary>Homing may take two minutes without a word: bytes that cannot be read are no reason to wait so long.</summary>
    [Fact(Timeout = Longest)]
    public async Task Answers_that_cannot_be_read_for_five_seconds_end_whatever_waits_for_them()
    {
        var port = new Port();
        var time = new SteppedTime(port);
        await using var link = await OpenAsync(port, time);
        var homing = Homing(link, TestContext.Current.CancellationToken);
        var took = await time.GoAsync(() => link.Now.Gate.State == TrustState.Stopped);
        Assert.InRange(took.TotalSeconds, 5, 6);
        Assert.Contains("cannot be read", Assert.IsType<MotionEnd.Stopped>(await homing).Why);
    }

    [Fact(Timeout = Longest)]
    public async Task An_answer_that_can_be_read_begins_the_five_seconds_anew()
    {
        var port = new Port();
        var time = new SteppedTime(port);
        await using var link = await OpenAsync(port, time);
        var homing = Homing(link, TestContext.Current.CancellationToken);
        var began = time.GetTimestamp();
        bool After(double seconds) => time.GetElapsedTime(began) > TimeSpan.FromSeconds(seconds);
        await time.GoAsync(() => After(4));
        port.Say("\necho:busy\n");
        await time.GoAsync(() => After(4.2));
        port.Say("\u00fe");
        await time.GoAsync(() => After(8));
        Assert.Equal(TrustState.Moving, link.Now.Gate.State);
        await time.GoAsync(() => link.Now.Gate.State == TrustState.Stopped);
        Assert.False(After(10));
        Assert.Contains("cannot be read", Assert.IsType<MotionEnd.Stopped>(await homing).Why);
    }

    /// <summary>A system that keeps the read waiting after the plug was pulled: the look at the device finds out.</summary>
    [Fact(Timeout = Longest)]
    public async Task A_device_that_is_gone_is_noticed_within_a_second_though_the_read_still_waits()
    {
        var port = new Port();
        var time = new SteppedTime(port);
        await using var link = await OpenAsync(port, time);
        port.Alive = false;
        var took = await time.GoAsync(() => link.Now.Gate.State == TrustState.Shut).WaitAsync(TestContext.Current.CancellationToken);
        Assert.Contains("device is gone", link.Now.Gate.Trouble);
        Assert.InRange(took.TotalSeconds, 0, 1);
    }
}
