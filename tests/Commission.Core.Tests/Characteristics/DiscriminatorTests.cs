namespace Commission.Core.Tests.Characteristics;

public sealed class DiscriminatorTests
{
    private static readonly FitOptions Screw = Fit.With() with { TravelPerTurnMm = 5, Drive = DriveKind.Screw };

    private static string Backlash(double scatter, double step) => string.Join(' ', Fit.Of("backlash", Fit.Rows("place_mm,direction,reading_mm",
        Enumerable.Range(0, 20).Select(i => (object[])[100, i % 2 == 0 ? "+" : "-", (i % 2 == 0 ? -0.02 : 0.02) + (i / 2 % 2 == 0 ? scatter : -scatter) + (i >= 11 ? step : 0)])), Screw).Remarks);

    [Fact]
    public void One_tooth_of_the_rotor_is_a_fiftieth_of_a_turn() => Assert.Equal(0.1, Discriminator.Quantum(Screw)!.Value, 12);

    [Fact]
    public void A_smaller_full_step_makes_the_tooth_smaller() =>
        Assert.Equal(0.05, Discriminator.Quantum(Screw with { Numbers = Screw.Numbers.Add("step-angle-deg", 0.9) })!.Value, 12);

    [Fact]
    public void The_friction_lag_is_the_one_worked_out_for_a_screw_and_a_belt()
    {
        // Metrology 1.2: a fifth of the holding torque leaves 3.2 um on a 5 mm lead and 26 um on 40 mm a turn.
        Assert.Equal(0.0032, Discriminator.FrictionLag(Screw)!.Value, 4);
        Assert.Equal(0.026, Discriminator.FrictionLag(Screw with { TravelPerTurnMm = 40 })!.Value, 3);
    }

    [Fact]
    public void A_coarse_instrument_is_told_that_it_cannot_decide() =>
        Assert.Contains("Whether single steps were lost is not decidable with this instrument", Backlash(0.02, 0), StringComparison.Ordinal);

    [Fact]
    public void Whole_teeth_lost_half_way_speak_for_a_stall() => Assert.Contains("the motor stalled", Backlash(0.002, 0.1), StringComparison.Ordinal);

    [Fact]
    public void Half_a_tooth_lost_half_way_speaks_for_a_slip() => Assert.Contains("something slips", Backlash(0.002, 0.15), StringComparison.Ordinal);

    [Theory]
    // Metrology 3.4, three events, tooth 0.1 mm: told apart at 8 um in most cases, at 25 um never.
    [InlineData(0.008, "the motor stalled")]
    [InlineData(0.025, "not decidable with this instrument")]
    public void The_limit_is_an_eighth_of_a_tooth(double u, string words) =>
        Assert.Contains(words, Discriminator.Losses([0.101, -0.098, 0.203], 0.1, u), StringComparison.Ordinal);
}
