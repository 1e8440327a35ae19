using Commission.Core.Quantities;

namespace Commission.Core.Tests.Quantities;

public sealed class ValueFormatTests
{
    [Theory]
    [InlineData(1234.4, 287, "+1230", "290")]
    [InlineData(-0.11, 0.0256, "-0.110", "0.026")]
    [InlineData(0.5, 0.0996, "+0.50", "0.10")]
    [InlineData(-0.0001, 0.02, "+0.000", "0.020")]
    [InlineData(12, 99.7, "+10", "100")]
    [InlineData(2, 9.97, "+2", "10")]
    public void U_has_two_digits_and_the_value_the_same_decimal(double value, double u, string shown, string uncertainty) =>
        Assert.Equal((shown, uncertainty), ValueFormat.Pair(value, u));

    [Fact]
    public void The_line_names_factor_and_coverage() =>
        Assert.Equal("+1230 +/- 290 ppm (k=1.97, 95 %)", ValueFormat.Line(1.2304e-3, 2.87e-4, Unit.Of("ppm"), 1.97));

    // What perfect readings leave behind is rounding of binary fractions, and no value with fifteen zeros.
    [Theory]
    [InlineData(0)]
    [InlineData(1e-17)]
    [InlineData(-4e-16)]
    public void Nothing_is_written_with_three_zeros(double value) =>
        Assert.Equal("+0.000 ppm (no U: not given)", ValueFormat.Line(value * 1e-6, null, Unit.Of("ppm")));

    [Fact]
    public void A_missing_uncertainty_is_a_reason_and_never_a_blank() =>
        Assert.Equal("-0.1100 mm (no U: no instrument named)", ValueFormat.Line(-0.11, null, Unit.Of("mm"), why: "no instrument named"));
}
