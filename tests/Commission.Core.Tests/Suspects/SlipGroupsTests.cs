using Commission.Core.Suspects;
using Commission.Tests;
using CsCheck;
using MathNet.Numerics.LinearAlgebra;

namespace Commission.Core.Tests.Suspects;

public sealed class SlipGroupsTests
{
    private const int Count = 9;

    private static readonly double[][] Design = [.. Enumerable.Range(0, Count).Select(i => new[] { 1, i * 17.0 % 11, i % 2 == 0 ? 0.5 : -0.5 })];

    private static readonly Gen<double[]> AnyValues = Gen.Double[-1, 1].Array[Count];

    /// <summary>Sum of squares of a fit without a group, fitted anew.</summary>
    private static double Without(double[] values, int[] group)
    {
        int[] rest = [.. Enumerable.Range(0, Count).Except(group)];
        var design = Matrix<double>.Build.Dense(rest.Length, 3, (i, j) => Design[rest[i]][j]);
        var read = Vector<double>.Build.Dense(rest.Length, i => values[rest[i]]);
        var left = read - (design * design.QR().Solve(read));
        return left * left;
    }

    [Fact]
    public void The_fall_of_a_group_is_that_of_fitting_the_rest_anew() => Gen.Select(AnyValues, Gen.Int[0, 2], Gen.Int[3, 5], Gen.Int[6, 8]).SampleFixed((values, a, b, c) =>
    {
        var groups = new SlipGroups(Design, values);
        Assert.Equal(groups.Sum - Without(values, [a, b, c]), groups.Fall([a, b, c]), 1e-9);
    }, iter: 200);

    [Fact]
    public void The_best_group_of_each_size_is_the_best_of_all() => AnyValues.SampleFixed(values =>
    {
        var groups = new SlipGroups(Design, values);
        var best = groups.Best(3);
        for (var size = 1; size <= 3; size++)
        {
            var most = Subsets(0, size).Max(group => groups.Fall(group));
            Assert.Equal(most, best[size].Fall, 1e-9);
            Assert.Equal(most, groups.Fall(best[size].Group), 1e-9);
        }
    }, iter: 30);

    [Fact]
    public void A_shift_of_two_readings_is_told_as_it_was_made()
    {
        double[] values = [.. Design.Select((row, i) => row[1] + (i == 2 ? 0.4 : i == 7 ? -0.9 : 0))];
        var off = new SlipGroups(Design, values).Off([2, 7]);
        Assert.Equal(0.4, off[0], 1e-9);
        Assert.Equal(-0.9, off[1], 1e-9);
    }

    private static IEnumerable<int[]> Subsets(int from, int size) => size == 0
        ? [[]]
        : Enumerable.Range(from, Count - from).SelectMany(first => Subsets(first + 1, size - 1).Select(rest => (int[])[first, .. rest]));
}
