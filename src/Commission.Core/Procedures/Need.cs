using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Plans;
using Commission.Core.Readings;

namespace Commission.Core.Procedures;

/// <summary>What a run waits for now: exactly one thing. The plain front, the screens and the simulated operator all answer these.</summary>
public abstract record Need
{
    private Need()
    {
    }

    /// <summary>Name of the step that asks; unique in the run (<c>read</c>, <c>rungs/3/clean</c>).</summary>
    public required string Step { get; init; }

    /// <summary>The hazards, read and done before the first step. Answered by <see cref="RunEvent.HazardsRead"/>.</summary>
    /// <param name="Hazards">All of them, at least one.</param>
    public sealed record HazardsFirst(ImmutableArray<Hazard> Hazards) : Need;

    /// <summary>Something to do, then say that it is done. Answered by <see cref="RunEvent.Confirmed"/>.</summary>
    /// <param name="Text">What to do, one thing a line.</param>
    public sealed record Instruct(string Text) : Need
    {
        /// <summary>Data for the machine that go with it, or why there are none; null where the step has none.</summary>
        public Outcome<ImmutableArray<Aids.WorkData>>? Data { get; init; }

        /// <summary>What it looks like; null where the step has no drawing.</summary>
        public StepDrawing? Drawing { get; init; }
    }

    /// <summary>A statement that must be true to go on. Answered by <see cref="RunEvent.Confirmed"/>; otherwise the run is put aside.</summary>
    /// <param name="Text">The statement or question.</param>
    public sealed record Confirm(string Text) : Need;

    /// <summary>One word out of a list. Answered by <see cref="RunEvent.Chosen"/>.</summary>
    /// <param name="Text">The question.</param>
    /// <param name="Options">The words, each with its meaning.</param>
    /// <param name="Default">The word that stands for Enter; null where there is none.</param>
    public sealed record Choose(string Text, ImmutableArray<ChoiceOption> Options, string? Default) : Need
    {
        /// <summary>The check that asks; null where it is no check.</summary>
        public CheckSheet? Check { get; init; }

        /// <summary>Whether somebody vouches that something is so: yes or no, and neither stands for Enter.</summary>
        public bool IsYesOrNo { get; init; }
    }

    /// <summary>A number that is no reading of a plan. Answered by <see cref="RunEvent.NumberGiven"/>.</summary>
    /// <param name="Text">The question.</param>
    /// <param name="Unit">Unit of the answer.</param>
    public sealed record Number(string Text, string Unit) : Need
    {
        /// <summary>Unit in which the answer is typed: inches where the machine is kept in them. What is given on is in <see cref="Unit"/>.</summary>
        public string TypedIn { get; init; } = Unit;

        /// <summary>A value in the unit in which it is typed.</summary>
        /// <param name="value">The value, in <see cref="Unit"/>.</param>
        public double AsTyped(double value) => TypedIn == Unit ? value : value * Quantities.Unit.Of(Unit).Factor / Quantities.Unit.Of(TypedIn).Factor;

        /// <summary>The check that asks; null where it is no check.</summary>
        public CheckSheet? Check { get; init; }

        /// <summary>What an open link counts for the answer while the step stands; null where it can count nothing.</summary>
        public WatchCount? Counted { get; init; }
    }

    /// <summary>A line of text. Answered by <see cref="RunEvent.TextGiven"/>.</summary>
    /// <param name="Question">The question.</param>
    public sealed record Line(string Question) : Need;

    /// <summary>A reading of a plan's cell. Answered by <see cref="RunEvent.ReadingTaken"/>.</summary>
    /// <param name="Text">What to read and where to look.</param>
    /// <param name="Cell">The cell.</param>
    /// <param name="Index">Its index in the step's plan, from 0.</param>
    /// <param name="Of">Number of cells in the step's plan.</param>
    /// <param name="Unit">Unit of the reading: <c>mm</c>, or another where the column is no length.</param>
    public sealed record TakeReading(string Text, PlanCell Cell, int Index, int Of, string Unit) : Need
    {
        /// <summary>What is done before anything moves, the beginning of <see cref="Text"/>; empty where it is nothing.</summary>
        public string First { get; init; } = "";

        /// <summary>Whether the cell was read before and is read again.</summary>
        public bool Again { get; init; }

        /// <summary>Name of the readings' group.</summary>
        public required string Group { get; init; }

        /// <summary>Name of the quantity's column, for example <c>measured_mm</c>.</summary>
        public required string Column { get; init; }

        /// <summary>The operator brings the machine here first, because no link does; empty where nothing moves.</summary>
        public ImmutableArray<Move> Moves { get; init; } = [];
    }

    /// <summary>Moves to be confirmed and made. Answered by <see cref="RunEvent.Moved"/>.</summary>
    /// <param name="Text">Why, and what to look at.</param>
    /// <param name="Moves">The moves in order. Where a reading follows there is one only.</param>
    public sealed record Motion(string Text, ImmutableArray<Move> Moves) : Need
    {
        /// <summary>The moves in words, one after the other.</summary>
        public string InWords() => string.Join("; ", Moves.Select(move => move.Words));

        /// <summary>Whether the moves go over the link; otherwise the operator commands them and says when they are made.</summary>
        public bool Linked { get; init; }

        /// <summary>Index of the plan's cell the move leads to; null where it leads to none.</summary>
        public int? Cell { get; init; }

        /// <summary>The move that follows on the way to the same cell; null where this is the last, or it leads to none.</summary>
        public Move? Then { get; init; }
    }

    /// <summary>Drives to be switched off or on by the operator. Answered by <see cref="RunEvent.Confirmed"/>; the position is not trusted afterwards.</summary>
    /// <param name="DrivesOn">Whether they are switched on.</param>
    /// <param name="Text">What to do.</param>
    public sealed record Power(bool DrivesOn, string Text) : Need;

    /// <summary>Waiting. Answered by <see cref="RunEvent.Waited"/>.</summary>
    /// <param name="Text">What for.</param>
    /// <param name="Seconds">How long at least; null: until the operator says so.</param>
    public sealed record Wait(string Text, double? Seconds) : Need;

    /// <summary>An evaluation to be made. Answered by <see cref="RunEvent.Evaluated"/>.</summary>
    /// <param name="Kind">Id of the kind of characteristic.</param>
    /// <param name="Readings">The readings as a table.</param>
    /// <param name="Options">What the fit may know, without instrument, hand and tolerance, which the session adds.</param>
    public sealed record Evaluate(string Kind, ReadingTable Readings, FitOptions Options) : Need
    {
        /// <summary>Place in the key of the result; null where the machine as a whole, or the axis, is meant.</summary>
        public string? Place { get; init; }

        /// <summary>Sequences of the readings in the table, in its order; empty where its row is made of answers.</summary>
        public ImmutableArray<long> Sequences { get; init; } = [];
    }

    /// <summary>A reading on the medium looks like a slip. Answered by <see cref="RunEvent.SlipAnswered"/>.</summary>
    /// <param name="Reading">The reading in question.</param>
    /// <param name="Reason">What it looks like.</param>
    /// <param name="Suggestion">What it may have meant, in the unit of the reading; null where nothing is near.</param>
    public sealed record SlipQuestion(TakenReading Reading, string Reason, double? Suggestion) : Need
    {
        /// <summary>Whether the zero may be another one since the run was taken up: then a zero of its own, from this reading on, is offered.</summary>
        public bool OtherZero { get; init; }

        /// <summary>The earlier reading of the same place that it contradicts, where nothing tells which of the two is off; null where it is known which.</summary>
        public TakenReading? Earlier { get; init; }
    }

    /// <summary>A change is to be made. Answered by <see cref="RunEvent.ChangeTold"/> or <see cref="RunEvent.ChangeLeft"/>.</summary>
    /// <param name="Text">What to do.</param>
    /// <param name="Finding">The finding that proposes it; null where no finding decides.</param>
    public sealed record Change(string Text, Finding? Finding) : Need
    {
        /// <summary>Word of the change as which it is entered once it is done by hand.</summary>
        public required string EnteredAs { get; init; }

        /// <summary>The setting whose value, mm, is told once it is done; null where none is.</summary>
        public ToldSetting? Told { get; init; }

        /// <summary>The setting that the finding proposes; null where it proposes none.</summary>
        public ProposedSetting? Proposed => Finding?.Advice.Setting;

        /// <summary>Whether it is done with the hands alone: there is no value to tell, only that it is done.</summary>
        public bool IsByHand => Proposed is null && Told is null;
    }

    /// <summary>A check is out: nothing after it is opened. Answered by <see cref="RunEvent.CheckRepeated"/>, or the run is put aside.</summary>
    /// <param name="Check">The check.</param>
    /// <param name="Found">What was found, with its unit.</param>
    public sealed record CheckOut(CheckSheet Check, string Found) : Need
    {
        /// <summary>What it was set against, in a sentence, where that is no limit that stood there before; null elsewhere.</summary>
        public string? Against { get; init; }
    }

    /// <summary>The run has ended; nothing more is asked.</summary>
    /// <param name="How"><c>completed</c>, <c>aborted</c> or <c>put-aside</c>.</param>
    /// <param name="Reason">Why, where it was not completed.</param>
    public sealed record Ended(string How, string? Reason) : Need;
}

/// <summary>A setting that a step asks to be told, in mm with its sign.</summary>
/// <param name="Name">Its name, for example <c>homeOffset</c>.</param>
/// <param name="Axis">The axis; null where it is not known.</param>
public sealed record ToldSetting(string Name, string? Axis)
{
    /// <summary>The names that a step may ask for.</summary>
    public static ImmutableArray<string> Names { get; } = ["homeOffset"];
}

/// <summary>A hazard with what is to be done about it.</summary>
/// <param name="What">What may happen.</param>
/// <param name="Do">What to do before the first step.</param>
public sealed record Hazard(string What, string Do);

/// <summary>A word that may be chosen.</summary>
/// <param name="Word">The word to type.</param>
/// <param name="Meaning">What it means.</param>
public sealed record ChoiceOption(string Word, string Meaning);

/// <summary>What is known about a check when it is asked.</summary>
/// <param name="Id">Id, for example <c>P05</c>; the step's name where it has none of its own.</param>
/// <param name="Limit">The limit in words.</param>
/// <param name="Source">Where the limit comes from.</param>
/// <param name="Who">Who may do it, in words; null where the owner may.</param>
/// <param name="IfOut">What to do where it is out.</param>
/// <param name="MaySkip">Whether it may be skipped with a reason.</param>
public sealed record CheckSheet(string Id, string Limit, string? Source, string? Who, string IfOut, bool MaySkip)
{
    /// <summary>The limit as the journal keeps it, in millimetres whatever is shown.</summary>
    public string KeptLimit { get; init; } = Limit;
}
