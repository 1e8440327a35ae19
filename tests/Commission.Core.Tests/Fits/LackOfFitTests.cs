using Commission.Core.Fits;
using Commission.Core.Quantities;

namespace Commission.Core.Tests.Fits;

public sealed class LackOfFitTests
{
    // Own computed regression values, not proof.
    [Fact]
    public void Repeats_at_three_places_show_a_bent_line()
    {
        double[] c = [20, 20, 20, 80, 80, 80, 140, 140, 140];
        double[] deviation = [.01, .00, .02, .05, .06, .05, .03, .02, .03];
        var system = new AugmentedSystem("zero", "scale");
        for (var i = 0; i < 9; i++) system.Reading([1, c[i]], deviation[i]);
        var fit = system.Solve().Require();
        Assert.Equal(1.38889e-4, fit["scale"], 9);
        Assert.Equal(2.783333e-3, fit.SumOfSquares, 9);
        var test = LackOfFit.Of(c.Zip(fit.Residuals), 2)!;
        Assert.Equal(3.33333e-4, test.PureSumOfSquares, 9);
        Assert.Equal(44.10, test.F, 2);
        Assert.Equal((1, 6), (test.Numerator, test.Denominator));
        Assert.Equal(5.987, FisherF.Quantile(.95, 1, 6), 3);
    }

    [Fact]
    public void Without_repeats_there_is_no_test() =>
        Assert.Null(LackOfFit.Of([(1, .1), (2, .2), (3, -.1)], 2));
}
