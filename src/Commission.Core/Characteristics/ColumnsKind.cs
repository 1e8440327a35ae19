using System.Collections.Immutable;
using Commission.Core.Fits;
using Commission.Core.Quantities;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>
/// Plain least squares of one column on others: for instrument calibrations, for data that has no kind of its own, and for checking the
/// arithmetic against published sets. Nothing is pooled, corrected or inferred.
/// </summary>
public sealed class ColumnsKind : CharacteristicKind
{
    // The sets that least-squares programs are tested with come near this; the design is held in double-double.
    private const double RankLimit = 1e-13;

    /// <inheritdoc/>
    public override string Id => "columns";

    /// <inheritdoc/>
    public override string Title => "columns of numbers";

    /// <inheritdoc/>
    public override string Method => "columns/1";

    /// <inheritdoc/>
    public override ImmutableArray<ColumnSpec> Columns => [];

    /// <inheritdoc/>
    public override ImmutableArray<OptionSpec> Options =>
    [
        new("response", false, "the column that is explained", Required: true),
        new("predictors", false, "the columns that explain it, parted by commas"),
        new("polynomial", false, "one column whose powers explain it"),
        new("degree", true, "highest power of the polynomial"),
        new("no-constant", false, "leave the constant out") { IsFlag = true },
        new("weights", false, "a column of weights, each the inverse of a variance"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters =>
    [
        new("constant", "1", "value of the response where every predictor is 0, in the unit of the response"),
        new("[PREDICTOR]", "1", "change of the response for one unit of the predictor; powers are written x^2"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<PublishedCase> PublishedCases => ColumnsCases.All;

    /// <inheritdoc/>
    public override string? WhyNoPicture => "its columns have any names, and nothing tells what stands across and what up";

    /// <inheritdoc/>
    public override Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options) =>
        ColumnsModel.Of(readings, options).Then(model => Solve(model, readings, options));

    private Outcome<Finding> Solve(ColumnsModel model, ReadingTable readings, FitOptions options)
    {
        if (model.Rows.Length < model.Names.Length)
        {
            return new Problem($"{model.Rows.Length} rows cannot determine {model.Names.Length} parameters", "Add rows or leave predictors out")
            {
                File = readings.Source,
            };
        }

        var system = new AugmentedSystem(model.Names);
        foreach (var row in model.Rows) system.Reading(row.High, row.Response, 1 / Math.Sqrt(row.Weight), row.Low);
        return system.Solve(RankLimit).Then<Finding>(plain => Report(plain, readings, options));
    }

    private Finding Report(LeastSquaresSolution plain, ReadingTable readings, FitOptions options)
    {
        var scaled = plain.WithResidualScatter();
        var factor = scaled is null ? (double?)null : Quantities.StudentT.Quantile((1 + options.Coverage) / 2, plain.DegreesOfFreedom);
        return new Finding
        {
            Kind = Id,
            Method = Method,
            Rows = readings.Rows.Length,
            Used = plain.Residuals.Length,
            Parameters = [.. plain.Columns.Select((name, j) => Parameter(name, j, plain, scaled, factor))],
            Covariance = scaled?.Covariance ?? [],
            ResidualStandardDeviation = plain.ResidualStandardDeviation,
            Residuals = plain.Residuals,
            Remarks = options.Tolerance is null ? readings.Remarks : [.. readings.Remarks, "Plain columns are not judged: the tolerance was not used."],
            Verdict = Verdict.None,
            Advice = new Advice
            {
                Action = scaled is null ? AdviceAction.MeasureMore : AdviceAction.Leave,
                Because = scaled is null
                    ? "There are as many parameters as rows, so the scatter is not known."
                    : "Plain least squares judges nothing; the numbers stand as computed.",
                Next = scaled is null ? "Add rows." : null,
            },
        };
    }

    private static FittedParameter Parameter(string name, int j, LeastSquaresSolution plain, LeastSquaresSolution? scaled, double? factor)
    {
        var u = scaled is null ? (double?)null : Math.Sqrt(scaled.Covariance[j][j]);
        return new FittedParameter
        {
            Name = name,
            Unit = "1",
            Value = plain.Estimates[j],
            StandardUncertainty = u,
            FreshUncertainty = u,
            DegreesOfFreedom = scaled is null ? null : plain.DegreesOfFreedom,
            CoverageFactor = factor,
            ExpandedUncertainty = factor * u,
            WhyNoUncertainty = scaled is null ? "as many parameters as rows" : null,
        };
    }
}
