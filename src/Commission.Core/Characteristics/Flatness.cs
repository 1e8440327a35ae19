using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Readings;
using Commission.Core.Suspects;

namespace Commission.Core.Characteristics;

/// <summary>Flatness of a surface from heights over a grid: least-squares plane and true minimum zone (M 6).</summary>
public sealed class Flatness : CharacteristicKind
{
    /// <inheritdoc/>
    public override string Id => "flatness";

    /// <inheritdoc/>
    public override string Title => "flatness";

    /// <inheritdoc/>
    public override string Method => "flatness/1";

    /// <inheritdoc/>
    public override ImmutableArray<ColumnSpec> Columns =>
    [
        new("x_mm", ColumnContent.Length, "position in X"),
        new("y_mm", ColumnContent.Length, "position in Y"),
        new("z_mm", ColumnContent.Length, "height"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters =>
    [
        new("peakToValley", "mm", "highest less lowest point about the least-squares plane"),
        new("minimumZone", "mm", "smallest distance of two parallel planes that hold all points"),
        new("rawRange", "mm", "highest less lowest point as read, for the surfacing allowance"),
        new("slopeX", "1", "rise of the plane towards +X"),
        new("slopeY", "1", "rise of the plane towards +Y"),
    ];

    /// <inheritdoc/>
    public override Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options)
    {
        var draft = new FindingDraft(this, readings, options);
        var model = new LinearModel("slope in X", "slope in Y", "height of the plane");
        foreach (var row in readings.Used)
            model.Add([row["x_mm"], row["y_mm"], 1], row["z_mm"], row["z_mm"]);
        return model.Solve(options with { Hand = null }, draft.Remarks, Scatter.LastDigit(readings, "z_mm")).Then(fit => Found(fit, draft, readings, options));
    }

    /// <inheritdoc/>
    public override Figure? Picture(Finding finding, ReadingTable readings) => new()
    {
        Title = "Bed map",
        Horizontal = "X, mm",
        Vertical = "Y, mm",
        Form = FigureForm.Map,
        Layers = [new FigureLayer.Points("height about the plane", FigureMark.Dot,
            [.. readings.Used.Select((row, i) => new FigurePoint(row["x_mm"], row["y_mm"], Level: i < finding.Residuals.Length ? finding.Residuals[i] : null))])],
        Summary = string.Create(CultureInfo.InvariantCulture,
            $"{finding.Used} heights; {finding.Headline.Value:0.000} mm from peak to valley about the least-squares plane."),
    };

    private static Outcome<Finding> Found(LinearResult fit, FindingDraft draft, ReadingTable readings, FitOptions options)
    {
        var left = fit.Solution.Residuals;
        var points = readings.Used.Select(row => new HeightPoint(row["x_mm"], row["y_mm"], row["z_mm"])).ToArray();
        var noise = Noise(points, left, fit, options, draft);
        var (high, low) = (left.IndexOf(left.Max()), left.IndexOf(left.Min()));
        IReadOnlyList<UncertaintyPart>? Range(double value) => noise is null ? null :
        [
            new("scatter of the probing at the highest and the lowest point", noise.StandardDeviation * Math.Sqrt(2), noise.DegreesOfFreedom),
            .. options.Instrument?.LimitMm is { } limit
                ? [new UncertaintyPart("limit of error of the instrument", limit / Math.Sqrt(3) * Math.Min(1, value / Math.Max(points.Max(p => Math.Abs(p.Z)), 1e-9))) { Rectangular = true, Shared = true }]
                : Array.Empty<UncertaintyPart>(),
        ];
        var peak = left[high] - left[low];
        var zone = MinimumZone.Of(points);
        var raw = points.Max(p => p.Z) - points.Min(p => p.Z);
        draft.Add("peakToValley", "mm", peak, Range(peak));
        draft.Add("minimumZone", "mm", zone, Range(zone));
        draft.Add("rawRange", "mm", raw, Range(raw));
        draft.Add("slopeX", "1", fit.Value(fit.Unit(0)), fit.Parts(fit.Unit(0)), LinearResult.NoScatter);
        draft.Add("slopeY", "1", fit.Value(fit.Unit(1)), fit.Parts(fit.Unit(1)), LinearResult.NoScatter);
        Explain(draft, points, left, noise, peak);
        draft.Doubt(Outliers.Studentised(readings, left, fit.Solution.Leverages, 3));
        return draft.Close(null, Advise, scatter: fit.Residual, residuals: left);
    }

    /// <summary>Scatter of the probing: from points probed more than once, else the operator's study, else the residuals, which hold the form too.</summary>
    private static Scatter? Noise(HeightPoint[] points, ImmutableArray<double> left, LinearResult fit, FitOptions options, FindingDraft draft)
    {
        var groups = points.GroupBy(p => (p.X, p.Y)).Where(g => g.Count() > 1).ToArray();
        var freedom = groups.Sum(g => g.Count() - 1);
        var pure = Math.Sqrt(groups.Sum(g => g.Sum(p => Math.Pow(p.Z - g.Average(q => q.Z), 2))) / Math.Max(freedom, 1));
        if (freedom > 0 && pure > 0)
            return Scatter.Of(pure, freedom, options, draft.Remarks);
        if (options.Hand is { StandardDeviationMm: > 0 } hand)
            return new Scatter(hand.StandardDeviationMm, hand.DegreesOfFreedom);
        if (fit.Residual is not > 0 || left.Length < 4)
            return null;
        draft.Remarks.Add("No point was probed twice: the residuals hold form and scatter together, so the uncertainty given is an upper bound.");
        return new Scatter(Math.Max(fit.Residual.Value, Scatter.Least), fit.Freedom);
    }

    /// <summary>Noise floor, and the shape in words (M 6).</summary>
    private static void Explain(FindingDraft draft, HeightPoint[] points, ImmutableArray<double> left, Scatter? noise, double peak)
    {
        if (noise is { } s && s.StandardDeviation * NoiseFloor(points.Length) is var floor && peak < floor)
            draft.Remarks.Add(string.Create(CultureInfo.InvariantCulture, $"Flat within what this probing can see: noise alone reaches {floor:0.000} mm in one of twenty maps."));
        draft.Remarks.Add("For the surfacing allowance the raw range counts, because the heights are relative to the motion of X and Y.");
        var (cx, cy) = (points.Average(p => p.X), points.Average(p => p.Y));
        double Part(Func<HeightPoint, double> shape)
        {
            double[] values = [.. points.Select(shape)];
            var mean = values.Average();
            var square = values.Sum(v => (v - mean) * (v - mean));
            return square < 1e-9 ? 0 : Math.Pow(values.Zip(left, (v, r) => (v - mean) * r).Sum(), 2) / square;
        }
        var total = left.Sum(r => r * r);
        (string Words, double Share)[] shapes =
        [
            ("a twist, one pair of corners up", Part(p => (p.X - cx) * (p.Y - cy))),
            ("a bow along X, as a sagging beam makes it", Part(p => (p.X - cx) * (p.X - cx))),
            ("a bow along Y", Part(p => (p.Y - cy) * (p.Y - cy))),
        ];
        var main = shapes.MaxBy(s => s.Share);
        if (total > 1e-18 && main.Share > 0.5 * total && points.Length >= 9)
            draft.Remarks.Add($"Most of what is left is {main.Words}.");
    }

    /// <summary>Peak to valley about the least-squares plane that noise of 1 exceeds in one of twenty maps: 4.0, 4.4, 4.9, 5.5 for 9, 16, 25, 49 points (M 6, simulated there).</summary>
    public static double NoiseFloor(int points)
    {
        (double Count, double Floor)[] table = [(9, 4.0), (16, 4.4), (25, 4.9), (49, 5.5)];
        var at = Math.Clamp(points, 9, 49);
        var i = Array.FindIndex(table, t => t.Count >= at);
        if (i == 0)
            return table[0].Floor;
        var part = Math.Log(at / table[i - 1].Count) / Math.Log(table[i].Count / table[i - 1].Count);
        return table[i - 1].Floor + part * (table[i].Floor - table[i - 1].Floor);
    }

    private static Advice Advise(Judgement judgement) => judgement.Usual("The flatness", new Advice
    {
        Action = AdviceAction.Change,
        Because = "The surface is out of flat by more than the limit, its uncertainty counted.",
        Next = "Tram the spindle to the axes first, then surface the bed.",
    });
}
