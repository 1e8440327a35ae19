using Commission.Core.Instruments;

namespace Commission.Core.Tests.Instruments;

public sealed class InstrumentTests
{
    // Common practice, no source: a digital caliper steps by 0.01 mm and 0.0005 in, one of a micrometre by 0.001 mm and 0.00005 in.
    [Theory]
    [InlineData(0.01, 1, 2)]
    [InlineData(0.01, 25.4, 4)]
    [InlineData(0.0127, 25.4, 4)]
    [InlineData(0.0254, 25.4, 3)]
    [InlineData(0.001, 1, 3)]
    [InlineData(0.001, 25.4, 5)]
    [InlineData(0.02, 1, 2)]
    [InlineData(1.0, 1, 0)]
    public void A_display_has_the_digits_of_its_smallest_step(double stepMm, double unitMm, int decimals) =>
        Assert.Equal(decimals, (InstrumentCatalogue.Find("caliper-150")! with { ResolutionMm = stepMm }).Decimals(unitMm));

    [Fact]
    public void Where_the_last_digit_is_not_known_nothing_is_said_of_the_digits() =>
        Assert.Null((InstrumentCatalogue.Find("caliper-150")! with { ResolutionMm = null }).Decimals(1));
}
