using System.Collections.Immutable;
using Commission.Core.Readings;
using Commission.Core.Suspects;
using static System.FormattableString;

namespace Commission.Core.Characteristics;

/// <summary>What an operator's hand adds with one instrument: objects measured more than once. Pooled into later fits.</summary>
public sealed class GaugeStudy : CharacteristicKind
{
    /// <inheritdoc/>
    public override string Id => "gauge-study";

    /// <inheritdoc/>
    public override string Title => "gauge study";

    /// <inheritdoc/>
    public override string Method => "gauge-study/2";

    /// <inheritdoc/>
    public override bool IsHandStudy => true;

    /// <inheritdoc/>
    public override ImmutableArray<ColumnSpec> Columns =>
    [
        new("object", ColumnContent.Word, "name of the object measured"),
        new("trial", ColumnContent.Word, "count of the trial on this object"),
        new("reading_mm", ColumnContent.Length, "reading"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters => [new("standardDeviation", "mm", "standard deviation of one reading, pooled over the objects") { IsSize = true }];

    /// <inheritdoc/>
    public override ImmutableArray<PublishedCase> PublishedCases => ScatterCases.Studies;

    /// <inheritdoc/>
    public override string? WhyNoPicture => "one standard deviation is read better as a number than as a picture";

    /// <inheritdoc/>
    public override Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options)
    {
        var means = readings.Used.GroupBy(row => row.Words["object"]).Select((g, i) => (g.Key, Index: i, Mean: g.Average(r => r["reading_mm"]), Count: g.Count()))
            .ToDictionary(g => g.Key, g => (g.Index, g.Mean, g.Count));
        var freedom = means.Values.Sum(m => m.Count - 1);
        if (freedom < 1)
            return new Problem("no object was measured twice", "Measure at least one object more than once, better one ten times and five twice");
        double[] residuals = [.. readings.Used.Select(row => row["reading_mm"] - means[row.Words["object"]].Mean)];
        var deviation = Math.Sqrt(residuals.Sum(r => r * r) / freedom);
        var draft = new FindingDraft(this, readings, options) { NeedsInstrument = false };
        draft.Look(new Series
        {
            Readings = readings,
            Column = "reading_mm",
            Design = [.. readings.Used.Select(row => Enumerable.Range(0, means.Count).Select(i => i == means[row.Words["object"]].Index ? 1.0 : 0).ToArray())],
            Values = [.. readings.Used.Select(row => row["reading_mm"])],
            Residuals = residuals,
            Leverages = [.. readings.Used.Select(row => 1.0 / means[row.Words["object"]].Count)],
            Unknowns = means.Count,
            Resolution = options.Instrument?.ResolutionMm,
            MayAgree = true,
        });
        draft.Doubt(Patterns.CopiedTrials(readings));
        draft.Doubt(Patterns.LastDigits(readings, "reading_mm"));
        deviation = Scatter.Shown(deviation, freedom, Scatter.Coarser(options.Instrument?.ResolutionMm, Scatter.LastDigit(readings, "reading_mm")), draft.Remarks);
        if (freedom < 9)
            draft.Remarks.Add("The study is short: with fewer than nine degrees of freedom its own standard deviation is good to a third at best.");
        if (deviation > 0)
            draft.AddDeviation("standardDeviation", "mm", deviation, freedom);
        else
            draft.AddBare("standardDeviation", "mm", 0, "all readings are the same and the resolution is not known");
        return draft.Close(null, judgement => IsBeyondBelief(deviation, options.Instrument) ? NoHand(deviation, options.Instrument!) : Advise(judgement), residuals: [.. residuals], scatter: deviation,
            judge: deviation > 0 ? limit => Judgement.OfDeviation(deviation, freedom, limit) : null);
    }

    // Ten times what the instrument itself may be off: a slip among the readings, not a hand (our choice).
    private const double BeyondBelief = 10;

    // Such a study is shown and kept, and not used for other results.
    private static bool IsBeyondBelief(double deviationMm, Instruments.Instrument? instrument) => Coarse(instrument) is > 0 and var coarse && deviationMm > BeyondBelief * coarse;

    private static double Coarse(Instruments.Instrument? instrument) => Math.Max(instrument?.LimitMm ?? 0, instrument?.ResolutionMm ?? 0);

    private static Advice NoHand(double deviation, Instruments.Instrument instrument) => new()
    {
        Action = AdviceAction.FindTheFault,
        Because = Invariant($"{deviation:0.000} mm is {deviation / Coarse(instrument):0} times what the instrument itself may be off, {Coarse(instrument):0.000} mm: no hand scatters so. It is not used for other results."),
        Next = "Look at the readings for a slip, or a thing that was changed for another; then do the study anew.",
    };

    private static Advice Advise(Judgement judgement) => judgement.Usual("The scatter of the hand", new Advice
    {
        Action = AdviceAction.MeasureMore,
        Because = "The readings of one object scatter more than the limit allows.",
        Next = "Wipe the jaws, use the same light force, measure near the beam, and repeat the study.",
    }, judgement.Limit is not null ? null : new Advice
    {
        Action = AdviceAction.Leave,
        Because = "It is no error of the machine: it is kept for this hand and this instrument, and every later result counts with it.",
    });
}
