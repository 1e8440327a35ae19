using Commission.Core.Upkeep;

namespace Commission.Core.Tests.Upkeep;

public sealed class CrossCheckTests
{
    private static ComparedResult Result(double value, double fresh, double shared = 0, string? instrument = null) => new("r", value, fresh, shared, instrument);

    [Fact]
    public void Results_that_contradict_each_other_are_shown_and_not_averaged()
    {
        // Own arithmetic: 10.02(2), 10.05(3), 9.97(2): chi-square 5.875, Birge ratio 1.714.
        var check = CrossCheck.Of("length", "mm", [Result(10.02, 0.02), Result(10.05, 0.03), Result(9.97, 0.02)]);

        Assert.Equal(5.875, check.ChiSquare, 1e-3);
        Assert.Equal(1.714, check.Birge, 1e-3);
        Assert.False(check.Agree);
        Assert.Null(check.Value);
        Assert.Contains("not averaged", check.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Agreeing_results_are_combined_by_inverse_variance()
    {
        // The same weights as above with values that agree: the mean of 18.10 e has u 0.01279.
        var check = CrossCheck.Of("length", "mm", [Result(10.01, 0.02), Result(10.02, 0.03), Result(9.99, 0.02)]);

        Assert.True(check.Agree);
        Assert.Equal(((10.01 / 4) + (10.02 / 9) + (9.99 / 4)) / ((1 / 4.0) + (1 / 9.0) + (1 / 4.0)), check.Value!.Value, 1e-12);
        Assert.Equal(0.01279, check.Uncertainty!.Value, 1e-5);
    }

    [Fact]
    public void What_two_results_share_through_one_instrument_is_not_averaged_away()
    {
        var same = CrossCheck.Of("scale", "1", [Result(1e-4, 5e-5, 1e-4, "caliper"), Result(1.2e-4, 5e-5, 1e-4, "caliper")]);
        var other = CrossCheck.Of("scale", "1", [Result(1e-4, 5e-5, 1e-4, "caliper"), Result(1.2e-4, 5e-5, 1e-4, "rod")]);

        Assert.True(same.Uncertainty > 1e-4);
        Assert.Equal(Math.Sqrt((1e-4 * 1e-4) + (5e-5 * 5e-5 / 2)), same.Uncertainty!.Value, 1e-9);
        Assert.True(other.Uncertainty < 0.8 * same.Uncertainty);
    }

    [Fact]
    public void Two_results_within_twice_the_uncertainty_of_their_difference_agree_and_no_further()
    {
        Assert.True(CrossCheck.Of("g", "rad", [Result(0, 1e-4), Result(2e-4, 1e-4)]).Agree);
        Assert.False(CrossCheck.Of("g", "rad", [Result(0, 1e-4), Result(3e-4, 1e-4)]).Agree);
    }
}
