namespace Commission.Core.Characteristics;

/// <summary>The limit that stands for a finding now, and where the headline lies against it.</summary>
/// <param name="Tolerance">The limit.</param>
/// <param name="Value">The limit in the unit of the headline; null where it does not fit that.</param>
/// <param name="Verdict">Where the headline lies, its uncertainty counted.</param>
/// <param name="JudgedWithIt">Whether the finding itself was judged with this limit.</param>
/// <param name="WithoutOne">Whether the finding had no limit at all.</param>
public sealed record StandingLimit(Tolerance Tolerance, double? Value, Verdict Verdict, bool JudgedWithIt, bool WithoutOne)
{
    /// <summary>The limit of a finding; null where there is none. One that somebody gave stands, one of a class of work gives way to that of the class now.</summary>
    /// <param name="finding">The finding, with a headline.</param>
    /// <param name="options">What it was made with.</param>
    /// <param name="place">Its place; null where there is only one.</param>
    /// <param name="limits">The limits of the class of work.</param>
    public static StandingLimit? Of(Finding finding, FitOptions options, string? place, WorkLimits limits)
    {
        var given = options.Tolerance;
        if (limits.Standing(given, finding.Kind, place) is not { } standing)
            return null;
        var judged = given is not null && given with { From = standing.From } == standing;
        var value = judged ? ToleranceText.LimitOf(finding, options) : standing.In(finding.Headline.Unit, options.TravelMm).Match<double?>(limit => limit, _ => null);
        return new StandingLimit(standing, value, judged ? finding.Verdict : Judged(finding, value, options), judged, given is null);
    }

    // Not judged when it was made: the whole U is the guard band, which is never narrower than the one-sided one.
    private static Verdict Judged(Finding finding, double? limit, FitOptions options) =>
        finding.Headline.Value is not { } value || limit is not { } most ? Verdict.None
        : finding.Headline.ExpandedUncertainty is not { } u ? WithoutU(finding, Math.Abs(value), most, ToleranceText.LimitOf(finding, options))
        : Math.Abs(value) + u <= most ? Verdict.Within
        : Math.Abs(value) - u >= most ? Verdict.Outside
        : Verdict.Undecided;

    // Its kind judged it by what is no U: a bound says within by itself, and what a wider or narrower limit cannot have turned round holds.
    private static Verdict WithoutU(Finding finding, double size, double most, double? before) => finding.Verdict switch
    {
        Verdict.None => Verdict.None,
        _ when size <= most && finding.WhyNoResult() is null => Verdict.Within,
        Verdict.Outside when most <= before => Verdict.Outside,
        Verdict.Within when most >= before => Verdict.Within,
        _ => Verdict.Undecided,
    };
}
