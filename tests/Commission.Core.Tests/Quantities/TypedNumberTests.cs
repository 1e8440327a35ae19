using Commission.Core.Quantities;

namespace Commission.Core.Tests.Quantities;

public sealed class TypedNumberTests
{
    [Theory]
    [InlineData("20.01", "mm", 20.01, 0.01)]
    [InlineData("20,01", "mm", 20.01, 0.01)]
    [InlineData("\u221220,0100", "mm", -20.01, 0.0001)]
    [InlineData(" + 5 ", "mm", 5, 1)]
    [InlineData("20.0 mm", "mm", 20, 0.1)]
    [InlineData("2.5cm", "mm", 25, 1)]
    [InlineData("1in", "mm", 25.4, 25.4)]
    [InlineData("3 1/8", "in", 79.375, 3.175)]
    [InlineData("-1/2\"", "in", -12.7, 12.7)]
    [InlineData("0,125", "mm", 0.125, 0.001)]
    [InlineData("1.234", "mm", 1.234, 0.001)]
    [InlineData("12,34", "mm", 12.34, 0.01)]
    public void A_typed_length_is_understood_with_its_last_digit(string text, string assumed, double mm, double step)
    {
        var number = Assert.IsType<NumberReading.Clear>(TypedNumber.Read(text, assumed)).Number;

        Assert.Equal(mm, number.In("mm"), 10);
        Assert.Equal(step, number.LastDigitIn("mm"), 10);
        Assert.Equal(text.Trim(), number.Typed);
    }

    [Fact]
    public void One_comma_and_three_digits_have_two_meanings_and_both_are_told()
    {
        var both = Assert.IsType<NumberReading.Ambiguous>(TypedNumber.Read("1,234", "mm"));

        Assert.Equal(1.234, both.AsDecimal.Value);
        Assert.Equal(1234, both.AsThousands.Value);
    }

    [Theory]
    [InlineData("", "mm")]
    [InlineData("abc", "mm")]
    [InlineData("s", "mm")]
    [InlineData("mm", "mm")]
    [InlineData("1,2,3", "mm")]
    [InlineData("1.234,5", "mm")]
    [InlineData("3 1/8", "mm")]
    [InlineData("31/2", "in")]
    [InlineData("3 1/0", "in")]
    [InlineData("5 deg", "mm")]
    [InlineData("5 parsec", "mm")]
    [InlineData("1e999", "mm")]
    [InlineData("NaN", "mm")]
    public void What_is_no_length_is_refused_with_a_remedy(string text, string assumed) =>
        Assert.NotEmpty(Assert.IsType<NumberReading.NotANumber>(TypedNumber.Read(text, assumed)).Problem.Remedy);

    [Fact]
    public void A_monstrous_exponent_is_no_accident() =>
        Assert.Equal(0, Assert.IsType<NumberReading.Clear>(TypedNumber.Read("1e-99999999999", "mm")).Number.LastDigit);

    [Theory]
    [InlineData("in", "Type a number in inches, for example 3.125 or 3 1/8")]
    [InlineData("1", "Type a number, for example 20.01")]
    [InlineData("mm", "Type a number in mm, for example 20.01")]
    public void What_is_no_number_is_answered_with_one_in_the_unit_asked_for(string unit, string remedy) =>
        Assert.Equal(remedy, Assert.IsType<NumberReading.NotANumber>(TypedNumber.Read("unknown", unit)).Problem.Remedy);
}
