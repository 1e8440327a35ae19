using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Procedures;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Screens.Pages;

/// <content>What was just done to a reading, or answered, is undone by an entry that names it.</content>
public sealed partial class RunPage
{
    // One step back, and by the next press one more: never forth again.
    private void Undo()
    {
        var done = Session.TakeBack();
        Desk.Refresh();
        if (done is Outcome<JournalEntry>.Good { Value.Body: var body })
        {
            _asked = null;
            Desk.Say(Undone(body));
        }
        else
        {
            Said(done);
        }

        After();
    }

    private string Undone(EntryBody back) => back switch
    {
        EntryBody.ReadingTaken taken => $"{Named(taken)} taken back, kept in the log. Read it again.",
        EntryBody.Superseded or EntryBody.Excluded when Session.Run.OpenQuestion is not null => "The question is open again; both entries stay in the log.",
        EntryBody.Superseded or EntryBody.Excluded => "It counts again; both entries stay in the log.",
        EntryBody.Checked made => $"{(made.Check.Length <= MostId ? made.Check + ": " : "")}\"{Wrap.Cut(made.Typed, MostAnswer)}\" is taken back, kept in the log. Answer again.",
        EntryBody.Skipped skipped => $"The skip{(skipped.Check is { Length: <= MostId } id ? " of " + id : "")} is taken back and kept in the log. Answer again.",
        EntryBody.Confirmed { Answer: not (SessionReplay.Done or SessionReplay.Again) } said => $"\"{Wrap.Cut(said.Answer, MostAnswer)}\" is taken back, kept in the log. Answer again.",
        _ => "One sheet back: what was said there is taken back, kept in the log.",
    };

    // What is half typed is no deed's: a letter beside a digit takes nothing back that was accepted.
    private bool HalfTyped()
    {
        if (_typed.Length == 0)
            return false;
        Desk.Say($"{Wrap.Cut(_typed, MostTyped)} is still in the cell: Enter takes it, Esc clears it; then again.");
        return true;
    }

    // In brackets: a comma beside a decimal comma is hard to read.
    private string Named(EntryBody.ReadingTaken taken) => Session.Run.Readings.Any(reading => reading.Step == taken.Step && IsHidden(reading))
        ? string.Create(CultureInfo.InvariantCulture, $"Reading {taken.Cell + 1}")
        : string.Create(CultureInfo.InvariantCulture, $"Reading {taken.Cell + 1} ({taken.Typed} {TypedEntry.UnitOf(taken.Unit, Session.Run.Machine.Units)})");

    // As much of an answer as leaves the rest of the sentence in one row.
    private const int MostAnswer = 16;

    // Why nothing can be taken back here; null where something can.
    private string? NoWayBack => Session.LastDone is Outcome<JournalEntry>.Bad { Problems: [var first, ..] } ? first.What : null;

    // The last three accepted can be taken back, the newest first.
    private void TakeBackReading(int back)
    {
        var standing = Session.Run.Readings.Where(reading => reading.Stands && reading.Excluded is null).ToList();
        if (standing.Count < back)
        {
            Desk.Say("There is no such reading yet.");
            return;
        }

        var taken = standing[^back];
        if (Session.Happen(new RunEvent.TakenBack(taken.Sequence)) is Outcome<string?>.Bad refused)
            Desk.Say(refused.Problems);
        else if (Desk.Means.Journal.Entries(taken.Sequence).FirstOrDefault()?.Body is EntryBody.ReadingTaken body)
            Desk.Say($"{Named(body)} taken back: read it again.");
        After();
    }

    // The one accepted last may lie in a row above: it is named.
    private void ReadAgain(TakenReading last)
    {
        Happen(new RunEvent.ReadAgain(last.Sequence));
        if (Session.Run.Needs is Need.TakeReading && Desk.Means.Journal.Entries(last.Sequence).FirstOrDefault()?.Body is EntryBody.ReadingTaken body)
            Desk.Say($"{Named(body)}, the one accepted last, is read again.");
    }

    // What somebody may look for here, and why it is not to be had.
    private ImmutableArray<SheetKey> NotNow(int of) =>
    [
        new("Q", "leave", "leave-run", "from the bench; Esc first"), new("H", "home", "home", Linked ? "a move draws its box by itself" : "no controller is linked"),
        new("", "verdict", "verdict", string.Create(CultureInfo.InvariantCulture, $"after reading {of}")),
    ];
}
