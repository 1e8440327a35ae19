using System.Collections.Immutable;

namespace Commission.Core.Characteristics;

/// <summary>Where a value lies against its limit, its uncertainty counted.</summary>
public enum Verdict
{
    /// <summary>No limit was given, or no uncertainty could be.</summary>
    None,

    /// <summary>Within the limit, the guard band counted.</summary>
    Within,

    /// <summary>Outside the limit, the guard band counted.</summary>
    Outside,

    /// <summary>The interval lies across the limit: not decided.</summary>
    Undecided,
}

/// <summary>What to do about a finding.</summary>
public enum AdviceAction
{
    /// <summary>Leave it as it is.</summary>
    Leave,

    /// <summary>Change a setting or the mechanics.</summary>
    Change,

    /// <summary>Measure more, or with something better.</summary>
    MeasureMore,

    /// <summary>Something is wrong that no calibration may hide: find it.</summary>
    FindTheFault,
}

/// <summary>One fitted parameter with all that is known about its uncertainty.</summary>
public sealed record FittedParameter
{
    /// <summary>Name as in the contract, for example <c>scaleError</c>.</summary>
    public required string Name { get; init; }

    /// <summary>Unit: <c>mm rad 1 1/mm steps/mm N/mm 1/h d deg mm/min</c>.</summary>
    public required string Unit { get; init; }

    /// <summary>The estimate; null where it cannot be given, with the reason in <see cref="WhyNoUncertainty"/>.</summary>
    public double? Value { get; init; }

    /// <summary>Combined standard uncertainty, in the unit.</summary>
    public double? StandardUncertainty { get; init; }

    /// <summary>The part that would be drawn afresh if the test were repeated today.</summary>
    public double? FreshUncertainty { get; init; }

    /// <summary>The part shared with other results through the same instrument.</summary>
    public double? SharedUncertainty { get; init; }

    /// <summary>Effective degrees of freedom, not truncated; null where they do not apply.</summary>
    public double? DegreesOfFreedom { get; init; }

    /// <summary>Coverage factor from the distribution the parts have.</summary>
    public double? CoverageFactor { get; init; }

    /// <summary>Expanded uncertainty U, in the unit.</summary>
    public double? ExpandedUncertainty { get; init; }

    /// <summary>Why there is no uncertainty, or no value; null where there is one.</summary>
    public string? WhyNoUncertainty { get; init; }

    /// <summary>Ends of its interval, in the unit, where it reaches further to one side and U, the longer side, tells too little; null elsewhere.</summary>
    public Interval? Interval { get; init; }
}

/// <summary>An interval that holds a value with the coverage of its U.</summary>
/// <param name="Low">Lower end.</param>
/// <param name="High">Upper end.</param>
public readonly record struct Interval(double Low, double High);

/// <summary>One line of an uncertainty budget of the headline parameter.</summary>
/// <param name="Source">Where it comes from, in words.</param>
/// <param name="Share">Share of the variance, 0 to 1.</param>
/// <param name="RepeatingHelps">Whether more readings make it smaller.</param>
public sealed record BudgetLine(string Source, double Share, bool RepeatingHelps);

/// <summary>A reading, or a series, that looks like a mistake. Offered, never applied.</summary>
/// <param name="Row">Row number, counted from 1; 0 for the whole series.</param>
/// <param name="Reason">What it looks like.</param>
/// <param name="Suggestion">What it may have meant, or what to look at.</param>
public sealed record Suspect(int Row, string Reason, string Suggestion)
{
    /// <summary>What the reading is called on its sheet; null where its row is its name.</summary>
    public string? Called { get; init; }
}

/// <summary>A setting of the controller, proposed.</summary>
public sealed record ProposedSetting
{
    /// <summary>Name of the setting, for example <c>stepsPerMm</c>.</summary>
    public required string Name { get; init; }

    /// <summary>The axis: X, Y or Z; null where none was named.</summary>
    public string? Axis { get; init; }

    /// <summary>Unit in which the controller states it: <c>steps/mm</c>, <c>steps/in</c>, …</summary>
    public required string ExpressedAs { get; init; }

    /// <summary>The value now.</summary>
    public required double Current { get; init; }

    /// <summary>The value proposed, in full.</summary>
    public required double Proposed { get; init; }

    /// <summary>The value as the controller will keep it, rounded to its decimals.</summary>
    public required double AsStored { get; init; }

    /// <summary>Relative error that the rounding makes, with its sign.</summary>
    public required double RoundingError { get; init; }

    /// <summary>Standard uncertainty of the proposed value, in its unit.</summary>
    public double? StandardUncertainty { get; init; }
}

/// <summary>Advice with its reason and the next step.</summary>
public sealed record Advice
{
    /// <summary>The next step where no number of readings with the same instrument brings a decision.</summary>
    public const string MoreWillNotDecide = "Take an instrument with a smaller limit of error, or have this one checked against a known length; more readings with it will not decide it.";

    /// <summary>What to do.</summary>
    public required AdviceAction Action { get; init; }

    /// <summary>Why, in a sentence.</summary>
    public required string Because { get; init; }

    /// <summary>The next step, in a sentence; null where nothing is to be done.</summary>
    public string? Next { get; init; }

    /// <summary>Whether the next step is a first guess that the planner shall replace by the cheapest one; never kept.</summary>
    internal bool AsksForCheapest { get; init; }

    /// <summary>Whether it is the same without the readings that are asked about, so that they need not be looked at first; never kept.</summary>
    internal bool StandsWithoutDoubted { get; init; }

    /// <summary>The setting to write, where the advice is to change one.</summary>
    public ProposedSetting? Setting { get; init; }
}

/// <summary>What an evaluation found: the answer of every kind of characteristic has this one form.</summary>
public sealed record Finding
{
    /// <summary>Id of the kind of characteristic.</summary>
    public required string Kind { get; init; }

    /// <summary>Method and its version, for example <c>axis-scale/1</c>; numbers change only with it.</summary>
    public required string Method { get; init; }

    /// <summary>Number of rows given.</summary>
    public required int Rows { get; init; }

    /// <summary>Number of rows used.</summary>
    public required int Used { get; init; }

    /// <summary>The parameters; the first of the kind's row is the headline.</summary>
    public required ImmutableArray<FittedParameter> Parameters { get; init; }

    /// <summary>Covariance of the parameters by row, in their order; empty where there is none.</summary>
    public ImmutableArray<ImmutableArray<double>> Covariance { get; init; } = [];

    /// <summary>Residual standard deviation in the unit of the readings; null without degrees of freedom.</summary>
    public double? ResidualStandardDeviation { get; init; }

    /// <summary>Residuals of the used rows in their order.</summary>
    public ImmutableArray<double> Residuals { get; init; } = [];

    /// <summary>Uncertainty budget of the headline, largest first.</summary>
    public ImmutableArray<BudgetLine> Budget { get; init; } = [];

    /// <summary>What looks like a mistake.</summary>
    public ImmutableArray<Suspect> Suspects { get; init; } = [];

    /// <summary>Remarks, each a sentence.</summary>
    public ImmutableArray<string> Remarks { get; init; } = [];

    /// <summary>The limit in the unit of the headline; null without one, or where it was kept before this was written down.</summary>
    public double? Limit { get; init; }

    /// <summary>Length over which a limit in mm was made one of a ratio or an angle, or the other way round, mm; null where none was needed.</summary>
    public double? LimitOverMm { get; init; }

    /// <summary>Where the headline lies against the tolerance.</summary>
    public required Verdict Verdict { get; init; }

    /// <summary>What to do.</summary>
    public required Advice Advice { get; init; }

    /// <summary>The headline parameter.</summary>
    public FittedParameter Headline => Parameters[0];

    /// <summary>The headline parameter; null where the finding has no parameter at all.</summary>
    public FittedParameter? HeadlineIfAny() => Parameters.IsDefaultOrEmpty ? null : Headline;

    /// <summary>Why its headline is no result: it has no value, or no U where its kind gives one; a study of the hand that no hand makes. Null where it is a result, and where nothing was to be found.</summary>
    public string? WhyNoResult() => HeadlineIfAny() is { } headline && (headline.Value is null || (headline.ExpandedUncertainty is null && !IsBound(headline.Name)))
        ? headline.WhyNoUncertainty ?? "the readings do not determine it"
        : Advice.Action == AdviceAction.FindTheFault && CharacteristicKinds.Find(Kind) is { IsHandStudy: true } ? "no hand scatters so: look for a slip" : null;

    private bool IsBound(string parameter) => CharacteristicKinds.Find(Kind)?.Parameters.FirstOrDefault(spec => spec.Name == parameter) is { IsBound: true };

    /// <summary>A parameter by name; null where the finding has none of that name.</summary>
    public FittedParameter? Parameter(string name) => Parameters.FirstOrDefault(p => p.Name == name);
}
