namespace Commission.Core.Tests.Characteristics;

public sealed class ToleranceTextTests
{
    [Theory]
    [InlineData("300ppm", 3e-4, "1")]
    [InlineData("0.5mm/m", 5e-4, "1")]
    [InlineData("0,1 mm", 0.1, "mm")]
    [InlineData("0.004in", 0.1016, "mm")]
    [InlineData("0.5mrad", 5e-4, "rad")]
    [InlineData("1deg", 0.017453292519943295, "rad")]
    [InlineData("0.125/h", 0.125, "1/h")]
    [InlineData("0.125 1/h", 0.125, "1/h")]
    public void A_limit_with_its_unit_is_understood(string text, double value, string unit)
    {
        var tolerance = ToleranceText.Parse(text).Require();

        Assert.Equal(value, tolerance.Value, 15);
        Assert.Equal(unit, tolerance.Unit);
        Assert.Equal(text, tolerance.Typed);
    }

    [Theory]
    [InlineData("300")]
    [InlineData("-1mm")]
    [InlineData("0mm")]
    [InlineData("mm")]
    [InlineData("3 bananas")]
    [InlineData("1,234mm")]
    public void A_limit_without_unit_or_sense_is_refused(string text) =>
        Assert.IsType<Outcome<Tolerance>.Bad>(ToleranceText.Parse(text));

    [Fact]
    public void A_length_limits_a_ratio_over_the_length_of_the_job()
    {
        var tolerance = ToleranceText.Parse("0.1mm").Require();

        Assert.Equal(2.5e-4, tolerance.In("1", 400).Require());
        Assert.IsType<Outcome<double>.Bad>(tolerance.In("1", null));
        Assert.IsType<Outcome<double>.Bad>(tolerance.In("1/h", 400));
    }
}
