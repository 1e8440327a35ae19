using System.Globalization;
using Commission.Core.History;
using Commission.Core.Procedures;

namespace Commission.Workshop.Sessions;

/// <summary>An answer to a question about the time since a run was left.</summary>
public enum SinceThen
{
    /// <summary>Yes.</summary>
    Yes,

    /// <summary>No.</summary>
    No,

    /// <summary>Nobody is sure.</summary>
    NotSure,
}

/// <summary>A run that was left, for whoever takes it up again: what is known of it, and what only a person can tell.</summary>
/// <param name="Began">When it began.</param>
/// <param name="Ended">When its last entry was written.</param>
/// <param name="PutAside">Whether it was put aside on purpose; else its session ended without closing it.</param>
/// <param name="WasOverLink">Whether its moves were made over the link.</param>
public sealed record LeftRun(DateTimeOffset Began, DateTimeOffset Ended, bool PutAside, bool WasOverLink)
{
    /// <summary>The answers in words, in their order.</summary>
    public static readonly string[] Answers = ["yes", "no", "not sure"];

    /// <summary>A run as it was left.</summary>
    /// <param name="run">The run.</param>
    /// <param name="own">Its entries, in order.</param>
    public static LeftRun Of(RunRecord run, IReadOnlyCollection<JournalEntry> own) =>
        new(run.Started.At, own.LastOrDefault()?.At ?? run.Started.At, run.Standing == RunStanding.PutAside, OverLink(own));

    /// <summary>Whether the moves of a run were made over the link: they are entered only there, until it is said that it goes on by hand.</summary>
    /// <param name="own">Its entries, in order.</param>
    public static bool OverLink(IEnumerable<JournalEntry> own) => own.LastOrDefault(entry => entry.Body is EntryBody.Moved or EntryBody.Noted { Text: EntryBody.Noted.ByHand } || entry.Body.Begun() is not null)
        is { Body: not EntryBody.Noted { Text: EntryBody.Noted.ByHand } };

    /// <summary>How many readings of the step under way stand.</summary>
    public static int Counted(ProcedureRun run) => run.Current is { } item ? run.Readings.Count(reading => reading.Stands && reading.Step == item.Name) : 0;

    /// <summary>Whether it is asked what became of power and set-up: with no reading nothing hangs on them, and who studies the hand sets the instrument anew for each reading.</summary>
    public static bool Asks(ProcedureRun run) => run.Readings.Any(reading => reading.Stands) && !run.Procedure.IsBlind();

    /// <summary>Whether anything hangs on the power of the drives: distances between marks lie where they lie, and a study of the hand needs no machine.</summary>
    public static bool HangsOnPower(ProcedureRun run) => !run.Procedure.IsBlind() && run.Current is not { Step: Step.Read { Grid: Grid.Distances } };

    /// <summary>The question about the power of the drives.</summary>
    public static string PowerQuestion(string since) => $"Was the power of the drives off since {since}?";

    /// <summary>The question about what is read and what it is read with.</summary>
    public static string SetUpQuestion(ProcedureRun? run) => run?.Current?.Step is Step.Read { Grid: not Grid.AlongAxis and var grid }
        ? grid is Grid.Distances ? "Marks, board and tape untouched since then?" : "Instrument and set-up untouched since then?"
        : "Caliper and blocks untouched since then?";

    /// <summary>Whether the zero of the readings still holds: nothing was touched, and the drives were never without power.</summary>
    public static bool ZeroHolds(SinceThen drivesOff, SinceThen untouched) => (drivesOff, untouched) == (SinceThen.No, SinceThen.Yes);

    /// <summary>What the journal keeps of the answers; null for a question that was not asked.</summary>
    public static string Note(SinceThen? drivesOff, SinceThen? untouched) =>
        "taken up again" + (drivesOff is { } off ? $"; drives off since: {Answers[(int)off]}" : "") + (untouched is { } still ? $"; set-up untouched: {Answers[(int)still]}" : "");

    /// <summary>The times it began and was left, with the day where a day lies between them and now.</summary>
    /// <param name="today">The day of today; null shows the day always.</param>
    public (string Began, string Ended) Times(DateTime? today) => (When(Began, today), When(Ended, today));

    private string When(DateTimeOffset at, DateTime? today) => at.ToString(Ended.Date == today ? "HH:mm" : "d MMM HH:mm", CultureInfo.InvariantCulture);
}
