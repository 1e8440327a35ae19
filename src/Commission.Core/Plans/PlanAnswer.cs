using System.Collections.Immutable;
using Commission.Core.Characteristics;

namespace Commission.Core.Plans;

/// <summary>What a way of measuring would tell of one parameter.</summary>
/// <param name="Name">Name as in the contract.</param>
/// <param name="Unit">Canonical unit.</param>
/// <param name="StandardUncertainty">Combined standard uncertainty.</param>
/// <param name="FreshUncertainty">Its part that repeating draws afresh.</param>
/// <param name="SharedUncertainty">Its part that comes with the instrument.</param>
/// <param name="CoverageFactor">Factor of U.</param>
/// <param name="ExpandedUncertainty">U.</param>
public sealed record PlannedParameter(
    string Name, string Unit, double StandardUncertainty, double FreshUncertainty, double SharedUncertainty, double CoverageFactor, double ExpandedUncertainty);

/// <summary>One way to measure, with its price and what it would tell.</summary>
public sealed record PlanWay
{
    /// <summary>What it is, in words.</summary>
    public required string Name { get; init; }

    /// <summary>Number of readings.</summary>
    public required int Readings { get; init; }

    /// <summary>Minutes, setting up counted (common practice, no source).</summary>
    public required double Minutes { get; init; }

    /// <summary>What it would tell; the headline first. Empty where it tells nothing.</summary>
    public required ImmutableArray<PlannedParameter> Predicted { get; init; }

    /// <summary>Whether U of the headline meets what was asked; null where nothing was asked.</summary>
    public bool? Reaches { get; init; }

    /// <summary>What has to be got first; null where the owner has everything.</summary>
    public string? Needs { get; init; }

    /// <summary>The instrument, where it is another than the one asked about; else null.</summary>
    public string? Instrument { get; init; }

    /// <summary>Whether it is the same instrument, looked at once against a known length before.</summary>
    public bool Checks { get; init; }

    /// <summary>The readings in the order they are taken; empty for usual practice, which is nobody's plan.</summary>
    public ImmutableArray<PlanCell> Cells { get; init; } = [];

    /// <summary>Where U of the headline would come from, largest share first; empty where that cannot be foretold.</summary>
    public ImmutableArray<BudgetLine> Budget { get; init; } = [];

    /// <summary>U of the headline; null where it tells nothing.</summary>
    public double? Expanded => Predicted.IsDefaultOrEmpty ? null : Predicted[0].ExpandedUncertainty;
}

/// <summary>A plan: where to read, in which order, what it will tell, and what else could be done.</summary>
public sealed record PlanAnswer
{
    /// <summary>Id of the kind.</summary>
    public required string Kind { get; init; }

    /// <summary>The axis; null for kinds that look at none.</summary>
    public string? Axis { get; init; }

    /// <summary>The readings in the order they are taken.</summary>
    public required ImmutableArray<PlanCell> Rows { get; init; }

    /// <summary>The way chosen.</summary>
    public required PlanWay Way { get; init; }

    /// <summary>The limit; null without one.</summary>
    public double? Limit { get; init; }

    /// <summary>The U wished for; null where nothing was asked.</summary>
    public double? Wanted { get; init; }

    /// <summary>Whether the way chosen meets it; null where nothing was asked.</summary>
    public bool? Reachable => Way.Reaches;

    /// <summary>Why this way, or why none reaches, in sentences.</summary>
    public required string Because { get; init; }

    /// <summary>What was taken for granted, each a sentence.</summary>
    public ImmutableArray<string> Assumed { get; init; } = [];

    /// <summary>Usual practice under the same ruler.</summary>
    public ImmutableArray<PlanWay> Naive { get; init; } = [];

    /// <summary>Other ways, those that reach first, each group by minutes.</summary>
    public ImmutableArray<PlanWay> Alternatives { get; init; } = [];
}
