using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Quantities;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>The highest speed of a rising ladder before steps are lost, and the losses in units of the motor's own quantum (M 3.4, 9).</summary>
public sealed class SpeedLadder : CharacteristicKind
{
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
    public override ImmutableArray<OptionSpec> Options => [new("step-angle-deg", true, "full step of the motor, 1.8 where not told")];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters =>
    [
        new("limit", "mm/min", "highest rung below the first that failed"),
        new("quantum", "mm", "travel of four full steps: one tooth of the rotor"),
    ];

    /// <inheritdoc/>
    public override Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options)
    {
        var quantum = options.TravelPerTurnMm * 4 * options.Numbers.GetValueOrDefault("step-angle-deg", 1.8) / 360;
        var u = ReadingUncertainty(options);
        if (quantum is null && u is null)
            return new Problem("nothing tells how large an offset means lost steps", "Give the travel for one turn with --lead-mm, or the instrument");
        if (readings.Used.Any(row => !(row["speed_mm_min"] > 0)))
            return new Problem("a speed is not positive", "Give every rung its speed in mm/min");
        var threshold = Math.Max(3 * (u ?? 0), (quantum ?? 0) / 2);
        var rungs = readings.Used.GroupBy(row => row["speed_mm_min"]).OrderBy(g => g.Key)
            .Select(g => (Speed: g.Key, Failed: g.Any(row => Math.Abs(row["offset_mm"]) > threshold))).ToArray();
        var draft = new FindingDraft(this, readings, options) { NeedsInstrument = false };
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
        Describe(draft, readings, rungs, threshold, quantum, u);
        return draft.Close(null, _ => Advise(rungs, clean), judge: limit => new Judgement(Verdict.None, limit, null, null, null, ""));
    }

    /// <summary>Log likelihood of losses in whole quanta against losses of any size; positive speaks for stalls (M 3.4).</summary>
    /// <param name="offsets">Offsets that did not come back, mm.</param>
    /// <param name="quantum">Four full steps, mm.</param>
    /// <param name="uncertainty">Standard uncertainty of one offset, mm.</param>
    public static double StallEvidence(IEnumerable<double> offsets, double quantum, double uncertainty) => offsets.Sum(r =>
        Math.Log(quantum * Enumerable.Range(-3, 7).Sum(k => StandardNormal.Density((r - quantum * (Math.Round(r / quantum) + k)) / uncertainty)) / uncertainty));

    private static double? ReadingUncertainty(FitOptions options) =>
        options.Hand?.StandardDeviationMm ?? (options.Instrument is { LimitMm: { } limit } ? limit / Math.Sqrt(3) : options.Instrument?.ResolutionMm / Math.Sqrt(6));

    private static void Describe(
        FindingDraft draft, ReadingTable readings, (double Speed, bool Failed)[] rungs, double threshold, double? quantum, double? u)
    {
        draft.Remarks.Add(string.Create(CultureInfo.InvariantCulture, $"An offset beyond {threshold:0.000} mm counts as a loss."));
        var failed = readings.Used.Where(row => Math.Abs(row["offset_mm"]) > threshold).ToArray();
        if (quantum is { } q)
        {
            foreach (var row in failed)
                draft.Remarks.Add(string.Create(CultureInfo.InvariantCulture, $"At {row["speed_mm_min"]:0} mm/min {row["offset_mm"]:+0.000;-0.000} mm were lost: {row["offset_mm"] / q:+0.00;-0.00} teeth of the rotor."));
            if (failed.Length > 0 && (u is not { } known || known > q / 8))
            {
                draft.Remarks.Add("Whether the motor stalled or something slipped is not decidable with this instrument; an indicator that reads to an eighth of a tooth would tell.");
            }
            else if (failed.Length > 0)
            {
                var evidence = StallEvidence(failed.Select(row => row["offset_mm"]), q, u!.Value);
                draft.Remarks.Add(evidence > Math.Log(10) ? "The losses are whole teeth of the rotor: the motor stalled or fell out of step."
                    : evidence < -Math.Log(10) ? "The losses are no whole teeth of the rotor: something slips, a grub screw, a coupling or a belt."
                    : "The losses do not tell a stall from a slip; repeat the failing rung.");
            }
        }
        var first = Array.FindIndex(rungs, r => r.Failed);
        if (first >= 0 && rungs.Skip(first).Any(r => !r.Failed))
            draft.Remarks.Add("Faster rungs ran clean again: the failing ones are a band of resonance, to be crossed quickly and never dwelt in.");
    }

    private static Advice Advise((double Speed, bool Failed)[] rungs, int clean) => clean == 0
        ? new Advice { Action = AdviceAction.FindTheFault, Because = "Already the lowest rung lost its position.", Next = "Check current, microsteps, direction set-up time and couplings, then start lower." }
        : new Advice
        {
            Action = AdviceAction.Change,
            Because = string.Create(CultureInfo.InvariantCulture, $"{rungs[clean - 1].Speed:0} mm/min ran clean{(clean < rungs.Length ? " and the next rung did not" : ", the highest rung tried")}."),
            Next = string.Create(CultureInfo.InvariantCulture, $"Set no more than {rungs[clean - 1].Speed * 0.7:0} mm/min, seven tenths of it."),
        };
}
