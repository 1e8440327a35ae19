using System.Text;
using Commission.Core.Motion;
using Commission.Practice.Controller;
using Commission.Tests;
using Commission.Workshop.Controllers;

namespace Commission.Workshop.Tests.Controllers;

public class StopTests
{
    /// <summary>A port that says nothing.</summary>
    private abstract class SilentPort : ITransport
    {
        public string? Remark => null;
        public bool Alive => true;
        public async ValueTask<int> ReadAsync(Memory<byte> into, CancellationToken cancellation)
        {
            await Task.Delay(Timeout.Infinite, cancellation);
            return 0;
        }

        public abstract ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellation);

        public virtual void Discard()
        {
        }

        public ValueTask DisposeAsync() => ValueTask.CompletedTask;
    }

    /// <summary>A port whose buffer is full: a write stays until it is cancelled.</summary>
    private sealed class FullPort : SilentPort
    {
        public readonly TaskCompletionSource Stuck = new(TaskCreationOptions.RunContinuationsAsynchronously);
        public readonly TaskCompletionSource<string> After = new(TaskCreationOptions.RunContinuationsAsynchronously);

        public override async ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellation)
        {
            if (Stuck.TrySetResult())
                await Task.Delay(Timeout.Infinite, cancellation);
            else
                After.TrySetResult(Encoding.Latin1.GetString(bytes.Span));
        }
    }

    [Theory]
    [InlineData("numbered-settings", "\u0018\u0018")]
    [InlineData("letter-words", "*999\nM112\nM112\n")]
    public async Task Stop_ends_a_write_that_hangs_throws_away_what_waits_and_goes_out_twice(string dialect, string bytes)
    {
        var port = new FullPort();
        using var writer = new LinkWriter(port, ShippedDialects.Find(dialect)!.Stop, () => TimeSpan.Zero, _ => { });
        var hanging = writer.SendAsync("G1 X1 F100\n", TimeSpan.MaxValue, writer.Epoch);
        var waiting = writer.SendAsync("G90\n", TimeSpan.MaxValue, writer.Epoch);
        await port.Stuck.Task;
        var epoch = writer.Epoch;
        writer.Stop();
        Assert.Equal(bytes, await port.After.Task.WaitAsync(Patience.Longest, TestContext.Current.CancellationToken));
        Assert.Equal((Fate.Broken, Fate.Dropped), (await hanging, await waiting));
        Assert.Equal(Fate.Dropped, await writer.SendAsync("G1 X1 F100\n", TimeSpan.MaxValue, epoch));
    }

    /// <summary>A port that keeps what was written, and does at each write or discard what it was told to.</summary>
    private sealed class ToldPort : SilentPort
    {
        public readonly StringBuilder Written = new();
        public Action Discarding { get; init; } = () => { };
        public Action Writing { get; init; } = () => { };

        public override ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellation)
        {
            Writing();
            lock (Written)
                Written.Append(Encoding.Latin1.GetString(bytes.Span));
            return ValueTask.CompletedTask;
        }

        public override void Discard() => Discarding();
    }

    private static readonly TimeSpan Long = TimeSpan.FromSeconds(10);

    private static LinkWriter Writer(ToldPort port, Action<Exception>? failed = null) =>
        new(port, ShippedDialects.Find("numbered-settings")!.Stop, () => TimeSpan.Zero, failed ?? (_ => { }));

    [Fact]
    public void Stop_goes_out_though_the_port_refuses_to_throw_away_what_waits()
    {
        var port = new ToldPort { Discarding = () => throw new IOException("not now") };
        using var writer = Writer(port);
        writer.Stop();
        Assert.True(writer.WaitStopLeft(Long));
        Assert.Equal("\u0018\u0018", port.Written.ToString());
    }

    [Fact]
    public void Stop_after_the_end_of_the_link_throws_nothing_and_says_that_nothing_left()
    {
        var port = new ToldPort();
        var writer = Writer(port);
        writer.Dispose();
        writer.Stop();
        Assert.False(writer.WaitStopLeft(Long));
        Assert.Equal(0, port.Written.Length);
    }

    [Fact]
    public void A_stop_that_the_port_refuses_does_not_count_as_out()
    {
        var failures = new List<Exception>();
        using var writer = Writer(new ToldPort { Writing = () => throw new IOException("gone") }, failures.Add);
        writer.Stop();
        Assert.False(writer.WaitStopLeft(Long));
        Assert.Single(failures);
    }

    /// <summary>The second STOP is asked for while the first is written: the first being out does not answer for the second.</summary>
    [Fact]
    public void A_second_stop_is_waited_for_though_the_first_has_left()
    {
        using var first = new ManualResetEventSlim();
        using var second = new ManualResetEventSlim();
        using var held = new ManualResetEventSlim();
        var writes = 0;
        var port = new ToldPort
        {
            Writing = () =>
            {
                if (++writes == 1)
                {
                    first.Set();
                    second.Wait(Long);
                }
                else
                {
                    held.Wait(Long);
                }
            },
        };
        using var writer = Writer(port);
        writer.Stop();
        first.Wait(Long, TestContext.Current.CancellationToken);
        writer.Stop();
        second.Set();
        Assert.False(writer.WaitStopLeft(TimeSpan.FromMilliseconds(50)));
        held.Set();
        Assert.True(writer.WaitStopLeft(Long));
        Assert.Equal("\u0018\u0018\u0018\u0018", port.Written.ToString());
    }

    [Fact]
    public async Task A_line_whose_time_is_over_is_void_and_none_of_it_leaves()
    {
        var board = new MemoryStream();
        using var writer = new LinkWriter(new StreamTransport(board), ShippedDialects.Find("letter-words")!.Stop, () => TimeSpan.FromSeconds(2), _ => { });
        Assert.Equal(Fate.Voided, await writer.SendAsync("G91\n", TimeSpan.FromSeconds(1), writer.Epoch));
        Assert.Equal(0, board.Length);
    }

    [Fact]
    public async Task The_end_of_the_program_sends_stop_first_if_a_move_is_under_way()
    {
        await using var bench = await LinkBench.HomedAsync("numbered-settings", scale: 1);
        using var exit = new StopOnExit(() => bench.Link);
        Assert.False(exit.StopIfMoving("the program was told to end"));
        var going = bench.GoAsync(new MotionAct.Go([new(AxisName.Y, -200, 2400)], 2400));
        await bench.UntilAsync(now => now.Gate.Underway is { Accepted: true });
        Assert.True(exit.StopIfMoving("the program was told to end"));
        Assert.IsType<MotionEnd.Stopped>(await going);
        await bench.UntilAsync(_ => !bench.Board.Body.Moving);
    }

    [Fact]
    public async Task Closing_the_link_in_mid_move_stops_the_machine()
    {
        var bench = await LinkBench.HomedAsync("numbered-settings", scale: 1);
        var going = bench.GoAsync(new MotionAct.Go([new(AxisName.Y, -200, 2400)], 2400));
        await bench.UntilAsync(now => now.Gate.Underway is { Accepted: true });
        await bench.DisposeAsync();
        Assert.IsType<MotionEnd.Stopped>(await going);
        Assert.False(bench.Board.Body.Moving);
    }
}
