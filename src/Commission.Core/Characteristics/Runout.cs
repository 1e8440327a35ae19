using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Fits;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>Runout of a pin in the spindle by its first harmonic at one height or more.</summary>
public sealed class Runout : CharacteristicKind
{
    /// <inheritdoc/>
    public override string Id => "runout";

    /// <inheritdoc/>
    public override string Title => "runout";

    /// <inheritdoc/>
    public override string Method => "runout/2";

    /// <inheritdoc/>
    public override ImmutableArray<ColumnSpec> Columns =>
    [
        new("angle_deg", ColumnContent.Angle, "angle of the spindle"),
        new("reading_mm", ColumnContent.Length, "reading"),
        new("height_mm", ColumnContent.Length, "distance from the collet"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<OptionSpec> Options => [new("tip-mm", true, "distance of the tool's tip from the collet")];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters =>
    [
        new("tir[HEIGHT]", "mm", "total runout at a height, twice the eccentricity") { IsSize = true },
        new("tirAtTip", "mm", "total runout foretold at the tip; the headline where the tip is given") { IsSize = true },
        new("tilt", "rad", "tilt of the pin to the axis of rotation") { IsSize = true },
        new("offset", "mm", "eccentricity at the collet") { IsSize = true },
    ];

    /// <inheritdoc/>
    public override string? WhyNoPublishedCase => "no published example with all readings was found; harmonics of known size and simulated spindles check it";

    /// <inheritdoc/>
    public override Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options)
    {
        double[] heights = [.. readings.Used.Select(row => row["height_mm"]).Distinct().Order()];
        var draft = new FindingDraft(this, readings, options);
        var tip = options.Number("tip-mm");
        if (tip is not null && heights.Length < 2)
            return new Problem("the tip needs readings at two heights", "Read a full turn at a second height, or leave --tip-mm out");
        var model = new LinearModel([.. heights.SelectMany(h => new[] { "mean", "cosine", "sine" }
            .Select(part => string.Create(CultureInfo.InvariantCulture, $"{part} at height {h:0.###}")))]);
        foreach (var row in readings.Used)
        {
            var coefficients = new double[3 * heights.Length];
            var at = 3 * Array.IndexOf(heights, row["height_mm"]);
            var angle = row["angle_deg"] * Math.PI / 180;
            (coefficients[at], coefficients[at + 1], coefficients[at + 2]) = (1, Math.Cos(angle), Math.Sin(angle));
            model.Add(coefficients, row["reading_mm"], row["reading_mm"]);
        }
        return model.Solve(options, draft.Remarks, Scatter.LastDigit(readings, "reading_mm"))
            .Then(fit => Found(fit, heights, tip, draft, readings, options));
    }

    /// <inheritdoc/>
    public override Figure? Picture(Finding finding, ReadingTable readings) => Polar.Harmonic("Runout",
        [.. readings.Used.GroupBy(row => row["height_mm"]).OrderBy(g => g.Key).Select(g => (
            string.Create(CultureInfo.InvariantCulture, $"height {g.Key:0.###} mm"), g.Select(row => (row["angle_deg"], row["reading_mm"])).ToArray()))],
        "The further the curve lies from a circle about the centre, the more the pin runs out.");

    private static Outcome<Finding> Found(LinearResult fit, double[] heights, double? tip, FindingDraft draft, ReadingTable readings, FitOptions options)
    {
        var vectors = heights.Select((h, i) => new Vector(fit, [(3 * i, 1.0)])).ToArray();
        var combinations = new List<double[]>();
        void Add(string name, string unit, Vector vector, double factor)
        {
            var along = vector.Along(factor);
            combinations.Add(along);
            draft.Add(name, unit, factor * vector.Size, fit.Parts(along), LinearResult.NoScatter);
        }
        if (tip is { } z)
            Add("tirAtTip", "mm", Line(fit, heights, z, value: true), 2);
        for (var i = 0; i < heights.Length; i++)
            Add(string.Create(CultureInfo.InvariantCulture, $"tir[{heights[i]:0.######}]"), "mm", vectors[i], 2);
        if (heights.Length > 1)
        {
            Add("tilt", "rad", Line(fit, heights, 0, value: false), 1);
            Add("offset", "mm", Line(fit, heights, 0, value: true), 1);
        }
        else
        {
            draft.AddBare("tilt", "rad", null, "it needs a second height");
            draft.AddBare("offset", "mm", null, "it needs a second height");
        }
        if (fit.Scatter is { } scatter)
            Floor(draft, fit, scatter, heights.Length, readings);
        draft.Look(fit.Series(readings, "reading_mm", options));
        return draft.Close(null, Advise, fit.Covariance(combinations), fit.Solution.Residuals, fit.Residual);
    }

    /// <summary>What noise alone would show, and the second harmonic, which belongs to the pin.</summary>
    private static void Floor(FindingDraft draft, LinearResult fit, Scatter scatter, int heights, ReadingTable readings)
    {
        var n = readings.Used.Count() / (double)heights;
        draft.Remarks.Add(string.Create(CultureInfo.InvariantCulture,
            $"Noise alone would show a runout of {2 * scatter.StandardDeviation * Math.Sqrt(Math.PI / n):0.0000} mm."));
        if (n < 6 || SecondHarmonic(fit, readings) is not { } size)
            return;
        if (size > scatter.StandardDeviation * Math.Sqrt(4 * Math.Log(100) / fit.Values.Count))
            draft.Remarks.Add(string.Create(CultureInfo.InvariantCulture, $"A second harmonic of {size:0.0000} mm is left over: the pin may be out of round."));
    }

    /// <summary>Amplitude of the second harmonic that all heights share, fitted beside the first; null where the angles do not determine it.</summary>
    private static double? SecondHarmonic(LinearResult fit, ReadingTable readings)
    {
        var system = new AugmentedSystem([.. Enumerable.Range(0, fit.Unknowns).Select(i => $"unknown {i}"), "second cosine", "second sine"]);
        foreach (var ((row, design), value) in readings.Used.Zip(fit.Design).Zip(fit.Values))
        {
            var twice = 2 * row["angle_deg"] * Math.PI / 180;
            system.Reading([.. design, Math.Cos(twice), Math.Sin(twice)], value);
        }

        return system.Solve() is Outcome<LeastSquaresSolution>.Good { Value: var found }
            ? Math.Sqrt(Math.Pow(found["second cosine"], 2) + Math.Pow(found["second sine"], 2))
            : null;
    }

    /// <summary>Value at a height, or slope, of the straight line through the vectors of all heights.</summary>
    private static Vector Line(LinearResult fit, double[] heights, double at, bool value)
    {
        var mean = heights.Average();
        var spread = heights.Sum(h => (h - mean) * (h - mean));
        return new Vector(fit, [.. heights.Select((h, i) => (3 * i, value ? 1.0 / heights.Length + (h - mean) * (at - mean) / spread : (h - mean) / spread))]);
    }

    private static Advice Advise(Judgement judgement) => judgement.Usual("The runout", new Advice
    {
        Action = AdviceAction.FindTheFault,
        Because = "The runout is larger than the limit, its uncertainty counted.",
        Next = "Clean taper and collet, turn the pin by 180 degrees and read again: what follows the pin belongs to pin or collet, what stays to the spindle.",
    });

    /// <summary>An eccentricity as a combination of the unknowns: cosine and sine parts weighted alike.</summary>
    private sealed class Vector(LinearResult fit, (int Start, double Weight)[] weights)
    {
        public double Size => Math.Sqrt(Cosine * Cosine + Sine * Sine);

        private double Cosine => fit.Value(Pick(1));

        private double Sine => fit.Value(Pick(2));

        /// <summary>The combination whose value is the size, in the direction found.</summary>
        public double[] Along(double factor)
        {
            var (c, s, size) = (Cosine, Sine, Size);
            return [.. Pick(1).Zip(Pick(2), (a, b) => factor * (size == 0 ? a : (c * a + s * b) / size))];
        }

        private double[] Pick(int offset)
        {
            var row = new double[fit.Unknowns];
            foreach (var (start, weight) in weights)
                row[start + offset] = weight;
            return row;
        }
    }
}
