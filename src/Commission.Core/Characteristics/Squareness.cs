using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Fits;
using Commission.Core.Readings;
using Commission.Core.Suspects;

namespace Commission.Core.Characteristics;

/// <summary>Squareness and scale errors of two axes from any set of distances between marks (own derivation; the equation of strain rosettes).</summary>
public sealed class Squareness : CharacteristicKind
{
    private static readonly ImmutableArray<string> Names = ["squareness", "the scale error of X", "the scale error of Y"];

    /// <inheritdoc/>
    public override string Id => "squareness";

    /// <inheritdoc/>
    public override string Title => "squareness";

    /// <inheritdoc/>
    public override string Method => "squareness/2";

    /// <inheritdoc/>
    public override ImmutableArray<ColumnSpec> Columns =>
    [
        new("x1_mm", ColumnContent.Length, "commanded X of one mark"), new("y1_mm", ColumnContent.Length, "commanded Y of one mark"),
        new("x2_mm", ColumnContent.Length, "commanded X of the other"), new("y2_mm", ColumnContent.Length, "commanded Y of the other"),
        new("distance_mm", ColumnContent.Length, "measured distance"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<OptionSpec> Options => [new("zero-sd-mm", true, "standard uncertainty of a zero error common to all distances")];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters =>
    [
        new("squareness", "rad", "positive where the angle from +X to +Y is below 90 degrees"),
        new("scaleErrorX", "1", "positive where X travels too far"),
        new("scaleErrorY", "1", "positive where Y travels too far"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<PublishedCase> PublishedCases => GeometryCases.Distances;

    /// <inheritdoc/>
    public override Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options)
    {
        Span[] spans = [.. readings.Used.Select(Span.Of)];
        if (spans.Any(s => s.Nominal < 1e-9))
            return new Problem("a row names the same mark twice", "Give two different marks in each row");
        var open = Rows(spans, new Shape(0, 0, 0)).Undetermined();
        if (open.FirstOrDefault(direction => direction.Involves("squareness")) is { } lost)
            return new Problem($"the distances do not determine squareness: {lost.InWords}", "Measure distances in three directions, best both diagonals of a large rectangle and its sides");
        var draft = new FindingDraft(this, readings, options);
        return Iterate(spans, open.Length > 0).Then(shape => Final(spans, shape, open, draft, readings, options));
    }

    /// <inheritdoc/>
    public override Figure? Picture(Finding finding, ReadingTable readings) => DistancePicture.Of("Distances between marks", finding, readings,
        string.Create(CultureInfo.InvariantCulture, $"{finding.Used} distances; the axes are out of square by {finding.Headline.Value * 1000:+0.00;-0.00} mm on each metre."));

    /// <summary>Metric start (exact where it has full rank), then Gauss-Newton.</summary>
    private static Outcome<Shape> Iterate(Span[] spans, bool open)
    {
        var shape = Start(spans);
        for (var step = 0; step < 10; step++)
        {
            var system = Rows(spans, shape);
            if (open)
                Hold(system);
            if (system.Solve() is not Outcome<LeastSquaresSolution>.Good { Value: var solution })
                return new Problem("the distances do not determine the shape of the axes", "Measure distances in more directions");
            shape = new Shape(shape.G + solution.Estimates[0], shape.Ex + solution.Estimates[1], shape.Ey + solution.Estimates[2]);
            if (Math.Abs(shape.G) > 0.5 || Math.Abs(shape.Ex) > 0.5 || Math.Abs(shape.Ey) > 0.5)
            {
                var meant = SeriesDetector.LookAt(Lengths(spans), 0.2).Select(doubt => $"{doubt.Reason} {doubt.Suggestion}").FirstOrDefault();
                return new Problem("the distances do not fit the commanded positions at all", meant ?? "Check units, and which marks each distance lies between");
            }

            if (solution.Estimates.All(d => Math.Abs(d) < 1e-13))
                break;
        }
        return shape;
    }

    /// <summary>d^2 = G11 dx^2 + G22 dy^2 + 2 G12 dx dy, weights 1 / (2 d).</summary>
    private static Shape Start(Span[] spans)
    {
        var system = new AugmentedSystem("G11", "G22", "G12");
        foreach (var s in spans)
            system.Reading([s.Dx * s.Dx, s.Dy * s.Dy, 2 * s.Dx * s.Dy], s.Measured * s.Measured, 2 * s.Nominal);
        if (system.Solve() is not Outcome<LeastSquaresSolution>.Good { Value: var g } || !(g.Estimates[0] > 0) || !(g.Estimates[1] > 0))
            return new Shape(0, 0, 0);
        var sine = g.Estimates[2] / Math.Sqrt(g.Estimates[0] * g.Estimates[1]);
        return Math.Abs(sine) < 0.5 ? new Shape(Math.Asin(sine), Math.Sqrt(g.Estimates[0]) - 1, Math.Sqrt(g.Estimates[1]) - 1) : new Shape(0, 0, 0);
    }

    private static AugmentedSystem Rows(Span[] spans, Shape shape)
    {
        var system = new AugmentedSystem(Names);
        foreach (var s in spans)
            system.Reading(s.Derivatives(shape), s.Measured - s.Distance(shape));
        return system;
    }

    private static void Hold(AugmentedSystem system)
    {
        system.Pseudo(Names[1], 0, 1e-2, "held", false);
        system.Pseudo(Names[2], 0, 1e-2, "held", false);
    }

    private static Outcome<Finding> Final(
        Span[] spans, Shape shape, ImmutableArray<NullDirection> open, FindingDraft draft, ReadingTable readings, FitOptions options)
    {
        var zero = options.Numbers.GetValueOrDefault("zero-sd-mm");
        var model = new LinearModel(zero > 0 ? [.. Names, "the zero of the instrument"] : Names);
        foreach (var s in spans)
            model.Add(zero > 0 ? [.. s.Derivatives(shape), 1] : s.Derivatives(shape), s.Measured - s.Distance(shape), s.Measured);
        if (zero > 0)
            model.Prior([0, 0, 0, 1], zero, "zero of the instrument", shared: true);
        if (open.Length > 0)
        {
            model.Prior(zero > 0 ? [0, 1, 0, 0] : [0, 1, 0], 1e-2, "scale error of X not measured", shared: false);
            model.Prior(zero > 0 ? [0, 0, 1, 0] : [0, 0, 1], 1e-2, "scale error of Y not measured", shared: false);
        }
        return model.Solve(options, draft.Remarks, Scatter.LastDigit(readings, "distance_mm")).Then(fit =>
        {
            (string Name, string Unit, double At)[] parameters = [("squareness", "rad", shape.G), ("scaleErrorX", "1", shape.Ex), ("scaleErrorY", "1", shape.Ey)];
            for (var i = 0; i < 3; i++)
            {
                var lost = open.FirstOrDefault(direction => direction.Involves(Names[i]));
                if (lost is null)
                    draft.Add(parameters[i].Name, parameters[i].Unit, parameters[i].At + fit.Value(fit.Unit(i)), fit.Parts(fit.Unit(i)), LinearResult.NoScatter);
                else
                    draft.AddBare(parameters[i].Name, parameters[i].Unit, null, lost.InWords);
            }
            if (options.Instrument?.LimitMm is not null)
                draft.Remarks.Add("A scale error of the instrument moves both scale errors alike; squareness and their difference do not feel it.");
            draft.Look(fit.Series(readings, "distance_mm", options) with { Lengths = Lengths(spans) });
            var covariance = open.Length > 0 ? fit.Covariance([fit.Unit(0)]) : fit.Covariance(fit.Unit(0), fit.Unit(1), fit.Unit(2));
            return draft.Close(spans.Max(s => s.Nominal), Squaring.Advise, covariance, fit.Solution.Residuals, fit.Residual);
        });
    }

    /// <summary>Distances as commanded and as read.</summary>
    private static AxisPoint[] Lengths(Span[] spans) => [.. spans.Select(s => new AxisPoint(s.Nominal, s.Measured, 0))];

    /// <summary>Squareness and scale errors.</summary>
    private sealed record Shape(double G, double Ex, double Ey);

    /// <summary>A distance between two marks.</summary>
    private sealed record Span(double Dx, double Dy, double Measured)
    {
        public double Nominal => Math.Sqrt(Dx * Dx + Dy * Dy);

        public static Span Of(ReadingRow row) => new(row["x2_mm"] - row["x1_mm"], row["y2_mm"] - row["y1_mm"], row["distance_mm"]);

        public double Distance(Shape s)
        {
            var (u, v) = ((1 + s.Ex) * Dx, (1 + s.Ey) * Dy);
            return Math.Sqrt(u * u + v * v + 2 * u * v * Math.Sin(s.G));
        }

        public double[] Derivatives(Shape s)
        {
            var (u, v, d) = ((1 + s.Ex) * Dx, (1 + s.Ey) * Dy, Distance(s));
            var sine = Math.Sin(s.G);
            return [u * v * Math.Cos(s.G) / d, (u + v * sine) / d * Dx, (v + u * sine) / d * Dy];
        }
    }
}
