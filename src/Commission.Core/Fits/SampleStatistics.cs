using Commission.Core.Quantities;

namespace Commission.Core.Fits;

/// <summary>Mean, standard deviation and lag-1 autocorrelation of a sample, summed in double-double so that large constants do not cost digits.</summary>
/// <param name="Mean">Sum over count.</param>
/// <param name="StandardDeviation">Root of the sum of squared deviations over count less one; null for a single value.</param>
/// <param name="Autocorrelation">Sum of products of neighbouring deviations over the sum of their squares; null where nothing varies.</param>
public sealed record SampleStatistics(double Mean, double? StandardDeviation, double? Autocorrelation)
{
    /// <summary>Describes a sample.</summary>
    /// <param name="values">At least one value, in the order taken.</param>
    public static SampleStatistics Of(IReadOnlyList<double> values)
    {
        if (values.Count == 0) throw new ArgumentException("A sample has at least one value.", nameof(values));
        var mean = MeanOf(values);
        DoubleDouble squares = 0, products = 0, last = 0;
        for (var i = 0; i < values.Count; i++)
        {
            var deviation = values[i] - mean;
            squares += deviation * deviation;
            if (i > 0) products += last * deviation;
            last = deviation;
        }

        return new SampleStatistics(
            mean.ToDouble(),
            values.Count > 1 ? (squares / (values.Count - 1)).Root().ToDouble() : null,
            squares.High > 0 ? (products / squares).ToDouble() : null);
    }

    /// <summary>The middle of the values in their order; of an even number the mean of the two in the middle.</summary>
    /// <param name="values">At least one value.</param>
    public static double MedianOf(IEnumerable<double> values)
    {
        double[] sorted = [.. values.Order()];
        return (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2;
    }

    /// <summary>The mean in double-double.</summary>
    internal static DoubleDouble MeanOf(IReadOnlyList<double> values)
    {
        DoubleDouble sum = 0;
        foreach (var value in values) sum += value;
        return sum / values.Count;
    }
}
