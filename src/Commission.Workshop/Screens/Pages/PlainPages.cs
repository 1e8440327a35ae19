using System.Collections.Immutable;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The first start.</summary>
public sealed class FirstStartPage(Desk desk) : Page(desk)
{
    /// <inheritdoc/>
    public override string Called => "first start";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
    [
        "Describe the machine first: its name and travel are enough. Everything else may stay unknown.",
        "Who wants to look around first presses S: a practice machine with simulated readings. Nothing is connected, nothing is kept, Q on its bench comes back here.",
        "I reads in a history that was exported on another computer with 'commission history export'.",
    ];

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => FirstStartSheet.Of();

    /// <inheritdoc/>
    public override KeyScene Scene => base.Scene with { Places = "" };

    /// <inheritdoc/>
    public override void FollowNext() => Desk.Show(new SetUpPage(Desk));

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        if (action == "practice" && Desk.Means.StartPractice is { } start)
            start();
        else if (action == "practice")
            Desk.Say("This is practice already. Enter describes a machine.");
        else if (action == "import")
            Desk.Cover(StoreDeeds.ReadIn(Desk));
        else
            FollowNext();
    }

    /// <inheritdoc/>
    public override void Away() => Desk.Say("This is the first page. Q leaves.");
}

/// <summary>Help to a sheet: the message that was just said, or the reason that had no room, whole; the words of the sheet, then what each key does.</summary>
public sealed class HelpPage(Desk desk, Page about, string? said) : Page(desk)
{
    /// <inheritdoc/>
    public override string Called => "help";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => about.Help;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var keys = about.AllKeys;
        var whole = said ?? (about.Show(width, height).Because is var because && because.Length > width - SheetFrame.Indent ? because : null);
        return new Sheet
        {
            Path = $"{Desk.MachineName ?? "Commission"} / help",
            Right = about.Called,
            Body =
            [
                .. whole is null ? [] : Wrap.To(whole, 76).Select(text => new Line(" " + text, [new(1, text.Length, Ink.Strong)])).Append(Line.Blank),
                .. about.Help.SelectMany(text => Wrap.To(Desk.Units.Told(text), 76)).Select(text => (Line)(" " + text)),
                Line.Blank,
                .. keys.SelectMany(key => Told(key, width)),
                Line.Blank,
                " Digits, comma, point and Enter are readings, everywhere; they never move,",
                " write, start or confirm. Only X, Y, Z, H, U act on a machine, in a box.",
                " F9 or Ctrl+C: STOP MOVE. It is software; the emergency stop is the wired one.",
                .. Page,
            ],
            Next = "Esc or Enter puts the help away.",
            Because = "Nothing is changed by looking.",
            Live = Desk.Live,
            Keys = [new("Enter, Esc", "away", "away"), new("PgUp, PgDn", "scroll", "scroll"), new("F2", "card", "card")],
        };
    }

    private static IEnumerable<Line> Told(SheetKey key, int width)
    {
        var words = key.Word + (key.NotNow is null ? "" : "   (not now: " + key.NotNow + ")");
        var first = $"   {key.Key,-10} ";
        return Wrap.To(words, width - first.Length - 1).Select((part, i) => i == 0 ? ((Line)(first + part)).With(3, key.Key.Length, Ink.Key) : (Line)(new string(' ', first.Length + 2) + part));
    }

    // The handbook's page about what the sheet below is for; examples and tables keep their lines.
    private IEnumerable<Line> Page => about.Subject is { } subject && HandbookPages.NameOf(subject) is { } name
        ? [Line.Blank, " The handbook:", Line.Blank, .. HandbookPages.Lines(name).SelectMany(text => text.Length == 0 ? [""] : Wrap.To(text, 76)).Select(text => text.Length == 0 ? Line.Blank : (Line)(" " + text))]
        : [];

    /// <inheritdoc/>
    public override void FollowNext() => Desk.Uncover();
}

/// <summary>The card: all places and deeds, and why one is not possible.</summary>
public sealed class CardPage(Desk desk, Page over) : Page(desk)
{
    private int _chosen;

    /// <inheritdoc/>
    public override string Called => "card";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["The card lists every place and every deed of the sheet below, and why one is not possible now."];

    private ImmutableArray<CardLine> Places
    {
        get
        {
            var ledger = Desk.Ledger;
            // Before a machine is described no place has anything to show.
            var described = Desk.MachineName is not null;
            var open = described && !Desk.IsHeld;
            CardLine Of(string key, string word, string text) => new(key, word, At == word ? "<- you are here" : open ? text : described ? "after A, S or O" : "once described", "place", open);
            return
            [
                Of("B", "bench", "what is known"),
                Of("W", "work", Desk.Running is null ? "procedures" : "under way"),
                Of("F", "findings", $"{ledger.Findings.Values.Count(finding => finding.Counts)} in the log"),
                Of("T", "trend", "over time"),
                Of("C", "controller", Desk.Link is { IsOpen: true, OpenedAt: { } since } ? $"linked, {since.ToString("HH:mm", System.Globalization.CultureInfo.InvariantCulture)}" : "none linked"),
                Of("K", "kit", Words.Counted(ledger.Instruments.Count, "instrument")),
                Of("L", "log", Words.Counted(ledger.LastSequence, "entry", "entries")),
                Of("M", "machine", Desk.MachineName ?? "none"),
            ];
        }
    }

    private ImmutableArray<CardLine> Deeds =>
        [.. over.AllKeys.Where(key => key.Action is not ("place" or "card") && !Barred(key)).Select(key => new CardLine(key.Key, key.Word, key.NotNow ?? "", key.Action, key.NotNow is null)), .. NotWritten];

    private bool Barred(SheetKey key) => Desk.WhyNotWritten is not null && Desk.Writes(key.Action);

    // One reason for all that would write: told once.
    private IEnumerable<CardLine> NotWritten => over.AllKeys.Where(Barred).Select(key => key.Key).ToArray() is { Length: > 0 } keys
        ? [new CardLine("", string.Join(", ", keys), Desk.WhyNotWritten!, "", Possible: false)] : [];

    private ImmutableArray<CardLine> Choosable => [.. Places.Where(place => place.Possible), .. Deeds.Where(deed => deed.Possible)];

    // The place that the sheet below belongs to, by its word; null where it belongs to none.
    private string? At => over is RunPage or OverviewPage or ResumePage ? "work" : over.Called;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) =>
        CardSheet.Of(Desk.MachineName ?? "Commission", over.Called, Places, Deeds, _chosen, Desk.Live, width);

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways)
    {
        var step = sideways ? by * Places.Count(place => place.Possible) : by;
        _chosen = Math.Clamp(_chosen + step, 0, Choosable.Length - 1);
    }

    /// <inheritdoc/>
    public override void FollowNext()
    {
        var line = Choosable[_chosen];
        Desk.Uncover();
        if (line.Action == "place")
            Desk.GoTo(line.Key[0]);
        else if (line.Key == "Enter")
            Desk.Do(new KeyAct.FollowNext());
        else
            Desk.Do(new KeyAct.Deed(line.Action));
    }

    /// <inheritdoc/>
    public override void Deed(string action) => FollowNext();
}

/// <summary>A note that goes into the log.</summary>
public sealed class NotePage(Desk desk, Page about) : Page(desk)
{
    private string _text = "";

    /// <inheritdoc/>
    public override string Called => "note";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["A note is kept in the log with its time. It changes nothing else."];

    /// <inheritdoc/>
    public override KeyScene Scene => new() { TextField = true };

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => QuestionSheet.Of(new QuestionView
    {
        Path = $"{Desk.MachineName ?? "Commission"} / note", Right = about.Called, Text = "A note for the log.", Typed = _text, Live = Desk.Live,
        Step = ("Type it. Enter puts it into the log, Esc puts it away.", "Nothing else is changed by a note."),
        Keys = [new("Enter", "into the log", "accept"), new("Esc", "away", "away")],
    });

    /// <inheritdoc/>
    public override void Type(char character) => _text += character;

    /// <inheritdoc/>
    public override void TakeBack() => _text = _text.Length > 0 ? _text[..^1] : _text;

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (_text.Trim().Length > 0 && !Desk.Write(new Core.History.EntryBody.Noted(null, _text.Trim()) { Machine = Desk.MachineName, Operator = Desk.Operator }))
            return;
        Desk.Uncover();
        Desk.Say(_text.Trim().Length > 0 ? "The note is kept: L shows it in the log." : "Nothing was typed, so nothing was noted.");
    }
}
