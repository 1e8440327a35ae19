using System.Globalization;

using Commission.Core.Quantities;
namespace Commission.Core.Characteristics;

/// <summary>A value set against its limit, its uncertainty counted (three zones, after ISO 14253-1:2017, from memory).</summary>
/// <param name="Verdict">The zone.</param>
/// <param name="Limit">The limit in the unit of the value; null without one.</param>
/// <param name="Significant">Whether the value differs from zero by more than a 95 % interval; null without an uncertainty.</param>
/// <param name="NextStep">The cheapest way to a decision where there is none.</param>
internal sealed record Judgement(Verdict Verdict, double? Limit, bool? Significant, string NextStep)
{
    // Testing after each of readings 3 to 15 at 1.96 gives 18 % false alarms; this limit restores about 4 % (own simulation).
    private const double SequentialLimit = 2.6;

    /// <summary>Half length of the interval that the verdict used, in the unit of the value; null where none was.</summary>
    public double? Guard { get; private init; }

    /// <summary>Judges a value.</summary>
    /// <param name="value">The value; null where there is none.</param>
    /// <param name="spread">Its distribution; null where it is not known.</param>
    /// <param name="limit">The limit, positive.</param>
    /// <param name="readings">Number of readings behind the value.</param>
    /// <param name="sequential">Whether the readings were looked at while they came in.</param>
    public static Judgement Of(double? value, Spread? spread, double? limit, int readings, bool sequential = false)
    {
        if (value is not { } x || spread is null)
        {
            return new Judgement(limit is null ? Verdict.None : spread is null && value is not null ? Verdict.None : Verdict.Undecided,
                limit, null, "Take each reading at least twice, so that their scatter is known.");
        }
        var significant = Math.Abs(x) > (sequential ? Math.Max(SequentialLimit * spread.Combined, spread.HalfWidth(0.95)) : spread.HalfWidth(0.95));
        var guard = sequential ? Math.Max(SequentialLimit * spread.Combined, spread.Guard) : spread.Guard;
        if (limit is not { } t)
            return new Judgement(Verdict.None, null, significant, "Give a tolerance, so that the result can be judged.");
        var verdict = Math.Abs(x) + guard <= t ? Verdict.Within : Math.Abs(x) - guard >= t ? Verdict.Outside : Verdict.Undecided;
        return new Judgement(verdict, t, significant, Cheapest(Math.Abs(t - Math.Abs(x)), spread, readings)) { Guard = guard };
    }

    /// <summary>Judges a standard deviation by its one-sided 95 % bounds (chi-square).</summary>
    public static Judgement OfDeviation(double value, double freedom, double? limit)
    {
        if (limit is not { } t)
            return new Judgement(Verdict.None, null, null, "Give a tolerance, so that the result can be judged.");
        var upper = value * Math.Sqrt(freedom / ChiSquare.Quantile(0.05, freedom));
        var lower = value * Math.Sqrt(freedom / ChiSquare.Quantile(0.95, freedom));
        return OfBounds(value, lower, upper, t, string.Create(CultureInfo.InvariantCulture,
            $"Take about {Math.Max(3, (int)Math.Ceiling(freedom))} more repeats; the bound comes closer with their number."));
    }

    /// <summary>Judges by a lower and an upper bound.</summary>
    public static Judgement OfBounds(double value, double lower, double upper, double limit, string next)
    {
        var verdict = upper <= limit ? Verdict.Within : lower >= limit ? Verdict.Outside : Verdict.Undecided;
        return new Judgement(verdict, limit, null, next);
    }

    /// <summary>The advice that fits most kinds: leave within, measure more where undecided, the kind's own words outside.</summary>
    /// <param name="what">What was judged, with its article, as a sentence begins.</param>
    /// <param name="outside">Advice where it lies outside.</param>
    /// <param name="without">Advice where no limit was given; null for leaving it.</param>
    public Advice Usual(string what, Advice outside, Advice? without = null) => Verdict switch
    {
        Verdict.Within => new Advice { Action = AdviceAction.Leave, Because = $"{what} lies within the limit, its uncertainty counted." },
        Verdict.Outside => outside,
        Verdict.Undecided => new Advice
        {
            Action = AdviceAction.MeasureMore,
            Because = Guard is null ? $"{what} may lie on either side of the limit: its bounds reach across."
                : Guard > Limit ? $"{what} is not known well enough: its uncertainty alone is larger than the limit." : $"{what} lies so near to the limit that its uncertainty reaches across.",
            Next = NextStep,
            AsksForCheapest = true,
        },
        _ => without ?? new Advice
        {
            Action = Limit is null ? AdviceAction.Leave : AdviceAction.MeasureMore,
            Because = Limit is null ? $"{what} was not set against a limit." : $"{what} has no uncertainty to be judged with.",
            Next = NextStep,
        },
    };

    /// <summary>Readings needed so that the guard band fits between value and limit, or why none will do.</summary>
    private static string Cheapest(double gap, Spread spread, int readings)
    {
        var helps = spread.Parts.Where(p => p.RepeatingHelps).Sum(p => p.Uncertainty * p.Uncertainty);
        var stays = spread.Combined * spread.Combined - helps;
        var allowed = Math.Pow(gap / 1.65, 2) - stays;
        if (helps == 0 || allowed <= 0)
            return Advice.MoreWillNotDecide;
        var needed = (int)Math.Ceiling(readings * helps / allowed);
        return needed > 40 * readings
            ? Advice.MoreWillNotDecide
            : string.Create(CultureInfo.InvariantCulture, $"About {Math.Max(needed - readings, 2)} more readings of the same kind should decide it, if the value stays where it is.");
    }
}
