using System.Globalization;
using Commission.Core.Machines;
using Commission.Core.Quantities;

namespace Commission.Core.Characteristics;

/// <summary>What is known about the scale of an axis when it is to be decided whether anything is changed.</summary>
/// <param name="Error">Scale error as measured.</param>
/// <param name="Uncertainty">Combined standard uncertainty, positive.</param>
/// <param name="Expanded">U at the coverage asked for.</param>
/// <param name="LengthMm">Length a job uses, mm.</param>
/// <param name="WindowMm">Length between the lowest and the highest place that was measured, mm.</param>
/// <param name="Options">Drive, grade, ratio, other results.</param>
internal sealed record AxisDecision(double Error, double Uncertainty, double Expanded, double LengthMm, double WindowMm, FitOptions Options)
{
    // Population behind the choice of 5 %, and the standard deviations by drive: shared/reference/population.json, mostly invented.
    private const double MostOddsOfHarm = .05;
    private const double Conflict = 3;
    private const double AgreementFactor = 2;

    // An axis that ends up less than this worse over the job's length is not called worse, mm.
    private const double HarmlessMm = .010;

    // The shortest window over which a grade's limit for 300 mm was tried as a share of the travel: 120 mm and more, own simulation.
    // A grade promises a length within 300 mm, not a share of every short piece: a shorter window is granted the length it allows over this one. Our choice.
    private const double ShortestGradedMm = 120;

    /// <summary>Limit of the scale error by the grade of the screw; null where the drive is no screw of known grade.</summary>
    /// <param name="options">Drive and grade.</param>
    /// <param name="windowMm">Length of the screw that was measured, mm, positive; a short one may be off by a larger share.</param>
    public static double? GradeLimit(FitOptions options, double windowMm) =>
        options is { ScrewGrade: { } grade, Drive: DriveKind.Screw or DriveKind.Unknown } ? ScrewGrades.ScaleLimit(grade) * Math.Max(1, ShortestGradedMm / windowMm) : null;

    /// <summary>Standard deviation of the scale error that such drives have.</summary>
    /// <param name="options">Drive, grade or prior.</param>
    /// <param name="windowMm">Length of the drive that was measured, mm; null for the whole axis.</param>
    public static double PlausibleSpread(FitOptions options, double? windowMm = null) => options.PriorStandardUncertainty ?? GradeLimit(options, windowMm ?? double.PositiveInfinity) / Math.Sqrt(3) ?? options.Drive switch
    {
        DriveKind.Screw => 294e-6,
        DriveKind.Belt => 1200e-6,
        DriveKind.Rack => 500e-6,
        _ => 630e-6,
    };

    /// <summary>Estimate and prior together: mean and standard uncertainty.</summary>
    /// <param name="error">Estimate.</param>
    /// <param name="uncertainty">Its standard uncertainty.</param>
    /// <param name="prior">Standard uncertainty of the prior, whose mean is 0; infinite for none.</param>
    public static (double Mean, double Uncertainty) Posterior(double error, double uncertainty, double prior)
    {
        if (double.IsPositiveInfinity(prior)) return (error, uncertainty);
        double u2 = uncertainty * uncertainty, t2 = prior * prior;
        return (error * t2 / (t2 + u2), Math.Sqrt(t2 * u2 / (t2 + u2)));
    }

    /// <summary>Probability that a correction by the posterior mean leaves the axis worse than it was.</summary>
    /// <param name="mean">Posterior mean.</param>
    /// <param name="uncertainty">Posterior standard uncertainty.</param>
    /// <param name="lengthMm">Length a job uses, mm.</param>
    public static double OddsOfHarm(double mean, double uncertainty, double lengthMm) =>
        StandardNormal.Distribution(-(Math.Abs(mean) + (HarmlessMm / lengthMm)) / (2 * uncertainty));

    /// <summary>What a change after one result removes: 0 where the rule leaves the axis alone, measures again or looks for a fault.</summary>
    /// <param name="error">Scale error as measured.</param>
    /// <param name="uncertainty">Its standard uncertainty.</param>
    /// <param name="lengthMm">Length a job uses, mm.</param>
    /// <param name="windowMm">Length that was measured, mm.</param>
    /// <param name="options">Drive, grade or prior.</param>
    /// <param name="limit">Tolerance of the scale error; null for none.</param>
    public static double Removed(double error, double uncertainty, double lengthMm, double windowMm, FitOptions options, double? limit)
    {
        var prior = PlausibleSpread(options, windowMm);
        if (Math.Abs(error) > WrongNominal.Of(options.Drive) || GradeLimit(options, windowMm) is not null || IsConflict(error, uncertainty, prior))
            return 0;
        var change = Weighed(error, uncertainty, prior, lengthMm, limit);
        return change.TooSmall || change.Odds > MostOddsOfHarm ? 0 : change.Mean;
    }

    /// <summary>Whether it is so large, its uncertainty counted, that a number in the arithmetic must be wrong.</summary>
    public bool IsWrongNumber => Math.Abs(Error) > Math.Max(WrongNominal.Of(Options.Drive), Expanded);

    /// <summary>Decides. Where the verdict is undecided the next step is named whatever the advice.</summary>
    public Advice Advise(Judgement judgement)
    {
        var advice = Math.Abs(Error) > WrongNominal.Of(Options.Drive) ? Detective(judgement)
            : GradeLimit(Options, WindowMm) is { } limit ? ByGrade(limit)
            : ByOdds(judgement);
        return judgement.Verdict == Verdict.Undecided && advice.Next is null ? advice with { Next = judgement.NextStep, AsksForCheapest = true } : advice;
    }

    // A rule that cannot tell half a percent from nothing says nothing about the arithmetic, and still less is anything calibrated by it.
    private Advice Detective(Judgement judgement)
    {
        if (Math.Abs(Error) <= Expanded)
        {
            return new Advice
            {
                Action = judgement.Verdict == Verdict.Within ? AdviceAction.Leave : AdviceAction.MeasureMore,
                Because = $"{Found.Value} ppm with U {Found.Uncertainty} ppm may be nothing: these readings cannot tell a wrong number in the machine's arithmetic from their own scatter.",
                Next = judgement.Verdict == Verdict.Within ? null : judgement.NextStep,
                AsksForCheapest = judgement.Verdict == Verdict.Undecided,
            };
        }

        var causes = RatioDetective.Explain(1 + Error, Options, Expanded / (1 + Error));
        return new Advice
        {
            Action = AdviceAction.FindTheFault,
            Because = $"A scale error of {Ppm(Error)} is a wrong number in the machine's arithmetic, not something to calibrate away.",
            Next = causes.IsEmpty
                ? "Count full turns, teeth or starts and check the switches of the driver; no usual mistake has this ratio."
                : $"Look first at this: {causes[0].Words}." + (causes.Length > 1 ? $" Then: {causes[1].Words}." : ""),
        };
    }

    // A screw of known grade is as good a standard as most owners' calipers: it is doubted only by two of them.
    private Advice ByGrade(double limit)
    {
        if (Math.Abs(Error) <= limit + Expanded)
        {
            return new Advice
            {
                Action = AdviceAction.Leave,
                Because = $"{Found.Value} ppm with U {Found.Uncertainty} ppm is consistent with a screw of this grade, which may be off by {Size(limit)} itself.",
            };
        }

        var agreeing = Agreeing().Where(other => Math.Abs(other.Value) > limit + (AgreementFactor * other.StandardUncertainty)).ToArray();
        if (agreeing.Length > 0) return Change(Combined(agreeing), "Two results that share no instrument agree, and both lie beyond what this grade of screw may have");
        return new Advice
        {
            Action = AdviceAction.FindTheFault,
            Because = $"{Ppm(Error)} lies beyond the {Size(limit)} of this grade of screw by more than the uncertainty: grade, lead, temperature or instrument is not what it is taken for.",
            Next = "Measure again with another instrument; change nothing until the two agree.",
        };
    }

    // Without a grade: the posterior mean, if the odds of making the axis worse are small enough.
    private Advice ByOdds(Judgement judgement)
    {
        var prior = PlausibleSpread(Options, WindowMm);
        var agreeing = Agreeing().ToArray();
        var (error, uncertainty) = agreeing.Length > 0 ? Combined(agreeing) : (Error, Uncertainty);
        if (IsConflict(error, uncertainty, prior))
        {
            if (agreeing.Length == 0) return InConflict(prior);
            prior = double.PositiveInfinity;
        }

        var (mean, spread, odds, tooSmall) = Weighed(error, uncertainty, prior, LengthMm, judgement.Limit);
        if (tooSmall) return TooSmall();
        return odds <= MostOddsOfHarm
            ? Change((mean, spread), string.Create(CultureInfo.InvariantCulture, $"A change makes the axis better with odds of {Math.Min(1000, (1 - odds) / odds):0} to 1 or more"))
            : NotNow(judgement, odds);
    }

    private static bool IsConflict(double error, double uncertainty, double prior) => Math.Abs(error) > Conflict * Math.Sqrt((uncertainty * uncertainty) + (prior * prior));

    // What a change by the posterior mean would remove, its odds of harm, and whether it is too small to be worth one.
    private static (double Mean, double Uncertainty, double Odds, bool TooSmall) Weighed(double error, double uncertainty, double prior, double lengthMm, double? limit)
    {
        var (mean, spread) = Posterior(error, uncertainty, prior);
        return (mean, spread, OddsOfHarm(mean, spread, lengthMm), limit is { } most && Math.Abs(mean) <= most / 4);
    }

    private Advice InConflict(double prior) => new()
    {
        Action = AdviceAction.MeasureMore,
        Because = $"{Ppm(Error)} is more than such drives usually have (standard deviation {Size(prior)}): one of the two is wrong.",
        Next = "Measure again with another instrument; if both agree, the change stands on them alone.",
    };

    private static Advice TooSmall() => new()
    {
        Action = AdviceAction.Leave,
        Because = "What a change could remove is less than a quarter of the tolerance.",
    };

    private static Advice NotNow(Judgement judgement, double odds)
    {
        var chance = string.Create(CultureInfo.InvariantCulture, $"A change would make the axis worse with a chance of {100 * odds:0} %");
        var settled = judgement.Verdict == Verdict.Within || (judgement.Verdict == Verdict.None && judgement.Significant != true);
        return new Advice
        {
            Action = settled ? AdviceAction.Leave : AdviceAction.MeasureMore,
            Because = chance + (settled ? "; no change is justified." : ", which is too much."),
            Next = settled && judgement.Verdict == Verdict.Within ? null : judgement.NextStep,
            AsksForCheapest = judgement.Verdict == Verdict.Undecided,
        };
    }

    private Advice Change((double Mean, double Uncertainty) to, string because)
    {
        var setting = RatioProposal.For(to.Mean, to.Uncertainty, Options);
        if (setting is not null && Math.Abs(setting.RoundingError) >= Math.Abs(to.Mean))
        {
            return new Advice
            {
                Action = AdviceAction.Leave,
                Because = $"The controller's decimals would round the new value by {Ppm(setting.RoundingError)}, no less than the error it should remove.",
            };
        }

        return new Advice
        {
            Action = AdviceAction.Change,
            Because = $"{because}; the scale error to remove is {Removed(to)}.",
            Next = setting is null
                ? string.Create(CultureInfo.InvariantCulture, $"Divide the steps for a millimetre by {1 + to.Mean:0.000000}; with the ratio of now the new value is shown here.")
                : "Write the new value, read it back, and measure again at new positions.",
            Setting = setting,
        };
    }

    private IEnumerable<IndependentResult> Agreeing() => Options.Others.Where(other =>
        other.Instrument != Options.Instrument?.Name
        && Math.Abs(other.Value - Error) <= AgreementFactor * Math.Sqrt((Uncertainty * Uncertainty) + (other.StandardUncertainty * other.StandardUncertainty)));

    private (double Mean, double Uncertainty) Combined(IReadOnlyList<IndependentResult> others)
    {
        var weights = others.Select(other => 1 / (other.StandardUncertainty * other.StandardUncertainty)).Append(1 / (Uncertainty * Uncertainty)).ToArray();
        var mean = others.Select(other => other.Value).Append(Error).Zip(weights, (value, weight) => value * weight).Sum() / weights.Sum();
        return (mean, 1 / Math.Sqrt(weights.Sum()));
    }

    // The same digits as on every other line.
    private (string Value, string? Uncertainty) Found => ValueFormat.Pair(Error * 1e6, Expanded * 1e6);

    // Where something else than the result is removed it is said why.
    private string Removed((double Mean, double Uncertainty) to)
    {
        var removed = ValueFormat.Pair(to.Mean * 1e6, Expanded * 1e6).Value;
        return removed == Found.Value ? $"{removed} ppm" : $"{removed} of the {Found.Value} ppm found: the rest is likelier an error of reading, by what else is known";
    }

    private static string Ppm(double ratio) => string.Create(CultureInfo.InvariantCulture, $"{ratio * 1e6:+0;-0;0} ppm");

    private static string Size(double ratio) => string.Create(CultureInfo.InvariantCulture, $"{ratio * 1e6:0} ppm");
}
