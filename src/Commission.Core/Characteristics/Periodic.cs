using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>Error that comes back with every turn of the screw, pulley or pinion.</summary>
public sealed class Periodic : CharacteristicKind
{
    /// <inheritdoc/>
    public override string Id => "periodic";

    /// <inheritdoc/>
    public override string Title => "periodic error";

    /// <inheritdoc/>
    public override string Method => "periodic/2";

    /// <inheritdoc/>
    public override ImmutableArray<ColumnSpec> Columns =>
    [
        new("commanded_mm", ColumnContent.Length, "commanded position"),
        new("measured_mm", ColumnContent.Length, "measured position"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<OptionSpec> Options => [new("period-mm", true, "length after which the error comes back", Required: true)];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters =>
    [
        new("amplitude", "mm", "half the swing of the error") { IsSize = true },
        new("phase", "rad", "the error is amplitude times cos(2 pi commanded / period - phase)"),
    ];

    /// <inheritdoc/>
    public override string? WhyNoPublishedCase => "no published example with all readings was found; harmonics of known size and the limit of false alarms check it";

    /// <inheritdoc/>
    public override Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options)
    {
        if (options.Number("period-mm") is not (> 0 and var period))
            return new Problem("the period is missing", "Give it with --period-mm: the lead of the screw, or the travel for one turn of the pulley");
        var draft = new FindingDraft(this, readings, options);
        var model = new LinearModel("zero", "scale error", "cosine part", "sine part");
        foreach (var row in readings.Used)
        {
            var turn = 2 * Math.PI * row["commanded_mm"] / period;
            model.Add([1, row["commanded_mm"], Math.Cos(turn), Math.Sin(turn)], row["measured_mm"] - row["commanded_mm"], row["measured_mm"]);
        }
        return model.Solve(options, draft.Remarks, Scatter.LastDigit(readings, "measured_mm")) switch
        {
            Outcome<LinearResult>.Bad bad => new Outcome<Finding>.Bad([.. bad.Problems.Select(p => p with
            {
                Remedy = "Add targets at other parts of the period; targets that are multiples of it, or of half of it, cannot show the error",
            })]),
            Outcome<LinearResult>.Good good => Found(good.Value, draft, readings, options),
            _ => throw new System.Diagnostics.UnreachableException(),
        };
    }

    /// <inheritdoc/>
    public override Figure? Picture(Finding finding, ReadingTable readings)
    {
        double[] c = [.. readings.Used.Select(row => row["commanded_mm"])], off = [.. readings.Used.Select(row => row["measured_mm"] - row["commanded_mm"])];
        var (mean, level) = (c.Average(), off.Average());
        var slope = c.Zip(off, (x, y) => (x - mean) * (y - level)).Sum() / c.Sum(x => (x - mean) * (x - mean));
        double Straight(int i) => off[i] - level - slope * (c[i] - mean);
        return new Figure
        {
            Title = "Error along the travel, zero and scale taken off",
            Horizontal = "commanded position, mm",
            Vertical = "off the straight line, mm",
            Layers =
            [
                new FigureLayer.Points("readings", FigureMark.Dot, [.. c.Select((x, i) => new FigurePoint(x, Straight(i)))]),
                new FigureLayer.Points("fitted", FigureMark.Fitted, [.. finding.Residuals.Select((left, i) => new FigurePoint(c[i], Straight(i) - left))]),
            ],
            Summary = string.Create(CultureInfo.InvariantCulture, $"{finding.Used} readings; an error of amplitude {finding.Headline.Value:0.0000} mm comes back with the period given."),
        };
    }

    /// <summary>Amplitude that noise alone exceeds in one of twenty tests: sqrt(2 F v), F the 95 % point of Fisher's distribution with 2 and the scatter's degrees of freedom.</summary>
    /// <param name="variance">Variance of the amplitude along its own phase, the other part fixed; 2 s^2 / n where the phases are spread over many periods. Then, with a scatter that is known, it is s sqrt(4 ln 20 / n) (own simulation).</param>
    /// <param name="freedom">Degrees of freedom of the scatter; infinite where it is known.</param>
    public static double FalseAlarmLimit(double variance, double freedom)
    {
        const double chance = 0.05;
        var f = double.IsPositiveInfinity(freedom) ? -Math.Log(chance) : freedom / 2 * (Math.Pow(chance, -2 / freedom) - 1);
        return Math.Sqrt(2 * f * variance);
    }

    // Over one period a straight line is like a sine: the scale, which is fitted too, leaves that part of the wave much less certain.
    private static double? Limit(LinearResult fit, double[] along, double[] across) =>
        fit.Scatter is { } scatter && fit.Covariance(along, across) is [[var own, var mixed], [_, var other]] && other > 0
            ? FalseAlarmLimit(own - (mixed * mixed / other), scatter.DegreesOfFreedom)
            : null;

    private static Outcome<Finding> Found(LinearResult fit, FindingDraft draft, ReadingTable readings, FitOptions options)
    {
        double[] cosine = fit.Unit(2), sine = fit.Unit(3);
        var (a, b) = (fit.Value(cosine), fit.Value(sine));
        var amplitude = Math.Sqrt(a * a + b * b);
        double[] along = amplitude == 0 ? cosine : [0, 0, a / amplitude, b / amplitude];
        draft.Add("amplitude", "mm", amplitude, fit.Parts(along), LinearResult.NoScatter);
        double[] across = amplitude == 0 ? sine : [0, 0, -b / (amplitude * amplitude), a / (amplitude * amplitude)];
        var limit = Limit(fit, along, across);
        if (amplitude == 0 || amplitude < limit)
            draft.AddBare("phase", "rad", amplitude == 0 ? null : Math.Atan2(b, a), "the amplitude is no larger than noise makes it, so the phase means nothing");
        else
            draft.Add("phase", "rad", Math.Atan2(b, a), fit.Parts(across), LinearResult.NoScatter);
        if (limit is { } l)
        {
            draft.Remarks.Add(string.Create(CultureInfo.InvariantCulture,
                $"Noise alone reaches an amplitude of {l:0.0000} mm in one of twenty tests; this one is {(amplitude > l ? "larger" : "not larger")}."));
        }
        draft.Look(fit.Series(readings, "measured_mm", options) with { Commanded = "commanded_mm", OneSided = true });
        return draft.Close(null, judgement => Advise(judgement, amplitude > (limit ?? double.MaxValue)), fit.Covariance(along, across), fit.Solution.Residuals, fit.Residual);
    }

    private static Advice Advise(Judgement judgement, bool real)
    {
        var fault = new Advice
        {
            Action = AdviceAction.FindTheFault,
            Because = "An error that comes back with each turn cannot be cured by the steps for one millimetre.",
            Next = "Look at coupling, end bearing and pulley for eccentricity; measure scale at targets spread over the turn.",
        };
        return judgement.Usual("The periodic error", fault, real
            ? fault
            : new Advice { Action = AdviceAction.Leave, Because = "No periodic error larger than noise was found." });
    }
}
