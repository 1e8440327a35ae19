using System.Collections.Immutable;
using Commission.Core.Instruments;
using Commission.Core.Plans;
using Commission.Tests;

namespace Commission.Core.Tests.Plans;

public class ScaleProspectTests
{
    private static PlanQuestion Question(int? grade, double? lostMotion = null) => new()
    {
        Kind = "axis-scale", Axis = AxisName.X, Instrument = Invented.Caliper, Hand = new HandStudy("M", "caliper 150", 0.016, 14), Limit = 500e-6, LostMotionMm = lostMotion,
        Machine = new Machine { Name = "Heron", TravelMm = [420, 580, 90], X = new AxisDescription { Drive = DriveKind.Screw, TravelPerTurnMm = 5, StepsPerMm = 320, Grade = grade } },
    };

    private static ImmutableArray<PlanFate> Fates(PlanQuestion question) => Planner.Prospect(question, Planner.For(question).Require())!.Fates;

    // The interaction design, S18: 40 000 draws of metrology.md 2.9 for a screw of grade 7, this caliper, this hand.
    [Fact]
    public void After_one_move_three_in_four_axes_of_grade_7_are_worse_as_the_simulation_found()
    {
        var fates = Fates(Question(7, lostMotion: 0.042));
        Assert.Contains(fates, fate => fate.Done == "same, lost motion 0.042 mm forgotten");
        Assert.Equal(100e-6, fates[0].TypicalError, 2e-6);
        Assert.Null(fates[0].Worse);
        Assert.Equal((0.77, 285e-6), (fates[1].Worse!.Value, fates[1].TypicalError), Near);
        Assert.Equal((0.84, 411e-6), (fates[2].Worse!.Value, fates[2].TypicalError), Near);
    }

    // The rule of decision leaves a screw of known grade alone until two results agree (the design, section 4).
    [Fact]
    public void A_plan_with_its_rule_makes_no_graded_screw_worse()
    {
        var last = Fates(Question(7))[^1];
        Assert.Equal((0, 100e-6), (last.Worse!.Value, last.TypicalError), Near);
    }

    // At most 5 % by the rule of the posterior mean, counted over all axes, changed or not.
    [Fact]
    public void A_plan_with_its_rule_makes_few_screws_without_papers_worse_and_leaves_them_better()
    {
        var fates = Fates(Question(null));
        Assert.InRange(fates[^1].Worse!.Value, 0.001, 0.05);
        Assert.True(fates[^1].TypicalError < fates[0].TypicalError);
    }

    [Fact]
    public void A_kind_whose_result_sets_nothing_has_no_prospect()
    {
        var question = Question(7) with { Kind = "backlash", Instrument = null, Hand = null };
        Assert.Null(Planner.Prospect(question, Planner.For(question).Require()));
    }

    [Fact]
    public void What_given_readings_would_tell_is_what_the_plan_told_of_them()
    {
        var question = Question(7);
        var way = Planner.For(question).Require().Way;
        var told = Planner.Foretold(question, way.Cells)!;
        Assert.Equal(way.Expanded!.Value, told.Expanded!.Value, 1e-12);
        Assert.Equal(1, told.Budget.Sum(line => line.Share), 1e-12);
        Assert.Null(Planner.Foretold(question, []));
    }

    [Fact]
    public void The_cells_of_a_plan_come_back_from_their_text_with_every_digit()
    {
        foreach (var kind in (string[])["axis-scale", "backlash"])
        {
            var question = Question(7) with { Kind = kind, Instrument = null, Hand = null };
            var cells = Planner.For(question).Require().Way.Cells;
            var back = PlanCellText.Read(PlanCellText.Write(cells)).Require();
            Assert.Equal(cells.Length, back.Length);
            foreach (var (one, other) in cells.Zip(back))
            {
                Assert.Equal((one.Place, one.Approach), (other.Place, other.Approach));
                Assert.Equal(one.GoTo, other.GoTo);
                Assert.Equal(one.Given, other.Given);
                Assert.Equal(one.Words, other.Words);
            }
        }
    }

    [Theory]
    [InlineData("")]
    [InlineData("near|+|X134")]
    [InlineData("near|*|X134|commanded_mm=139|direction=+")]
    [InlineData("near|+|W134|commanded_mm=139|direction=+")]
    [InlineData("near|+|X134|commanded_mm=NaN|direction=+")]
    public void A_text_that_is_no_plan_is_a_problem(string text) => Assert.IsType<Outcome<ImmutableArray<PlanCell>>.Bad>(PlanCellText.Read(text));

    private static bool Near((double Share, double Size) expected, (double Share, double Size) found) =>
        Math.Abs(expected.Share - found.Share) < 0.012 && Math.Abs(expected.Size - found.Size) < 4e-6;
}
