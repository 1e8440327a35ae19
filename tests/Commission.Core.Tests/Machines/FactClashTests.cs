namespace Commission.Core.Tests.Machines;

public sealed class FactClashTests
{
    private static Machine Heron { get; } = new()
    {
        Name = "Heron", TravelMm = [420, 580, 90],
        X = new AxisDescription { Drive = DriveKind.Screw, TravelPerTurnMm = 5, StepAngleDeg = 1.8, Microsteps = 8, StepsPerMm = 320, Grade = 7, Motors = 1 },
    };

    [Fact]
    public void What_fits_together_has_no_contradiction_and_a_corrected_ratio_is_none() // 200 full steps x 8 / 5 mm = 320 steps per mm
    {
        Assert.Empty(FactClash.Among(Heron));
        Assert.Empty(FactClash.Among(Heron with { X = Heron.X with { StepsPerMm = 319.606 } }));
        Assert.Empty(FactClash.Among(Heron with { X = Heron.X with { StepAngleDeg = 0.9, Microsteps = 4 } }));
        Assert.Empty(FactClash.Among(new Machine { Name = "Tern", TravelMm = [1, 1, 1] }));
    }

    [Fact]
    public void A_ratio_that_the_plates_speak_against_is_named_with_the_one_they_make()
    {
        var clash = FactClash.New(Heron, Heron with { X = Heron.X with { StepsPerMm = 640 } });
        Assert.Equal(("X: 1.8 deg, 8 microsteps and 5.00 mm a turn make 320 steps per mm, and 640 are told", "stepsPerMm", 320.0), (clash!.Reason, clash.Fact, clash.Suggestion!.Value));
        Assert.NotNull(FactClash.New(Heron, Heron with { X = Heron.X with { Microsteps = 61 } }));
    }

    [Theory]
    [InlineData(500.0, 1.8, 1, "X: 500 mm in one turn is more than its whole travel, 420 mm")]
    [InlineData(5.0, 1.7, 1, "X: a step of 1.7 deg makes 211.76 full steps a turn, and a motor has whole ones")]
    public void Numbers_that_exclude_each_other_are_named(double turn, double angle, int motors, string reason) =>
        Assert.Contains(FactClash.Among(Heron with { X = Heron.X with { TravelPerTurnMm = turn, StepAngleDeg = angle, Motors = motors } }), clash => clash.Reason == reason);

    [Fact]
    public void Words_that_exclude_each_other_are_named()
    {
        Assert.Equal("X: grade 7 is that of a screw, and a belt has none", FactClash.New(Heron, Heron with { X = Heron.X with { Drive = DriveKind.Belt } })!.Reason);
        Assert.Equal("X: one motor has no pair of settings", FactClash.New(Heron, Heron with { X = Heron.X with { PairSetting = PairSetting.Two } })!.Reason);
    }

    [Fact]
    public void A_contradiction_that_stood_before_is_not_asked_about_with_every_other_fact()
    {
        var wrong = Heron with { X = Heron.X with { StepsPerMm = 640 } };
        Assert.Null(FactClash.New(wrong, wrong with { Spindle = SpindleKind.Spindle }));
    }
}
