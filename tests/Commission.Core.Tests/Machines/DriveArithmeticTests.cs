using Commission.Core.Quantities;

namespace Commission.Core.Tests.Machines;

// Elementary arithmetic and own derivations, worked outside this program.
public sealed class DriveArithmeticTests
{
    [Theory]
    [InlineData(1.8, 8, 5, 320)]
    [InlineData(1.8, 16, 10, 320)]
    [InlineData(1.8, 16, 40, 80)]
    [InlineData(1.8, 8, 5.08, 314.9606)]
    [InlineData(.9, 8, 5, 640)]
    public void Steps_follow_from_the_data_plates(double angle, int microsteps, double travel, double expected) =>
        Assert.Equal(expected, DriveArithmetic.StepsPerMm(angle, microsteps, 1, travel), 4);

    [Fact]
    public void Travel_follows_from_starts_teeth_and_module()
    {
        Assert.Equal(5.08, DriveArithmetic.ScrewTravel(Inch.Mm / 5), 12);
        Assert.Equal(12.7, DriveArithmetic.ScrewTravel(Inch.Mm / 10, 5), 12);
        Assert.Equal(8, DriveArithmetic.ScrewTravel(2, 4), 12);
        Assert.Equal(40, DriveArithmetic.BeltTravel(2, 20), 12);
        Assert.Equal(62.832, DriveArithmetic.RackTravel(1, 20), 3);
        Assert.Equal(62.832 / Math.Cos(19.5283 * Math.PI / 180), DriveArithmetic.RackTravel(1, 20, 19.5283), 3);
    }

    [Fact]
    public void Two_decimals_at_eighty_steps_are_sixty_two_parts_per_million()
    {
        Assert.Equal(62e-6, DriveArithmetic.RoundingOfRatio(80, 2), 1e-6);
        Assert.Equal(6e-6, DriveArithmetic.RoundingOfRatio(80, 3), 1e-6);
        Assert.Equal(7500, DriveArithmetic.FastestFeed(320, 40_000), 9);
    }

    [Theory]
    [InlineData(8, .195)]
    [InlineData(16, .098)]
    [InlineData(32, .049)]
    public void A_microstep_holds_with_little_of_the_torque(int microsteps, double share) =>
        Assert.Equal(share, StepperArithmetic.MicrostepTorque(microsteps), 3);

    [Theory]
    [InlineData(5, 3.2e-3)]
    [InlineData(40, 26e-3)]
    public void Friction_alone_holds_the_carriage_off_its_place(double travel, double lag) =>
        Assert.Equal(lag, StepperArithmetic.FrictionLag(travel, .2), lag * .02);

    [Theory]
    [InlineData(24, 303)]
    [InlineData(36, 470)]
    [InlineData(48, 638)]
    public void The_corner_speed_counts_resistance_and_back_voltage(double volts, double turns) =>
        Assert.Equal(turns, StepperArithmetic.CornerSpeed(volts, 1.1, 3.5e-3, 2.8, 1.9), .5);

    [Fact]
    public void A_supply_that_cannot_force_the_current_has_no_corner_speed() =>
        Assert.Equal(0, StepperArithmetic.CornerSpeed(3, 1.1, 3.5e-3, 2.8, 1.9));

    // Factors 0.36, 1, 1.47, 2.23 of a maker's formula, and 3.4, 9.7, 15.1, 21.9e7 with 80 % included of another (public pages).
    [Theory]
    [InlineData(ScrewEnds.FixedFree, 4.30e7, 3.4e7)]
    [InlineData(ScrewEnds.SimpleSimple, 1.207e8, 9.7e7)]
    [InlineData(ScrewEnds.FixedSimple, 1.886e8, 15.1e7)]
    [InlineData(ScrewEnds.FixedFixed, 2.736e8, 21.9e7)]
    public void Whirl_constants_agree_with_the_catalogues(ScrewEnds ends, double theory, double catalogue)
    {
        var constant = StepperArithmetic.WhirlSpeed(13, 1000, ends) * 1000 * 1000 / 13;
        Assert.Equal(1, constant / theory, 2e-3);
        Assert.Equal(1, .8 * constant / catalogue, .015);
    }

    [Fact]
    public void A_screw_of_13_mm_between_bearings_a_metre_apart_whirls_at_1569_turns_a_minute() =>
        Assert.Equal(1569, StepperArithmetic.WhirlSpeed(13, 1000, ScrewEnds.SimpleSimple), 2.0);
}
