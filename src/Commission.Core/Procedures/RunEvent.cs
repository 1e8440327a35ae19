using Commission.Core.Characteristics;

namespace Commission.Core.Procedures;

/// <summary>What happened to a run. Every event has its entry in the journal before the run sees it.</summary>
public abstract record RunEvent
{
    private RunEvent()
    {
    }

    /// <summary>The hazards were read and what they ask was done.</summary>
    public sealed record HazardsRead : RunEvent;

    /// <summary>An instruction was carried out, or a statement is true.</summary>
    public sealed record Confirmed : RunEvent;

    /// <summary>A word was chosen.</summary>
    /// <param name="Word">The word.</param>
    public sealed record Chosen(string Word) : RunEvent;

    /// <summary>A number was given.</summary>
    /// <param name="Typed">What was typed.</param>
    /// <param name="Value">The value in the unit asked for.</param>
    public sealed record NumberGiven(string Typed, double Value) : RunEvent;

    /// <summary>A line of text was given.</summary>
    /// <param name="Text">The text; may be empty.</param>
    public sealed record TextGiven(string Text) : RunEvent;

    /// <summary>A reading is on the medium.</summary>
    /// <param name="Sequence">Sequence of its entry.</param>
    /// <param name="Typed">What was typed.</param>
    /// <param name="Value">The value in the unit asked for.</param>
    public sealed record ReadingTaken(long Sequence, string Typed, double Value) : RunEvent
    {
        /// <summary>The position really commanded, mm, where it was not the one asked for; null where it was.</summary>
        public double? CommandedMm { get; init; }

        /// <summary>The known numbers of the cell as its entry tells them; null takes them from the plan. A plan made anew after the machine's description changed may differ.</summary>
        public System.Collections.Immutable.ImmutableSortedDictionary<string, double>? Given { get; init; }
    }

    /// <summary>A reading looks like a slip.</summary>
    /// <param name="Sequence">Sequence of the reading.</param>
    /// <param name="Reason">What it looks like.</param>
    /// <param name="Suggestion">What it may have meant; null where nothing is near.</param>
    public sealed record SlipFound(long Sequence, string Reason, double? Suggestion) : RunEvent
    {
        /// <summary>Whether the zero may be another one since the run was taken up.</summary>
        public bool OtherZero { get; init; }

        /// <summary>Sequence of the earlier reading that it contradicts; null for none.</summary>
        public long? Earlier { get; init; }
    }

    /// <summary>The question about a slip was answered.</summary>
    /// <param name="Answer">What was answered.</param>
    /// <param name="CorrectedSequence">Sequence of the entry with the corrected value, where it was corrected.</param>
    public sealed record SlipAnswered(SlipAnswer Answer, long? CorrectedSequence) : RunEvent
    {
        /// <summary>The corrected value as its entry tells it; null takes the one that was suggested.</summary>
        public double? Corrected { get; init; }
    }

    /// <summary>A reading that stands is to be taken again; it does not count any more.</summary>
    /// <param name="Sequence">Sequence of the reading.</param>
    public sealed record ReadAgain(long Sequence) : RunEvent;

    /// <summary>One step back: a reading that stands is taken back, and a question that it raised is closed with it. Its cell is read again.</summary>
    /// <param name="Sequence">Sequence of the reading.</param>
    public sealed record TakenBack(long Sequence) : RunEvent;

    /// <summary>A reading is left out of the evaluation.</summary>
    /// <param name="Sequence">Sequence of the reading.</param>
    /// <param name="Reason">Why.</param>
    public sealed record LeftOut(long Sequence, string Reason) : RunEvent;

    /// <summary>A reading that was left out, or is to be read again and was not yet, is as it was before: where a question about it was answered so, the question is open again.</summary>
    /// <param name="Sequence">Sequence of the reading.</param>
    public sealed record PutBack(long Sequence) : RunEvent;

    /// <summary>The set-up was disturbed: readings from here on have a zero of their own.</summary>
    public sealed record SetUpDisturbed : RunEvent;

    /// <summary>The moves asked for were made and ended as expected.</summary>
    public sealed record Moved : RunEvent;

    /// <summary>Nobody knows any more where the machine stands: what was moved for a reading that is not taken yet is moved anew.</summary>
    public sealed record PositionLost : RunEvent;

    /// <summary>The wait is over.</summary>
    public sealed record Waited : RunEvent;

    /// <summary>An evaluation was made.</summary>
    /// <param name="Sequence">Sequence of the finding's entry.</param>
    /// <param name="Finding">The finding.</param>
    public sealed record Evaluated(long Sequence, Finding Finding) : RunEvent;

    /// <summary>An evaluation could not be made; the run goes on without it and says so.</summary>
    /// <param name="Why">Why.</param>
    public sealed record NotEvaluated(string Why) : RunEvent;

    /// <summary>The change was made; the controller or the owner tells the value.</summary>
    /// <param name="After">The value now, in the unit of the setting; null where it was no setting.</param>
    public sealed record ChangeTold(double? After) : RunEvent;

    /// <summary>The change was not made.</summary>
    public sealed record ChangeLeft : RunEvent;

    /// <summary>A check or step was skipped.</summary>
    /// <param name="Reason">The typed reason.</param>
    public sealed record Skipped(string Reason) : RunEvent;

    /// <summary>The check that is out is made again.</summary>
    public sealed record CheckRepeated : RunEvent;

    /// <summary>The run ends before its end.</summary>
    /// <param name="How"><c>aborted</c> or <c>put-aside</c>.</param>
    /// <param name="Reason">Why.</param>
    public sealed record Left(string How, string Reason) : RunEvent;
}

/// <summary>What is to become of a reading that looks like a slip.</summary>
public enum SlipAnswer
{
    /// <summary>Read it again; the reading does not count.</summary>
    ReadAgain,

    /// <summary>Take the value it probably meant.</summary>
    AsSuggested,

    /// <summary>It is what it reads.</summary>
    Keep,

    /// <summary>Read the earlier one again that it contradicts; that one does not count, and this one stands.</summary>
    EarlierAgain,

    /// <summary>It and what follows lie on a zero of their own. Its entries are those of a reading taken again after the set-up was disturbed.</summary>
    OwnZero,
}
