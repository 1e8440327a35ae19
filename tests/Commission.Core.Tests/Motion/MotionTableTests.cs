using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;

namespace Commission.Core.Tests.Motion;

public class MotionTableTests
{
    [Fact]
    public void Rows_stand_in_the_order_of_the_states_and_every_state_has_one() =>
        Assert.Equal(Enum.GetValues<TrustState>(), MotionTable.Rows.Select(row => row.State));

    [Fact]
    public void Reads_and_stop_are_permitted_everywhere() =>
        Assert.All(MotionTable.Rows, row => Assert.True(row.Permits.Contains(Permit.Read) && row.Permits.Contains(Permit.Stop)));

    public static TheoryData<TrustState> States => [.. Enum.GetValues<TrustState>()];

    /// <summary>Walks the table: in each state each act is asked for in its mildest form and is drawn only where the row permits it.</summary>
    [Theory]
    [MemberData(nameof(States))]
    public void The_gate_draws_a_box_only_where_the_row_permits_it(TrustState state)
    {
        MotionAct[] acts = [Bench.Go(AxisName.X, -2, 100), new MotionAct.Home(), new MotionAct.Unlock(), new MotionAct.SetReference(AxisName.X, 5)];
        foreach (var act in acts)
        {
            var bench = In(state);
            Assert.Equal(state, bench.Gate.State);
            bench.After(at => new GateEvent.Asked(at, act), 0);
            var drawn = bench.Effects.Any(effect => effect is GateEffect.Draw);
            if (drawn)
                Assert.True(MotionTable.Permits(state, act.Permit), $"{act.Token} in {state}");
            var machineHasSwitches = act is not MotionAct.SetReference && state != TrustState.Placed;
            if (MotionTable.Permits(state, act.Permit) && machineHasSwitches)
                Assert.True(drawn, $"{act.Token} in {state}: {bench.Refusal}");
        }
    }

    private static Bench In(TrustState state) => state switch
    {
        TrustState.Shut => new Bench(),
        TrustState.Locked => new Bench().After(at => new GateEvent.InStep(at)).After(at => new GateEvent.IdentityTold(at, true)).Locks("1"),
        TrustState.Unreferenced => new Bench().Connected(),
        TrustState.Homed => Inside(),
        TrustState.Moving => Inside().Confirms(Bench.Go(AxisName.X, -100)),
        TrustState.Stopped => Inside().After(at => new GateEvent.Greeted(at)).Rests(),
        _ => Placed(),
    };

    private static Bench Inside() => new Bench().Homed().Confirms(Bench.Go(AxisName.X, -50)).Taken().Rests(-51, -1, -1);

    private static Bench Placed()
    {
        var bench = new Bench(Bench.Facts with { Switched = [], HomeHigh = [] }).Connected();
        foreach (var axis in Enum.GetValues<AxisName>())
            bench.Confirms(new MotionAct.SetReference(axis, 50)).Rests();
        return bench;
    }
}
