using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Workshop.Ports;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Screens.Pages;

/// <summary>A procedure's session as the desk uses it: events of keys become its requests.</summary>
public sealed class WorkSession(ProcedureSession session, IJournal journal) : IWorkSession
{
    /// <inheritdoc/>
    public ProcedureRun Run => session.Run;

    /// <inheritdoc/>
    public Entered<EntryBody.FindingMade>? Finding { get; private set; }

    /// <inheritdoc/>
    public Outcome<string?> Happen(RunEvent happened) => happened switch
    {
        RunEvent.HazardsRead => Quiet(session.HazardsRead()),
        RunEvent.Confirmed or RunEvent.Waited or RunEvent.Moved => Quiet(session.Confirm()),
        RunEvent.Chosen chosen => Quiet(session.Choose(chosen.Word)),
        RunEvent.NumberGiven given => Quiet(session.Number(given.Typed, given.Value)),
        RunEvent.TextGiven given => Quiet(session.Text(given.Text)),
        RunEvent.SlipAnswered answered => Quiet(session.AnswerSlip(answered.Answer)),
        RunEvent.ReadAgain again => Quiet(session.ReadAgain(again.Sequence)),
        RunEvent.LeftOut left => Quiet(session.LeaveOut(left.Sequence, left.Reason)),
        RunEvent.TakenBack back => Quiet(session.TakeBack(back.Sequence)),
        RunEvent.PositionLost => Quiet(session.PositionLost()),
        RunEvent.SetUpDisturbed => Quiet(session.SetUpDisturbed()),
        RunEvent.CheckRepeated => Quiet(session.RepeatCheck()),
        RunEvent.Skipped skipped => Quiet(session.Skip(skipped.Reason)),
        RunEvent.ChangeTold told => Quiet(session.TellChange(told.After)),
        RunEvent.ChangeLeft => Quiet(session.LeaveChange()),
        RunEvent.Left left => Quiet(session.Leave(left.How, left.Reason)),
        _ => new Problem("that does not happen by a key", "F2 shows what does"),
    };

    /// <inheritdoc/>
    public Outcome<string?> Read(string typed) => session.Needs is not Need.TakeReading asked
        ? new Problem("no reading is asked for here", "F2 shows what is")
        : TypedEntry.Reading(typed, asked.Unit, session.Run.Machine.Units)
            .Then(value => session.Read(typed, value)).Then<string?>(taken => $"recorded {asked.Index + 1}, {ReadingText.Of(taken.Typed, taken.Value, asked.Unit, ShownUnits.Of(session.Run.Machine.Units == LengthUnit.Inch), session.Run.Setting.Instrument?.ResolutionMm)}.");

    /// <inheritdoc/>
    public Outcome<JournalEntry> LastDone => session.LastDone;

    /// <inheritdoc/>
    public Outcome<JournalEntry> TakeBack() => session.TakeBack();

    /// <inheritdoc/>
    public Outcome<string?> MovesMade(string words) => Quiet(session.MovesMade(words));

    /// <inheritdoc/>
    public Outcome<string?> Evaluate()
    {
        if (session.Needs is not Need.Evaluate)
            return new Outcome<string?>.Good(null);
        var outcome = session.Evaluate();
        foreach (var entry in journal.Entries(session.RunNumber))
            Finding = entry.Body is EntryBody.FindingMade made ? new(entry.Sequence, entry.At, made) : Finding;
        return outcome.Then<string?>(_ => new Outcome<string?>.Good(null));
    }

    /// <inheritdoc/>
    public TripNote? CountSoFar() => session.CountSoFar();

    /// <inheritdoc/>
    public Outcome<JournalEntry> KeepCount(TripNote note) => session.KeepCount(note);

    private static Outcome<string?> Quiet(Outcome<ProcedureRun> outcome) => outcome.Then<string?>(_ => new Outcome<string?>.Good(null));
}
