using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Quantities;
using Commission.Core.Upkeep;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Keys;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Keeps the present sheet, the work under way and the ledger together. Everything shown comes from the journal.</summary>
public sealed partial class Desk : ISheetDesk
{
    private const int LongestPath = 32;
    private const long ReplacedMs = 200;

    private readonly Dictionary<char, Func<Page>> _places;
    private ((LiveStrip, (DateTimeOffset?, DateTimeOffset?, DateTimeOffset?), Core.Motion.TrustState?, string?, bool) What, long AtMs) _seen;
    private Page _page;
    private PresentState _present = PresentState.Of([]);
    private readonly Stack<Page> _under = [];
    private RunPage? _work;
    private string? _message;
    private int _bells;
    private ((Page? Page, long Sequence, int Turn) At, Figure? Figure) _pictured;

    /// <summary>A desk over its means; opens on the bench, or on the first page where no machine is described.</summary>
    public Desk(DeskMeans means)
    {
        Means = means with { Journal = means.Journal as FollowedJournal ?? new FollowedJournal(means.Journal) };
        Link = means.Link is { } link ? new DeskLink(this, link) : null;
        Read(means.Machine);
        MachineName = means.Machine ?? Last;
        if (means.Machine is null && MachineName is { } last)
            Use(last);
        _places = new()
        {
            ['B'] = () => new BenchPage(this), ['W'] = Work, ['F'] = () => new FindingsPage(this), ['L'] = () => new LogPage(this),
            ['K'] = () => new KitPage(this), ['M'] = () => new MachinePage(this), ['T'] = () => new TrendPage(this), ['C'] = () => new ControllerPage(this),
        };
        _page = MachineName is null ? new FirstStartPage(this) : Unfinished() is { } run ? new ResumePage(this, run) : new BenchPage(this);
        SayAtStart();
    }

    /// <summary>What the desk works with.</summary>
    public DeskMeans Means { get; }

    /// <summary>What the journal amounts to now; of a long past only what bears on the present.</summary>
    public Ledger Ledger => _present.Ledger;

    /// <summary>What the states of all results are read from.</summary>
    public UpkeepFold Fold => _present.Upkeep;

    /// <summary>Name of the machine; null before one is described.</summary>
    public string? MachineName { get; private set; }

    /// <summary>The machine; null before one is described.</summary>
    public Machine? Machine => MachineName is { } name && Ledger.Machines.TryGetValue(name, out var record) ? record.Description : null;

    /// <summary>The time at the machine.</summary>
    public DateTimeOffset Now => Means.Clock.GetLocalNow();

    /// <summary>The date as sheets show it.</summary>
    public string Today => Now.ToString("ddd d MMM yyyy", CultureInfo.InvariantCulture);

    /// <summary>Whether it is the practice machine.</summary>
    public bool IsPractice => Means.Journal.Nature == StoreNature.Practice;

    /// <summary>The desk's end of the link; null where none can be made.</summary>
    public DeskLink? Link { get; }

    /// <summary>The live strip.</summary>
    public LiveStrip Live => Link?.Now is { } now ? LinkWords.Live(now, IsPractice, _work?.Hidden, Units) : IsPractice ? LiveStrip.Practice : LiveStrip.None;

    /// <inheritdoc/>
    public int Scrolled { get; private set; }

    /// <inheritdoc/>
    public bool Left { get; private set; }

    /// <summary>The run under way; null where none is.</summary>
    public RunPage? Running => _work is { Session.Run.HasEnded: false } work ? work : null;

    /// <inheritdoc/>
    public void Do(KeyAct act)
    {
        var said = _message;
        _message = null;
        if (act is not KeyAct.Scroll)
            Scrolled = 0;
        switch (act)
        {
            case KeyAct.Stop stop: Stop(stop.Pressed); break;
            case KeyAct.Confirm: _page.Confirm(); break;
            case KeyAct.Decline: _page.Decline(); break;
            case KeyAct.ReachButton: _page.Choose(1, sideways: false); break;
            case KeyAct.Type type: _page.Type(type.Character); break;
            case KeyAct.Accept: _page.Accept(); break;
            case KeyAct.FollowNext: _page.FollowNext(); break;
            case KeyAct.TakeBack: _page.TakeBack(); break;
            case KeyAct.Away: Away(); break;
            case KeyAct.Choose choose: _page.Choose(choose.By, choose.Sideways); break;
            case KeyAct.ChooseRow row: _page.ChooseRow(row.BodyRow); break;
            case KeyAct.Scroll scroll when !_page.Turn(scroll.Pages): Scrolled = Math.Max(0, Scrolled + (scroll.Pages * 10)); break;
            case KeyAct.Deed deed: Deed(deed.Action); break;
            case KeyAct.Place place: GoTo(place.Letter); break;
            case KeyAct.Help: Cover(new HelpPage(this, _page, said)); break;
            case KeyAct.Card: Cover(new CardPage(this, _page)); break;
            case KeyAct.ClearCell: _page.Away(); break;
            case KeyAct.NotUsed unused: Say(unused.Why); break;
            case KeyAct.BoxWaits waits: Say(waits.Why); break;
            case KeyAct.Nothing nothing when nothing.Why.Length > 0: Say(nothing.Why); break;
        }
    }

    /// <inheritdoc/>
    public bool Tick(long nowMs)
    {
        var freed = TellFree(nowMs);
        if (Link is not { } link)
            return freed;
        var told = link.Tick(nowMs) | TellLoss(link) | TellLost(link);
        // Values are replaced at most five times a second, and only where something that shows has changed.
        var seen = (Live, link.LastStop, link.Now?.Gate.State, link.Doubt, link.Moving is not null);
        if (!told && !freed && (seen == _seen.What || nowMs - _seen.AtMs < ReplacedMs))
            return false;
        _seen = (seen, nowMs);
        return true;
    }

    /// <inheritdoc/>
    public void Report(Exception error) => Say($"A defect of the program: {error.GetType().Name}. What was accepted is on disk. Go on where you were.");

    /// <inheritdoc/>
    public int TakeBells() => Interlocked.Exchange(ref _bells, 0);

    /// <inheritdoc/>
    public string? Look { get; private set; }

    /// <summary>Whether pictures may be made of finer characters than ASCII.</summary>
    public bool Fine => Means.FineGlyphs && Look != "ascii";

    /// <summary>Whether bells ring as cues; off until chosen on the machine's page.</summary>
    public bool Cues { get; private set; }

    /// <summary>Switches the cues on or off, and rings once where they are on.</summary>
    public void SwitchCues()
    {
        Cues = !Cues;
        Cue(1);
        Say(Cues ? "Bells: one when a reading is wanted, two at a question, five at STOP." : "Bells are off.");
    }

    /// <summary>Rings as a cue, where cues were chosen.</summary>
    public void Cue(int bells) => Interlocked.Add(ref _bells, Cues ? bells : 0);

    /// <summary>Rings once, whatever the cues: for who calls numbers without looking.</summary>
    public void Ring() => Interlocked.Increment(ref _bells);

    /// <summary>Name of the instrument that was asked for; null where the procedure chooses.</summary>
    public string? Preferred { get; set; }

    /// <summary>The instrument of the kit that a procedure is done with; null where the kit has none.</summary>
    public Core.Instruments.Instrument? InstrumentFor(Core.Procedures.Procedure procedure) => KitChoice.For(procedure, [.. Ledger.Kit], Preferred, Machine);

    /// <summary>The hand study of whoever is at the keys with an instrument; null where there is none.</summary>
    public Entered<EntryBody.StudyMade>? Hand(string? instrument) => Ledger.Hand(Operator, instrument);

    /// <summary>The next look: lamp, daylight, one colour, plain characters.</summary>
    public void NextLook()
    {
        Look = Look switch { null or "lamp" => "daylight", "daylight" => "mono", "mono" => "ascii", _ => "lamp" };
        Say($"Looks: {Look}. O again for the next; COMMISSION_LOOK sets the one to start with.");
    }

    /// <summary>Says a sentence in row 22 until the next key.</summary>
    public void Say(string sentence) => _message = Inking.Clean(Units.Told(sentence));

    /// <summary>Says problems as sentences: where, what, and what to do.</summary>
    public void Say(ImmutableArray<Problem> problems) => Say(string.Join(" ", problems.Select(Sentence)));

    private static string Sentence(Problem problem)
    {
        // A long path was typed a moment ago; with it the remedy would not stand on the sheet any more.
        var file = problem.File is { Length: > LongestPath } path ? Path.GetFileName(path) : problem.File;
        var where = file is null ? "" : problem.Line is { } line ? string.Create(CultureInfo.InvariantCulture, $"{file}, line {line}: ") : file + ": ";
        return where.Length > 0 || problem.What.Length == 0 ? $"{where}{problem.What}. {problem.Remedy}." : $"{Words.Capital(problem.What)}. {problem.Remedy}.";
    }

    /// <summary>Shows a page.</summary>
    public void Show(Page page)
    {
        // A box that is left behind is not left open.
        if (_page is MotionPage && page is not MotionPage)
            Link?.Withdraw();
        // What has ended is closed when it is left, by whichever key.
        if (_work is { Session.Run.HasEnded: true } done && page != done)
            EndWork();
        // Asked for one route card only.
        Preferred = page is OverviewPage ? Preferred : null;
        _under.Clear();
        _page = page;
    }

    /// <summary>Shows a page over the present one; Esc puts it away.</summary>
    public void Cover(Page page)
    {
        _under.Push(_page);
        _page = page;
    }

    /// <summary>Puts the covering page away; whether there was one.</summary>
    public bool Uncover()
    {
        if (!_under.TryPop(out var under))
            return false;
        _page = under;
        under.Again();
        return true;
    }

    /// <summary>Goes to the bench, or to the first page where no machine is described.</summary>
    public void ToBench() => Show(MachineName is null ? new FirstStartPage(this) : new BenchPage(this));

    /// <summary>Leaves the program: nothing is asked, nothing is lost. A practice that was begun from the first page goes back to it.</summary>
    public void Leave()
    {
        Link?.EndCounting();
        if (Means.EndPractice is { } end)
            end();
        else
            Left = true;
    }

    /// <summary>Takes a session as the work under way and shows it.</summary>
    public void Start(IWorkSession session)
    {
        _work = new RunPage(this, session);
        Show(_work);
    }

    /// <summary>Ends the work under way.</summary>
    public void EndWork()
    {
        _work = null;
        Link?.EndCounting();
    }

    /// <summary>Writes an entry and takes it into the ledger.</summary>
    /// <returns>Whether it was written; where not, it is said why.</returns>
    public bool Write(EntryBody body)
    {
        switch (Means.Journal.Append(body))
        {
            case Outcome<JournalEntry>.Good:
                Refresh();
                return true;
            case Outcome<JournalEntry>.Bad bad:
                Say(bad.Problems);
                break;
        }

        return false;
    }

    /// <summary>Takes into ledger and states what has been written meanwhile.</summary>
    public void Refresh()
    {
        var checks = false;
        foreach (var entry in ((FollowedJournal)Means.Journal).After(Ledger.LastSequence))
        {
            checks |= entry.Body is EntryBody.Checked or EntryBody.Skipped or EntryBody.Withdrawn or EntryBody.ChangeTold or EntryBody.MachineDescribed or EntryBody.Noted { Text: EntryBody.Noted.TakenBack };
            if (_present.After(entry) is not { } next)
            {
                Read(MachineName);
                checks = true;
                break;
            }

            _present = next;
        }

        // The gate knows what was checked as soon as it is, and not only when the next move is asked for.
        if (checks)
            Link?.Informed();
    }

    /// <summary>Takes in a journal that was replaced as a whole: everything is read again. The machine stays the one it was, where there still is one of that name.</summary>
    public void Reread()
    {
        ((FollowedJournal)Means.Journal).Reread();
        _named.Clear();
        Read(null);
        Use(MachineName is { } now && Ledger.Machines.TryGetValue(now, out var record) && !record.Retired ? now : null);
    }

    private string? Last => Ledger.Machines.Values.Where(machine => !machine.Retired).MaxBy(machine => machine.Described.Sequence)?.Description.Name;

    /// <summary>Uses a machine from now on; null for the one last described.</summary>
    public void Use(string? machine)
    {
        MachineName = machine ?? Last;
        Link?.KeepTo(MachineName);
        if (!_present.Whole)
            Read(MachineName);
    }

    /// <summary>The newest entries of a kind, newest first.</summary>
    public IReadOnlyList<JournalEntry> Newest(int count, Func<JournalEntry, bool> wanted) => ((FollowedJournal)Means.Journal).Newest(Ledger.LastSequence, count, wanted);

    /// <summary>The entries before one, newest first, read as far back as they are asked for.</summary>
    public IEnumerable<JournalEntry> Backwards(long before) => ((FollowedJournal)Means.Journal).Backwards(before - 1);

    private void Read(string? machine) => _present = Means.Journal.Present(machine);

    private void Away()
    {
        if (!_page.StepBack() && !Uncover())
            _page.Away();
    }

    private void Deed(string action)
    {
        switch (action)
        {
            case var writing when Writing.Contains(writing) && WhyNotWritten is { } why: Say(Words.Capital(why) + "."); break;
            case "help": Cover(new HelpPage(this, _page, null)); break;
            case "card": Cover(new CardPage(this, _page)); break;
            case "leave": Leave(); break;
            case "away": Away(); break;
            case "stop": Stop("STOP"); break;
            case "picture" when Picture is { } figure: Cover(new FigurePage(this, figure)); break;
            case "note": Cover(new NotePage(this, _page)); break;
            case "undo": Undo.Last(this); break;
            default: _page.Deed(action); break;
        }
    }

    /// <summary>A motion has come to its end: the box goes; where it was stopped, by a STOP that was sent or not, the page of the stop comes.</summary>
    public void MotionEnded(Ports.MotionEnd how, bool stopSent)
    {
        // Typed before the box could be read: the gate keeps it open, and so does the desk.
        var stays = how is Ports.MotionEnd.NotBegun && Link?.Now?.Gate.Box is not null;
        if (_page is MotionPage && !stays)
            Uncover();
        switch (how)
        {
            case Ports.MotionEnd.NotBegun not:
                Say("Nothing moved: " + not.Why + ".");
                break;
            case Ports.MotionEnd.Stopped stopped when _page is not StopPage:
                Cue(5);
                Link!.Record(stopSent);
                _message = null;
                ShowStop(stopped.Why);
                break;
        }
    }

    // Without a link there is nothing to stop, and the sheet must say so: it must not seem that F9 stops something.
    private void Stop(string pressed)
    {
        if (Link?.Stop(pressed) == true)
        {
            Cue(5);
            // Since when and by what it was stopped first stays; the record is of the last one sent.
            if (_page is StopPage)
                Say("STOP was sent again.");
            else
                ShowStop("pressed: " + pressed);
        }
        else
            Say(IsPractice ? "Nothing is linked. Nothing was sent: practice is only numbers." : "Nothing is connected. Nothing was sent.");
    }

    // Keys look at the scene many times a second: the picture is made once for each entry of the journal.
    private Figure? Picture
    {
        get
        {
            (Page?, long, int) at = (_page, Ledger.LastSequence, _page.PictureTurn);
            if (_pictured.At != at)
                _pictured = (at, _page.Picture);
            return _pictured.Figure;
        }
    }
}
