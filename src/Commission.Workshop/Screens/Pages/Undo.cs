using Commission.Core;
using Commission.Core.History;
using Commission.Core.Upkeep;
using Commission.Workshop.Requests;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Undoes the last entry, by a new entry that names it. What happened in the world cannot be undone, and is said so.</summary>
public static class Undo
{
    /// <summary>Undoes the last entry that was not undone before.</summary>
    public static void Last(Desk desk)
    {
        if (Newest(desk) is not { } entry)
            return;
        if (WhyNot(desk, entry) is { } why)
            desk.Say([new Problem(why, "A correction is a new entry: see E on the log, or note it with N")]);
        // One key must not bring back a trust that was lost: checks and results count again by it, so it takes a reason.
        else if (entry.Body is EntryBody.ChangeTold { Change: var change } && StaleTable.AsksForChecks(change))
            LogPage.TakeBack(desk, entry);
        else
            Said(desk, entry, One(desk, entry));
    }

    /// <summary>The key, with why it does nothing here now.</summary>
    public static SheetKey Key(Desk desk) => new("U", "undo", "undo", desk.NothingToUndo);

    /// <summary>Why the last entry cannot be undone, a clause; null where it can.</summary>
    public static string? WhyNot(Desk desk) => Newest(desk) is { } entry ? WhyNot(desk, entry) : "nothing was written yet";

    // What was undone before is passed over.
    private static JournalEntry? Newest(Desk desk)
    {
        var undone = new HashSet<long>();
        foreach (var entry in desk.Backwards((desk.Means.Journal.LastEntry?.Sequence ?? 0) + 1).Where(entry => FollowedJournal.IsOf(entry, desk.MachineName)))
        {
            switch (entry.Body)
            {
                case EntryBody.Withdrawn { Reason: Undone } withdrawn:
                    undone.Add(withdrawn.Finding);
                    continue;
                case EntryBody.Noted { About: { } about } noted when noted.Text == TakenBack:
                    undone.Add(about);
                    continue;
                // What an instrument showed belongs to its check, and is undone with it.
                case EntryBody.Noted { About: not null } read when read.Text.StartsWith(CheckInstrument.ReadOn, StringComparison.Ordinal):
                    continue;
            }

            if (!undone.Contains(entry.Sequence))
                return entry;
        }

        return null;
    }

    private static string? WhyNot(Desk desk, JournalEntry entry) => entry.Body switch
    {
        var body when WithdrawEntry.Takes(body) => desk.Running is { } work && body is not EntryBody.ChangeTold ? $"{work.Called} is under way: W, and U goes back there" : null,
        EntryBody.Noted { Run: null } or EntryBody.InstrumentDescribed => null,
        EntryBody.MachineDescribed described when Before<EntryBody.MachineDescribed>(desk, entry, body => body.Description.Name == described.Description.Name) is not null => null,
        _ => $"the last entry cannot be undone: {LogWords.Of(entry.Body, desk)}",
    };

    /// <summary>What a note says that undoes another one.</summary>
    internal const string TakenBack = EntryBody.Noted.TakenBack;

    // What was taken back with a reason of its own is the last thing done, and stays; what was undone before is passed over.
    private const string Undone = "undone";

    private static void Said(Desk desk, JournalEntry entry, Outcome<string> outcome)
    {
        desk.Refresh();
        if (outcome is Outcome<string>.Bad bad)
            desk.Say(bad.Problems);
        else
            desk.Say($"Undone: {LogWords.Of(entry.Body, desk)}. {outcome.Require()}");
    }

    private static Outcome<string> One(Desk desk, JournalEntry entry)
    {
        var journal = desk.Means.Journal;
        return entry.Body switch
        {
            EntryBody.Noted note => journal.Append(new EntryBody.Noted(entry.Sequence, TakenBack) { Machine = note.Machine, Operator = desk.Operator }).Then<string>(_ => "The note stays readable."),
            EntryBody.InstrumentDescribed described => journal.Append(Before<EntryBody.InstrumentDescribed>(desk, entry, body => body.Description.Name == described.Description.Name) ?? described with { Retired = true })
                .Then<string>(_ => "The kit is as before."),
            EntryBody.MachineDescribed described => journal.Append(Before<EntryBody.MachineDescribed>(desk, entry, body => body.Description.Name == described.Description.Name)!).Then<string>(_ => "The description is as before."),
            _ => new WithdrawEntry(journal).Run(entry.Sequence, Undone, desk.Operator).Then<string>(_ => "Both entries stay in the log."),
        };
    }

    private static T? Before<T>(Desk desk, JournalEntry entry, Func<T, bool> same)
        where T : EntryBody => desk.Backwards(entry.Sequence).Select(one => one.Body).OfType<T>().FirstOrDefault(same);
}
