using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>Flatness of a surface from heights over a grid: least-squares plane and true minimum zone.</summary>
public sealed class Flatness : CharacteristicKind
{
    /// <inheritdoc/>
    public override string Id => "flatness";

    /// <inheritdoc/>
    public override string Title => "flatness";

    /// <inheritdoc/>
    public override string Method => "flatness/2";

    /// <inheritdoc/>
    public override ImmutableArray<ColumnSpec> Columns =>
    [
        new("x_mm", ColumnContent.Length, "position in X"),
        new("y_mm", ColumnContent.Length, "position in Y"),
        new("z_mm", ColumnContent.Length, "height"),
    ];

    private static readonly (string Name, string Unit)[] Names = [("peakToValley", "mm"), ("minimumZone", "mm"), ("rawRange", "mm"), ("slopeX", "1"), ("slopeY", "1")];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters =>
    [
        new("peakToValley", "mm", "highest less lowest point about the least-squares plane, repeats at one place averaged") { IsSize = true },
        new("minimumZone", "mm", "smallest distance of two parallel planes that hold all points, repeats averaged") { IsSize = true },
        new("rawRange", "mm", "highest less lowest point as read, for the surfacing allowance") { IsSize = true },
        new("slopeX", "1", "rise of the plane towards +X"),
        new("slopeY", "1", "rise of the plane towards +Y"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<PublishedCase> PublishedCases => GeometryCases.Plane;

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
        var digit = Scatter.Coarser(options.Instrument?.ResolutionMm, Scatter.LastDigit(readings, "z_mm"));
        var noise = Noise(points, left, fit, digit, options, draft);
        var map = new BedMap(points);
        double[][] combinations = [map.PeakToValley(), map.Zone(), map.RawRange(), map.Slope(0), map.Slope(1)];
        double[] values = [.. combinations.Select(map.Value)];
        var scatter = noise?.For(1, digit);
        var scale = options.Instrument?.LimitMm / Math.Sqrt(3) / Math.Max(points.Max(p => Math.Abs(p.Z)), 1e-9);
        for (var i = 0; i < combinations.Length; i++)
        {
            var size = Math.Sqrt(combinations[i].Sum(a => a * a));

            // A surface without any form has no highest point: two single heights then stand for the range.
            IReadOnlyList<UncertaintyPart>? parts = scatter is not { } s ? null :
            [
                new("scatter of the probing", s * (size > 0 ? size : Math.Sqrt(2)), noise!.DegreesOfFreedom) { RepeatingHelps = true },
                new("limit of error of the instrument", Math.Abs((scale ?? 0) * values[i])) { Rectangular = true, Shared = true },
            ];
            draft.Add(Names[i].Name, Names[i].Unit, values[i], parts);
        }

        if (map.Repeated)
            draft.Remarks.Add("Places probed more than once count with the mean of their heights; the raw range is that of single heights.");
        Explain(draft, map, noise, values[0]);
        draft.Look(fit.Series(readings, "z_mm", options with { Hand = null }) with { InTime = false });
        double Covariance(int i, int j) => Math.Pow(scatter!.Value, 2) * combinations[i].Zip(combinations[j], (a, b) => a * b).Sum() + Math.Pow(scale ?? 0, 2) * values[i] * values[j];
        var all = Enumerable.Range(0, combinations.Length);
        return draft.Close(null, Advise, scatter is null ? default : [.. all.Select(i => all.Select(j => Covariance(i, j)).ToImmutableArray())], left, fit.Residual);
    }

    /// <summary>Scatter of the probing: from points probed more than once, else the operator's study, else the residuals, which hold the form too.</summary>
    private static Scatter? Noise(HeightPoint[] points, ImmutableArray<double> left, LinearResult fit, double? digit, FitOptions options, FindingDraft draft)
    {
        var groups = points.GroupBy(p => (p.X, p.Y)).Where(g => g.Count() > 1).ToArray();
        var freedom = groups.Sum(g => g.Count() - 1);
        var pure = Math.Sqrt(groups.Sum(g => g.Sum(p => Math.Pow(p.Z - g.Average(q => q.Z), 2))) / Math.Max(freedom, 1));
        if (freedom > 0 && pure > 0)
            return Scatter.Of(pure, freedom, options, draft.Remarks)?.AtLeast(digit);
        if (options.Hand is { StandardDeviationMm: > 0 } hand)
            return new Scatter(hand.StandardDeviationMm, hand.DegreesOfFreedom);
        if (fit.Residual is not > 0 || left.Length < 4)
            return null;
        draft.Remarks.Add((freedom > 0 ? "What was probed twice agrees to the last digit and tells no scatter" : "No point was probed twice")
            + ": the residuals hold form and scatter together, so the uncertainty given is an upper bound.");
        return new Scatter(Math.Max(fit.Residual.Value, Scatter.Least), fit.Freedom);
    }

    /// <summary>Noise floor, and the shape in words.</summary>
    private static void Explain(FindingDraft draft, BedMap map, Scatter? noise, double peak)
    {
        var points = map.Places;
        double[] left = [.. points.Select(p => p.Z - map.Value(map.Slope(0)) * p.X - map.Value(map.Slope(1)) * p.Y)];
        var level = left.Average();
        if (noise is { } s && s.StandardDeviation * NoiseFloor(points.Length) is var floor && peak < floor)
            draft.Remarks.Add(string.Create(CultureInfo.InvariantCulture, $"Flat within what this probing can see: noise alone reaches {floor:0.000} mm in one of twenty maps."));
        draft.Remarks.Add("For the surfacing allowance the raw range counts, because the heights are relative to the motion of X and Y.");
        double Part(Func<HeightPoint, double> shape)
        {
            double[] values = [.. points.Select(shape)];
            var mean = values.Average();
            var square = values.Sum(v => (v - mean) * (v - mean));
            return square < 1e-9 ? 0 : Math.Pow(values.Zip(left, (v, r) => (v - mean) * (r - level)).Sum(), 2) / square;
        }
        var total = left.Sum(r => (r - level) * (r - level));
        (string Words, double Share)[] shapes =
        [
            ("a twist, one pair of corners up", Part(p => (p.X - map.CentreX) * (p.Y - map.CentreY))),
            ("a bow along X, as a sagging beam makes it", Part(p => (p.X - map.CentreX) * (p.X - map.CentreX))),
            ("a bow along Y", Part(p => (p.Y - map.CentreY) * (p.Y - map.CentreY))),
        ];
        var main = shapes.MaxBy(s => s.Share);
        if (total > 1e-18 && main.Share > 0.5 * total && points.Length >= 9)
            draft.Remarks.Add($"Most of what is left is {main.Words}.");
    }

    /// <summary>Peak to valley about the least-squares plane that noise of 1 exceeds in one of twenty maps: 4.0, 4.4, 4.9, 5.5 for 9, 16, 25, 49 points (own simulation).</summary>
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
