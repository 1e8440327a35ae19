using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Fits;
using Commission.Core.Machines;
using Commission.Core.Quantities;
using Commission.Core.Readings;
using Commission.Core.Suspects;

namespace Commission.Core.Characteristics;

/// <summary>Scale error and lost motion of one axis from readings at commanded positions, both in one fit.</summary>
public sealed class AxisScaleKind : CharacteristicKind
{
    private const string Headline = "scaleError";
    private const double ClosureLimit = 3;

    /// <inheritdoc/>
    public override string Id => "axis-scale";

    /// <inheritdoc/>
    public override string Title => "axis scale";

    /// <inheritdoc/>
    public override string Method => "axis-scale/2";

    /// <inheritdoc/>
    public override ImmutableArray<ColumnSpec> Columns =>
    [
        new("commanded_mm", ColumnContent.Length, "position as commanded"),
        new("measured_mm", ColumnContent.Length, "position as measured; grows with the commanded one"),
        new("direction", ColumnContent.Direction, "sense of the last approach, + or -") { Required = false },
        new(AxisReadings.ZeroColumn, ColumnContent.Word, "another word where the set-up was disturbed: readings from there on have a zero of their own") { Required = false, MayBeEmpty = true },
    ];

    /// <inheritdoc/>
    public override ImmutableArray<OptionSpec> Options =>
        [new("abbe-mm", true, "distance between the scale line of the instrument and the line that is measured, mm")];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters =>
    [
        new(Headline, "1", "positive where the axis travels too far; divide the steps for a millimetre by 1 + scaleError"),
        new("reversal", "mm", "position reached in + direction less that in - direction; normally negative, lost motion is its opposite"),
        new("zero", "mm", "reading at commanded position 0, midway between both directions"),
        new("scaleErrorGivenGrade", "1", "scale error with what the drive is known for counted in"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<PublishedCase> PublishedCases => AxisScaleCases.All;

    /// <inheritdoc/>
    public override Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options) =>
        AxisReadings.Of(readings).Then(axis =>
        {
            var draft = new FindingDraft(this, readings, options);
            ImmutableArray<string> unknowns = [.. axis.Directions ? (string[])["scale", "reversal", "zero"] : ["scale", "zero"], .. Enumerable.Range(2, axis.MoreZeros).Select(n => $"zero {n}")];
            var model = new LinearModel(unknowns);

            // The instrument's scale acts on the length read. That is taken without its scatter, so that the readings do not seem to tell it.
            var offsets = axis.Rows.Select((row, i) => (Zero: axis.ZeroOf(i), Off: row.Measured - row.Commanded)).GroupBy(pair => pair.Zero).ToDictionary(group => group.Key, group => group.Average(pair => pair.Off));
            foreach (var ((c, m, d), i) in axis.Rows.Select((row, i) => (row, i)))
                model.Add([.. axis.Directions ? (double[])[c, d / 2.0, 1] : [c, 1], .. axis.ZeroPart(i)], m - c, c + offsets[axis.ZeroOf(i)]);
            return model.Solve(options, draft.Remarks, Scatter.LastDigit(readings, "measured_mm"), axis.Rows.Max(row => Math.Abs(row.Measured)))
                .Then(fit => Levelled(fit, axis, readings) is var (level, table) ? Report(draft, fit, level, table, options) : throw new System.Diagnostics.UnreachableException());
        });

    // Slips, patterns and closure are looked for with the further zeros taken off: a zero that moved is no slip.
    private static (AxisReadings Axis, ReadingTable Table) Levelled(LinearResult fit, AxisReadings axis, ReadingTable readings)
    {
        if (axis.MoreZeros == 0)
            return (axis, readings);
        var first = axis.Directions ? 2 : 1;
        var off = axis.Zeros.Select(zero => zero == 0 ? 0 : fit.Value(fit.Unit(first + zero))).ToArray();
        var used = readings.Used.Select((row, i) => (row.Number, Row: row with { Numbers = row.Numbers.SetItem("measured_mm", row["measured_mm"] - off[i]) })).ToDictionary(pair => pair.Number, pair => pair.Row);
        return (
            axis with { Rows = [.. axis.Rows.Select((row, i) => (row.Commanded, row.Measured - off[i], row.Direction))] },
            readings with { Rows = [.. readings.Rows.Select(row => used.GetValueOrDefault(row.Number, row))] });
    }

    /// <inheritdoc/>
    public override Figure? Picture(Finding finding, ReadingTable readings) => AxisPicture.Of(finding, readings);

    private static Outcome<Finding> Report(FindingDraft draft, LinearResult fit, AxisReadings axis, ReadingTable readings, FitOptions options)
    {
        var corrections = AxisCorrections.Of(axis, options);
        draft.Remarks.AddRange(corrections.Remarks);
        var scale = fit.Unit(0);
        var error = fit.Value(scale) + corrections.Value;
        IReadOnlyList<UncertaintyPart>? parts = fit.Parts(scale) is { } own ? [.. own, .. corrections.Parts] : null;
        draft.Add(Headline, "1", error, parts, LinearResult.NoScatter);
        double[][] combinations = axis.Directions ? [scale, fit.Unit(1), fit.Unit(2)] : [scale, fit.Unit(1)];
        if (axis.Directions) draft.Add("reversal", "mm", fit.Value(fit.Unit(1)), fit.Parts(fit.Unit(1)), LinearResult.NoScatter);
        draft.Add("zero", "mm", fit.Value(combinations[^1]), fit.Parts(combinations[^1]), LinearResult.NoScatter);
        var spread = parts is null ? null : new Spread(parts);
        var covariance = WithCorrections(fit.Covariance(combinations), corrections);
        if (AddGiven(draft, error, spread, axis.Window, options) is { } weight) covariance = WithGiven(covariance, weight, axis.Window, options);
        if (!axis.Directions) draft.AddBare("reversal", "mm", null, "the readings come from one direction, or the directions are not told");
        Doubts(draft, fit, axis, readings, options);
        // A reading that is asked about explains the scatter first.
        var excess = draft.Suspects.Exists(suspect => suspect.Row > 0) ? null : ExcessScatter.Of(fit, readings, options);
        return Close(draft, fit, axis, spread, error, covariance, options, StandsWithoutDoubted(draft, axis, readings, error, options.Drive), excess);
    }

    private static Outcome<Finding> Close(
        FindingDraft draft, LinearResult fit, AxisReadings axis, Spread? spread, double error, ImmutableArray<ImmutableArray<double>> covariance, FitOptions options, bool stands, Advice? excess)
    {
        var length = options.TravelMm ?? axis.LongestCommanded;
        draft.Remarks.Add(string.Create(CultureInfo.InvariantCulture,
            $"The scale is that between {axis.LowestCommanded:0.###} and {axis.HighestCommanded:0.###} mm; the rest of the travel was not measured."));
        var broken = ClosureFault(axis, fit, options) ?? Copied(draft);
        var decision = spread is null ? null : new AxisDecision(error, spread.Combined, spread.HalfWidth(options.Coverage), length, axis.Window, options);
        var closed = draft.Close(
            length,
            judgement => broken ?? (decision is null ? NoScatter()
                : excess is null || judgement.Verdict == Verdict.Within || decision.IsWrongNumber ? decision.Advise(judgement) with { StandsWithoutDoubted = stands }
                : excess),
            covariance,
            fit.Solution.Residuals,
            fit.Residual);
        return closed.Then<Finding>(finding =>
        {
            if (finding.Advice.Setting is { } setting && spread is not null && Math.Abs(setting.RoundingError) > spread.Combined / 10)
            {
                finding = finding with
                {
                    Remarks = finding.Remarks.Add(string.Create(CultureInfo.InvariantCulture,
                        $"The controller's decimals leave {setting.RoundingError * 1e6:+0;-0;0} ppm by rounding, more than a tenth of the uncertainty.")),
                };
            }

            // A limit was given and the instrument is known, but not the scatter: that is undecided, not unjudged.
            return spread is null && options.Tolerance is not null && options.Instrument?.LimitMm is not null
                ? finding with { Verdict = Verdict.Undecided }
                : finding;
        });
    }

    private static Advice NoScatter() => new()
    {
        Action = AdviceAction.MeasureMore,
        Because = "There are as many unknowns as readings, so nothing is known about their scatter.",
        Next = "Take each reading once more, or make the five-minute study of your own hand.",
    };

    // With the grade, or a prior given, the estimate is pulled towards nominal; returns the weight of the readings.
    private static double? AddGiven(FindingDraft draft, double error, Spread? spread, double window, FitOptions options)
    {
        if (AxisDecision.GradeLimit(options, window) is null && options.PriorStandardUncertainty is null) return null;
        var prior = AxisDecision.PlausibleSpread(options, window);
        if (spread is null || draft.WhyNone is not null)
        {
            draft.AddBare("scaleErrorGivenGrade", "1", null, draft.WhyNone ?? LinearResult.NoScatter);
            return null;
        }

        var weight = prior * prior / ((prior * prior) + (spread.Combined * spread.Combined));
        var rectangular = options.PriorStandardUncertainty is null;
        draft.Add("scaleErrorGivenGrade", "1", weight * error,
        [
            .. spread.Parts.Select(part => part with { Uncertainty = part.Uncertainty * weight }),
            new UncertaintyPart(rectangular ? "grade of the screw" : "prior given", (1 - weight) * prior) { Rectangular = rectangular },
        ]);
        return weight;
    }

    private static ImmutableArray<ImmutableArray<double>> WithCorrections(ImmutableArray<ImmutableArray<double>> covariance, AxisCorrections corrections)
    {
        if (covariance.IsEmpty) return covariance;
        var added = corrections.Parts.Sum(part => part.Uncertainty * part.Uncertainty);
        return covariance.SetItem(0, covariance[0].SetItem(0, covariance[0][0] + added));
    }

    private static ImmutableArray<ImmutableArray<double>> WithGiven(ImmutableArray<ImmutableArray<double>> covariance, double weight, double window, FitOptions options)
    {
        if (covariance.IsEmpty) return covariance;
        var prior = (1 - weight) * AxisDecision.PlausibleSpread(options, window);
        ImmutableArray<double> row = [.. covariance[0].Select(value => weight * value)];
        var own = (weight * weight * covariance[0][0]) + (prior * prior);
        return [.. covariance.Select((old, k) => old.Add(row[k])), row.Add(own)];
    }

    private static void Doubts(FindingDraft draft, LinearResult fit, AxisReadings axis, ReadingTable readings, FitOptions options)
    {
        var residuals = fit.Solution.Residuals;
        draft.Look(fit.Series(readings, "measured_mm", options) with
        {
            Commanded = "commanded_mm",
            OneSided = !axis.Directions,
            Reversal = axis.Directions ? fit.Value(fit.Unit(1)) : null,
        });
        var groups = axis.Rows.Select((row, k) => ((row.Commanded, row.Direction), residuals[k]));
        if (LackOfFit.Of(groups, fit.Unknowns) is { } lack && lack.F > FisherF.Quantile(.99, lack.Numerator, lack.Denominator))
        {
            draft.Remarks.Add(string.Create(CultureInfo.InvariantCulture,
                $"The positions do not lie on a straight line (F {lack.F:0.0}): look for periodic error, sag or a bent rack."));
        }

        if (axis.Directions && fit.Parts(fit.Unit(1)) is { } parts && fit.Value(fit.Unit(1)) is > 0 and var reversal && reversal > new Spread(parts).HalfWidth(.95))
        {
            draft.Suspects.Add(new Suspect(0, "The reversal value is positive, which lost motion cannot be.",
                "Is compensation in the controller on, or are the directions entered the wrong way round?"));
        }

        if (axis.MoreZeros > 0) draft.Remarks.Add(string.Create(CultureInfo.InvariantCulture, $"The set-up was disturbed: {axis.MoreZeros + 1} groups of readings with a zero each."));
        if (!axis.Directions) draft.Remarks.Add("Lost motion is not separated: the readings come from one direction, or the directions are not told.");
        if (SamePhase(axis, options)) draft.Remarks.Add("All positions lie at the same phase of the drive's turn: periodic error cannot be seen and may hide in the scale.");
        if (readings.Used.Select(row => row.Instrument).Where(name => name is not null).Distinct().Count() > 1)
            draft.Remarks.Add("The rows name more than one instrument; one limit of error was used for all.");
    }

    // A wrong number in the arithmetic is no smaller for the readings that are asked about: what causes it is named before them.
    private static bool StandsWithoutDoubted(FindingDraft draft, AxisReadings axis, ReadingTable readings, double error, DriveKind drive)
    {
        var rest = axis.Rows.Zip(readings.Used).Where(pair => draft.Suspects.All(suspect => suspect.Row != pair.Second.Number)).Select(pair => new AxisPoint(pair.First.Commanded, pair.First.Measured, axis.Directions ? pair.First.Direction : 0));
        return Math.Abs(error) > WrongNominal.Of(drive) && RobustLine.Of([.. rest]) is { } line && Math.Abs(line.Slope - 1 - error) < 0.1 * Math.Abs(error);
    }

    private static bool SamePhase(AxisReadings axis, FitOptions options)
    {
        if (options.TravelPerTurnMm is not > 0) return false;
        var turns = axis.Rows.Select(row => (row.Commanded - axis.LowestCommanded) / options.TravelPerTurnMm.Value);
        return turns.All(turn => Math.Abs(turn - Math.Round(turn)) < .05);
    }

    // The first position reached again at the end must read the same: else the machine has lost steps, or something drifts.
    private static Advice? ClosureFault(AxisReadings axis, LinearResult fit, FitOptions options)
    {
        var (first, last) = (axis.Rows[0], axis.Rows[^1]);
        // Across a zero that moved nothing closes.
        if (axis.ZeroOf(0) != axis.ZeroOf(axis.Rows.Length - 1) || axis.Rows.Length < fit.Unknowns + 3 || first.Commanded != last.Commanded || first.Direction != last.Direction) return null;
        // A scatter out of a few readings is itself uncertain: the same chance of a false alarm then lies further out.
        var (scatter, most) = options.Hand is { } hand ? (hand.StandardDeviationMm, ClosureLimit) : (WithoutTheLast(fit), StudentT.Quantile(StandardNormal.Distribution(ClosureLimit), fit.Freedom - 1));
        var gap = last.Measured - first.Measured;
        return Math.Abs(gap) <= most * Math.Sqrt(2) * Math.Max(scatter, options.Instrument?.ResolutionMm ?? 0) ? null : new Advice
        {
            Action = AdviceAction.FindTheFault,
            Because = string.Create(CultureInfo.InvariantCulture, $"The first position, reached again at the end, reads {gap:+0.000;-0.000} mm differently: something drifts, or steps were lost."),
            Next = "Let the machine warm up, check the zero of the instrument, look for lost steps, and take the series again.",
        };
    }

    // Scatter of the other readings: the one that is doubted must not widen its own limit.
    private static double WithoutTheLast(LinearResult fit)
    {
        var residuals = fit.Solution.Residuals;
        var free = Math.Max(1 - fit.Solution.Leverages[^1], 1e-9);
        var left = residuals.Sum(r => r * r) - (residuals[^1] * residuals[^1] / free);
        return Math.Sqrt(Math.Max(0, left) / (fit.Freedom - 1));
    }

    private static Advice? Copied(FindingDraft draft) => draft.Suspects.Any(suspect => suspect.Row == 0 && suspect.Reason.StartsWith("Every reading equals", StringComparison.Ordinal))
        ? new Advice
        {
            Action = AdviceAction.MeasureMore,
            Because = "Every reading equals the commanded position to the last digit, so nothing seems to have been measured.",
            Next = "Read the positions from an instrument, not from a display of the controller.",
        }
        : null;
}
