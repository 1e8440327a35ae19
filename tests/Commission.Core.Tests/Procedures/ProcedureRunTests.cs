using Commission.Core.Procedures;

namespace Commission.Core.Tests.Procedures;

public sealed class ProcedureRunTests
{
    private static Machine Heron { get; } = new()
    {
        Name = "Heron",
        TravelMm = [420, 580, 90],
        X = new AxisDescription { Drive = DriveKind.Screw, TravelPerTurnMm = 5, StepsPerMm = 320 },
    };

    private static ProcedureRun Fresh() =>
        ProcedureRun.Start(Shipped.Procedure("axis-scale"), new RunSetting { Machine = Heron, Axis = AxisName.X }).Require();

    [Fact]
    public void Hazards_come_before_the_first_step_and_nothing_else_passes_them()
    {
        var run = Fresh();
        Assert.IsType<Need.HazardsFirst>(run.Needs);
        var after = run.After(new RunEvent.Confirmed());
        Assert.IsType<Need.HazardsFirst>(after.Needs);
        Assert.NotNull(after.Note);
        Assert.IsType<Need.Instruct>(run.After(new RunEvent.HazardsRead()).Needs);
    }

    [Fact]
    public void The_first_reading_says_where_to_go_and_does_not_say_what_is_expected()
    {
        var need = Assert.IsType<Need.TakeReading>(AtReadings().Needs);
        Assert.Equal(0, need.Index);
        Assert.Equal(10, need.Of);
        Assert.Equal(2, need.Moves.Length);
        Assert.Contains("coming from below", need.Moves[1].Words, StringComparison.Ordinal);
    }

    [Fact]
    public void With_a_link_every_move_has_its_own_box_before_the_reading()
    {
        var run = AtReadings(link: true);
        var first = Assert.IsType<Need.Motion>(run.Needs);
        Assert.Single(first.Moves);
        run = run.After(new RunEvent.Moved());
        Assert.IsType<Need.Motion>(run.Needs);
        run = run.After(new RunEvent.Moved());
        Assert.IsType<Need.TakeReading>(run.Needs);
    }

    [Fact]
    public void A_reading_read_again_asks_for_the_same_cell_and_keeps_the_old_one()
    {
        var run = AtReadings().After(new RunEvent.ReadingTaken(1, "8.49", 8.49)).After(new RunEvent.ReadingTaken(2, "146.45", 146.45));
        run = run.After(new RunEvent.ReadAgain(2));
        var need = Assert.IsType<Need.TakeReading>(run.Needs);
        Assert.Equal(1, need.Index);
        Assert.True(need.Again);
        Assert.Equal(2, run.Readings.Length);
        Assert.NotNull(run.Readings[1].Superseded);
    }

    [Fact]
    public void A_question_about_the_last_reading_can_still_lead_back_to_it()
    {
        var run = AtReadings();
        for (var i = 1; i <= 10; i++) run = run.After(new RunEvent.ReadingTaken(i, "1", i));
        Assert.IsType<Need.Confirm>(run.Needs);
        run = run.After(new RunEvent.SlipFound(10, "looks swapped", null));
        Assert.IsType<Need.SlipQuestion>(run.Needs);
        run = run.After(new RunEvent.SlipAnswered(SlipAnswer.ReadAgain, null));
        Assert.Equal(9, Assert.IsType<Need.TakeReading>(run.Needs).Index);
    }

    [Fact]
    public void The_table_of_an_evaluation_holds_what_stands_with_what_was_left_out()
    {
        var run = AtReadings();
        for (var i = 1; i <= 10; i++) run = run.After(new RunEvent.ReadingTaken(i, "1", i));
        run = run.After(new RunEvent.LeftOut(3, "dropped it")).After(new RunEvent.Confirmed());
        var need = Assert.IsType<Need.Evaluate>(run.Needs);
        Assert.Equal("axis-scale", need.Kind);
        Assert.Equal(10, need.Readings.Rows.Length);
        Assert.Equal(9, need.Readings.Used.Count());
        Assert.Equal(AxisName.X, need.Options.Axis);
        Assert.Equal(5, need.Options.TravelPerTurnMm);
        Assert.All(need.Readings.Rows, row => Assert.True(row.Numbers.ContainsKey("commanded_mm")));
    }

    [Fact]
    public void An_angle_of_Z_goes_into_its_evaluation_with_its_plane()
    {
        var run = ProcedureRun.Start(Shipped.Procedure("z-square"), new RunSetting { Machine = Heron, Link = false }).Require().After(new RunEvent.HazardsRead());
        for (var i = 1; i < 100 && run.Needs is not Need.Evaluate; i++)
            run = run.After(run.Needs is Need.TakeReading ? new RunEvent.ReadingTaken(i, "1", 1) : new RunEvent.Confirmed());
        Assert.Equal("XZ", SquarePlane.Upright(Assert.IsType<Need.Evaluate>(run.Needs).Options));
    }

    private static ProcedureRun AtReadings(bool link = false)
    {
        var run = ProcedureRun.Start(Shipped.Procedure("axis-scale"), new RunSetting { Machine = Heron, Axis = AxisName.X, Link = link }).Require();
        run = run.After(new RunEvent.HazardsRead());
        while (run.Needs is Need.Instruct or Need.Confirm) run = run.After(new RunEvent.Confirmed());
        return run;
    }
}
