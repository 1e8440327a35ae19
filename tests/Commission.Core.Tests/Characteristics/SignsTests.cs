namespace Commission.Core.Tests.Characteristics;

public sealed class SignsTests
{
    [Theory]
    [InlineData("scaleError", true)]
    [InlineData("reversal[210]", true)]
    [InlineData("squareness", true)]
    [InlineData("tiltX", true)]
    [InlineData("tilt", false)]
    [InlineData("tir[45]", false)]
    [InlineData("peakToValley", false)]
    [InlineData("standardDeviation", false)]
    [InlineData("upperRate", false)]
    [InlineData("limit", false)]
    [InlineData("iso.B", false)]
    [InlineData("iso.meanB", true)]
    [InlineData(Signs.LostMotion, false)]
    public void A_plus_is_for_what_has_a_sign(string parameter, bool signed) => Assert.Equal(signed, Signs.IsSigned(parameter));

    // The mean of a sweep has a sign, the eccentricity of a pin has none.
    [Fact]
    public void A_name_that_two_kinds_have_goes_by_its_kind() =>
        Assert.Equal([true, false], new[] { "tram", "runout" }.Select(kind => Signs.IsSigned("offset", kind)));

    [Fact]
    public void Lost_motion_is_the_reversal_value_with_its_sign_turned()
    {
        var told = Signs.Told(new FittedParameter { Name = "reversal", Unit = "mm", Value = -0.032 });
        Assert.Equal((Signs.LostMotion, 0.032), (told.Name, told.Value!.Value));
        Assert.Equal(-0.01, Signs.Told(new FittedParameter { Name = "zero", Unit = "mm", Value = -0.01 }).Value);
    }
}
