using System.Collections.Immutable;

namespace Commission.Core.Upkeep;

/// <summary>A value taken for a quantity.</summary>
/// <param name="Value">The value; 0 where none is known.</param>
/// <param name="Uncertainty">Its standard uncertainty.</param>
/// <param name="Source">The result that it comes from alone; null where several were combined, or none is known.</param>
internal readonly record struct PlaneValue(double Value, double Uncertainty, ResultInForce? Source);

/// <summary>The results in force of one quantity of the X-Y plane, and what is taken from them.</summary>
public sealed record PlaneEvidence
{
    // Beyond this many combinations of contradicting results nobody looks at each of them: our choice.
    private const int MostCombinations = 512;

    private PlaneEvidence(PlaneQuantity quantity, ImmutableArray<ResultInForce> results, CrossCheck? check) => (Quantity, Results, Check) = (quantity, results, check);

    /// <summary>The quantity.</summary>
    public PlaneQuantity Quantity { get; }

    /// <summary>The results, that with the least uncertainty first; empty where it was never measured or no longer holds.</summary>
    public ImmutableArray<ResultInForce> Results { get; }

    /// <summary>How they compare; null for fewer than two.</summary>
    public CrossCheck? Check { get; }

    /// <summary>Whether they contradict each other.</summary>
    public bool Disputed => Check is { Agree: false };

    /// <summary>In words what is taken.</summary>
    public string Words => Results.IsEmpty ? $"{Quantity.Title}: nothing in force"
        : Check is null ? $"{Quantity.Title}: {Results[0].Name}"
        : Disputed ? FormattableString.Invariant($"{Quantity.Title}: {Results[0].Name}, the least U of {Results.Length} results that do not agree")
        : $"{Quantity.Title}: {string.Join(", ", Results.Select(result => result.Name))} together";

    /// <summary>What stands in the figure: the results combined where they agree, else the one with the least uncertainty.</summary>
    internal PlaneValue Taken => Results.IsEmpty ? default : Check is { Agree: true } check ? new PlaneValue(check.Value!.Value, check.Uncertainty!.Value, null) : Of(Results[0]);

    /// <summary>The evidence for a quantity.</summary>
    /// <param name="quantity">The quantity.</param>
    /// <param name="results">Its results in force.</param>
    internal static PlaneEvidence Of(PlaneQuantity quantity, ImmutableArray<ResultInForce> results) => new(
        quantity, [.. results.OrderBy(result => result.Uncertainty).ThenByDescending(result => result.Made.Sequence)],
        results.Length > 1 ? CrossCheck.Of(quantity.Title, quantity.Unit, [.. results.Select(CrossCheck.Compared)]) : null);

    /// <summary>Every other choice among contradicting results; empty where none do, null where they are too many to look at.</summary>
    internal static IEnumerable<IReadOnlyList<PlaneValue>>? Others(ImmutableArray<PlaneEvidence> evidence)
    {
        List<ImmutableArray<PlaneValue>> choices = [.. evidence.Select(one => one.Disputed ? [.. one.Results.Select(Of)] : ImmutableArray.Create(one.Taken))];
        if (choices.Aggregate(1.0, (count, choice) => count * choice.Length) > MostCombinations)
            return null;
        IEnumerable<ImmutableArray<PlaneValue>> all = [[]];
        return choices.Aggregate(all, (taken, choice) => taken.SelectMany(before => choice.Select(before.Add))).Skip(1).Select(one => (IReadOnlyList<PlaneValue>)one);
    }

    /// <summary>Values with their covariance: parameters of one finding are correlated, where both of a pair come from it alone.</summary>
    internal static PlaneKnowledge Together(IReadOnlyList<PlaneValue> taken)
    {
        var covariance = new double[PlaneKnowledge.Count, PlaneKnowledge.Count];
        for (var i = 0; i < taken.Count; i++)
        {
            covariance[i, i] = taken[i].Uncertainty * taken[i].Uncertainty;
            for (var j = 0; j < i; j++)
                covariance[i, j] = covariance[j, i] = Shared(taken[i].Source, taken[j].Source);
        }

        return new PlaneKnowledge([.. taken.Select(one => one.Value)], covariance);
    }

    private static double Shared(ResultInForce? one, ResultInForce? other)
    {
        if (one is null || other is null || one.Made.Sequence != other.Made.Sequence)
            return 0;
        var finding = one.Made.Body.Finding;
        var given = finding.Parameters.Where(parameter => parameter.StandardUncertainty is not null).ToList();
        var (p, q) = (given.IndexOf(one.Parameter), given.IndexOf(other.Parameter));
        return p >= 0 && q >= 0 && p < finding.Covariance.Length && q < finding.Covariance.Length ? finding.Covariance[p][q] : 0;
    }

    private static PlaneValue Of(ResultInForce result) => new(result.Value, result.Uncertainty, result);
}
