using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Reports;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The log: what happened, newest first; an entry is opened, taken back, or corrected by a new one.</summary>
public sealed class LogPage(Desk desk) : ListPage(desk)
{
    private const int Most = 500;

    /// <inheritdoc/>
    public override string Called => "log";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
    [
        "Everything that was written, newest first. Nothing is changed or deleted: a correction is a new entry.",
        "Enter opens the chosen entry. A tells a change of the machine. E takes back the chosen finding, change or exclusion, or leaves the chosen reading out, with a reason. U undoes the last entry.",
        "I reads in a history from another computer. Backups, exports and reports: M, then Enter.",
    ];

    private ImmutableArray<JournalEntry> Entries => [.. Desk.Newest(Most, _ => true)];

    private JournalEntry? At => Entries is { Length: > 0 } entries ? entries[Math.Min(Chosen, entries.Length - 1)] : null;

    /// <inheritdoc/>
    protected override int Count => Entries.Length;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => ListSheet.Of(
        new ListView
        {
            Path = $"{Desk.MachineName} / log", Right = string.Create(CultureInfo.InvariantCulture, $"{Desk.Ledger.LastSequence} entries"), Live = Desk.Live,
            Head = "   when         what", Lines = [.. Entries.Select(entry => Text(entry, width))], Chosen = Math.Min(Chosen, Math.Max(0, Count - 1)),
            Step = ("Enter opens the chosen entry; A tells a change of the machine.", "What stands here is on disk, each entry sealed by the one before."),
            Keys = Keys(
                "open", new SheetKey("A", "tell a change", "change"), new SheetKey("E", "take back", "withdraw", At is { Body: var body } && Takes(body) ? null : "only findings, changes, readings and exclusions are taken back"),
                new SheetKey("U", "undo", "undo"), new SheetKey("I", "read in", "import")),
        },
        height);

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (At is { } entry)
            Desk.Cover(new WordsPage(Desk, string.Create(CultureInfo.InvariantCulture, $"entry {entry.Sequence}"), [LogWords.Of(entry.Body, Desk.Units) + ".", entry.At.ToString("ddd d MMM yyyy HH:mm:ss zzz", CultureInfo.InvariantCulture), .. EntryDetails.Lines(entry, Desk.Past)]));
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
                Desk.Cover(TakeBack(Desk, entry));
                break;
            default:
                FollowNext();
                break;
        }
    }

    /// <summary>Asks why an entry is taken back, and does it by a new entry.</summary>
    public static TextPage TakeBack(Desk desk, JournalEntry entry)
    {
        var reading = entry.Body is EntryBody.ReadingTaken;
        return new TextPage(desk, new TextAsked(
            "take back", reading ? "Why is this reading left out?" : "Why is this entry taken back?",
            $"{LogWords.Of(entry.Body, desk.Units)}. {(reading ? "It counts in no finding made from now on." : "What stood before it counts again.")} Both entries stay in the log.", "take it back", "Type the reason. Enter takes it back.",
            reason => (reading ? new MarkEntry(desk.Means.Journal).Exclude(entry.Sequence, reason, desk.Means.Operator) : new WithdrawEntry(desk.Means.Journal).Run(entry.Sequence, reason, desk.Means.Operator)).Then<string>(_ =>
            {
                desk.Refresh();
                return string.Create(CultureInfo.InvariantCulture, $"Entry {entry.Sequence} is taken back; U undoes that.");
            })));
    }

    private static bool Takes(EntryBody body) => body is EntryBody.FindingMade or EntryBody.ChangeTold or EntryBody.Excluded or EntryBody.Superseded or EntryBody.ReadingTaken;

    private string Text(JournalEntry entry, int width)
    {
        var text = entry.At.ToString("d MMM HH:mm", CultureInfo.InvariantCulture).PadRight(13) + LogWords.Of(entry.Body, Desk.Units);
        return Inking.Clean(text.Length <= width - 4 ? text : text[..(width - 4)]);
    }
}
