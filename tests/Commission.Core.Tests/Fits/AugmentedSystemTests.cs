using Commission.Core.Fits;
using Commission.Core.Tests.Support;
using MathNet.Numerics.LinearAlgebra;

namespace Commission.Core.Tests.Fits;

public sealed class AugmentedSystemTests
{
    // Own computed regression values, not proof.
    private static readonly double[] Commanded = [20, 20, 80, 80, 140, 140];
    private static readonly double[] Direction = [1, -1, 1, -1, 1, -1];
    private static readonly double[] Measured = [20.06, 20.17, 80.15, 80.27, 140.26, 140.36];

    private static AugmentedSystem Axis(double sigma = 1)
    {
        var system = new AugmentedSystem("zero", "scaleError", "reversal");
        for (var i = 0; i < 6; i++) system.Reading([1, Commanded[i], Direction[i] / 2], Measured[i] - Commanded[i], sigma);
        return system;
    }

    [Fact]
    public void The_axis_example_gives_its_regression_values()
    {
        var fit = Axis().Solve().Require().WithResidualScatter()!;
        Assert.Equal(.081667, fit["zero"], 6);
        Assert.Equal(.001625, fit["scaleError"], 9);
        Assert.Equal(-.110, fit["reversal"], 9);
        Assert.Equal(.0060093, fit.ResidualStandardDeviation!.Value, 7);
        Assert.Equal(5.0077e-5, fit.StandardUncertainty("scaleError"), 9);
        Assert.Equal(2 * .0060093 / Math.Sqrt(6), fit.StandardUncertainty("reversal"), 6);
    }

    [Fact]
    public void A_pseudo_observation_is_generalised_least_squares_with_the_full_covariance_matrix()
    {
        var system = new AugmentedSystem("zero", "scaleError", "reversal", "instrumentScale");
        const double sigma = .012, shared = 1.23e-4;
        for (var i = 0; i < 6; i++) system.Reading([1, Commanded[i], Direction[i] / 2, Commanded[i]], Measured[i] - Commanded[i], sigma);
        system.Pseudo("instrumentScale", 0, shared, "scale of the caliper", shared: true);
        var fit = system.Solve().Require();

        var a = Matrix<double>.Build.Dense(6, 3, (i, j) => j == 0 ? 1 : j == 1 ? Commanded[i] : Direction[i] / 2);
        var y = Vector<double>.Build.Dense(6, i => Measured[i] - Commanded[i]);
        var v = Matrix<double>.Build.Dense(6, 6, (i, j) => (i == j ? sigma * sigma : 0) + (shared * shared * Commanded[i] * Commanded[j]));
        var covariance = (a.Transpose() * v.Inverse() * a).Inverse();
        var estimate = covariance * a.Transpose() * v.Inverse() * y;
        for (var j = 0; j < 3; j++)
        {
            Assert.Equal(estimate[j], fit.Estimates[j], 9);
            for (var k = 0; k < 3; k++) Assert.Equal(covariance[j, k], fit.Covariance[j][k], 9);
        }

        Assert.Equal(shared, fit.SharedUncertainty("scaleError"), 12);
        Assert.Equal(
            fit.Covariance[1][1],
            Math.Pow(fit.FreshUncertainty("scaleError"), 2) + Math.Pow(fit.SharedUncertainty("scaleError"), 2),
            15);
    }

    [Fact]
    public void Fresh_and_shared_parts_of_every_estimate_add_up_to_its_variance()
    {
        var system = new AugmentedSystem("zero", "scaleError", "reversal", "instrumentScale");
        for (var i = 0; i < 6; i++) system.Reading([1, Commanded[i], Direction[i] / 2, Commanded[i]], Measured[i] - Commanded[i], .01);
        system.Pseudo("instrumentScale", 0, 1e-4, "scale of the caliper", shared: true);
        system.Pseudo("scaleError", 0, 1e-4, "grade of the screw", shared: false);
        system.Pseudo("reversal", 0, .1, "usual lost motion", shared: false);
        var fit = system.Solve().Require();
        foreach (var name in fit.Columns)
        {
            var sum = Math.Pow(fit.FreshUncertainty(name), 2) + Math.Pow(fit.SharedUncertainty(name), 2);
            Assert.True(ReferenceData.Digits(sum, Math.Pow(fit.StandardUncertainty(name), 2)) > 10, name);
        }
    }

    [Fact]
    public void What_the_readings_leave_open_is_said_in_words_and_may_stand_on_a_pseudo_observation()
    {
        var system = new AugmentedSystem("zero", "scaleError", "instrumentScale");
        foreach (var c in Commanded) system.Reading([1, c, c], c * 1e-3, .01);
        Assert.Equal("the readings cannot tell scaleError and instrumentScale apart", Assert.Single(system.Undetermined()).InWords);
        var refused = Assert.IsType<Outcome<LeastSquaresSolution>.Bad>(system.Solve());
        Assert.Contains("scaleError and instrumentScale", Assert.Single(refused.Problems).What, StringComparison.Ordinal);

        system.Pseudo("instrumentScale", 0, 1e-4, "scale", shared: true);
        var solved = system.Solve().Require();
        Assert.True(Assert.Single(solved.Undetermined).Involves("instrumentScale"));
        Assert.Equal(1e-3, solved["scaleError"], 12);
    }

    [Fact]
    public void Readings_at_one_place_cannot_tell_zero_from_scale()
    {
        var system = new AugmentedSystem("zero", "scaleError", "reversal");
        foreach (var d in Direction) system.Reading([1, 50, d / 2], .01 * d);
        Assert.Equal("the readings cannot tell zero and scaleError apart", Assert.Single(system.Undetermined()).InWords);
    }

    [Fact]
    public void One_approach_only_leaves_the_reversal_to_the_zero()
    {
        var system = new AugmentedSystem("zero", "scaleError", "reversal");
        foreach (var c in Commanded) system.Reading([1, c, .5], c * 1e-3);
        Assert.Equal("the readings cannot tell zero and reversal apart", Assert.Single(system.Undetermined()).InWords);
    }

    [Fact]
    public void An_unknown_without_a_reading_is_named_alone()
    {
        var system = new AugmentedSystem("zero", "squareness");
        for (var i = 0; i < 4; i++) system.Reading([1, 0], i);
        Assert.Equal("nothing in the readings depends on squareness", Assert.Single(system.Undetermined()).InWords);
    }

    [Fact]
    public void Leverages_add_up_to_the_number_of_unknowns()
    {
        var fit = Axis(.3).Solve().Require();
        Assert.Equal(3, fit.Leverages.Sum(), 12);
        Assert.Equal(1.0 / 6 + 3600.0 / 14400 + 1.0 / 6, fit.Leverages[0], 12);
    }

    [Fact]
    public void A_reading_counted_twice_is_a_reading_of_weight_two()
    {
        var twice = Axis(.01);
        twice.Reading([1, 80, .5], .15, .01);
        var heavy = new AugmentedSystem("zero", "scaleError", "reversal");
        for (var i = 0; i < 6; i++)
            heavy.Reading([1, Commanded[i], Direction[i] / 2], Measured[i] - Commanded[i], i == 2 ? .01 / Math.Sqrt(2) : .01);
        var (a, b) = (twice.Solve().Require(), heavy.Solve().Require());
        foreach (var name in a.Columns)
        {
            Assert.Equal(a[name], b[name], 13);
            Assert.Equal(a.StandardUncertainty(name), b.StandardUncertainty(name), 13);
        }
    }
}
