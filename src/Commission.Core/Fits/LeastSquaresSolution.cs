using System.Collections.Immutable;
using Commission.Core.Quantities;

namespace Commission.Core.Fits;

/// <summary>The solution of an <see cref="AugmentedSystem"/>. Uncertainties are those that follow from the standard deviations given with the rows.</summary>
public sealed record LeastSquaresSolution
{
    /// <summary>Names of the unknowns.</summary>
    public required ImmutableArray<string> Columns { get; init; }

    /// <summary>Estimates, one a column.</summary>
    public required ImmutableArray<double> Estimates { get; init; }

    /// <summary>Covariance of the estimates that comes from the readings' own scatter: drawn afresh when the test is repeated.</summary>
    public required ImmutableArray<ImmutableArray<double>> ReadingCovariance { get; init; }

    /// <summary>What each pseudo-observation adds, in the order given.</summary>
    public required ImmutableArray<PriorPart> Priors { get; init; }

    /// <summary>Covariance of the estimates, everything counted: the inverse of <c>A'WA + P</c>.</summary>
    public required ImmutableArray<ImmutableArray<double>> Covariance { get; init; }

    /// <summary>What was read less what was fitted, readings only, in their order and unit.</summary>
    public required ImmutableArray<double> Residuals { get; init; }

    /// <summary>Leverage of each reading, 0 to 1: how far its fitted value follows it.</summary>
    public required ImmutableArray<double> Leverages { get; init; }

    /// <summary>Sum of the squared residuals of the readings, each divided by its standard deviation.</summary>
    public required double SumOfSquares { get; init; }

    /// <summary>Sum of the squared residuals of the pseudo-observations, each divided by its standard uncertainty.</summary>
    public required double PriorSumOfSquares { get; init; }

    /// <summary>Readings and pseudo-observations less unknowns.</summary>
    public required int DegreesOfFreedom { get; init; }

    /// <summary>Singular values of the column-scaled matrix of the readings alone, largest first.</summary>
    public required ImmutableArray<double> SingularValues { get; init; }

    /// <summary>What the readings alone leave open; it stands on pseudo-observations.</summary>
    public required ImmutableArray<NullDirection> Undetermined { get; init; }

    /// <summary>
    /// Root of the sum of squares over the degrees of freedom: the residual standard deviation where all rows were given standard
    /// deviation 1, else its ratio to the one given. Null without degrees of freedom.
    /// </summary>
    public double? ResidualStandardDeviation => DegreesOfFreedom > 0 ? Math.Sqrt((SumOfSquares + PriorSumOfSquares) / DegreesOfFreedom) : null;

    /// <summary>Number of a column.</summary>
    /// <exception cref="ArgumentException">There is no such column.</exception>
    public int Index(string column) => Columns.IndexOf(column) is >= 0 and var index ? index : throw new ArgumentException($"No column {column}.", nameof(column));

    /// <summary>The estimate of a column.</summary>
    public double this[string column] => Estimates[Index(column)];

    /// <summary>Combined standard uncertainty of a column.</summary>
    public double StandardUncertainty(string column) => Math.Sqrt(Covariance[Index(column)][Index(column)]);

    /// <summary>Part of the standard uncertainty that would be drawn afresh: readings and pseudo-observations not shared.</summary>
    public double FreshUncertainty(string column) => Math.Sqrt(FreshVariance(Unit(column)));

    /// <summary>Part of the standard uncertainty shared with other results.</summary>
    public double SharedUncertainty(string column) => Math.Sqrt(SharedVariance(Unit(column)));

    /// <summary>Value of a combination of the unknowns.</summary>
    /// <param name="coefficients">The combination, one number a column.</param>
    public double Value(ReadOnlySpan<double> coefficients)
    {
        DoubleDouble sum = 0;
        for (var j = 0; j < coefficients.Length; j++) sum += DoubleDouble.Product(coefficients[j], Estimates[j]);
        return sum.ToDouble();
    }

    /// <summary>The part of the variance of a combination of the unknowns that comes from the readings' scatter.</summary>
    public double ReadingVariance(ReadOnlySpan<double> coefficients) => Quadratic(ReadingCovariance, coefficients);

    /// <summary>Its part that would be drawn afresh.</summary>
    public double FreshVariance(ReadOnlySpan<double> coefficients) => ReadingVariance(coefficients) + Parts(coefficients, shared: false);

    /// <summary>Its part shared with other results.</summary>
    public double SharedVariance(ReadOnlySpan<double> coefficients) => Parts(coefficients, shared: true);

    /// <summary>
    /// The same solution with every uncertainty multiplied by the residual standard deviation: for readings whose standard deviation is
    /// not known beforehand and without pseudo-observations. Null without degrees of freedom.
    /// </summary>
    public LeastSquaresSolution? WithResidualScatter()
    {
        if (ResidualStandardDeviation is not { } scatter) return null;
        return this with { Covariance = Times(Covariance, scatter), ReadingCovariance = Times(ReadingCovariance, scatter) };
    }

    private double[] Unit(string column)
    {
        var unit = new double[Columns.Length];
        unit[Index(column)] = 1;
        return unit;
    }

    private double Parts(ReadOnlySpan<double> coefficients, bool shared)
    {
        var sum = 0.0;
        foreach (var prior in Priors)
        {
            if (prior.Shared != shared) continue;
            var effect = 0.0;
            for (var j = 0; j < coefficients.Length; j++) effect += coefficients[j] * prior.Effects[j];
            sum += effect * effect;
        }

        return sum;
    }

    private static double Quadratic(ImmutableArray<ImmutableArray<double>> matrix, ReadOnlySpan<double> c)
    {
        var sum = 0.0;
        for (var i = 0; i < c.Length; i++)
            for (var j = 0; j < c.Length; j++) sum += c[i] * matrix[i][j] * c[j];
        return Math.Max(0, sum);
    }

    // Multiplied one factor after the other: the square of a small standard deviation must not lose its digits.
    private static ImmutableArray<ImmutableArray<double>> Times(ImmutableArray<ImmutableArray<double>> matrix, double scatter) =>
        [.. matrix.Select(row => row.Select(value => value * scatter * scatter).ToImmutableArray())];
}
