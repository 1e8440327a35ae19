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

    // A stiffness of 4138 N/mm with U 230000 stood there as 0.
    [Theory]
    [InlineData(4138, 230000, "4100", "230000")]
    [InlineData(3, 290, "3", "290")]
    [InlineData(0.2, 290, "0", "290")]
    [InlineData(160, 300, "160", "300")]
    public void A_large_U_makes_nothing_of_no_value(double value, double expanded, string shown, string u) =>
        Assert.Equal((shown, u), ValueFormat.Pair(value, expanded, signed: false));

    [Theory]
    [InlineData(1111.1111, "-70", "1111")]
    [InlineData(0.08, "0.1", "0.08")]
    [InlineData(0.4006, "0.38", "0.4")]
    [InlineData(0.5, "0.617", "0.5")]
    public void A_limit_is_as_fine_as_the_value_beside_it(double limit, string beside, string shown) => Assert.Equal(shown, ValueFormat.Limit(limit, beside));
}
