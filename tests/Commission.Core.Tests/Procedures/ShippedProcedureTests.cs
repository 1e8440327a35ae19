using Commission.Core.Procedures;
using Commission.Tests;

namespace Commission.Core.Tests.Procedures;

public sealed class ShippedProcedureTests
{
    public static TheoryData<string> Ids => [.. ShippedProcedures.Ids];

    [Theory]
    [MemberData(nameof(Ids))]
    public void Every_shipped_procedure_reads_and_checks_without_a_problem(string id)
    {
        var file = Repository.At("procedures", id + ".yaml");
        var procedure = ProcedureReader.Read(id + ".yaml", File.ReadAllText(file)).Require();
        Assert.Equal(id, procedure.Id);
        Assert.Contains(id, Shipped.ContractIds.Concat(Shipped.OtherIds));
        var problems = ProcedureChecker.Check(procedure, Shipped.Surroundings);
        Assert.True(problems.IsEmpty, string.Join("\n", problems));
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void Every_shipped_procedure_starts_on_a_machine_it_is_for_and_asks_hazards_first(string id)
    {
        var machine = Shipped.MachineFor(Shipped.Procedure(id));
        var run = ProcedureRun.Start(Shipped.Procedure(id), new RunSetting { Machine = machine, Axis = AxisName.X }).Require();
        Assert.IsType<Need.HazardsFirst>(run.Needs);
    }

    // Found in use: a card has room for four in the smallest window, and the fifth and sixth of the first power-up stood nowhere on it.
    [Theory]
    [MemberData(nameof(Ids))]
    public void No_shipped_procedure_has_more_hazards_than_a_card_shows_at_a_time(string id) => Assert.InRange(Shipped.Procedure(id).Hazards.Length, 1, 4);

    // The same number means the same check in whatever list it stands.
    [Fact]
    public void The_list_of_first_moves_asks_word_for_word_what_the_first_power_up_asks()
    {
        var whole = Shipped.Procedure("first-power-up").AllSteps.OfType<Step.Check>().ToDictionary(check => check.Name);
        Assert.All(Shipped.Procedure("first-moves").AllSteps.OfType<Step.Check>(), check => Assert.Equal((whole[check.Name].Ask, whole[check.Name].IfOut), (check.Ask, check.IfOut)));
    }

    [Fact]
    public void Every_id_of_the_contract_is_shipped() =>
        Assert.Equal(Shipped.ContractIds.Concat(Shipped.OtherIds).Order(StringComparer.Ordinal), Shipped.Procedures.Select(procedure => procedure.Id).Order(StringComparer.Ordinal));

    [Theory]
    [MemberData(nameof(Ids))]
    public void Every_shipped_procedure_tells_all_that_a_card_has(string id)
    {
        var procedure = Shipped.Procedure(id);
        Assert.All(procedure.Evaluation.Concat(procedure.Abort).Concat(procedure.GoodData).Concat(procedure.Slips), text => Assert.True(text.Length > 12, text));
        Assert.All(procedure.Instruments, instrument => Assert.True(instrument.OrElse.Length > 12, instrument.OrElse));
        Assert.All(procedure.AllSteps.OfType<Step.Check>(), check => Assert.True(check.IfOut.Length > 8, check.Ask));

        // What moves by command is stopped by hardware alone, and the card says so before its first step.
        if (procedure.Hazards.Any(hazard => hazard.What.Contains("move", StringComparison.Ordinal)))
            Assert.Contains(procedure.Hazards, hazard => hazard.Do.Contains("emergency stop", StringComparison.Ordinal));
    }

    [Fact]
    public void Power_up_checks_come_in_the_order_of_execution_with_the_stop_before_any_motion()
    {
        // Common practice, no source: dead, supply alone, stop, dead, drivers. P30 stands before P24: the head must not fall at the first motion. P05a asks where the emergency stop hangs.
        var ids = Shipped.Procedure("first-power-up").AllSteps.OfType<Step.Check>().Select(check => check.Id).Where(id => id.StartsWith('P')).Distinct().ToArray();
        Assert.Equal(
            ["P01", "P02", "P03", "P04", "P09", "P10", "P12", "P05a", "P05", "P06", "P07", "P08", "P13", "P14", "P15", "P16", "P17", "P18", "P19", "P33", "P20", "P21", "P22", "P23", "P30", "P24", "P25", "P26", "P27", "P28", "P29", "P11", "P31", "P32"],
            ids);
    }

    [Fact]
    public void Readiness_holds_just_the_checks_that_open_the_gate()
    {
        var ids = Shipped.Procedure("readiness").AllSteps.OfType<Step.Check>().Select(check => check.Id).Order(StringComparer.Ordinal).ToArray();
        Assert.Equal(["P05", "P05a", "P06", "P07", "P08", "P22", "P30"], ids);
    }

    [Fact]
    public void A_check_that_is_out_opens_nothing_after_it_until_it_is_made_again()
    {
        var run = ProcedureRun.Start(Shipped.Procedure("first-power-up"), new RunSetting { Machine = new Machine { Name = "Heron", TravelMm = [420, 580, 90] } }).Require()
            .After(new RunEvent.HazardsRead()).After(new RunEvent.Confirmed()).After(new RunEvent.Chosen("yes"));
        var before = run.Position;
        run = run.After(new RunEvent.NumberGiven("3", 3));
        var need = Assert.IsType<Need.CheckOut>(run.Needs);
        Assert.Equal("P02", need.Check.Id);
        Assert.Equal(before, run.After(new RunEvent.NumberGiven("0.05", 0.05)).Position);
        run = run.After(new RunEvent.CheckRepeated()).After(new RunEvent.NumberGiven("0.05", 0.05));
        Assert.Equal(before + 1, run.Position);
    }
}
