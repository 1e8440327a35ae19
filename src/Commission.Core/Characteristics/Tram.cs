using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>Tilt of the spindle from a sweep of an indicator about it, relative to the axes where their lines are given (own derivation).</summary>
public sealed class Tram : CharacteristicKind
{
    /// <inheritdoc/>
    public override string Id => "tram";

    /// <inheritdoc/>
    public override string Title => "spindle tram";

    /// <inheritdoc/>
    public override string Method => "tram/2";

    // The width that a surfacing cutter sweeps.
    /// <inheritdoc/>
    public override double? ShownOverMm => 200;

    /// <inheritdoc/>
    public override ImmutableArray<ColumnSpec> Columns =>
    [
        new("angle_deg", ColumnContent.Angle, "angle of the arm, 0 at +X, counter-clockwise") { MayBeEmpty = true },
        new("reading_mm", ColumnContent.Length, "reading; grows where the surface is nearer to the spindle"),
        new("line", ColumnContent.Word, "sweep, or the axis moved with the arm locked") { Required = false, Words = ["sweep", "alongX", "alongY"] },
        new("position_mm", ColumnContent.Length, "position of the axis moved") { Required = false },
    ];

    /// <inheritdoc/>
    public override ImmutableArray<OptionSpec> Options => [new("radius-mm", true, "radius of the sweep", Required: true)];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters =>
    [
        new("tilt", "rad", "size of the tilt") { IsSize = true },
        new("tiltX", "rad", "rise towards +X for one mm of radius, less the board's slope where lines are given"),
        new("tiltY", "rad", "rise towards +Y, likewise"),
        new("offset", "mm", "mean of the sweep"),
    ];

    /// <inheritdoc/>
    public override string? WhyNoPublishedCase => "no published sweep with all readings and the result was found; it is a plane in polar form, and the plane has its cases under flatness";

    /// <inheritdoc/>
    public override Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options)
    {
        if (options.Number("radius-mm") is not (> 0 and var radius))
            return new Problem("the radius of the sweep is missing", "Give it with --radius-mm");
        var (alongX, alongY) = (Line(readings, "alongX").Any(), Line(readings, "alongY").Any());
        if (Line(readings, "sweep").Any(row => row.Maybe("angle_deg") is null)
            || readings.Used.Any(row => LineOf(row) != "sweep" && row.Maybe("position_mm") is null))
            return new Problem("a row of the sweep has no angle, or a row of a line no position", "Give angle_deg for the sweep and position_mm for the lines");
        var draft = new FindingDraft(this, readings, options);
        ImmutableArray<string> names = ["tilt towards X", "tilt towards Y", "mean of the sweep",
            .. alongX ? ["slope along X", "zero of the line along X"] : Array.Empty<string>(),
            .. alongY ? ["slope along Y", "zero of the line along Y"] : Array.Empty<string>()];
        var model = new LinearModel(names);
        foreach (var row in readings.Used)
            model.Add(Coefficients(row, radius, names, alongX), row["reading_mm"], row["reading_mm"]);
        return model.Solve(options, draft.Remarks, Scatter.LastDigit(readings, "reading_mm"))
            .Then(fit => Found(fit, draft, readings, radius, alongX, alongY, options));
    }

    /// <inheritdoc/>
    public override Figure? Picture(Finding finding, ReadingTable readings) =>
        Polar.Harmonic("Spindle sweep", [("sweep", [.. Line(readings, "sweep").Select(row => (row["angle_deg"], row["reading_mm"]))])],
            "The surface is nearest to the spindle where the curve is furthest out.");

    private static Outcome<Finding> Found(LinearResult fit, FindingDraft draft, ReadingTable readings, double radius, bool alongX, bool alongY, FitOptions options)
    {
        double[] x = fit.Unit(0), y = fit.Unit(1);
        if (alongX)
            x[3] = -1;
        if (alongY)
            y[alongX ? 5 : 3] = -1;
        var (tx, ty) = (fit.Value(x), fit.Value(y));
        var size = Math.Sqrt(tx * tx + ty * ty);
        double[] along = size == 0 ? x : [.. x.Zip(y, (a, b) => (tx * a + ty * b) / size)];
        draft.Add("tilt", "rad", size, fit.Parts(along), LinearResult.NoScatter);
        draft.Add("tiltX", "rad", tx, fit.Parts(x), LinearResult.NoScatter);
        draft.Add("tiltY", "rad", ty, fit.Parts(y), LinearResult.NoScatter);
        draft.Add("offset", "mm", fit.Value(fit.Unit(2)), fit.Parts(fit.Unit(2)), LinearResult.NoScatter);
        draft.Remarks.Add(alongX && alongY
            ? "The tilt is relative to the axes: the slope of the surface was measured with them and taken off."
            : "The tilt is relative to the surface swept; with lines along X and Y it would be relative to the axes.");
        var (sweepX, sweepY) = (fit.Value(fit.Unit(0)), fit.Value(fit.Unit(1)));
        draft.Remarks.Add($"The sweep is highest at {Steepest(sweepX, sweepY, radius)}."
            + (alongX || alongY ? $" Less the slope of the surface it is highest at {Steepest(tx, ty, radius)}: so the spindle leans." : ""));
        draft.Look(fit.Series(readings, "reading_mm", options));
        return draft.Close(2 * radius, Advise, fit.Covariance(along, x, y, fit.Unit(2)), fit.Solution.Residuals, fit.Residual);
    }

    private static string Steepest(double x, double y, double radius) => string.Create(CultureInfo.InvariantCulture,
        $"{(Math.Round(Math.Atan2(y, x) * 180 / Math.PI) + 360) % 360:0} degrees, by {2 * radius * Math.Sqrt(x * x + y * y):0.000} mm over the circle");

    private static Advice Advise(Judgement judgement) => judgement.Usual("The tilt", Outside, judgement.Significant is true
        ? Outside with { Because = "The spindle is tilted by more than the uncertainty of the sweep." }
        : null);

    private static readonly Advice Outside = new()
    {
        Action = AdviceAction.Change,
        Because = "The spindle is tilted by more than the limit, the uncertainty counted.",
        Next = "Shim or turn the mounting plate with the cord pulled from the socket, tighten, and sweep again.",
    };

    private static double[] Coefficients(ReadingRow row, double radius, ImmutableArray<string> names, bool alongX)
    {
        var coefficients = new double[names.Length];
        var line = LineOf(row);
        if (line == "sweep")
        {
            var angle = row["angle_deg"] * Math.PI / 180;
            (coefficients[0], coefficients[1], coefficients[2]) = (radius * Math.Cos(angle), radius * Math.Sin(angle), 1);
        }
        else
        {
            var at = line == "alongX" || !alongX ? 3 : 5;
            (coefficients[at], coefficients[at + 1]) = (row["position_mm"], 1);
        }
        return coefficients;
    }

    private static string LineOf(ReadingRow row) => row.Words.GetValueOrDefault("line", "sweep");

    private static IEnumerable<ReadingRow> Line(ReadingTable readings, string line) => readings.Used.Where(row => LineOf(row) == line);
}
