using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Machines;
using Commission.Core.Quantities;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>Reversal value B at one place or more: mean reached in + direction minus mean reached in - direction (ISO 230-2 sign, normally negative).</summary>
public sealed class Backlash : CharacteristicKind
{
    /// <summary>Name of the setting that is proposed: what the controller takes up at a reversal, mm, positive.</summary>
    public const string CompensationSetting = "compensationMm";

    /// <summary>Name of the option with the way an axis had to take up its lost motion.</summary>
    public const string TurnsBeyond = "turns-beyond-mm";

    private const double OverCompensated = 1.2;

    // An axis that turns round within its lost motion does not move at all: what is read is then the way it turned beyond, not what it lost (our choice).
    private const double FillsItsWay = 0.8;

    /// <inheritdoc/>
    public override string Id => "backlash";

    /// <inheritdoc/>
    public override string Title => "lost motion";

    /// <inheritdoc/>
    public override string Method => "backlash/2";

    /// <inheritdoc/>
    public override ImmutableArray<ColumnSpec> Columns =>
    [
        new("place_mm", ColumnContent.Length, "position approached"),
        new("direction", ColumnContent.Direction, "sense of the last approach"),
        new("reading_mm", ColumnContent.Length, "deviation from the place"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<OptionSpec> Options =>
    [
        new("compensation-mm", true, "compensation in the controller now; names the setting to propose"),
        new("friction-lag-mm", true, "friction lag of the rotor to take off the proposal"),
        new(TurnsBeyond, true, "how far beyond a place the axis turned round to come in from above; no more lost motion than that can show"),
        Discriminator.StepAngle,
    ];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters =>
    [
        new("reversal", "mm", "mean reversal value, signed; normally negative"),
        new("reversalLargest", "mm", "reversal value of the place where it is largest, signed"),
        new("reversal[PLACE]", "mm", "reversal value at one place"),
        .. IsoSet.Names.Select(name => new ParameterSpec(name, "mm", "quantity of ISO 230-2, as remembered") { IsSize = name != "iso.meanB" }),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<PublishedCase> PublishedCases => GeometryCases.Reversal;

    /// <inheritdoc/>
    public override Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options)
    {
        var places = Place.Of(readings);
        if (places.FirstOrDefault(p => p.Up.Length == 0 || p.Down.Length == 0) is { } lone)
        {
            return new Problem(string.Create(CultureInfo.InvariantCulture, $"the place {lone.PositionMm:0.###} mm was approached from one side only"),
                "Approach every place from both sides");
        }
        var draft = new FindingDraft(this, readings, options);
        var model = new LinearModel([.. places.SelectMany(p => new[] { Name(p, "+"), Name(p, "-") })]);
        foreach (var row in readings.Used)
        {
            var coefficients = new double[2 * places.Length];
            coefficients[2 * Array.FindIndex(places, p => p.PositionMm == row["place_mm"]) + (row.Sign() > 0 ? 0 : 1)] = 1;
            model.Add(coefficients, row["reading_mm"], row["reading_mm"]);
        }
        return model.Solve(options, draft.Remarks, Scatter.LastDigit(readings, "reading_mm"))
            .Then(fit => Found(fit, places, draft, readings, options));
    }

    /// <inheritdoc/>
    public override Figure? Picture(Finding finding, ReadingTable readings)
    {
        var places = Place.Of(readings);
        var points = finding.Parameters.Where(p => p.Name.StartsWith("reversal[", StringComparison.Ordinal))
            .Zip(places, (p, place) => new FigurePoint(place.PositionMm, p.Value ?? 0, p.ExpandedUncertainty));
        return new Figure
        {
            Title = "Reversal value by place",
            Horizontal = "place, mm",
            Vertical = "reversal value, mm",
            Layers =
            [
                new FigureLayer.Points("reversal value", FigureMark.Dot, [.. points]),
                new FigureLayer.Line("mean", [.. places.Select(p => new FigurePoint(p.PositionMm, finding.Headline.Value ?? 0))], Dashed: true),
            ],
            Summary = string.Create(CultureInfo.InvariantCulture,
                $"Mean reversal value {finding.Headline.Value:+0.000;-0.000} mm over {places.Length} {(places.Length == 1 ? "place" : "places")}, the largest {finding.Parameters[1].Value:+0.000;-0.000} mm."),
        };
    }

    private static Outcome<Finding> Found(LinearResult fit, Place[] places, FindingDraft draft, ReadingTable readings, FitOptions options)
    {
        var m = places.Length;
        double[] At(int i) => [.. Enumerable.Range(0, 2 * m).Select(j => j == 2 * i ? 1.0 : j == 2 * i + 1 ? -1.0 : 0.0)];
        double[] mean = [.. Enumerable.Range(0, 2 * m).Select(j => (j % 2 == 0 ? 1.0 : -1.0) / m)];
        var largest = Enumerable.Range(0, m).MaxBy(i => Math.Abs(places[i].Reversal));
        draft.Add("reversal", "mm", fit.Value(mean), fit.Parts(mean), LinearResult.NoScatter);
        draft.Add("reversalLargest", "mm", fit.Value(At(largest)), fit.Parts(At(largest)), LinearResult.NoScatter);
        for (var i = 0; i < m; i++)
            draft.Add(string.Create(CultureInfo.InvariantCulture, $"reversal[{places[i].PositionMm:0.######}]"), "mm", fit.Value(At(i)), fit.Parts(At(i)), LinearResult.NoScatter);
        IsoSet.AddTo(draft, places, fit.Scatter?.StandardDeviation, () => fit.Parts(mean));
        var differ = PlacesDiffer(places, fit);
        if (differ)
            draft.Remarks.Add("The places differ by more than their scatter: wear or sag along the axis. What is compensated is the smallest of them.");
        draft.Remarks.AddRange(Discriminator.Reversal(fit, draft.BudgetParts.Count == 0 ? null : new Spread(draft.BudgetParts).Fresh, options));
        draft.Look(fit.Series(readings, "reading_mm", options) with { Reversal = fit.Value(mean) });
        IReadOnlyList<double[]> combinations = [mean, At(largest), .. Enumerable.Range(0, m).Select(At)];
        var value = draft.HeadlineValue;
        var propose = differ ? places.MinBy(p => Math.Abs(p.Reversal))!.Reversal : value;
        return draft.Close(null, judgement => Advise(judgement, value, propose, draft.HeadlineExpanded, places.Min(p => p.Reversal), options),
            fit.Covariance(combinations), fit.Solution.Residuals, fit.Residual);
    }

    /// <summary>F test of the reversal values between the places, 5 %.</summary>
    private static bool PlacesDiffer(Place[] places, LinearResult fit)
    {
        if (places.Length < 2 || fit.Scatter is not { } scatter)
            return false;
        double[] weights = [.. places.Select(p => 1 / (1.0 / p.Up.Length + 1.0 / p.Down.Length))];
        var centre = places.Zip(weights, (p, w) => p.Reversal * w).Sum() / weights.Sum();
        var square = places.Zip(weights, (p, w) => w * Math.Pow(p.Reversal - centre, 2)).Sum() / (places.Length - 1);
        var freedom = double.IsPositiveInfinity(scatter.DegreesOfFreedom) ? 1e6 : scatter.DegreesOfFreedom;
        return square > FisherF.Quantile(0.95, places.Length - 1, freedom) * scatter.StandardDeviation * scatter.StandardDeviation;
    }

    /// <summary>The advice where an axis goes further after a reversal by more than is uncertain; null where it does not.</summary>
    /// <param name="shown">What shows it, as the sentence says it.</param>
    /// <param name="reversal">Reversal value, mm, with the sign of ISO 230-2.</param>
    /// <param name="expanded">Its U, mm; null where there is none, and then nothing is said.</param>
    internal static Advice? TurnedOver(string shown, double reversal, double? expanded) => expanded is not { } u || reversal <= OverCompensated * u ? null : new Advice
    {
        Action = AdviceAction.FindTheFault,
        Because = $"The {shown}: the axis goes further after a reversal, which lost motion alone cannot do.",
        Next = "Look whether compensation is switched on already, whether the indicator faces the other way, or whether the directions were typed the wrong way round.",
    };

    private static Advice Advise(Judgement judgement, double value, double propose, double? expanded, double lowest, FitOptions options)
    {
        if (TurnedOver("reversal value is positive", value, expanded) is { } fault)
            return fault;
        if (options.Number(TurnsBeyond) is { } way && -lowest >= FillsItsWay * way)
        {
            return new Advice
            {
                Action = AdviceAction.MeasureMore,
                Because = string.Create(CultureInfo.InvariantCulture, $"{-lowest:0.000} mm were found where the axis turned {way:0.00} mm beyond the place: no more than that can show, so it may be more."),
                Next = "Measure again with a dial that gives way further, or with a caliper's depth rod from farther beyond.",
            };
        }

        var change = Change(value, propose, options);
        return judgement.Usual("The lost motion", change, judgement.Significant is true ? change : judgement.Significant is false
            ? new Advice { Action = AdviceAction.Leave, Because = "No lost motion larger than the uncertainty of the test was found." }
            : null);
    }

    private static Advice Change(double value, double propose, FitOptions options)
    {
        var cure = options.Drive == DriveKind.Belt ? 0.2 : 0.1;
        var mechanical = Math.Abs(value) > cure;
        var advice = new Advice
        {
            Action = AdviceAction.Change,
            Because = string.Create(CultureInfo.InvariantCulture, $"{-value:0.000} mm are lost at each reversal."),
            Next = mechanical
                ? "Cure it mechanically first: nut, bearing, coupling or belt tension; compensation cannot hold against cutting forces."
                : "Reach every position that matters from the same side, or let the controller compensate if it can.",
        };
        if (options.Number("compensation-mm") is not { } current)
            return advice;
        var proposed = Math.Max(0, current - propose - options.Numbers.GetValueOrDefault("friction-lag-mm"));
        var stored = Math.Round(proposed, options.SettingDecimals ?? 3);
        return advice with
        {
            Setting = new ProposedSetting
            {
                Name = CompensationSetting,
                Axis = options.Axis?.ToString(),
                ExpressedAs = "mm",
                Current = current,
                Proposed = proposed,
                AsStored = stored,
                RoundingError = proposed == 0 ? 0 : (stored - proposed) / proposed,
            },
        };
    }

    private static string Name(Place place, string direction) =>
        string.Create(CultureInfo.InvariantCulture, $"the mean at {place.PositionMm:0.###} mm coming in {direction}");
}

/// <summary>Readings at one place.</summary>
/// <param name="PositionMm">The place, mm.</param>
/// <param name="Up">Deviations reached in + direction, mm.</param>
/// <param name="Down">Deviations reached in - direction, mm.</param>
internal sealed record Place(double PositionMm, double[] Up, double[] Down)
{
    /// <summary>Mean reached in + direction less mean reached in - direction.</summary>
    public double Reversal => Up.Average() - Down.Average();

    /// <summary>Standard deviation in + direction, divisor n - 1.</summary>
    public double DeviationUp => Deviation(Up);

    /// <summary>Standard deviation in - direction.</summary>
    public double DeviationDown => Deviation(Down);

    /// <summary>The places in order of position.</summary>
    public static Place[] Of(ReadingTable readings) =>
        [.. readings.Used.GroupBy(row => row["place_mm"]).OrderBy(g => g.Key).Select(g => new Place(g.Key,
            [.. g.Where(row => row.Sign() > 0).Select(row => row["reading_mm"])],
            [.. g.Where(row => row.Sign() < 0).Select(row => row["reading_mm"])]))];

    private static double Deviation(double[] values)
    {
        var mean = values.Average();
        return Math.Sqrt(values.Sum(v => (v - mean) * (v - mean)) / (values.Length - 1));
    }
}
