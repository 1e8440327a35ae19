using Commission.Core.Procedures;

namespace Commission.Core.Tests.Procedures;

/// <summary>How fast the cutter turns is asked for wherever lines are cut: in turns a minute, or as the number of a router's dial.</summary>
public sealed class CuttingSpeedTests
{
    private static readonly string[] Cutting = ["drill-plate", "cut-coupon", "surface-board", "insert-grid"];

    public static TheoryData<string> Ids => [.. Shipped.Procedures.Where(procedure => procedure.AllSteps.OfType<Step.Instruct>().Any(step => Cutting.Contains(step.Data?.Kind))).Select(procedure => procedure.Id)];

    [Fact]
    public void Every_procedure_that_cuts_is_tried() => Assert.Equal(["insert-grid", "plate", "surfacing", "test-cut"], Ids.Select(row => row.Data).Order(StringComparer.Ordinal));

    [Theory]
    [MemberData(nameof(Ids))]
    public void Before_the_lines_a_spindle_is_asked_for_its_turns_and_a_router_for_its_dial_with_what_it_stands_for(string id)
    {
        var procedure = Shipped.Procedure(id);
        string[] Asked(SpindleKind kind)
        {
            var machine = Shipped.MachineFor(procedure) with { Spindle = kind };
            return [.. procedure.AllSteps.TakeWhile(step => step is not Step.Instruct { Data: not null }).OfType<Step.Check>()
                .Where(check => check.Id is "spindle-turns" or "router-dial" && Conditions.Hold(check.When, machine, null, new RunSetting { Machine = machine })).Select(check => check.Id)];
        }

        Assert.Equal(["spindle-turns"], Asked(SpindleKind.Spindle));
        Assert.Equal(["spindle-turns"], Asked(SpindleKind.Unknown));
        Assert.Equal(["router-dial"], Asked(SpindleKind.RouterWithDial));
        Assert.Empty(Asked(SpindleKind.None));
        var dial = procedure.AllSteps.OfType<Step.Check>().Single(check => check.Id == "router-dial");
        Assert.IsType<CheckAnswer.Line>(dial.Answer);
        Assert.Contains("such as 1.5 is 11000 a minute; where there is no such table type the number alone", dial.Ask, StringComparison.Ordinal);
    }
}
