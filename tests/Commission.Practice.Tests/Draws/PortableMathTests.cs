using Commission.Tests;
using CsCheck;

namespace Commission.Practice.Tests.Draws;

public sealed class PortableMathTests
{
    [Fact]
    public void The_logarithm_agrees_with_the_system_s() =>
        Gen.Double[-280, 280].Select(power => Math.Pow(10, power)).SampleFixed(x =>
            Assert.Equal(Math.Log(x), PortableMath.Log(x), 4e-16 * Math.Max(1, Math.Abs(Math.Log(x)))));

    [Fact]
    public void The_exponential_agrees_with_the_system_s() =>
        Gen.Double[-300, 300].SampleFixed(x => Assert.Equal(1, PortableMath.Exp(x) / Math.Exp(x), 1e-14));

    [Fact]
    public void Sine_and_cosine_agree_with_the_system_s() =>
        Gen.Double[-1000, 1000].SampleFixed(x =>
        {
            Assert.Equal(Math.Sin(x), PortableMath.Sin(x), 2e-15);
            Assert.Equal(Math.Cos(x), PortableMath.Cos(x), 2e-15);
        });

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(double.NaN)]
    public void The_logarithm_refuses_what_has_none(double x) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => PortableMath.Log(x));
}
