using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Quantities;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>The highest speed of a rising ladder before steps are lost, and the losses in units of the motor's own quantum.</summary>
public sealed class SpeedLadder : CharacteristicKind
{
    // What is kept back for load, heat and age: common practice, no source.
    private const double Share = 0.7;

    // Fewer clean rungs tell nothing of how well the axis comes back to the mark (our choice).
    private const int FewestClean = 3;

    /// <summary>The greatest speed to set where a ladder found a limit: seven tenths of it, to the whole number that the advice names.</summary>
    /// <param name="limitMmMin">Highest speed at which no step was lost, mm/min.</param>
    /// <returns>mm/min.</returns>
    public static double Allowed(double limitMmMin) => Math.Round(limitMmMin * Share, MidpointRounding.AwayFromZero);

    /// <inheritdoc/>
    public override string Id => "speed-ladder";

    /// <inheritdoc/>
    public override string Title => "speed ladder";

    /// <inheritdoc/>
    public override string Method => "speed-ladder/1";

    /// <inheritdoc/>
    public override ImmutableArray<ColumnSpec> Columns =>
    [
        new("speed_mm_min", ColumnContent.Number, "speed of the rung, mm/min"),
        new("offset_mm", ColumnContent.Length, "offset from the mark after the moves of the rung"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<OptionSpec> Options => [Discriminator.StepAngle];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters =>
    [
        new("limit", "mm/min", "highest rung below the first that failed") { IsSize = true, IsBound = true },
        new("quantum", "mm", "travel of four full steps: one tooth of the rotor") { IsSize = true },
    ];

    /// <inheritdoc/>
    public override string? WhyNoPublishedCase => "a ladder counts and compares; it computes nothing that was published";

    /// <inheritdoc/>
    public override Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options)
    {
        var quantum = Discriminator.Quantum(options);
        var u = ReadingUncertainty(options);
        if (quantum is null && u is null)
            return new Problem("nothing tells how large an offset means lost steps", "Give the travel for one turn with --lead-mm, or the instrument");
        if (readings.Used.Any(row => !(row["speed_mm_min"] > 0)))
            return new Problem("a speed is not positive", "Give every rung its speed in mm/min");
        var threshold = Math.Max(3 * (u ?? 0), (quantum ?? 0) / 2);
        var rungs = readings.Used.GroupBy(row => row["speed_mm_min"]).OrderBy(g => g.Key)
            .Select(g => (Speed: g.Key, Failed: g.Any(row => Math.Abs(row["offset_mm"]) > threshold))).ToArray();
        var draft = new FindingDraft(this, readings, options) { NeedsInstrument = false, HasNoLimit = true };
        var first = Array.FindIndex(rungs, r => r.Failed);
        var clean = first < 0 ? rungs.Length : first;
        if (clean == 0)
            draft.AddBare("limit", "mm/min", null, "already the lowest rung failed");
        else
            draft.AddBare("limit", "mm/min", rungs[clean - 1].Speed, "a ladder gives a rung: the limit lies between it and the next one");
        if (quantum is { } q)
            draft.AddBare("quantum", "mm", q, "it follows from the travel for one turn and the motor's steps");
        else
            draft.AddBare("quantum", "mm", null, "the travel for one turn is not known");
        var offsets = readings.Used.Select(row => row["offset_mm"]).ToLookup(offset => Math.Abs(offset) > threshold);
        var ofOne = OfOneLoss(options, [.. offsets[false]]);
        Describe(draft, readings, rungs, threshold, quantum, ofOne);
        var slips = offsets[true].Any() && quantum is { } tooth && Discriminator.Slips([.. offsets[true]], tooth, ofOne);
        return draft.Close(null, _ => slips ? Slipping : Advise(rungs, clean), judge: limit => new Judgement(Verdict.None, limit, null, ""));
    }

    /// <inheritdoc/>
    public override Figure? Picture(Finding finding, ReadingTable readings) => new()
    {
        Title = "Offsets by speed",
        Horizontal = "speed, mm/min",
        Vertical = "offset from the mark, mm",
        Layers = [new FigureLayer.Points("offset after the rung", FigureMark.Dot, [.. readings.Used.Select(row => new FigurePoint(row["speed_mm_min"], row["offset_mm"]))])],
        Summary = finding.Headline.Value is { } limit
            ? string.Create(CultureInfo.InvariantCulture, $"{finding.Used} rungs; the highest below the first that failed is {limit:0} mm/min.")
            : "Already the lowest rung failed.",
    };

    private static double? ReadingUncertainty(FitOptions options) =>
        options.Hand?.StandardDeviationMm ?? (options.Instrument is { LimitMm: { } limit } ? limit / Math.Sqrt(3) : options.Instrument?.ResolutionMm / Math.Sqrt(6));

    // A loss is set against whole teeth: there the dial's own error counts, and how far clean rungs lie from the mark, which holds the hand and how well the axis comes back.
    // Of few of them a larger part of the scatter is taken, as Student's t has it.
    private static double? OfOneLoss(FitOptions options, double[] clean)
    {
        if (clean.Length < FewestClean || (options.Instrument?.LimitMm ?? (options.Hand is null ? null : 0)) is not { } limit)
            return null;
        var scatter = Math.Sqrt(clean.Sum(offset => offset * offset) / clean.Length) * StudentT.Quantile(0.975, clean.Length) / StandardNormal.Quantile(0.975);
        scatter = Math.Max(scatter, options.Hand?.StandardDeviationMm ?? 0);
        return Math.Sqrt((limit * limit / 3) + (scatter * scatter));
    }

    private static void Describe(
        FindingDraft draft, ReadingTable readings, (double Speed, bool Failed)[] rungs, double threshold, double? quantum, double? u)
    {
        draft.Remarks.Add(string.Create(CultureInfo.InvariantCulture, $"An offset beyond {threshold:0.000} mm counts as a loss."));
        var failed = readings.Used.Where(row => Math.Abs(row["offset_mm"]) > threshold).ToArray();
        if (quantum is { } q)
        {
            foreach (var row in failed)
                draft.Remarks.Add(string.Create(CultureInfo.InvariantCulture, $"At {row["speed_mm_min"]:0} mm/min {row["offset_mm"]:+0.000;-0.000} mm were lost: {row["offset_mm"] / q:+0.00;-0.00} teeth of the rotor."));
            if (failed.Length > 0)
                draft.Remarks.Add(Discriminator.Losses([.. failed.Select(row => row["offset_mm"])], q, u));
        }

        var first = Array.FindIndex(rungs, r => r.Failed);
        if (first >= 0 && rungs.Skip(first).Any(r => !r.Failed))
            draft.Remarks.Add("Faster rungs ran clean again: the failing ones are a band of resonance, to be crossed quickly and never dwelt in.");
    }

    private static readonly Advice Slipping = new()
    {
        Action = AdviceAction.FindTheFault,
        Because = "What was lost is no whole teeth of the rotor: something slips, and no lower speed cures that.",
        Next = "Draw a line of paint across shaft and coupling, pulley or pinion: where it breaks it slips. Tighten the grub screw, coupling or belt, then run the ladder anew.",
    };

    private static Advice Advise((double Speed, bool Failed)[] rungs, int clean) => clean == 0
        ? new Advice { Action = AdviceAction.FindTheFault, Because = "Already the lowest rung lost its position.", Next = "Check current, microsteps, direction set-up time and couplings, then start lower." }
        : new Advice
        {
            Action = AdviceAction.Change,
            Because = string.Create(CultureInfo.InvariantCulture, $"{rungs[clean - 1].Speed:0} mm/min ran clean{(clean < rungs.Length ? " and the next rung did not" : ", the highest rung tried")}."),
            Next = string.Create(CultureInfo.InvariantCulture, $"Set no more than {Allowed(rungs[clean - 1].Speed):0} mm/min, seven tenths of it."),
        };
}
