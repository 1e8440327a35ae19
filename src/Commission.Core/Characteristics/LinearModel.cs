using System.Collections.Immutable;
using Commission.Core.Fits;
using Commission.Core.Readings;
using Commission.Core.Suspects;

namespace Commission.Core.Characteristics;

/// <summary>A linear kind: its unknowns and one row for each reading, with the instrument's scale as a nuisance (the same as generalised least squares).</summary>
/// <param name="columns">Names of the unknowns, for sentences.</param>
internal sealed class LinearModel(params ImmutableArray<string> columns)
{
    private const string ScaleColumn = "the scale of the instrument";
    private readonly List<(double[] Row, double Value, double ScaleLength)> rows = [];
    private readonly List<(double[] Row, double Uncertainty, string Source, bool Shared)> priors = [];

    /// <summary>Adds a reading.</summary>
    /// <param name="row">Its coefficients.</param>
    /// <param name="value">Its value.</param>
    /// <param name="scaleLength">Length that the instrument's scale error acts on; 0 for none.</param>
    public void Add(double[] row, double value, double scaleLength) => rows.Add((row, value, scaleLength));

    /// <summary>Adds knowledge about a combination of the unknowns: zero, with a standard uncertainty.</summary>
    public void Prior(double[] row, double uncertainty, string source, bool shared) => priors.Add((row, uncertainty, source, shared));

    /// <summary>Solves twice: once for the scatter, once with it and with the instrument.</summary>
    /// <param name="options">What is known about instrument and hand.</param>
    /// <param name="remarks">Takes what is to be said about the scatter.</param>
    /// <param name="resolution">Step of the last digit typed, mm; null where it is not known. The coarser of it and of the instrument's own counts.</param>
    /// <param name="longest">Longest reading in the set, mm; 0: that of the rows.</param>
    public Outcome<LinearResult> Solve(FitOptions options, List<string> remarks, double? resolution = null, double longest = 0)
    {
        if (rows.Count == 0)
            return new Problem("no reading is left", "Take readings, or take back the exclusion of some");
        var bare = new AugmentedSystem(columns);
        foreach (var (row, value, _) in rows)
            bare.Reading(row, value);
        return (priors.Count > 0 && bare.Undetermined().Length > 0 ? WithPriorsOnly() : bare.Solve())
            .Then(first => Weighted(first, options, remarks, resolution, longest));
    }

    /// <summary>Where the readings alone do not determine all unknowns, the first look counts the priors at the scatter of 0.02 mm.</summary>
    private Outcome<LeastSquaresSolution> WithPriorsOnly()
    {
        var system = new AugmentedSystem(columns);
        foreach (var (row, value, _) in rows)
            system.Reading(row, value, 0.02);
        foreach (var (row, uncertainty, source, shared) in priors)
            system.Pseudo(row, 0, uncertainty, source, shared);
        return system.Solve();
    }

    private Outcome<LinearResult> Weighted(LeastSquaresSolution first, FitOptions options, List<string> remarks, double? resolution, double longest)
    {
        var freedom = rows.Count - columns.Length;
        double? residual = freedom > 0 ? Math.Sqrt(first.Residuals.Sum(r => r * r) / freedom) : null;
        var digit = Scatter.Coarser(options.Instrument?.ResolutionMm, resolution);
        var scatter = Scatter.Of(residual, freedom, options, remarks)?.AtLeast(digit);
        var scale = ScaleUncertainty(options, longest);
        var system = new AugmentedSystem(scale > 0 ? [.. columns, ScaleColumn] : columns);
        var together = rows.GroupBy(r => string.Join(';', r.Row)).ToDictionary(g => g.Key, g => g.Count());
        foreach (var ((row, value, length), left) in rows.Zip(first.Residuals))
        {
            // The scale acts on the length itself, not on its reading: with the reading the scatter would seem to tell the scale.
            var acted = length == value ? value - left : length;
            var sigma = scatter?.For(together[string.Join(';', row)], digit) ?? 1;
            system.Reading(scale > 0 ? [.. row, acted] : row, value, sigma);
        }
        foreach (var (row, uncertainty, source, shared) in priors)
            system.Pseudo(scale > 0 ? [.. row, 0] : row, 0, uncertainty, source, shared);
        if (scale > 0)
            system.Pseudo(ScaleColumn, 0, scale, "limit of error of the instrument", shared: true);
        return system.Solve().Then<LinearResult>(solution => new LinearResult(solution, residual, scatter, freedom, columns.Length)
        {
            Design = [.. rows.Select(r => r.Row)],
            Values = [.. rows.Select(r => r.Value)],
        });
    }

    /// <summary>Shared relative scale uncertainty: limit / (sqrt 3 x longest reading in the set).</summary>
    private double ScaleUncertainty(FitOptions options, double longest)
    {
        var most = longest > 0 ? longest : rows.Max(r => Math.Abs(r.ScaleLength));
        return options.Instrument?.LimitMm is { } limit && most > 0 ? limit / (Math.Sqrt(3) * most) : 0;
    }
}

/// <summary>A solved linear kind.</summary>
/// <param name="Solution">The solution with scatter and instrument.</param>
/// <param name="Residual">Residual standard deviation of the readings; null without degrees of freedom.</param>
/// <param name="Scatter">Scatter that the readings were weighted with; null where none is known.</param>
/// <param name="Freedom">Readings less unknowns.</param>
/// <param name="Unknowns">Number of unknowns, the instrument apart.</param>
internal sealed record LinearResult(LeastSquaresSolution Solution, double? Residual, Scatter? Scatter, int Freedom, int Unknowns)
{
    /// <summary>Coefficients of the readings, the instrument apart.</summary>
    public required IReadOnlyList<double[]> Design { get; init; }

    /// <summary>Values of the readings.</summary>
    public required IReadOnlyList<double> Values { get; init; }

    /// <summary>The readings as the checks for mistakes look at them.</summary>
    /// <param name="readings">The table.</param>
    /// <param name="column">The column the instrument was read for.</param>
    /// <param name="options">What is known about instrument and hand.</param>
    public Series Series(ReadingTable readings, string column, FitOptions options) => new()
    {
        Readings = readings,
        Column = column,
        Design = Design,
        Values = Values,
        Residuals = Solution.Residuals,
        Leverages = Solution.Leverages,
        Unknowns = Unknowns,
        Resolution = options.Instrument?.ResolutionMm ?? Scatter.LastDigit(readings, column),
        Study = options.Hand,
    };

    /// <summary>Why there is no scatter, where there is none.</summary>
    public const string NoScatter = "as many unknowns as readings and no study of the operator's hand";

    /// <summary>A combination of the unknowns with zeros for the instrument.</summary>
    private double[] Full(ReadOnlySpan<double> combination)
    {
        var full = new double[Solution.Columns.Length];
        combination.CopyTo(full);
        return full;
    }

    /// <summary>Value of a combination.</summary>
    public double Value(params ReadOnlySpan<double> combination) => Solution.Value(Full(combination));

    /// <summary>Parts of the uncertainty of a combination; null where no scatter is known.</summary>
    public IReadOnlyList<UncertaintyPart>? Parts(params ReadOnlySpan<double> combination)
    {
        if (Scatter is null)
            return null;
        var full = Full(combination);
        var parts = new List<UncertaintyPart>
        {
            new("scatter of the readings", Math.Sqrt(Solution.ReadingVariance(full)), Scatter.DegreesOfFreedom) { RepeatingHelps = true },
        };
        foreach (var prior in Solution.Priors)
        {
            var effect = full.Zip(prior.Effects, (a, b) => a * b).Sum();
            parts.Add(new UncertaintyPart(prior.Source, Math.Abs(effect)) { Rectangular = prior.Shared, Shared = prior.Shared });
        }
        return parts;
    }

    /// <summary>A unit combination that picks one unknown.</summary>
    public double[] Unit(int index)
    {
        var unit = new double[Unknowns];
        unit[index] = 1;
        return unit;
    }

    /// <summary>Covariance of combinations of the unknowns; empty where no scatter is known.</summary>
    public ImmutableArray<ImmutableArray<double>> Covariance(params IReadOnlyList<double[]> combinations) => Scatter is null
        ? []
        : [.. combinations.Select(a => combinations.Select(b => Between(Full(a), Full(b))).ToImmutableArray())];

    private double Between(double[] a, double[] b)
    {
        var sum = 0.0;
        for (var i = 0; i < a.Length; i++)
        {
            for (var j = 0; j < b.Length; j++)
                sum += a[i] * Solution.Covariance[i][j] * b[j];
        }
        return sum;
    }
}
