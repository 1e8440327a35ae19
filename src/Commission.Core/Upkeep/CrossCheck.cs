using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Quantities;
using MathNet.Numerics.LinearAlgebra;

namespace Commission.Core.Upkeep;

/// <summary>One result that takes part in a comparison.</summary>
/// <param name="Name">Where it comes from, in words.</param>
/// <param name="Value">Its value.</param>
/// <param name="Fresh">Its standard uncertainty from what would be drawn afresh.</param>
/// <param name="Shared">Its standard uncertainty that comes with the instrument.</param>
/// <param name="Instrument">The instrument; null where none was named.</param>
public sealed record ComparedResult(string Name, double Value, double Fresh, double Shared, string? Instrument)
{
    /// <summary>Combined standard uncertainty.</summary>
    public double Uncertainty => Math.Sqrt((Fresh * Fresh) + (Shared * Shared));
}

/// <summary>
/// Results of different procedures for one quantity: combined where they agree, shown beside each other where they do not. The best
/// detector of blunders there is (our choice).
/// </summary>
public sealed record CrossCheck
{
    /// <summary>Beyond this Birge ratio the results contradict each other: our choice.</summary>
    public const double MostBirge = 1.5;

    /// <summary>Results that differ by more than this many standard uncertainties of their difference do not agree.</summary>
    public const double MostDifference = 2;

    /// <summary>The quantity, in words.</summary>
    public required string Title { get; init; }

    /// <summary>Its unit.</summary>
    public required string Unit { get; init; }

    /// <summary>Name of the parameter whose values these are; empty for none in particular.</summary>
    public string Parameter { get; init; } = "";

    /// <summary>The results.</summary>
    public required ImmutableArray<ComparedResult> Results { get; init; }

    /// <summary>Root of chi-square over the number of results less one (R. T. Birge, Phys. Rev. 40 (1932) 207; from memory).</summary>
    public required double Birge { get; init; }

    /// <summary>Chi-square of the results about their mean.</summary>
    public required double ChiSquare { get; init; }

    /// <summary>Whether the results agree.</summary>
    public required bool Agree { get; init; }

    /// <summary>Mean weighted by inverse variance; null where the results do not agree.</summary>
    public double? Value { get; init; }

    /// <summary>Its standard uncertainty; null where the results do not agree.</summary>
    public double? Uncertainty { get; init; }

    /// <summary>Compares results; what two of them share through one instrument is counted as shared.</summary>
    /// <param name="title">The quantity, in words.</param>
    /// <param name="unit">Its unit.</param>
    /// <param name="results">Two results or more, each with an uncertainty.</param>
    public static CrossCheck Of(string title, string unit, ImmutableArray<ComparedResult> results)
    {
        var n = results.Length;
        var covariance = Matrix<double>.Build.Dense(n, n, (i, j) => i == j
            ? results[i].Uncertainty * results[i].Uncertainty
            : results[i].Instrument is { } name && name == results[j].Instrument ? results[i].Shared * results[j].Shared : 0);
        var (weight, (mean, chi)) = Mean(covariance, results);
        var birge = n > 1 ? Math.Sqrt(Math.Max(0, chi) / (n - 1)) : 0;
        var near = Enumerable.Range(0, n).All(i => Enumerable.Range(0, i).All(j => Math.Abs(results[i].Value - results[j].Value)
            <= MostDifference * Math.Sqrt(Math.Max(0, covariance[i, i] + covariance[j, j] - (2 * covariance[i, j])))));
        var agree = birge <= MostBirge && near;
        return new CrossCheck
        {
            Title = title, Unit = unit, Results = results, Birge = birge, ChiSquare = chi, Agree = agree,
            Value = agree ? mean : null, Uncertainty = agree ? 1 / Math.Sqrt(weight) : null,
        };
    }

    /// <summary>All quantities of a machine that more than one result in force stands for.</summary>
    public static ImmutableArray<CrossCheck> All(History.Ledger ledger, string machine) =>
    [
        .. from quantity in PlaneQuantity.All
           let results = ResultsInForce.Of(ledger, machine, quantity)
           where results.Length > 1
           select Of(quantity.Title, quantity.Unit, [.. results.Select(Compared)]) with { Parameter = quantity.Sources[0].Parameter },
    ];

    /// <summary>A result in force as it is compared.</summary>
    internal static ComparedResult Compared(ResultInForce result)
    {
        var shared = result.Parameter.SharedUncertainty ?? 0;
        var fresh = Math.Sqrt(Math.Max(0, (result.Uncertainty * result.Uncertainty) - (shared * shared)));
        return new ComparedResult(result.Name, result.Value, fresh, shared, result.Instrument);
    }

    private static (double Weight, (double Mean, double ChiSquare)) Mean(Matrix<double> covariance, ImmutableArray<ComparedResult> results)
    {
        var values = Vector<double>.Build.DenseOfEnumerable(results.Select(result => result.Value));
        var inverse = covariance.Inverse();
        var ones = Vector<double>.Build.Dense(results.Length, 1);
        var weight = ones * (inverse * ones);
        var mean = ones * (inverse * values) / weight;
        var left = values - (mean * ones);
        return (weight, (mean, left * (inverse * left)));
    }

    /// <summary>The comparison in one sentence.</summary>
    public string Sentence
    {
        get
        {
            var unit = ValueFormat.ShownIn(Unit);
            var sign = Signs.Of(Parameter);
            string Shown(double value, double u) => ValueFormat.Line(sign * value, 2 * u, unit, 2, 0.95, signed: sign > 0 && Signs.IsSigned(Parameter));
            var all = string.Join("; ", Results.Select(result => $"{result.Name} {Shown(result.Value, result.Uncertainty)}"));
            var birge = FormattableString.Invariant($"Birge ratio {Birge:0.00}");
            return Agree
                ? $"{Title}: {all}. They agree ({birge}); together {Shown(Value!.Value, Uncertainty!.Value)}."
                : $"{Title}: {all}. They do not agree ({birge}) and are not averaged: look for a blunder, or for what changed between them.";
        }
    }
}
