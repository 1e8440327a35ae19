using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Plans;
using Commission.Core.Procedures;
using Commission.Core.Tests.Characteristics;
using Commission.Tests;

namespace Commission.Core.Tests.Procedures;

/// <summary>A dial on the + side of the moving part: what comes in from above goes on into it, and it must be able to give way.</summary>
public sealed class DialInTheWayTests
{
    private static Instrument Dial(double range) => new("dial", InstrumentKind.Indicator, 0.01, 0.01, range, "test");

    private static RunSetting Setting(Procedure procedure, Instrument? instrument, bool link = false) =>
        new() { Machine = Shipped.MachineFor(procedure), Axis = AxisName.X, Instrument = instrument, Link = link };

    public static TheoryData<string> WithPlaces { get; } = [.. Shipped.Procedures.Where(p => p.AllSteps.OfType<Step.Read>().Any(read => read.Grid is Grid.Places)).Select(p => p.Id)];

    [Theory]
    [MemberData(nameof(WithPlaces))]
    public void No_move_goes_further_into_the_dial_than_it_gives_way(string id)
    {
        var procedure = Shipped.Procedure(id);
        foreach (var (dial, link) in new (Instrument?, bool)[] { (null, false), (Dial(10), true), (Dial(1), false), (Dial(0.8), true) })
        {
            foreach (var read in procedure.AllSteps.OfType<Step.Read>().Where(read => read.Grid is Grid.Places))
            {
                var setting = Setting(procedure, dial, link);
                var cells = GridPlan.Cells(read, new Scope { Axis = AxisName.X }, setting.Machine, setting).Require();
                var way = DialWay.Of(dial);
                Assert.All(cells, cell => Assert.All(cell.GoTo, to => Assert.True(to.Mm - cell.GoTo[^1].Mm <= way.BeyondMm + 0.005)));
                Assert.All(cells.Where(cell => cell.Approach == Approach.Decreasing), cell => Assert.Equal(way.BeyondMm, cell.GoTo[0].Mm - cell.GoTo[^1].Mm, 0.005));
            }
        }
    }

    [Fact]
    public void A_plan_that_was_made_for_a_longer_dial_turns_round_within_the_way_of_the_one_at_hand()
    {
        var procedure = Shipped.Procedure("backlash");
        var read = procedure.AllSteps.OfType<Step.Read>().Single();
        var machine = Shipped.MachineFor(procedure);
        ImmutableArray<PlanCell> kept = [PlanPoints.OnAxis(AxisName.X, "X 200 mm", "place_mm", 200, increasing: false, at => at)];

        var cell = GridPlan.Cells(read, new Scope { Axis = AxisName.X }, machine, Setting(procedure, Dial(1)) with { Plan = kept }).Require().Single();

        Assert.Equal(200.4, cell.GoTo[0].Mm, 0.005);
    }

    [Fact]
    public void A_plan_for_lost_motion_turns_round_within_the_way_of_its_dial()
    {
        var machine = Shipped.MachineFor(Shipped.Procedure("backlash"));
        var answer = Planner.For(new PlanQuestion { Kind = "backlash", Machine = machine, Axis = AxisName.X, Instrument = Dial(1) }).Require();

        Assert.All(answer.Rows.Where(cell => cell.Approach == Approach.Decreasing), cell => Assert.Equal(0.4, cell.GoTo[0].Mm - cell.GoTo[1].Mm, 0.005));
    }

    [Theory]
    [InlineData(10.0, "Pressed in by 0.5 to 1 mm; gives way by 2 mm more.", "or 1.5 mm above, no more")]
    [InlineData(1.0, "Pressed in by 0.3 mm; gives way by 0.55 mm more.", "or 0.4 mm above, no more")]
    public void The_set_up_names_press_and_way_of_the_dial_at_hand(double range, string press, string beyond)
    {
        var procedure = Shipped.Procedure("backlash");
        var run = ProcedureRun.Start(procedure, Setting(procedure, Dial(range))).Require().After(new RunEvent.HazardsRead());

        var told = Assert.IsType<Need.Instruct>(run.Needs).Text;
        Assert.Contains(press, told, StringComparison.Ordinal);
        Assert.Contains(beyond, told, StringComparison.Ordinal);
    }

    [Fact]
    public void A_lost_motion_that_fills_the_way_the_axis_turned_beyond_is_not_believed_to_be_all_of_it()
    {
        const string csv = "place_mm,direction,reading_mm\n10,+,-.20\n10,-,.20\n10,+,-.19\n10,-,.20\n10,+,-.20\n10,-,.19\n";
        Advice Advised(double way) => Fit.Of("backlash", csv, Fit.With(0.1, null, (Backlash.TurnsBeyond, way))).Advice;

        Assert.Equal(AdviceAction.MeasureMore, Advised(0.4).Action);
        Assert.Contains("may be more", Advised(0.4).Because, StringComparison.Ordinal);
        Assert.Equal(AdviceAction.Change, Advised(1.5).Action);
    }

    [Theory]
    [InlineData("homing")]
    [InlineData("home-offset")]
    public void A_dial_that_homing_runs_into_must_have_the_way(string id)
    {
        var need = Shipped.Procedure(id).Instruments[0];

        Assert.False(need.IsServedBy(Dial(1)));
        Assert.True(need.IsServedBy(Dial(10)));
    }

    [Fact]
    public void The_dial_is_taken_away_before_each_new_place_and_not_between_the_readings_of_one()
    {
        var procedure = Shipped.Procedure("backlash");
        var run = ProcedureRun.Start(procedure, Setting(procedure, Dial(10))).Require().After(new RunEvent.HazardsRead());
        while (run.Needs is not Need.TakeReading) run = run.After(run.Needs is Need.Number ? new RunEvent.NumberGiven("0", 0) : new RunEvent.Confirmed());
        var told = new List<int>();
        for (var i = 1; run.Needs is Need.TakeReading need; i++)
        {
            if (need.First.StartsWith("Indicator away first.", StringComparison.Ordinal) && need.Text.StartsWith(need.First, StringComparison.Ordinal)) told.Add(i);
            run = run.After(new RunEvent.ReadingTaken(i, "0.1", 0.1));
        }

        Assert.Equal([1, 11, 21], told);
    }
}
