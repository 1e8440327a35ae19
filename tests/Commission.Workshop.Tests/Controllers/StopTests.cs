using System.Text;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Practice.Controller;
using Commission.Tests;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;
using Xunit;

namespace Commission.Workshop.Tests.Controllers;

public class StopTests
{
    /// <summary>A port whose buffer is full: a write stays until it is cancelled.</summary>
    private sealed class FullPort : ITransport
    {
        public readonly TaskCompletionSource Stuck = new(TaskCreationOptions.RunContinuationsAsynchronously);
        public readonly TaskCompletionSource<string> After = new(TaskCreationOptions.RunContinuationsAsynchronously);

        public string? Remark => null;
        public bool Alive => true;
        public async ValueTask<int> ReadAsync(Memory<byte> into, CancellationToken cancellation)
        {
            await Task.Delay(Timeout.Infinite, cancellation);
            return 0;
        }

        public async ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellation)
        {
            if (Stuck.TrySetResult())
                await Task.Delay(Timeout.Infinite, cancellation);
            else
                After.TrySetResult(Encoding.Latin1.GetString(bytes.Span));
        }

        public ValueTask DisposeAsync() => ValueTask.CompletedTask;
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
        Assert.Equal((Fate.Dropped, Fate.Dropped), (await hanging, await waiting));
        Assert.Equal(Fate.Dropped, await writer.SendAsync("G1 X1 F100\n", TimeSpan.MaxValue, epoch));
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
