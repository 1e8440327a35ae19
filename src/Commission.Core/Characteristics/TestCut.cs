using System.Collections.Immutable;
using Commission.Core.Instruments;
using Commission.Core.Readings;
using Commission.Core.Suspects;

namespace Commission.Core.Characteristics;

/// <summary>Scale errors and the error of the cutter's radius from the outsides and insides of a part (own derivation).</summary>
public sealed class TestCut : CharacteristicKind
{
    /// <inheritdoc/>
    public override string Id => "test-cut";

    /// <inheritdoc/>
    public override string Title => "test cut";

    /// <inheritdoc/>
    public override string Method => "test-cut/2";

    /// <inheritdoc/>
    public override ImmutableArray<ColumnSpec> Columns =>
    [
        new("axis", ColumnContent.Word, "axis the length lies along") { Words = ["X", "Y"] },
        new("nominal_mm", ColumnContent.Length, "length commanded"),
        new("side", ColumnContent.Word, "outside or inside of a feature; centre where the cutter's radius drops out") { Words = ["outside", "inside", "centre"] },
        new("measured_mm", ColumnContent.Length, "length measured"),
        new("direction", ColumnContent.Direction, "+ where lost motion makes the length longer") { Required = false },
    ];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters =>
    [
        new("scaleErrorX", "1", "positive where X travels too far"),
        new("scaleErrorY", "1", "positive where Y travels too far"),
        new("cutterRadiusError", "mm", "real radius of the cut less the radius assumed"),
    ];

    /// <inheritdoc/>
    public override string? WhyNoPublishedCase => "no published example with all readings was found; it is plain least squares, which has its cases under columns";

    /// <inheritdoc/>
    public override Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options)
    {
        var axes = readings.Used.Select(row => row.Words["axis"]).Distinct().Order(StringComparer.Ordinal).ToArray();
        var sided = readings.Used.Any(row => row.Words["side"] != "centre");
        var lost = readings.Used.Any(row => row.Sign() > 0) && readings.Used.Any(row => row.Sign() < 0);
        var jaws = options.Instrument?.Kind is InstrumentKind.CaliperDigital or InstrumentKind.CaliperVernier && readings.Used.Any(row => row.Words["side"] == "inside");
        ImmutableArray<string> names = [.. axes.Select(a => $"the scale error of {a}"), .. sided ? ["the error of the cutter's radius"] : Array.Empty<string>(),
            .. lost ? ["lost motion"] : Array.Empty<string>(), .. jaws ? ["the inside jaws"] : Array.Empty<string>()];
        var draft = new FindingDraft(this, readings, options);
        var model = new LinearModel(names);
        foreach (var row in readings.Used)
        {
            var coefficients = new double[names.Length];
            coefficients[Array.IndexOf(axes, row.Words["axis"])] = row["nominal_mm"];
            var at = axes.Length;
            if (sided)
                coefficients[at++] = row.Words["side"] switch { "outside" => -2, "inside" => 2, _ => 0 };
            if (lost)
                coefficients[at++] = row.Sign();
            if (jaws)
                coefficients[at] = row.Words["side"] == "inside" ? 1 : 0;
            model.Add(coefficients, row["measured_mm"] - row["nominal_mm"], row["measured_mm"]);
        }
        if (jaws)
            model.Prior([.. Enumerable.Range(0, names.Length).Select(i => i == names.Length - 1 ? 1.0 : 0.0)], 0.02 / Math.Sqrt(3), "inside jaws of the caliper", shared: true);
        return model.Solve(options, draft.Remarks, Scatter.LastDigit(readings, "measured_mm"))
            .Then(fit => Found(fit, axes, sided, draft, readings, options));
    }

    /// <inheritdoc/>
    public override Figure? Picture(Finding finding, ReadingTable readings) => new()
    {
        Title = "Lengths of the part",
        Horizontal = "length commanded, mm",
        Vertical = "measured less commanded, mm",
        Layers =
        [
            .. readings.Used.GroupBy(row => (Axis: row.Words["axis"], Side: row.Words["side"])).OrderBy(g => g.Key.Axis + g.Key.Side, StringComparer.Ordinal)
                .Select(g => (FigureLayer)new FigureLayer.Points($"{g.Key.Axis}, {g.Key.Side}", FigureMark.Dot,
                    [.. g.Select(row => new FigurePoint(row["nominal_mm"], row["measured_mm"] - row["nominal_mm"]))])),
        ],
        Summary = "Outsides and insides lie apart by the cutter's radius error; what grows with the length is scale.",
    };

    private static Outcome<Finding> Found(LinearResult fit, string[] axes, bool sided, FindingDraft draft, ReadingTable readings, FitOptions options)
    {
        for (var i = 0; i < axes.Length; i++)
            draft.Add("scaleError" + axes[i], "1", fit.Value(fit.Unit(i)), fit.Parts(fit.Unit(i)), LinearResult.NoScatter);
        foreach (var missing in new[] { "X", "Y" }.Except(axes))
            draft.AddBare("scaleError" + missing, "1", null, $"no length along {missing} was measured");
        if (sided)
            draft.Add("cutterRadiusError", "mm", fit.Value(fit.Unit(axes.Length)), fit.Parts(fit.Unit(axes.Length)), LinearResult.NoScatter);
        else
            draft.AddBare("cutterRadiusError", "mm", null, "only centre distances were measured, in which the cutter's radius drops out");
        if (sided && readings.Used.Select(row => row.Words["side"]).Distinct().Count() == 1)
            draft.Remarks.Add("Only one sort of side was measured: an error of the cutter's radius and one of scale are hard to tell apart; measure outsides and insides.");
        draft.Look(fit.Series(readings, "measured_mm", options) with
        {
            Lengths = [.. readings.Used.Select(row => new AxisPoint(row["nominal_mm"], row["measured_mm"], 0))],
        });
        double[][] units = [.. Enumerable.Range(0, axes.Length + (sided ? 1 : 0)).Select(fit.Unit)];
        return draft.Close(readings.Used.Max(row => row["nominal_mm"]), Advise, fit.Covariance(units), fit.Solution.Residuals, fit.Residual);
    }

    private static Advice Advise(Judgement judgement) => judgement.Usual("The scale error in the part", new Advice
    {
        Action = AdviceAction.MeasureMore,
        Because = "The part is off scale by more than the limit, but a part alone is no ground to change steps.",
        Next = "Measure the axis itself; change steps only if it says the same.",
    });
}
