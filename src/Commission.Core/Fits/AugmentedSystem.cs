using System.Collections.Immutable;
using Commission.Core.Quantities;

namespace Commission.Core.Fits;

/// <summary>
/// The one least-squares problem behind every kind of characteristic: readings <c>y = A b + noise</c>, each with its own random
/// standard deviation, and pseudo-observations that carry what is known besides (the scale and zero of an instrument, the grade of a
/// screw, the scatter of a drilled mark).
/// </summary>
/// <remarks>
/// Unknowns that only describe an instrument are columns like any other; the pseudo-observation gives them value 0 and their standard
/// uncertainty. The result is that of generalised least squares with the full covariance matrix. Cost grows with the number of rows,
/// and with the square of the number of columns.
/// </remarks>
public sealed class AugmentedSystem
{
    /// <summary>Smallest ratio of singular values at which unknowns still count as determined.</summary>
    public const double UsualRankLimit = 1e-8;

    private readonly List<Row> rows = [];

    /// <summary>A problem with these unknowns.</summary>
    /// <param name="columns">Names of the unknowns, as they shall appear in sentences; all different.</param>
    public AugmentedSystem(params IEnumerable<string> columns)
    {
        Columns = [.. columns];
        if (Columns.Distinct().Count() != Columns.Length) throw new ArgumentException("Column names must differ.", nameof(columns));
    }

    /// <summary>Names of the unknowns.</summary>
    public ImmutableArray<string> Columns { get; }

    /// <summary>Number of readings, pseudo-observations apart.</summary>
    public int Readings { get; private set; }

    /// <summary>Adds a reading.</summary>
    /// <param name="coefficients">Its row of the design matrix, one number a column.</param>
    /// <param name="value">What was read, in its unit.</param>
    /// <param name="standardDeviation">Random standard deviation of this reading in the same unit; 1 where only relative weights are known.</param>
    /// <param name="lowParts">What the doubles in <paramref name="coefficients"/> leave out, where they were formed in double-double (powers); empty for none.</param>
    public void Reading(ReadOnlySpan<double> coefficients, double value, double standardDeviation = 1, ReadOnlySpan<double> lowParts = default)
    {
        Add(coefficients, lowParts, value, standardDeviation, null, false);
        Readings++;
    }

    /// <summary>Adds knowledge about one unknown: value and standard uncertainty.</summary>
    /// <param name="column">The unknown.</param>
    /// <param name="value">What is expected of it, mostly 0.</param>
    /// <param name="standardUncertainty">Its standard uncertainty, positive.</param>
    /// <param name="source">Where that comes from, for the budget.</param>
    /// <param name="shared">Whether the same draw stands in other results too.</param>
    public void Pseudo(string column, double value, double standardUncertainty, string source, bool shared)
    {
        var coefficients = new double[Columns.Length];
        coefficients[Columns.IndexOf(column)] = 1;
        Pseudo(coefficients, value, standardUncertainty, source, shared);
    }

    /// <summary>Adds knowledge about a combination of unknowns.</summary>
    /// <param name="coefficients">The combination, one number a column.</param>
    /// <param name="value">What is expected of it.</param>
    /// <param name="standardUncertainty">Its standard uncertainty, positive.</param>
    /// <param name="source">Where that comes from, for the budget.</param>
    /// <param name="shared">Whether the same draw stands in other results too.</param>
    public void Pseudo(ReadOnlySpan<double> coefficients, double value, double standardUncertainty, string source, bool shared) =>
        Add(coefficients, default, value, standardUncertainty, source, shared);

    /// <summary>What the readings alone leave open, pseudo-observations not counted. Needs no values: a plan can be asked before it is measured.</summary>
    /// <param name="rankLimit">Smallest ratio of singular values that counts.</param>
    public ImmutableArray<NullDirection> Undetermined(double rankLimit = UsualRankLimit) =>
        RankTest.Of(Design([.. rows.Where(row => row.Source is null)]), Columns, rankLimit).Open;

    /// <summary>Solves the problem.</summary>
    /// <param name="rankLimit">Smallest ratio of singular values that counts as determined.</param>
    /// <returns>The solution; a problem that names, in words, what neither readings nor pseudo-observations determine.</returns>
    public Outcome<LeastSquaresSolution> Solve(double rankLimit = UsualRankLimit)
    {
        ImmutableArray<Row> all = [.. rows];
        ImmutableArray<Row> readings = [.. all.Where(row => row.Source is null)];
        var alone = RankTest.Of(Design(readings), Columns, rankLimit);
        var whole = readings.Length == all.Length ? alone : RankTest.Of(Design(all), Columns, rankLimit);
        if (whole.Open.Length > 0)
        {
            return new Outcome<LeastSquaresSolution>.Bad([.. whole.Open.Select(direction =>
                new Problem(direction.InWords, "Add readings in which they differ, or leave one of them out"))]);
        }

        return Solution.Of(Columns, all, Design(all), alone);
    }

    private void Add(ReadOnlySpan<double> high, ReadOnlySpan<double> low, double value, double sigma, string? source, bool shared)
    {
        if (high.Length != Columns.Length) throw new ArgumentException($"{high.Length} coefficients for {Columns.Length} columns.", nameof(high));
        if (!(sigma > 0) || !double.IsFinite(sigma)) throw new ArgumentOutOfRangeException(nameof(sigma), "A standard deviation is positive and finite.");
        if (!double.IsFinite(value)) throw new ArgumentOutOfRangeException(nameof(value), "A value is finite.");
        var coefficients = new DoubleDouble[high.Length];
        for (var j = 0; j < high.Length; j++) coefficients[j] = new(high[j], low.IsEmpty ? 0 : low[j]);
        rows.Add(new Row(coefficients, value, sigma, source, shared));
    }

    private CentredDesign Design(ImmutableArray<Row> of) => CentredDesign.Of(of, Columns.Length);

    /// <summary>A row as it was given.</summary>
    internal sealed record Row(DoubleDouble[] Coefficients, double Value, double Sigma, string? Source, bool Shared)
    {
        /// <summary>What the row is multiplied by.</summary>
        public double Scale => 1 / Sigma;
    }
}
