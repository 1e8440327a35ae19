using System.Collections.Immutable;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>Squareness and lost motion from diameters of circles cut both ways round (own derivation).</summary>
public sealed class TestCircle : CharacteristicKind
{
    /// <inheritdoc/>
    public override string Id => "test-circle";

    /// <inheritdoc/>
    public override string Title => "test circle";

    /// <inheritdoc/>
    public override string Method => "test-circle/2";

    /// <inheritdoc/>
    public override ImmutableArray<ColumnSpec> Columns =>
    [
        new("angle_deg", ColumnContent.Angle, "direction of the diameter, 0 along X"),
        new("turning", ColumnContent.Word, "sense in which the circle was cut") { Words = ["cw", "ccw"] },
        new("diameter_mm", ColumnContent.Length, "diameter measured"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<OptionSpec> Options => [new("nominal-mm", true, "diameter commanded", Required: true)];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters =>
    [
        new("squareness", "rad", "positive where the angle from +X to +Y is below 90 degrees"),
        new("scaleDifference", "1", "scale error of X less scale error of Y"),
        new("reversalDifference", "mm", "reversal value of X less reversal value of Y, both normally negative"),
    ];

    /// <inheritdoc/>
    public override string? WhyNoPublishedCase => "no published example of circles cut both ways round was found; simulated machines check it";

    /// <inheritdoc/>
    public override Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options)
    {
        if (options.Number("nominal-mm") is not (> 0 and var nominal))
            return new Problem("the nominal diameter is missing", "Give it with --nominal-mm");
        var both = readings.Used.Select(row => row.Words["turning"]).Distinct().Count() == 2;
        var rows = readings.Used.Select(row => (Row: Coefficients(row, nominal), Read: row["diameter_mm"])).ToArray();
        // Only diameters off 45 degrees feel the mean of the two reversal values.
        var mean = rows.Any(r => Math.Abs(r.Row[4]) > 1e-9);
        var draft = new FindingDraft(this, readings, options);
        string[] all = ["the mean size", "squareness", "the difference of the scale errors", "the difference of the reversal values", "the mean of the reversal values"];
        int[] kept = [0, 1, 2, .. both ? [3] : Array.Empty<int>(), .. mean && both ? [4] : Array.Empty<int>()];
        var model = new LinearModel([.. kept.Select(k => all[k])]);
        foreach (var (row, read) in rows)
            model.Add([.. kept.Select(k => row[k])], read - nominal, read);
        return model.Solve(options, draft.Remarks, Scatter.LastDigit(readings, "diameter_mm")).Then(fit => Found(fit, both, nominal, draft, readings, options));
    }

    /// <inheritdoc/>
    public override Figure? Picture(Finding finding, ReadingTable readings)
    {
        var mean = readings.Used.Average(row => row["diameter_mm"]);
        ImmutableArray<FigurePoint> Turned(string turning) => [.. readings.Used.Where(row => row.Words["turning"] == turning)
            .Select(row => new FigurePoint(row["angle_deg"], row["diameter_mm"] - mean))];
        return new Figure
        {
            Title = "Diameters by direction",
            Horizontal = "direction of the diameter, degrees from +X",
            Vertical = "off the mean diameter, mm",
            Layers =
            [
                new FigureLayer.Points("cut counter-clockwise", FigureMark.Increasing, Turned("ccw")),
                new FigureLayer.Points("cut clockwise", FigureMark.Decreasing, Turned("cw")),
                new FigureLayer.Points("fitted", FigureMark.Fitted, [.. readings.Used.Zip(finding.Residuals, (row, left) => new FigurePoint(row["angle_deg"], row["diameter_mm"] - left - mean))]),
            ],
            Summary = "What both circles share between 45 and 135 degrees is squareness; what turns its sign with the cutting direction is lost motion.",
        };
    }

    private static Outcome<Finding> Found(LinearResult fit, bool both, double nominal, FindingDraft draft, ReadingTable readings, FitOptions options)
    {
        if (both)
        {
            draft.Add("squareness", "rad", fit.Value(fit.Unit(1)), fit.Parts(fit.Unit(1)), LinearResult.NoScatter);
        }
        else
        {
            draft.AddBare("squareness", "rad", null, "squareness and lost motion cannot be told apart in circles cut one way round; cut one the other way");
        }
        draft.Add("scaleDifference", "1", fit.Value(fit.Unit(2)), fit.Parts(fit.Unit(2)), LinearResult.NoScatter);
        if (both)
            draft.Add("reversalDifference", "mm", fit.Value(fit.Unit(3)), fit.Parts(fit.Unit(3)), LinearResult.NoScatter);
        else
            draft.AddBare("reversalDifference", "mm", null, "it needs circles cut both ways round");
        draft.Remarks.Add("Diameters along the axes are ambiguous by the lost motion; it is taken as half either way there.");
        draft.Look(fit.Series(readings, "diameter_mm", options));
        var covariance = both ? fit.Covariance(fit.Unit(1), fit.Unit(2), fit.Unit(3)) : fit.Covariance([fit.Unit(2)]);
        return draft.Close(nominal, Squaring.Advise, covariance, fit.Solution.Residuals, fit.Residual);
    }

    /// <summary>
    /// d = D (1 + ex cos^2 + ey sin^2 + g sin cos) plus lost motion: at both ends of a diameter each axis hangs back against its own
    /// motion, so that a counter-clockwise circle gains -(BX cos - BY sin) in the first quadrant and -(BX cos + BY sin) in the second,
    /// a clockwise one loses it (B the reversal values, negative for ordinary lost motion).
    /// </summary>
    private static double[] Coefficients(ReadingRow row, double nominal)
    {
        var angle = ((row["angle_deg"] % 180) + 180) % 180;
        var radians = angle * Math.PI / 180;
        var (c, s) = (Math.Cos(radians), Math.Sin(radians));
        var turn = row.Words["turning"] == "ccw" ? -1 : 1;
        var x = angle is < 1e-9 or > 180 - 1e-9 ? 0 : Math.Abs(angle - 90) < 1e-9 ? 0 : c;
        var y = x == 0 ? 0 : angle < 90 ? -s : s;
        return [1, nominal * s * c, nominal * (c * c - s * s) / 2, turn * (x - y) / 2, turn * (x + y)];
    }
}
