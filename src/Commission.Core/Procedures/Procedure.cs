using System.Collections.Immutable;
using Commission.Core.Instruments;
using Commission.Core.Machines;

namespace Commission.Core.Procedures;

/// <summary>A procedure as its file tells it: what a person does, in which order, with what, and how it is judged. Runs no code.</summary>
public sealed record Procedure
{
    /// <summary>Id, as typed: lower-case words joined by hyphens.</summary>
    public required string Id { get; init; }

    /// <summary>Title in running text.</summary>
    public required string Title { get; init; }

    /// <summary>What it is for, in a sentence or two.</summary>
    public required string Purpose { get; init; }

    /// <summary>Minutes it takes, setting up included.</summary>
    public required double Minutes { get; init; }

    /// <summary>Hazards, shown before the first step; at least one.</summary>
    public required ImmutableArray<Hazard> Hazards { get; init; }

    /// <summary>Results it rests on.</summary>
    public ImmutableArray<NeededResult> Needs { get; init; } = [];

    /// <summary>Instruments, each with what to do without it.</summary>
    public ImmutableArray<InstrumentNeed> Instruments { get; init; } = [];

    /// <summary>Where it applies at all.</summary>
    public ImmutableArray<Condition> When { get; init; } = [];

    /// <summary>The steps.</summary>
    public required ImmutableArray<Step> Steps { get; init; }

    /// <summary>What the result means and what to do about it, in words.</summary>
    public ImmutableArray<string> Evaluation { get; init; } = [];

    /// <summary>When to end it early.</summary>
    public ImmutableArray<string> Abort { get; init; } = [];

    /// <summary>What good readings look like.</summary>
    public ImmutableArray<string> GoodData { get; init; } = [];

    /// <summary>The commonest slips.</summary>
    public ImmutableArray<string> Slips { get; init; } = [];

    /// <summary>Name of the file, for messages.</summary>
    public string File { get; init; } = "";

    /// <summary>The steps with those inside repeats and ladders, in the order of the file.</summary>
    public IEnumerable<Step> AllSteps => Steps.SelectMany(step => step.WithInner);

    /// <summary>Whether readings are taken blind: they study the hand, and who sees what was read before reads towards it.</summary>
    /// <param name="group">Name of their group; null asks for any.</param>
    public bool IsBlind(string? group = null) => AllSteps.OfType<Step.Evaluate>().Any(step => (group is null || step.Groups.Contains(group)) && Characteristics.CharacteristicKinds.Find(step.Kind) is { IsHandStudy: true });

    /// <summary>Whether it is carried out for one axis that the owner chooses.</summary>
    public bool ForOneAxis => Steps.Any(step => step.UsesChosenAxis);
}

/// <summary>A result that a procedure rests on.</summary>
/// <param name="Procedure">Id of the procedure that gives it.</param>
/// <param name="Must">Whether it must be there; otherwise it is advice on the order.</param>
/// <param name="Because">Why, in a sentence.</param>
public sealed record NeededResult(string Procedure, bool Must, string Because)
{
    /// <summary>Line and column in the file, from 1.</summary>
    public (long Line, long Column) At { get; init; } = (1, 1);
}

/// <summary>An instrument that a procedure uses.</summary>
/// <param name="For">What it is used for.</param>
/// <param name="Kinds">The kinds that serve, best first.</param>
/// <param name="OrElse">What to do without one.</param>
public sealed record InstrumentNeed(string For, ImmutableArray<InstrumentKind> Kinds, string OrElse)
{
    /// <summary>How far the machine drives the tip of a dial in, mm, with a reserve: one with less would break. Null where it stands clear of that.</summary>
    public double? WayMm { get; init; }

    /// <summary>Whether an instrument serves: its kind does, and a dial whose range is known has the way.</summary>
    public bool IsServedBy(Instrument instrument) => Kinds.Contains(instrument.Kind)
        && !(instrument is { Kind: InstrumentKind.Indicator, RangeMm: { } range } && range < WayMm);
}

/// <summary>One fact that must hold; several are a conjunction, never an expression.</summary>
/// <param name="Fact">Name of the fact.</param>
/// <param name="Words">The words of which one must be its value.</param>
public sealed record Condition(string Fact, ImmutableArray<string> Words);

/// <summary>The axis that a step speaks of.</summary>
/// <param name="Fixed">The axis; null for the one chosen for the run, or counted through by a repeat.</param>
public sealed record AxisChoice(AxisName? Fixed);
