using System.Globalization;
using Commission.Core.Instruments;
using Commission.Core.Quantities;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>Readings of an axis that scatter by more than instrument and hand make them: then something moved that should not, or was miswritten, and no number of readings averages it out.</summary>
internal static class ExcessScatter
{
    // One-sided share of the 99 % limits within which residuals and study are pooled.
    private const double Chance = 0.995;

    // A usual hand is trusted to a quarter: eight degrees of freedom (JCGM 100:2008, G.4.2, from memory).
    private const double UsualFreedom = 8;

    private const int MostNamed = 3;

    /// <summary>The advice to look for what scatters; null where instrument and hand explain it, or where nothing is known of them.</summary>
    /// <param name="fit">The fit.</param>
    /// <param name="readings">Its readings; <c>measured_mm</c> was read.</param>
    /// <param name="options">Instrument and hand.</param>
    public static Advice? Of(LinearResult fit, ReadingTable readings, FitOptions options)
    {
        if (fit.Residual is not { } scatter || Known(readings, options) is not { } known || scatter <= known.StandardDeviation * Math.Sqrt(FisherF.Quantile(Chance, fit.Freedom, known.DegreesOfFreedom)))
            return null;
        var worst = Worst(fit, readings);
        return new Advice
        {
            Action = AdviceAction.FindTheFault,
            Because = $"The readings scatter by {Short(scatter)} mm; {PlainText.Of(options.Instrument!.Name)} in a hand does by {Short(known.StandardDeviation)} mm. So they tell nothing of the axis yet.",
            Next = $"Look at {FindingDraft.Named(readings, worst)} first, the farthest off: take {(worst.Length == 1 ? "it" : "them")} again. "
                + "Where that changes nothing, look for what moves: a clamp, a coupling that slips, lost steps, the zero of the instrument. Then take the series again.",
        };
    }

    // A study may be of a good day: the usual hand is granted in any case. The instrument's scale differs from place to place by a share of its limit (our choice).
    private static Scatter? Known(ReadingTable readings, FitOptions options)
    {
        if (options.Instrument is not { } instrument || (instrument.Kind == InstrumentKind.Other && options.Hand is null))
            return null;
        var usual = UsualHand.ScatterMm(instrument.Kind);
        var (hand, freedom) = options.Hand is { DegreesOfFreedom: > 0 } study && study.StandardDeviationMm > usual ? (study.StandardDeviationMm, study.DegreesOfFreedom) : (usual, UsualFreedom);
        var (limit, digit) = (instrument.LimitMm ?? 0, Scatter.Coarser(instrument.ResolutionMm, Scatter.LastDigit(readings, "measured_mm")) ?? 0);
        return new Scatter(Math.Sqrt((hand * hand) + (((limit * limit) + (digit * digit)) / 12)), freedom);
    }

    // Those at least half as far off as the farthest, in the order of the sheet.
    private static int[] Worst(LinearResult fit, ReadingTable readings)
    {
        var off = readings.Used.Select((row, i) => (row.Number, Off: Math.Abs(fit.Solution.Residuals[i]) / Math.Sqrt(Math.Max(1 - fit.Solution.Leverages[i], 1e-9)))).OrderByDescending(pair => pair.Off).ToList();
        return [.. off.Where(pair => 2 * pair.Off >= off[0].Off).Take(MostNamed).Select(pair => pair.Number).Order()];
    }

    private static string Short(double mm) => mm.ToString(mm < 0.1 ? "0.000" : mm < 1 ? "0.00" : "0.0", CultureInfo.InvariantCulture);
}
