using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Fits;

namespace Commission.Core.Plans;

/// <summary>A reading that could be taken: where, and the row it adds to the design matrix.</summary>
/// <param name="Cell">Where.</param>
/// <param name="Row">Coefficients of the unknowns.</param>
/// <param name="ScaleLength">Length that the instrument's scale error acts on, mm.</param>
internal sealed record PlanReading(PlanCell Cell, ImmutableArray<double> Row, double ScaleLength)
{
    /// <summary>Whether taking it a second time is as good as the first; false where every reading has a phase of its own.</summary>
    public bool Repeatable { get; init; } = true;
}

/// <summary>A parameter that the readings shall tell.</summary>
/// <param name="Name">Name as in the contract.</param>
/// <param name="Unit">Canonical unit.</param>
/// <param name="Coefficients">The combination of unknowns.</param>
internal sealed record PlanTarget(string Name, string Unit, ImmutableArray<double> Coefficients);

/// <summary>Knowledge besides the readings: a combination of unknowns is zero, with a standard uncertainty.</summary>
internal sealed record PlanPrior(ImmutableArray<double> Coefficients, double Uncertainty, string Source, bool Shared);

/// <summary>
/// What a linear kind can foretell before anything is read: its unknowns, the scatter of the hand and the states of the instrument.
/// The covariance of least squares does not depend on the values read, so it comes from the solver that later fits them.
/// </summary>
internal sealed record PlanModel
{
    private const string Scale = "the scale of the instrument";

    /// <summary>Names of the unknowns.</summary>
    public required ImmutableArray<string> Columns { get; init; }

    /// <summary>What shall be told; the headline first.</summary>
    public required ImmutableArray<PlanTarget> Targets { get; init; }

    /// <summary>Scatter of one reading, mm.</summary>
    public required double ScatterMm { get; init; }

    /// <summary>Degrees of freedom that it is known with beforehand; 0 where the readings themselves must tell it.</summary>
    public double HandFreedom { get; init; }

    /// <summary>Last digit of the instrument, mm.</summary>
    public double? ResolutionMm { get; init; }

    /// <summary>Limit of error of the instrument, mm.</summary>
    public required double LimitMm { get; init; }

    /// <summary>Knowledge besides.</summary>
    public ImmutableArray<PlanPrior> Priors { get; init; } = [];

    /// <summary>Knowledge that is counted in only where the readings alone leave something open.</summary>
    public ImmutableArray<PlanPrior> WhereOpen { get; init; } = [];

    /// <summary>Parts of the headline that stand beside the fit: tilt of jaws, temperatures.</summary>
    public ImmutableArray<UncertaintyPart> Beside { get; init; } = [];

    /// <summary>Foretells in another way where readings share more than the instrument; null for the solver of rows.</summary>
    public Func<PlanModel, IReadOnlyList<PlanReading>, ImmutableArray<Spread>?>? Own { get; init; }

    /// <summary>The same with the scatter of readings averaged away, as by repeats without end.</summary>
    public PlanModel Averaged => this with { ScatterMm = 1e-5, ResolutionMm = null };

    /// <summary>The distribution each target would have; null where the readings do not determine the unknowns.</summary>
    public ImmutableArray<Spread>? Foretell(IReadOnlyList<PlanReading> readings)
    {
        if (Own is { } own) return own(this, readings);
        if (readings.Count == 0 || System(readings).Solve() is not Outcome<LeastSquaresSolution>.Good { Value: var solution }) return null;
        var freedom = HandFreedom + Math.Max(0, readings.Count - Columns.Length);
        if (freedom == 0) return null;
        return [.. Targets.Select((target, at) => Told(solution, target, freedom, at == 0 ? Beside : []))];
    }

    /// <summary>Covariance of the unknowns, the scale of the instrument last; null where they are not determined.</summary>
    public double[,]? Covariance(IReadOnlyList<PlanReading> readings)
    {
        if (readings.Count == 0 || System(readings).Solve() is not Outcome<LeastSquaresSolution>.Good { Value: var solution }) return null;
        var n = Columns.Length + 1;
        var covariance = new double[n, n];
        for (var i = 0; i < n; i++)
            for (var j = 0; j < n; j++)
                if (i < solution.Columns.Length && j < solution.Columns.Length) covariance[i, j] = solution.Covariance[i][j];
        return covariance;
    }

    private AugmentedSystem System(IReadOnlyList<PlanReading> readings)
    {
        var longest = readings.Max(reading => Math.Abs(reading.ScaleLength));
        var scale = longest > 0 && LimitMm > 0;
        var system = new AugmentedSystem(scale ? [.. Columns, Scale] : Columns);
        var scatter = new Scatter(ScatterMm, double.PositiveInfinity);
        var together = readings.GroupBy(reading => string.Join(';', reading.Row)).ToDictionary(group => group.Key, group => group.Count());
        foreach (var reading in readings)
        {
            var sigma = scatter.For(together[string.Join(';', reading.Row)], ResolutionMm);
            system.Reading(scale ? [.. reading.Row, reading.ScaleLength] : reading.Row.AsSpan(), 0, sigma);
        }

        foreach (var prior in WhereOpen.IsEmpty || Alone(readings).Undetermined().IsEmpty ? Priors : Priors.AddRange(WhereOpen))
            system.Pseudo(scale ? [.. prior.Coefficients, 0] : prior.Coefficients.AsSpan(), 0, prior.Uncertainty, prior.Source, prior.Shared);
        if (scale) system.Pseudo(Scale, 0, LimitMm / (Math.Sqrt(3) * longest), "limit of error of the instrument", shared: true);
        return system;
    }

    private AugmentedSystem Alone(IReadOnlyList<PlanReading> readings)
    {
        var system = new AugmentedSystem(Columns);
        foreach (var reading in readings) system.Reading(reading.Row.AsSpan(), 0);
        return system;
    }

    private static Spread Told(LeastSquaresSolution solution, PlanTarget target, double freedom, ImmutableArray<UncertaintyPart> beside)
    {
        var full = new double[solution.Columns.Length];
        target.Coefficients.CopyTo(full);
        return new Spread(
        [
            new UncertaintyPart("scatter of the readings", Math.Sqrt(solution.ReadingVariance(full)), freedom) { RepeatingHelps = true },
            .. solution.Priors.Select(prior => new UncertaintyPart(prior.Source, Math.Abs(full.Zip(prior.Effects, (a, b) => a * b).Sum()))
            {
                Rectangular = prior.Shared, Shared = prior.Shared,
            }),
            .. beside,
        ]);
    }
}
