using System.Collections.Immutable;
using Commission.Core.Quantities;
using Commission.Core.Readings;
using Commission.Core.Suspects;

namespace Commission.Core.Characteristics;

/// <summary>How far repeats of one thing scatter: homing, return to a mark, one length measured again and again.</summary>
public sealed class Repeatability : CharacteristicKind
{
    /// <inheritdoc/>
    public override string Id => "repeatability";

    /// <inheritdoc/>
    public override string Title => "repeatability";

    /// <inheritdoc/>
    public override string Method => "repeatability/2";

    /// <inheritdoc/>
    public override ImmutableArray<ColumnSpec> Columns => [new("reading_mm", ColumnContent.Length, "one repeat")];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters =>
    [
        new("standardDeviation", "mm", "standard deviation of one repeat") { IsSize = true },
        new("expandedNext", "mm", "half width of the interval about the mean in which the next repeat lies") { IsSize = true },
    ];

    /// <inheritdoc/>
    public override ImmutableArray<PublishedCase> PublishedCases => ScatterCases.Repeats;

    /// <inheritdoc/>
    public override Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options)
    {
        double[] values = [.. readings.Used.Select(row => row["reading_mm"])];
        if (values.Length < 2)
            return new Problem("one repeat does not scatter", "Give at least two readings, better ten");
        var mean = values.Average();
        double[] residuals = [.. values.Select(v => v - mean)];
        var freedom = values.Length - 1;
        var deviation = Math.Sqrt(residuals.Sum(r => r * r) / freedom);
        var draft = new FindingDraft(this, readings, options);
        deviation = Scatter.Shown(deviation, freedom, Scatter.Coarser(options.Instrument?.ResolutionMm, Scatter.LastDigit(readings, "reading_mm")), draft.Remarks);
        draft.Look(new Series
        {
            Readings = readings,
            Column = "reading_mm",
            Design = [.. values.Select(_ => new[] { 1.0 })],
            Values = values,
            Residuals = residuals,
            Leverages = [.. values.Select(_ => 1.0 / values.Length)],
            Unknowns = 1,
            Resolution = options.Instrument?.ResolutionMm,
            Study = options.Hand,
            OneSided = true,
            MayAgree = true,
        });
        if (deviation == 0)
            draft.AddBare("standardDeviation", "mm", 0, "all readings are the same and the resolution is not known");
        else
            draft.AddDeviation("standardDeviation", "mm", deviation, freedom);
        draft.AddBare("expandedNext", "mm", StudentT.Quantile(0.5 + options.Coverage / 2, freedom) * deviation * Math.Sqrt(1 + 1.0 / values.Length),
            "it is the half width of an interval itself");
        return draft.Close(null, Advise, residuals: [.. residuals], scatter: deviation,
            judge: deviation == 0 ? null : limit => Judgement.OfDeviation(deviation, freedom, limit));
    }

    /// <inheritdoc/>
    public override Figure? Picture(Finding finding, ReadingTable readings) => new()
    {
        Title = "Repeats in their order",
        Horizontal = "repeat",
        Vertical = "reading, mm",
        Layers =
        [
            new FigureLayer.Points("repeats", FigureMark.Dot, [.. readings.Used.Select((row, i) => new FigurePoint(i + 1, row["reading_mm"]))]),
            new FigureLayer.Line("mean", [.. new[] { 1, finding.Used }.Select(i => new FigurePoint(i, readings.Used.Average(row => row["reading_mm"])))], Dashed: true),
        ],
        Summary = string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{finding.Used} repeats with a standard deviation of {finding.Headline.Value:0.0000} mm."),
    };

    private static Advice Advise(Judgement judgement) => judgement.Usual("The scatter", new Advice
    {
        Action = AdviceAction.FindTheFault,
        Because = "The repeats scatter more than the limit allows, and no setting makes scatter smaller.",
        Next = "Look for a loose switch, a loose instrument, or a warming frame, then repeat.",
    });
}
