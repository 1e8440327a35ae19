using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The log: what happened, newest first; an entry is opened, taken back, or corrected by a new one.</summary>
public sealed class LogPage(Desk desk) : ListPage(desk)
{
    private const int AtFirst = 64;

    // In a larger window what an entry says stands whole beside the list.
    private const int MostWidth = 120;

    /// <inheritdoc/>
    public override string Called => "log";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
    [
        "Everything that was written of this machine and of the store, newest first. Nothing is changed or deleted: a correction is a new entry. Another machine has its own log: M, then Enter.",
        "Enter opens the chosen entry. A tells a change of the machine. E takes back the chosen finding, change, told setting or exclusion, or leaves the chosen reading out, with a reason. U undoes the last entry.",
        "I reads in a history from another computer. Backups, exports and reports: M, then Enter.",
    ];

    private (long Sequence, ImmutableArray<JournalEntry> Newest) _read = (0, []);
    private (long Sequence, int Read, Dictionary<long, string>? Of) _marks;

    // Read as far back as somebody looks: of a long past a screen shows little.
    private JournalEntry? Entry(int index)
    {
        if (index < Count && (_read.Sequence != Count || index >= _read.Newest.Length))
            _read = (Count, [.. Desk.Newest(Math.Max(AtFirst, index * 4), entry => FollowedJournal.IsOf(entry, Desk.MachineName))]);
        return index < _read.Newest.Length ? _read.Newest[index] : null;
    }

    private JournalEntry? At => Count == 0 ? null : Entry(Math.Min(Chosen, Count - 1));

    /// <inheritdoc/>
    protected override int Count => Desk.Ledger.Machines.Count > 1 && Desk.MachineName is { } machine ? ((FollowedJournal)Desk.Means.Journal).CountOf(machine, Desk.Ledger.LastSequence) : (int)Desk.Ledger.LastSequence;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => ListSheet.Of(
        new ListView
        {
            Path = $"{Desk.MachineName} / log", Right = Words.Counted(Count, "entry", "entries"), Live = Desk.Live,
            Head = "   when         what", Count = Count, Line = index => Entry(index) is { } entry ? Text(entry, width) : "", Chosen = Math.Min(Chosen, Math.Max(0, Count - 1)),
            Step = (Desk.WhyNotWritten is null ? "Enter opens the chosen entry; A tells a change of the machine." : "Enter opens the chosen entry.", "What stands here is on disk, each entry sealed by the one before."),
            Keys = Keys(
                "open", new SheetKey("A", "tell a change", "change"), new SheetKey("E", "take back", "withdraw", At is { } at && Marks.TryGetValue(at.Sequence, out var mark) ? $"it is {mark} already" : At is { Body: var body } && Takes(body) ? null : "only findings, hand studies, changes, told settings, readings and exclusions are taken back"),
                Undo.Key(Desk), new SheetKey("I", "read in", "import")),
        },
        height);

    // What Enter shows, where even the longest line of the list leaves the room.
    /// <inheritdoc/>
    public override IEnumerable<Line> Notes(int room, int rows) => At is not { } entry || LogWords.IsHidden(entry.Body, Desk) ? [] : SideNotes.Part(
        string.Create(CultureInfo.InvariantCulture, $"ENTRY {entry.Sequence}"), [LogWords.Of(entry.Body, Desk) + ".", entry.At.ToString("ddd d MMM yyyy HH:mm:ss zzz", CultureInfo.InvariantCulture), .. EntryDetails.Lines(entry, Desk.Ledger, Desk.Units)], room);

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (At is not { } entry)
            return;
        if (LogWords.IsHidden(entry.Body, Desk))
        {
            Desk.Say("It stays hidden until the study ends: who sees it reads towards it.");
            return;
        }

        var about = Desk.About(entry);
        Desk.Cover(new WordsPage(Desk, string.Create(CultureInfo.InvariantCulture, $"entry {entry.Sequence}"), [LogWords.Of(entry.Body, Desk.Units, about, Desk.Means.Procedures, Desk.EntryAt) + ".", entry.At.ToString("ddd d MMM yyyy HH:mm:ss zzz", CultureInfo.InvariantCulture), .. EntryDetails.Lines(entry, about, Desk.Units)]));
    }

    /// <inheritdoc/>
    public override void Away() => Desk.ToBench();

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        switch (action)
        {
            case "change":
                Desk.Cover(new ChangePage(Desk));
                break;
            case "import":
                Desk.Cover(StoreDeeds.ReadIn(Desk));
                break;
            case "withdraw" when At is { } entry:
                TakeBack(Desk, entry);
                break;
            default:
                FollowNext();
                break;
        }
    }

    /// <summary>Asks why an entry is taken back, and does it by a new entry.</summary>
    public static void TakeBack(Desk desk, JournalEntry entry)
    {
        // Refused before a reason is typed.
        if (OfTheRun(desk, entry) is { } held)
        {
            desk.Say([held]);
            return;
        }

        var reading = entry.Body is EntryBody.ReadingTaken;
        desk.Cover(new TextPage(desk, new TextAsked(
            "take back", reading ? "Why is this reading left out?" : "Why is this entry taken back?",
            $"{LogWords.Of(entry.Body, desk)}. {(reading ? "It counts in no finding made from now on." : "What stood before it counts again.")} Both entries stay in the log.", "take it back", "Type the reason. Enter takes it back.",
            reason => (reading ? new MarkEntry(desk.Means.Journal).Exclude(entry.Sequence, reason, desk.Operator) : new WithdrawEntry(desk.Means.Journal).Run(entry.Sequence, reason, desk.Operator)).Then<string>(_ =>
            {
                desk.Refresh();
                if (entry.Body is EntryBody.SettingWritten)
                    desk.Link?.LookForInterrupted();
                return $"{WithdrawEntry.StillDescribed(desk.Ledger, entry)} {(reading ? "Left out" : "Taken back")}: {LogWords.Of(entry.Body, desk)}{(reading && desk.Running is null ? "; U undoes that" : "")}.".TrimStart();
            }))));
    }

    // A run under way holds its readings itself: what was taken back past it would still be in its evaluation. So does a number that was told in it.
    private static Problem? OfTheRun(Desk desk, JournalEntry entry)
    {
        if (entry.Body is EntryBody.SettingWritten { Run: { } of } && desk.Running is { } open && desk.Ledger.Runs.GetValueOrDefault(of) is { Standing: RunStanding.Open } run && run.Started.Body.Procedure == open.Session.Run.Procedure.Id)
            return new Problem($"it belongs to {open.Called}, which is under way", "W goes there: end it or put it aside; then take it back");
        var reading = entry.Body switch { EntryBody.ReadingTaken => entry.Sequence, EntryBody.Excluded left => left.Reading, EntryBody.Superseded old => old.Reading, _ => 0 };
        return desk.Running is { Session: var session } work && session.Run.Readings.Any(one => one.Sequence == reading || (entry.Body is EntryBody.FindingMade made && made.Readings.Contains(one.Sequence)))
            ? new Problem($"it belongs to {work.Called}, which is under way", session.Run.Needs is Need.Change ? "W goes there: O leaves it as it is and ends the run; then take it back" : "W goes there: E leaves a reading out, U undoes") : null;
    }

    private static bool Takes(EntryBody body) => body is EntryBody.ReadingTaken || WithdrawEntry.Takes(body);

    // What became of an entry stands behind it, whole: it is what an old line must not be read without.
    private string Text(JournalEntry entry, int width)
    {
        var became = Marks.TryGetValue(entry.Sequence, out var mark) ? "  " + mark : "";
        var text = entry.At.ToString("d MMM HH:mm", CultureInfo.InvariantCulture).PadRight(13) + LogWords.Of(entry.Body, Desk);
        var room = Math.Min(width, MostWidth) - ListSheet.Margin - 1 - became.Length;
        return Inking.Clean((text.Length <= room ? text : text[..(room - 2)] + "..") + became);
    }

    // What takes an entry back stands after it: all of it was read when the line is drawn.
    private Dictionary<long, string> Marks
    {
        get
        {
            if (_marks.Of is { } known && (_marks.Sequence, _marks.Read) == (_read.Sequence, _read.Newest.Length))
                return known;
            Dictionary<long, string> marks = [];
            foreach (var entry in _read.Newest)
            {
                var (named, word) = entry.Body switch
                {
                    EntryBody.Withdrawn withdrawn => (withdrawn.Finding, "withdrawn"),
                    EntryBody.Excluded left when !marks.ContainsKey(entry.Sequence) => (left.Reading, "left out"),
                    EntryBody.Superseded old when !marks.ContainsKey(entry.Sequence) => (old.Reading, "replaced"),
                    EntryBody.Noted { Text: EntryBody.Noted.TakenBack, About: { } about } => (about, "taken back"),
                    _ => (0, ""),
                };
                if (named > 0)
                    marks.TryAdd(named, word);
            }

            _marks = (_read.Sequence, _read.Newest.Length, marks);
            return marks;
        }
    }
}
