using Commission.Core.Procedures;

namespace Commission.Core.Tests.Procedures;

/// <summary>A closure is asked for as the dial shows it; the difference from the first reading is made here, and what that was is not shown before.</summary>
public sealed class NearFirstTests
{
    private static ProcedureRun AtClosure()
    {
        var procedure = Shipped.Procedure("tram");
        var run = ProcedureRun.Start(procedure, new RunSetting { Machine = Shipped.MachineFor(procedure) }).Require().After(new RunEvent.HazardsRead());
        for (var i = 1; i < 100 && run.Current?.Name != "closure"; i++)
        {
            run = run.After(run.Needs switch
            {
                Need.TakeReading => new RunEvent.ReadingTaken(i, i == 1 ? "0.05" : "0.07", 0.05),
                Need.Number => new RunEvent.NumberGiven("100", 100),
                _ => new RunEvent.Confirmed(),
            });
        }

        return run;
    }

    [Fact]
    public void What_the_dial_shows_is_asked_for_and_no_difference()
    {
        var need = Assert.IsType<Need.Number>(AtClosure().Needs);

        Assert.Contains("What does the dial show now", need.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("0.05", need.Text + need.Check!.Limit, StringComparison.Ordinal);
        Assert.Equal("within 0.02 mm of the first reading", need.Check.Limit);
    }

    [Theory]
    [InlineData(0.05)]
    [InlineData(0.07)]
    [InlineData(0.03)]
    public void The_very_first_reading_and_what_lies_near_it_closes(double shown) =>
        Assert.IsNotType<Need.CheckOut>(AtClosure().After(new RunEvent.NumberGiven("x", shown)).Needs);

    [Theory]
    [InlineData(0.01)]
    [InlineData(-0.05)]
    [InlineData(0.09)]
    public void What_lies_farther_is_out_and_then_the_first_reading_is_told(double shown)
    {
        var run = AtClosure().After(new RunEvent.NumberGiven("x", shown));

        var needs = Assert.IsType<Need.CheckOut>(run.Needs);
        Assert.Equal("The first reading is 0.05 mm.", needs.Against);
        Assert.Null(SignWatch.About(AtClosure(), -0.05));
    }

    [Fact]
    public void No_procedure_asks_for_a_difference_that_the_program_can_make() =>
        Assert.DoesNotContain(Shipped.Procedures.SelectMany(p => p.AllSteps).OfType<Step.Check>(), check => check.Ask.Contains("without sign", StringComparison.Ordinal));
}
