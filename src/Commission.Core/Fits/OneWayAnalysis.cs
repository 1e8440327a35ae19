using Commission.Core.Quantities;

namespace Commission.Core.Fits;

/// <summary>One-way analysis of variance: how much of the scatter lies between groups.</summary>
/// <param name="BetweenSquares">Sum of squares between groups.</param>
/// <param name="BetweenFreedom">Its degrees of freedom.</param>
/// <param name="WithinSquares">Sum of squares within groups.</param>
/// <param name="WithinFreedom">Its degrees of freedom.</param>
public sealed record OneWayAnalysis(double BetweenSquares, int BetweenFreedom, double WithinSquares, int WithinFreedom)
{
    /// <summary>Ratio of the mean squares.</summary>
    public double F => BetweenSquares / BetweenFreedom / (WithinSquares / WithinFreedom);

    /// <summary>Share of the sum of squares that lies between groups.</summary>
    public double RSquared => BetweenSquares / (BetweenSquares + WithinSquares);

    /// <summary>Standard deviation within groups.</summary>
    public double ResidualStandardDeviation => Math.Sqrt(WithinSquares / WithinFreedom);

    /// <summary>Analyses groups of values, in double-double.</summary>
    /// <param name="groups">Two groups at least, with more values than groups.</param>
    public static OneWayAnalysis Of(IReadOnlyList<IReadOnlyList<double>> groups)
    {
        var count = groups.Sum(group => group.Count);
        if (groups.Count < 2 || count <= groups.Count) throw new ArgumentException("Two groups at least, with more values than groups.", nameof(groups));
        DoubleDouble total = 0, between = 0, within = 0;
        foreach (var group in groups)
            foreach (var value in group) total += value;
        var mean = total / count;
        foreach (var group in groups)
        {
            var own = SampleStatistics.MeanOf(group);
            var apart = own - mean;
            between += apart * apart * group.Count;
            foreach (var value in group)
            {
                var deviation = value - own;
                within += deviation * deviation;
            }
        }

        return new OneWayAnalysis(between.ToDouble(), groups.Count - 1, within.ToDouble(), count - groups.Count);
    }
}
