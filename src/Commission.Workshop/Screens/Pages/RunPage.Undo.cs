using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Procedures;

namespace Commission.Workshop.Screens.Pages;

/// <content>What was just done to a reading is undone by an entry that names it.</content>
public sealed partial class RunPage
{
    // The last thing done to a reading of this run, by an entry that names it; a second time brings it back.
    private void Undo()
    {
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
                        Desk.Say($"Reading {taken.CellIndex + 1}, {taken.Typed}{(Desk.Ledger.Readings.TryGetValue(taken.Sequence, out var kept) ? " " + TypedEntry.UnitOf(kept.Taken.Body.Unit, Session.Run.Machine.Units) : "")}, is taken back and stays in the log. U brings it back.");
                    After();
                    return;
            }
        }

        Desk.Say("There is nothing to take back on this sheet.");
    }

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
        if (standing.Count >= back)
            Happen(new RunEvent.ReadAgain(standing[^back].Sequence));
        else
            Desk.Say("There is no such reading yet.");
    }

    // What somebody may look for here, and why it is not to be had.
    private ImmutableArray<SheetKey> NotNow(int of) =>
    [
        new("Q", "leave", "leave-run", "from the bench; Esc first"), new("H", "home", "home", Linked ? "a move draws its box by itself" : "no controller is linked"),
        new("", "verdict", "verdict", string.Create(CultureInfo.InvariantCulture, $"after reading {of}")),
    ];
}
