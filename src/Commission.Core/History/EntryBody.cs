using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Machines;

namespace Commission.Core.History;

/// <summary>Whether a store belongs to a machine of the world or to the practice machine. Decided at birth, for good.</summary>
public enum StoreNature
{
    /// <summary>Readings of a real machine.</summary>
    Real,

    /// <summary>Readings of the practice machine.</summary>
    Practice,
}

/// <summary>What a journal entry says. One record for each type word of the contract; an entry is never changed, only named by a later one.</summary>
public abstract record EntryBody
{
    private EntryBody()
    {
    }

    /// <summary>The machine the entry speaks of; null where it speaks of none.</summary>
    public string? Machine { get; init; }

    /// <summary>Handle of the person; null where none was named.</summary>
    public string? Operator { get; init; }

    /// <summary>The run the entry belongs to (sequence of its <c>run-started</c>); null outside runs.</summary>
    public long? Run { get; init; }

    /// <summary>The move that was confirmed and that was about to be sent, in words; null where the entry tells of none. What somebody typed as a note never does.</summary>
    public string? Begun()
    {
        var said = this switch { Noted { Run: not null, Text: var note } => note, Confirmed { Run: null, Step: Confirmed.OfMotion, Answer: var answer } => answer, _ => "" };
        return said.StartsWith(Noted.MoveBegun, StringComparison.Ordinal) ? said[Noted.MoveBegun.Length..] : null;
    }

    /// <summary>First entry of every store.</summary>
    /// <param name="Nature">Real or practice.</param>
    /// <param name="Store">Short random id of the store, lower-case letters and digits.</param>
    /// <param name="Program">Version of the program that made it.</param>
    public sealed record StoreBorn(StoreNature Nature, string Store, string Program) : EntryBody;

    /// <summary>A machine was described, or described anew.</summary>
    /// <param name="Description">The whole description.</param>
    /// <param name="Retired">Whether it is out of use from now on.</param>
    public sealed record MachineDescribed(Machine Description, bool Retired) : EntryBody;

    /// <summary>An instrument was added, or described anew.</summary>
    /// <param name="Description">The instrument.</param>
    /// <param name="Retired">Whether it is out of use from now on.</param>
    public sealed record InstrumentDescribed(Instrument Description, bool Retired) : EntryBody;

    /// <summary>An operator's handle was entered.</summary>
    /// <param name="Handle">The handle.</param>
    public sealed record OperatorEntered(string Handle) : EntryBody;

    /// <summary>A hand study was completed.</summary>
    /// <param name="Study">Its result.</param>
    public sealed record StudyMade(HandStudy Study) : EntryBody;

    /// <summary>A procedure was started.</summary>
    public sealed record RunStarted : EntryBody
    {
        /// <summary>Id of the procedure.</summary>
        public required string Procedure { get; init; }

        /// <summary>Hash of the procedure's text, so that a resumed run knows it is the same.</summary>
        public required string ProcedureHash { get; init; }

        /// <summary>The axis or pair, where the procedure is for one.</summary>
        public string? Axis { get; init; }

        /// <summary>Name of the instrument.</summary>
        public string? Instrument { get; init; }

        /// <summary>Seed of the practice machine that was read; journals of before have 1 for any machine. Nothing is drawn from it: places and order of a plan are fixed.</summary>
        public long Seed { get; init; }

        /// <summary>Options of the run in words and numbers, by name: with the procedure they make the same plan again.</summary>
        public ImmutableSortedDictionary<string, string> Options { get; init; } = ImmutableSortedDictionary<string, string>.Empty;
    }

    /// <summary>A person said yes to a step.</summary>
    /// <param name="Step">Path of the step in the run.</param>
    /// <param name="Answer">The answer, for steps with a choice.</param>
    public sealed record Confirmed(string Step, string Answer) : EntryBody
    {
        /// <summary>The step that is named where a move outside runs was confirmed.</summary>
        public const string OfMotion = "motion";
    }

    /// <summary>A check was made and has a value.</summary>
    public sealed record Checked : EntryBody
    {
        /// <summary>Path of the step in the run.</summary>
        public required string Step { get; init; }

        /// <summary>Id of the check, for example <c>P05</c>.</summary>
        public required string Check { get; init; }

        /// <summary>What was typed.</summary>
        public required string Typed { get; init; }

        /// <summary>The number, where it is one.</summary>
        public double? Value { get; init; }

        /// <summary>Its unit.</summary>
        public string? Unit { get; init; }

        /// <summary>The limit in words.</summary>
        public required string Limit { get; init; }

        /// <summary>Where the limit comes from; null where the check names no source.</summary>
        public string? Source { get; init; }

        /// <summary>Whether it passed.</summary>
        public required bool Passed { get; init; }

        /// <summary>The check as it counts once its answer was taken back: it is not passed, and what was answered stays readable.</summary>
        public Checked WithAnswerTakenBack() => this with { Typed = $"{Typed} ({Noted.TakenBack})", Value = null, Passed = false, IsTakenBack = true };

        /// <summary>Whether its answer was taken back: then it neither passed nor failed. Never in an entry, only in a ledger.</summary>
        public bool IsTakenBack { get; private init; }
    }

    /// <summary>A check or step was skipped, with a typed reason.</summary>
    /// <param name="Step">Path of the step in the run.</param>
    /// <param name="Check">Id of the check; null for another step.</param>
    /// <param name="Reason">The reason.</param>
    public sealed record Skipped(string Step, string? Check, string Reason) : EntryBody;

    /// <summary>A reading.</summary>
    public sealed record ReadingTaken : EntryBody
    {
        /// <summary>Count of readings in the run, from 1.</summary>
        public required int Recorded { get; init; }

        /// <summary>Path of the step in the run.</summary>
        public required string Step { get; init; }

        /// <summary>Index of the cell in the step's plan, from 0.</summary>
        public required int Cell { get; init; }

        /// <summary>Number of its row on the sheet, from 1: under it a reading is named everywhere. One that was read again has the number of the one it replaced.</summary>
        public int Number => Cell + 1;

        /// <summary>Name of the place, for example <c>far</c>.</summary>
        public required string Place { get; init; }

        /// <summary>What was typed.</summary>
        public required string Typed { get; init; }

        /// <summary>The value understood, in <see cref="Unit"/>.</summary>
        public required double Value { get; init; }

        /// <summary>Unit of the value.</summary>
        public required string Unit { get; init; }

        /// <summary>Given quantities of the cell by column name (commanded position, angle …), canonical units.</summary>
        public ImmutableSortedDictionary<string, double> Given { get; init; } = ImmutableSortedDictionary<string, double>.Empty;

        /// <summary>Given words of the cell by column name (direction, axis …).</summary>
        public ImmutableSortedDictionary<string, string> Words { get; init; } = ImmutableSortedDictionary<string, string>.Empty;

        /// <summary>Name of the instrument.</summary>
        public string? Instrument { get; init; }
    }

    /// <summary>A reading was replaced by a later one, or by what it was meant to be.</summary>
    /// <param name="Reading">Sequence of the reading.</param>
    /// <param name="By">Sequence of the reading that takes its place; null where it is only taken back.</param>
    /// <param name="Reason">Why.</param>
    public sealed record Superseded(long Reading, long? By, string Reason) : EntryBody;

    /// <summary>A reading was left out.</summary>
    /// <param name="Reading">Sequence of the reading.</param>
    /// <param name="Reason">Why.</param>
    public sealed record Excluded(long Reading, string Reason) : EntryBody;

    /// <summary>A note, or the answer to a question about an entry.</summary>
    /// <param name="About">Sequence of the entry it speaks of; null for a free note.</param>
    /// <param name="Text">The words.</param>
    public sealed record Noted(long? About, string Text) : EntryBody
    {
        /// <summary>What a note says that takes back the note, or the answer of a run, that it speaks of. What was taken back stays readable.</summary>
        public const string TakenBack = "taken back";

        /// <summary>Begin of what is said where a move was confirmed, written before anything of it is sent: after a sudden end it tells what was under way. In a run it is a note of the run.</summary>
        public const string MoveBegun = "move begun: ";

        /// <summary>What a note says where the move that was entered as begun was not sent.</summary>
        public const string NothingMoved = "nothing moved";

        /// <summary>What a note of a run says after which its moves are no longer made over the link.</summary>
        public const string ByHand = "by hand from here on";
    }

    /// <summary>A finding, with what it rests on.</summary>
    public sealed record FindingMade : EntryBody
    {
        /// <summary>Key: characteristic.</summary>
        public required string Characteristic { get; init; }

        /// <summary>Key: axis or pair.</summary>
        public string? Axis { get; init; }

        /// <summary>Key: place.</summary>
        public string? Place { get; init; }

        /// <summary>Sequences of the readings it used.</summary>
        public ImmutableArray<long> Readings { get; init; } = [];

        /// <summary>Name of the instrument.</summary>
        public string? Instrument { get; init; }

        /// <summary>Hash of the machine's configuration at the time.</summary>
        public string? Configuration { get; init; }

        /// <summary>The finding as it was shown.</summary>
        public required Finding Finding { get; init; }

        /// <summary>What the fit was told besides the readings, so that it can be computed again.</summary>
        public required FitOptions Options { get; init; }
    }

    /// <summary>A finding was withdrawn; the one before it counts again.</summary>
    /// <param name="Finding">Sequence of the finding.</param>
    /// <param name="Reason">Why.</param>
    public sealed record Withdrawn(long Finding, string Reason) : EntryBody;

    /// <summary>A change in the machine's life.</summary>
    /// <param name="Change">Word of the stale table, for example <c>steps-changed</c>, <c>crash</c>.</param>
    /// <param name="Axis">The axis, where it concerns one.</param>
    /// <param name="Text">What happened, in the owner's words.</param>
    public sealed record ChangeTold(string Change, string? Axis, string Text) : EntryBody;

    /// <summary>All settings of the controller were saved.</summary>
    /// <param name="Dialect">Name of the dialect.</param>
    /// <param name="Settings">The settings as received.</param>
    public sealed record SettingsSaved(string Dialect, ImmutableArray<SavedSetting> Settings) : EntryBody;

    /// <summary>A setting was written, or is about to be.</summary>
    public sealed record SettingWritten : EntryBody
    {
        /// <summary>Key of the setting in the dialect; null where it was told by the owner.</summary>
        public string? Key { get; init; }

        /// <summary>Name, for example <c>stepsPerMm</c>.</summary>
        public required string Name { get; init; }

        /// <summary>The axis.</summary>
        public string? Axis { get; init; }

        /// <summary>Value before, in the unit of the setting.</summary>
        public double? Before { get; init; }

        /// <summary>Value meant to be written.</summary>
        public required double After { get; init; }

        /// <summary>Value read back; null while it has not been, or where there is no link.</summary>
        public double? ReadBack { get; init; }

        /// <summary>Stage: <c>intended</c>, <c>read-back</c>, <c>told</c>.</summary>
        public required string Stage { get; init; }

        /// <summary>Whether it was only about to be written: by itself it says nothing about what the controller holds.</summary>
        public bool IsIntended() => Stage == Intended;

        /// <summary>Whether a person told it: what was told can be told wrong, and is taken back like any other entry.</summary>
        public bool IsTold() => Stage == Told;

        /// <summary>The stage before anything is sent.</summary>
        public const string Intended = "intended";

        /// <summary>The stage of what a person told.</summary>
        public const string Told = "told";
    }

    /// <summary>A confirmed move was sent and ended.</summary>
    /// <param name="Step">Path of the step in the run; null outside runs.</param>
    /// <param name="Move">The move in words.</param>
    public sealed record Moved(string? Step, string Move) : EntryBody;

    /// <summary>Motion was stopped, or trust in the position was lost.</summary>
    /// <param name="Why">What happened, as known to the program.</param>
    /// <param name="Answer">What the operator said happened; null while nothing has been said.</param>
    public sealed record Stopped(string Why, string? Answer) : EntryBody;

    /// <summary>A run ended.</summary>
    /// <param name="How"><c>completed</c>, <c>aborted</c> or <c>put-aside</c>.</param>
    /// <param name="Reason">Why, where it was not completed.</param>
    public sealed record RunEnded(string How, string? Reason) : EntryBody;

    /// <summary>An entry of a type this version does not know: kept as it stands, makes the store read-only.</summary>
    /// <param name="Type">Its type word.</param>
    public sealed record Unknown(string Type) : EntryBody;
}

/// <summary>A setting of a controller, as received.</summary>
/// <param name="Key">Its key on the wire.</param>
/// <param name="Name">Its name in the dialect; null where the dialect does not know it.</param>
/// <param name="Unit">Its unit; null where unknown.</param>
/// <param name="Text">The value as received.</param>
/// <param name="Value">The value as a number; null where it is none.</param>
public sealed record SavedSetting(string Key, string? Name, string? Unit, string Text, double? Value);

/// <summary>An entry of the journal.</summary>
/// <param name="Id">Id, <c>store:sequence</c>.</param>
/// <param name="Sequence">Sequence in its chain, from 1.</param>
/// <param name="At">When it was written, with the zone of the writer.</param>
/// <param name="Body">What it says.</param>
public sealed record JournalEntry(string Id, long Sequence, DateTimeOffset At, EntryBody Body);
