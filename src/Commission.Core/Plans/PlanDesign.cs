using System.Collections.Immutable;
using Commission.Core.Instruments;

namespace Commission.Core.Plans;

/// <summary>A design known to be good.</summary>
/// <param name="Name">What it is, in words.</param>
/// <param name="Readings">Its readings, in the order they are taken.</param>
internal sealed record PlanTemplate(string Name, ImmutableArray<PlanReading> Readings)
{
    /// <summary>Where repeats shift by a fraction of the drive's period, the name tells how many rounds.</summary>
    public static string Times(string name, int times) => times == 1 ? name : FormattableString.Invariant($"{name}, {times} times");
}

/// <summary>Another instrument, or the same one made better, with which the question could be asked.</summary>
/// <param name="Name">What it is, in words.</param>
/// <param name="Needs">What has to be got first; null where the owner has it.</param>
/// <param name="Minutes">Minutes that it costs beforehand.</param>
/// <param name="Instrument">The instrument.</param>
/// <param name="ScatterMm">Scatter of a reading with it, mm.</param>
internal sealed record PlanOther(string Name, string? Needs, double Minutes, Instrument Instrument, double ScatterMm)
{
    /// <summary>Whether it is the same instrument, looked at once against a known length before.</summary>
    public bool Checks { get; init; }
}

/// <summary>Everything a kind knows about planning its own readings.</summary>
internal sealed record PlanDesign
{
    /// <summary>What can be foretold.</summary>
    public required PlanModel Model { get; init; }

    /// <summary>Good designs, cheapest first.</summary>
    public required ImmutableArray<PlanTemplate> Templates { get; init; }

    /// <summary>Name of the design to take where no goal was told.</summary>
    public required string Usual { get; init; }

    /// <summary>Readings to add or to fill gaps with.</summary>
    public ImmutableArray<PlanReading> Pool { get; init; } = [];

    /// <summary>Minutes for a set of readings (common practice, no source).</summary>
    public required Func<IReadOnlyList<PlanReading>, double> Minutes { get; init; }

    /// <summary>The reading that is taken at a cell; null for kinds that foretell only what they planned themselves.</summary>
    public Func<PlanCell, PlanReading>? Reads { get; init; }

    /// <summary>The order of readings that were added.</summary>
    public Func<IEnumerable<PlanReading>, ImmutableArray<PlanReading>> Order { get; init; } = readings => [.. readings];

    /// <summary>Usual practice under the same ruler.</summary>
    public ImmutableArray<PlanWay> Naive { get; init; } = [];

    /// <summary>Other instruments.</summary>
    public ImmutableArray<PlanOther> Others { get; init; } = [];

    /// <summary>What a standard deviation needs: foretold by the count alone; null for kinds with a model of rows.</summary>
    public Func<int, ImmutableArray<PlannedParameter>>? ByCount { get; init; }

    /// <summary>What was taken for granted.</summary>
    public ImmutableArray<string> Assumed { get; init; } = [];
}

/// <summary>How one kind is planned; one class for each kind that has a plan.</summary>
internal abstract class PlanKind
{
    /// <summary>Id of the kind of characteristic.</summary>
    public abstract string Id { get; }

    /// <summary>Whether the kind looks at one axis.</summary>
    public virtual bool OfAxis => false;

    /// <summary>Catalogue id of the instrument usually taken.</summary>
    public abstract string UsualInstrument { get; }

    /// <summary>The design for a question, or why there is none.</summary>
    public abstract Outcome<PlanDesign> Design(PlanQuestion question, PlanTool tool);

    /// <summary>What becomes of many machines like this one; null for kinds whose result sets nothing.</summary>
    public virtual PlanProspect? Prospect(PlanQuestion question, PlanAnswer answer) => null;
}
