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
    // The last answer, or the last thing done to a reading of this run, by an entry that names it; a reading comes back by a second time.
    private void Undo()
    {
        if (Session.LastDone is Outcome<JournalEntry>.Good { Value.Body: not EntryBody.ReadingTaken } && !Session.Run.Readings.Any(reading => reading.Step == Session.Run.Current?.Name))
        {
            BackToAnswer();
            return;
        }

        var readings = Session.Run.Readings.ToDictionary(reading => reading.Sequence);
        var undone = new HashSet<long>();
        foreach (var entry in Desk.Means.Journal.Entries().Reverse())
        {
            switch (entry.Body)
            {
                case EntryBody.Withdrawn back:
                    undone.Add(back.Finding);
                    break;
                case EntryBody.Excluded left when readings.ContainsKey(left.Reading) && !undone.Contains(entry.Sequence):
                    PutBack(left.Reading);
                    return;
                case EntryBody.Superseded { By: null } old when readings.ContainsKey(old.Reading) && !undone.Contains(entry.Sequence):
                    PutBack(old.Reading);
                    return;
                case EntryBody.ReadingTaken when readings.TryGetValue(entry.Sequence, out var taken) && taken.Stands:
                    if (Session.Happen(new RunEvent.ReadAgain(entry.Sequence)) is Outcome<string?>.Bad refused)
                        Desk.Say(refused.Problems);
                    else
                        Desk.Say($"{Named(taken)} taken back, kept in the log. U brings it back.");
                    After();
                    return;
            }
        }

        Desk.Say("There is nothing to take back on this sheet.");
    }

    // In brackets: a comma beside a decimal comma is hard to read.
    private string Named(TakenReading taken)
    {
        var unit = Desk.Ledger.Readings.TryGetValue(taken.Sequence, out var kept) ? " " + TypedEntry.UnitOf(kept.Taken.Body.Unit, Session.Run.Machine.Units) : "";
        return string.Create(CultureInfo.InvariantCulture, $"Reading {taken.CellIndex + 1} ({taken.Typed}{unit})");
    }

    private void BackToAnswer()
    {
        var done = Session.TakeBackAnswer();
        Desk.Refresh();
        if (done is Outcome<JournalEntry>.Good { Value: var answer })
        {
            _asked = null;
            Desk.Say(answer.Body switch
            {
                EntryBody.Checked made => $"{(made.Check.Length <= MostId ? made.Check + ": " : "")}\"{Wrap.Cut(made.Typed, MostAnswer)}\" is taken back, kept in the log. Answer again.",
                EntryBody.Skipped skipped => $"The skip{(skipped.Check is { Length: <= MostId } id ? " of " + id : "")} is taken back and kept in the log. Answer again.",
                EntryBody.Confirmed { Answer: not (SessionReplay.Done or SessionReplay.Again) } said => $"\"{Wrap.Cut(said.Answer, MostAnswer)}\" is taken back, kept in the log. Answer again.",
                _ => "One sheet back: what was said there is taken back, kept in the log.",
            });
        }
        else
        {
            Said(done);
        }

        After();
    }

    // As much of an answer as leaves the rest of the sentence in one row.
    private const int MostAnswer = 16;

    // Why nothing can be taken back here; null where something can.
    private string? NoWayBack => Session.LastDone is Outcome<JournalEntry>.Bad { Problems: [var first, ..] } ? first.What : null;

    private void PutBack(long reading)
    {
        if (Session.Happen(new RunEvent.PutBack(reading)) is Outcome<string?>.Bad bad)
            Desk.Say(bad.Problems);
        else
            Desk.Say("It counts again; both entries stay in the log.");
        After();
    }

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
        if (Session.Happen(new RunEvent.ReadAgain(taken.Sequence)) is Outcome<string?>.Bad refused)
            Desk.Say(refused.Problems);
        else
            Desk.Say($"{Named(taken)} taken back: read it again.");
        After();
    }

    // What somebody may look for here, and why it is not to be had.
    private ImmutableArray<SheetKey> NotNow(int of) =>
    [
        new("Q", "leave", "leave-run", "from the bench; Esc first"), new("H", "home", "home", Linked ? "a move draws its box by itself" : "no controller is linked"),
        new("", "verdict", "verdict", string.Create(CultureInfo.InvariantCulture, $"after reading {of}")),
    ];
}
