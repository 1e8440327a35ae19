using Commission.Core.Motion;
using Commission.Practice.Controller;
using Commission.Workshop.Controllers;

namespace Commission.Workshop.Tests.Controllers;

/// <summary>What was confirmed and had not left when something happened stays here, whichever thread was first.</summary>
public class VoidConfirmationTests
{
    /// <summary>A clock that does something once when it is next looked at on the thread that armed it: there the link holds its turn.</summary>
    private sealed class Interrupting : TimeProvider
    {
        private (int Thread, Action What)? armed;

        public void Arm(Action what) => armed = (Environment.CurrentManagedThreadId, what);

        public override long GetTimestamp()
        {
            if (armed is { } one && one.Thread == Environment.CurrentManagedThreadId)
            {
                armed = null;
                one.What();
            }

            return base.GetTimestamp();
        }
    }

    /// <summary>STOP goes to the writer before it has its turn at the gate; a letter given in between confirms in a gate that knows nothing of it.</summary>
    [Theory]
    [InlineData("numbered-settings", "$J")]
    [InlineData("letter-words", "G1")]
    public async Task A_move_confirmed_between_a_stop_and_its_turn_never_leaves(string dialect, string motion)
    {
        var time = new Interrupting();
        await using var bench = await LinkBench.HomedAsync(dialect, time: time);
        using var taken = new ManualResetEventSlim();
        bench.Board.StopTaken += taken.Set;
        bench.Link.Ask(new MotionAct.Go([new(AxisName.X, -20, 600)], 600)).Require();
        var before = bench.Board.Taken.Count(line => line.StartsWith(motion, StringComparison.Ordinal));
        Thread? stopping = null;
        time.Arm(() =>
        {
            stopping = new Thread(() => bench.Link.Stop("pressed"));
            stopping.Start();
            Assert.True(taken.Wait(TimeSpan.FromSeconds(20)), "STOP did not leave while the gate was busy");
        });
        var end = await bench.Link.ConfirmAsync("go X-20", TestContext.Current.CancellationToken);
        Assert.IsType<MotionEnd.Stopped>(end);
        stopping!.Join();
        // What was queued before this is carried out before it.
        await bench.Link.SettingsAsync(TestContext.Current.CancellationToken);
        Assert.Equal(before, bench.Board.Taken.Count(line => line.StartsWith(motion, StringComparison.Ordinal)));
        Assert.False(bench.Board.Body.Moving);
    }

    /// <summary>The unlocking waits behind a line that is not answered; then the controller restarts. Nothing of it leaves afterwards.</summary>
    [Fact]
    public async Task An_unlocking_that_waits_for_its_turn_is_void_once_something_happened()
    {
        await using var bench = await LinkBench.OpenAsync("numbered-settings");
        await bench.UntilAsync(now => now.Gate.State is TrustState.Locked);
        bench.Board.Inject(ControllerFault.MissingAcknowledgement);
        var listing = bench.Link.SettingsAsync(TestContext.Current.CancellationToken);
        await bench.UntilAsync(_ => bench.Board.Taken.Contains("$$"));
        var unlocking = bench.GoAsync(new MotionAct.Unlock());
        bench.Wire.Do(board => board.Inject(ControllerFault.Restart));
        Assert.IsType<MotionEnd.Stopped>(await unlocking);
        await listing;
        // What was queued before this is carried out before it.
        await bench.Link.SettingsAsync(TestContext.Current.CancellationToken);
        Assert.DoesNotContain("$X", bench.Board.Taken);
    }
}
