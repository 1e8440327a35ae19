using Commission.Core.Quantities;

namespace Commission.Core.Tests.Quantities;

/// <summary>What is printed of a reading: what was understood, with a point and the instrument's last digit.</summary>
public sealed class ReadingTextTests
{
    [Theory]
    [InlineData("148,36", 148.36, "148.36 mm")]
    [InlineData("10,0", 10, "10.00 mm")]
    [InlineData("152.1", 152.1, "152.10 mm")]
    [InlineData("8.1234", 8.1234, "8.1234 mm")]
    [InlineData("-0,05", -0.05, "-0.05 mm")]
    [InlineData("8.49 at 204.195", 8.49, "8.49 mm")]
    public void A_reading_is_printed_to_the_last_digit_of_its_instrument(string typed, double value, string printed) =>
        Assert.Equal(printed, ReadingText.Of(typed, value, "mm", ShownUnits.Millimetres, 0.01));

    [Theory]
    [InlineData("15,75", 400.05, "15.75 in")]
    [InlineData("27 13/16", 706.4375, "27 13/16 in")]
    public void Inches_keep_the_digits_that_were_typed(string typed, double mm, string printed) =>
        Assert.Equal(printed, ReadingText.Of(typed, mm, "mm", ShownUnits.Inches, 0.01));
}
