using Commission.Core.Motion;
using Commission.Practice.Controller;
using Commission.Tests;

namespace Commission.Workshop.Tests.Controllers;

public class ControllerFaultTests
{
    public static TheoryData<string, ControllerFault> Faults()
    {
        var data = new TheoryData<string, ControllerFault>();
        foreach (var dialect in ShippedDialects.Names)
            foreach (var fault in Enum.GetValues<ControllerFault>())
                data.Add(dialect, fault);
        return data;
    }

    /// <summary>After each fault: no move without a new confirmation; and where the fault touched the move, no trust and a sentence.</summary>
    [Theory]
    [MemberData(nameof(Faults))]
    public async Task A_fault_in_mid_move_is_noticed_or_harmless_and_nothing_moves_after_it(string dialect, ControllerFault fault)
    {
        await using var bench = await LinkBench.HomedAsync(dialect, scale: 1);
        bench.Link.Ask(new MotionAct.Go([new(AxisName.Y, -15, 1800)], 1800)).Require();
        if (fault is ControllerFault.DoubledAcknowledgement or ControllerFault.MissingAcknowledgement or ControllerFault.Refusal)
            bench.Wire.Do(board => board.Inject(fault));
        var going = bench.Link.ConfirmAsync("go Y-15", TestContext.Current.CancellationToken);
        await bench.UntilAsync(now => now.Gate.State != TrustState.Moving || now.Gate.Underway is { Accepted: true } || going.IsCompleted);
        bench.Wire.Do(board => board.Inject(fault));
        var end = await going.WaitAsync(Patience.Longest, TestContext.Current.CancellationToken);

        var harmless = fault is ControllerFault.Noise or ControllerFault.HalfLine or ControllerFault.Flood;
        if (!harmless)
            Assert.NotEmpty(Assert.IsType<MotionEnd.Stopped>(end).Why);
        var gate = bench.Link.Now.Gate;
        if (end is MotionEnd.Stopped)
        {
            Assert.True(gate.State is TrustState.Stopped or TrustState.Shut, gate.State.ToString());
            Assert.False(gate.AcceptsReadings);
            Assert.NotNull(gate.Trouble);
            Assert.IsType<Outcome<Confirmation>.Bad>(bench.Link.Ask(new MotionAct.Go([new(AxisName.Y, 1, 60)], 60)));
        }
    }
}
