using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;

namespace Commission.Core.Procedures;

/// <summary>One step of a procedure. The family is closed: what cannot be said with these cannot be said.</summary>
public abstract record Step
{
    private Step()
    {
    }

    /// <summary>Name, unique in the procedure.</summary>
    public required string Name { get; init; }

    /// <summary>Facts that must hold; otherwise the step is passed over.</summary>
    public ImmutableArray<Condition> When { get; init; } = [];

    /// <summary>Line and column in the file, from 1.</summary>
    public (long Line, long Column) At { get; init; } = (1, 1);

    /// <summary>The step with those inside it.</summary>
    public IEnumerable<Step> WithInner => Inner.SelectMany(step => step.WithInner).Prepend(this);

    /// <summary>Steps inside it.</summary>
    public virtual ImmutableArray<Step> Inner => [];

    /// <summary>Texts in which placeholders may stand.</summary>
    public abstract IEnumerable<string> Texts { get; }

    /// <summary>Whether it speaks of the axis chosen for the run.</summary>
    public virtual bool UsesChosenAxis => Texts.Any(text => text.Contains("{axis}", StringComparison.Ordinal));

    /// <summary>Something to do.</summary>
    /// <param name="Text">What to do, one thing a line.</param>
    public sealed record Instruct(string Text) : Step
    {
        /// <summary>Data for the machine that goes with it; null where there is none.</summary>
        public StepData? Data { get; init; }

        /// <summary>What it looks like; null where the step has no drawing. A step has data or a drawing.</summary>
        public StepDrawing? Drawing { get; init; }

        /// <inheritdoc/>
        public override IEnumerable<string> Texts => Drawing is null ? [Text] : [Text, Drawing.Words, .. Drawing.Rows];
    }

    /// <summary>A statement that must be true.</summary>
    /// <param name="Text">The statement.</param>
    public sealed record Confirm(string Text) : Step
    {
        /// <inheritdoc/>
        public override IEnumerable<string> Texts => [Text];
    }

    /// <summary>A check with an answer and a limit; while it is out nothing after it is opened.</summary>
    public sealed record Check : Step
    {
        /// <summary>Id for the record, for example <c>P05</c>; the step's name where it has none.</summary>
        public required string Id { get; init; }

        /// <summary>The question.</summary>
        public required string Ask { get; init; }

        /// <summary>What is answered.</summary>
        public required CheckAnswer Answer { get; init; }

        /// <summary>The limits, all of which must hold; empty where any answer will do.</summary>
        public ImmutableArray<Limit> Limits { get; init; } = [];

        /// <summary>Where the limit comes from.</summary>
        public string? Source { get; init; }

        /// <summary>Who may do it.</summary>
        public string? Who { get; init; }

        /// <summary>What to do where it is out.</summary>
        public required string IfOut { get; init; }

        /// <summary>Whether it may be skipped with a typed reason.</summary>
        public bool MaySkip { get; init; } = true;

        /// <summary>What the link can count for the answer while the step stands; null where it can count nothing.</summary>
        public WatchCount? Counted { get; init; }

        /// <inheritdoc/>
        public override IEnumerable<string> Texts => [Ask, IfOut];
    }

    /// <summary>Moves of the machine.</summary>
    /// <param name="Text">Why, and what to look at.</param>
    /// <param name="Moves">The moves in order.</param>
    public sealed record MoveMachine(string Text, ImmutableArray<MovePlan> Moves) : Step
    {
        /// <inheritdoc/>
        public override IEnumerable<string> Texts => [Text];

        /// <inheritdoc/>
        public override bool UsesChosenAxis => base.UsesChosenAxis || Moves.Any(move => move.Axis is { Fixed: null });
    }

    /// <summary>Readings on a grid.</summary>
    public sealed record Read : Step
    {
        /// <summary>The grid.</summary>
        public required Grid Grid { get; init; }

        /// <summary>What to read and where to look.</summary>
        public required string Ask { get; init; }

        /// <summary>Name of the readings' group; several steps may share one.</summary>
        public required string Group { get; init; }

        /// <summary>Name of the quantity's column.</summary>
        public required string Column { get; init; }

        /// <summary>Unit of the reading.</summary>
        public required string Unit { get; init; }

        /// <summary>Kind of instrument where it is another than the run's; null where it is the run's.</summary>
        public InstrumentKind? With { get; init; }

        /// <summary>What lies below the tool while Z goes down; null where the step names nothing.</summary>
        public SurfaceBelow? Above { get; init; }

        /// <summary>Columns with the same number or word in every row of this step.</summary>
        public ImmutableSortedDictionary<string, string> Given { get; init; } = ImmutableSortedDictionary<string, string>.Empty;

        /// <inheritdoc/>
        public override IEnumerable<string> Texts => [Ask];

        /// <inheritdoc/>
        public override bool UsesChosenAxis => base.UsesChosenAxis || Grid.Axis is { Fixed: null };
    }

    /// <summary>An evaluation of named groups of readings.</summary>
    public sealed record Evaluate : Step
    {
        /// <summary>Id of the kind of characteristic.</summary>
        public required string Kind { get; init; }

        /// <summary>Names of the groups of readings.</summary>
        public ImmutableArray<string> Groups { get; init; } = [];

        /// <summary>Columns filled from named values, as one row; empty where groups are evaluated.</summary>
        public ImmutableSortedDictionary<string, string> Row { get; init; } = ImmutableSortedDictionary<string, string>.Empty;

        /// <summary>Options of the kind: numbers, words, or names of values.</summary>
        public ImmutableSortedDictionary<string, string> Options { get; init; } = ImmutableSortedDictionary<string, string>.Empty;

        /// <summary>The axis of the result; null where it is of the machine as a whole.</summary>
        public AxisChoice? Axis { get; init; }

        /// <summary>Place in the key of the result.</summary>
        public string? Place { get; init; }

        /// <summary>The limit for the headline where it is not that of the class of work; null where it is.</summary>
        public Tolerance? Limit { get; init; }

        /// <inheritdoc/>
        public override IEnumerable<string> Texts => [];

        /// <inheritdoc/>
        public override bool UsesChosenAxis => Axis is { Fixed: null };
    }

    /// <summary>A change to the machine: the one that a finding advises, passed over where it advises none; asked for always where no finding decides.</summary>
    /// <param name="Text">What to do.</param>
    /// <param name="Of">Name of the evaluate step; null where no finding decides.</param>
    /// <param name="EnteredAs">Word of the change as which it is entered once it is done by hand.</param>
    public sealed record Change(string Text, string? Of, string EnteredAs) : Step
    {
        /// <summary>Name of the setting whose value is told once it is done; null where it is only told that it is done, or the finding proposes one.</summary>
        public string? Setting { get; init; }

        /// <summary>Data for the machine that go with it; null for none.</summary>
        public StepData? Data { get; init; }

        /// <inheritdoc/>
        public override IEnumerable<string> Texts => [Text];
    }

    /// <summary>Waiting.</summary>
    /// <param name="Text">What for.</param>
    /// <param name="Seconds">How long; null: until the operator says so.</param>
    public sealed record Wait(string Text, double? Seconds) : Step
    {
        /// <inheritdoc/>
        public override IEnumerable<string> Texts => [Text];
    }

    /// <summary>Steps done several times.</summary>
    /// <param name="Rounds">The rounds.</param>
    /// <param name="Steps">The steps.</param>
    public sealed record Repeat(Rounds Rounds, ImmutableArray<Step> Steps) : Step
    {
        /// <inheritdoc/>
        public override ImmutableArray<Step> Inner => Steps;

        /// <inheritdoc/>
        public override IEnumerable<string> Texts => [];

        /// <inheritdoc/>
        public override bool UsesChosenAxis => Rounds is not Rounds.OverAxes && Steps.Any(step => step.UsesChosenAxis);
    }

    /// <summary>Steps done with a rising (or falling) value until a rung is not clean.</summary>
    public sealed record Ladder : Step
    {
        /// <summary>Value of the first rung.</summary>
        public required Term Start { get; init; }

        /// <summary>Factor from rung to rung; not 1.</summary>
        public required double Factor { get; init; }

        /// <summary>Value not passed.</summary>
        public required Term End { get; init; }

        /// <summary>Unit of the value.</summary>
        public required string Unit { get; init; }

        /// <summary>Column that takes the value in readings of a rung; null where it takes none.</summary>
        public string? Column { get; init; }

        /// <summary>The yes-or-no question that ends each rung: yes goes on.</summary>
        public required string Verdict { get; init; }

        /// <summary>The steps of a rung.</summary>
        public required ImmutableArray<Step> Steps { get; init; }

        /// <inheritdoc/>
        public override ImmutableArray<Step> Inner => Steps;

        /// <inheritdoc/>
        public override IEnumerable<string> Texts => [Verdict];

        /// <inheritdoc/>
        public override bool UsesChosenAxis => base.UsesChosenAxis || Steps.Any(step => step.UsesChosenAxis);
    }

    /// <summary>Drives switched off or on: takes trust in the position away.</summary>
    /// <param name="DrivesOn">Whether they are switched on.</param>
    /// <param name="Text">What to do.</param>
    public sealed record Power(bool DrivesOn, string Text) : Step
    {
        /// <inheritdoc/>
        public override IEnumerable<string> Texts => [Text];
    }

    /// <summary>A fact of the machine, asked and kept.</summary>
    /// <param name="Fact">Name of the fact.</param>
    /// <param name="Axis">The axis; null where it is a fact of the machine.</param>
    /// <param name="Ask">The question.</param>
    public sealed record Set(string Fact, AxisChoice? Axis, string Ask) : Step
    {
        /// <inheritdoc/>
        public override IEnumerable<string> Texts => [Ask];

        /// <inheritdoc/>
        public override bool UsesChosenAxis => base.UsesChosenAxis || Axis is { Fixed: null };
    }
}

/// <summary>Data that a step makes for the owner to run in their own way: lines to cut or drill, or a table of positions.</summary>
/// <param name="Kind">Name of the kind of data.</param>
/// <param name="With">Its parameters: numbers, texts, or names of values found earlier.</param>
public sealed record StepData(string Kind, ImmutableSortedDictionary<string, string> With);

/// <summary>A number written out, or the name of a value found earlier.</summary>
/// <param name="Number">The number; null where a value is named.</param>
/// <param name="Name">Name of the value; null where a number stands.</param>
/// <param name="Fraction">Factor on the value.</param>
public sealed record Term(double? Number, string? Name, double Fraction = 1);

/// <summary>A move as a procedure plans it.</summary>
/// <param name="Axis">The axis; null for homing all.</param>
/// <param name="Kind">What kind of move.</param>
/// <param name="Amount">mm, or a fraction of the travel; a value may be named. Null for homing.</param>
/// <param name="Feed">Highest speed, mm/min.</param>
public sealed record MovePlan(AxisChoice? Axis, MoveKind Kind, Term? Amount, Term Feed);

/// <summary>Kinds of planned moves.</summary>
public enum MoveKind
{
    /// <summary>By a distance, mm.</summary>
    By,

    /// <summary>To a position, mm.</summary>
    To,

    /// <summary>To a fraction of the travel, 0 to 1.</summary>
    ToFraction,

    /// <summary>Homing.</summary>
    Home,

    /// <summary>The watched slow test of homing.</summary>
    WatchedHome,
}

/// <summary>What a check is answered with.</summary>
public abstract record CheckAnswer
{
    private CheckAnswer()
    {
    }

    /// <summary>Yes passes, no does not.</summary>
    public sealed record YesNo : CheckAnswer;

    /// <summary>A number.</summary>
    /// <param name="Unit">Its unit.</param>
    public sealed record Number(string Unit) : CheckAnswer;

    /// <summary>A word out of a list.</summary>
    /// <param name="Options">The words.</param>
    /// <param name="Passes">The words that pass; empty where all do.</param>
    public sealed record Word(ImmutableArray<ChoiceOption> Options, ImmutableArray<string> Passes) : CheckAnswer;

    /// <summary>A line of text; any passes.</summary>
    public sealed record Line : CheckAnswer;

    /// <summary>Rectangles on the bed, in the machine's own positions, each four numbers; none is an answer too. What is no rectangle is asked for again.</summary>
    public sealed record Rectangles : CheckAnswer;
}

/// <summary>A limit of a check.</summary>
public abstract record Limit
{
    private Limit()
    {
    }

    /// <summary>At most a number, or a fraction of a named value.</summary>
    /// <param name="Most">The number or value.</param>
    public sealed record AtMost(Term Most) : Limit;

    /// <summary>At least a number, or a fraction of a named value.</summary>
    /// <param name="Least">The number or value.</param>
    public sealed record AtLeast(Term Least) : Limit;

    /// <summary>Between two numbers, both counted in.</summary>
    /// <param name="Low">Lower limit.</param>
    /// <param name="High">Upper limit.</param>
    public sealed record Between(double Low, double High) : Limit;

    /// <summary>Near a named value.</summary>
    /// <param name="To">Name of the value.</param>
    /// <param name="Within">Largest difference as a fraction of it.</param>
    public sealed record Relative(string To, double Within) : Limit;

    /// <summary>Near the first reading of a group, or near an earlier answer: what is shown now is typed, and the difference is the program's to make. What it is compared with is not shown before.</summary>
    /// <param name="To">Name of the group of readings, or of the earlier check.</param>
    /// <param name="Within">Largest difference, in the unit of the answer.</param>
    /// <param name="IsReading">Whether a group of readings is named.</param>
    public sealed record Near(string To, double Within, bool IsReading) : Limit;
}

/// <summary>How often, or over what, steps are repeated.</summary>
public abstract record Rounds
{
    private Rounds()
    {
    }

    /// <summary>A number of times; <c>{round}</c> stands for the count.</summary>
    /// <param name="Times">How often, 1 to 50.</param>
    public sealed record Count(int Times) : Rounds;

    /// <summary>Once for each axis; <c>{axis}</c> stands for it.</summary>
    /// <param name="Axes">The axes.</param>
    public sealed record OverAxes(ImmutableArray<Machines.AxisName> Axes) : Rounds;

    /// <summary>Once for each place; <c>{place}</c> stands for it.</summary>
    /// <param name="Places">Names of the places.</param>
    public sealed record OverPlaces(ImmutableArray<string> Places) : Rounds;

    /// <summary>Once for each force, N; <c>{force}</c> stands for it, and readings carry <c>force_n</c>.</summary>
    /// <param name="Forces">The forces with their sign, N.</param>
    public sealed record OverForces(ImmutableArray<double> Forces) : Rounds;

    /// <summary>Once for each height, mm; <c>{height}</c> stands for it, and readings carry <c>height_mm</c>.</summary>
    /// <param name="Heights">The heights, mm.</param>
    public sealed record OverHeights(ImmutableArray<double> Heights) : Rounds;
}
