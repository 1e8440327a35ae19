using System.Collections.Immutable;
using Commission.Core.Suspects;

namespace Commission.Core.Tests.Suspects;

/// <summary>Which reading does not belong to the others, told while they come in. Fixed seeds: the counts are the same on every run.</summary>
public sealed class OddOneOutTests
{
    private const int Sets = 2000;
    private static readonly double[] Places = [4, 142.25, 75, 143.5, 5.25, 6.5, 144.75, 77.5, 146, 7.75];
    private static readonly int[] Sides = [1, 1, 1, -1, -1, -1, -1, -1, 1, 1];

    private static ImmutableArray<AxisPoint> Points(params double[] readings) => [.. readings.Select((reading, i) => new AxisPoint(Places[i], reading, Sides[i]))];

    [Theory]
    [InlineData(0, 50, 143.28, 75.76)]
    [InlineData(1, 5, 134.28, 75.99)]
    [InlineData(2, 5, 143.28, 57.99)]
    public void Two_that_move_as_commanded_tell_at_the_third_which_one_is_odd(int odd, double first, double second, double third)
    {
        Assert.Null(OddOneOut.Among(Points(first, second), 0.02));
        Assert.Equal(odd, OddOneOut.Among(Points(first, second, third), 0.02)!.Index);
    }

    [Fact]
    public void What_it_should_have_read_is_told_by_the_others() =>
        Assert.InRange(OddOneOut.Among(Points(5, 143.28, 47.76), 0.02)!.Expected, 75.9, 76.1);

    [Theory]
    [InlineData(2)]
    [InlineData(0.5)]
    [InlineData(1.05)]
    [InlineData(-1)]
    public void A_machine_with_a_wrong_ratio_has_no_odd_reading(double slope)
    {
        for (var count = 2; count <= Places.Length; count++)
            Assert.Null(OddOneOut.Among(Points([.. Places.Take(count).Select(place => Math.Round(slope * place, 2))]), 0.02));
    }

    // Looked at after every reading: what would be asked of a clean set must stay rare all the same.
    [Theory]
    [InlineData(0.02, 0.04)]
    [InlineData(0.03, 0.3)]
    [InlineData(0.01, 1.2)]
    public void Clean_sets_are_hardly_ever_questioned(double scatter, double play)
    {
        var random = new Random(20261126);
        var asked = Enumerable.Range(0, Sets).Count(_ => Questioned(Set(random, scatter, play), scatter) is not null);
        Assert.InRange(asked, 0, Sets / 500);
    }

    [Fact]
    public void A_swap_of_half_a_millimetre_in_an_early_reading_is_told_before_the_end()
    {
        var random = new Random(20261126);
        var found = 0;
        for (var i = 0; i < Sets; i++)
        {
            var set = Set(random, 0.02, 0.04);
            var row = random.Next(3);
            found += Questioned(set.SetItem(row, set[row] with { Measured = set[row].Measured + 0.54 }), 0.02) == row ? 1 : 0;
        }

        Assert.InRange(found, Sets * 95 / 100, Sets);
    }

    private static int? Questioned(ImmutableArray<AxisPoint> set, double scatter) => Enumerable.Range(2, Places.Length - 1)
        .Select(count => OddOneOut.Among(set[..count], Math.Max(scatter, 0.02))?.Index).FirstOrDefault(odd => odd is not null);

    private static ImmutableArray<AxisPoint> Set(Random random, double scatter, double play)
    {
        var stretch = 1 + (0.0005 * Normal(random));
        return [.. Places.Select((place, i) => new AxisPoint(place, Math.Round((place * stretch) - (Sides[i] * play / 2) + (scatter * Normal(random)), 2), Sides[i]))];
    }

    private static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
