using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Core.Upkeep;
using Commission.Workshop.Ports;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>A page that is a list.</summary>
public abstract class ListPage(Desk desk) : Page(desk)
{
    private const int PageLines = 10;

    /// <summary>Index of the chosen line.</summary>
    protected int Chosen { get; set; }

    /// <summary>Number of lines that can be chosen.</summary>
    protected abstract int Count { get; }

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways) => Chosen = Math.Clamp(Chosen + by, 0, Math.Max(0, Count - 1));

    /// <inheritdoc/>
    public override bool Turn(int pages)
    {
        Choose(pages * PageLines, sideways: false);
        return true;
    }

    // The list stands so that the chosen line is in its middle: a row is that far from it.
    /// <inheritdoc/>
    public override void ChooseRow(int bodyRow)
    {
        var body = Show(Desk.Window.Width, Desk.Window.Height).Body;
        var now = body.ToList().FindIndex(line => line.Text.StartsWith(">>", StringComparison.Ordinal));
        if (now >= 0 && bodyRow >= 1 && bodyRow < body.Length)
            Chosen = Math.Clamp(Chosen + bodyRow - now, 0, Math.Max(0, Count - 1));
    }

    /// <inheritdoc/>
    public override void FollowNext() => Desk.ToBench();

    // A list without notes of its own is told what it is.
    /// <inheritdoc/>
    public override IEnumerable<Line> Notes(int room, int rows) => SideNotes.Part("THIS LIST", Help, room);

    /// <summary>The keys of a list; where the row is too narrow the last ones leave first.</summary>
    protected ImmutableArray<SheetKey> Keys(string enter, params ReadOnlySpan<SheetKey> deeds) =>
        [new("Enter", enter, "next"), .. deeds, new("Esc", "bench", "away"), new("N", "note", "note"), new("Up, Down", "choose", "choose", Count < 2 ? "there is nothing to choose among" : null), new("F1", "help", "help"), new("F2", "card", "card")];

    /// <inheritdoc/>
    public override void Deed(string action) => FollowNext();
}

/// <summary>The procedures in the order of the work.</summary>
public sealed class WorkListPage(Desk desk) : ListPage(desk)
{
    /// <inheritdoc/>
    public override string Called => "work";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["The procedures in the order of the work. One that is for a single axis stands once for each. Behind each stands how it is: under way, put aside, done and when, or what it waits for."];

    private (long Sequence, RunPage? Running, ImmutableArray<string> Lines) _known;

    private ImmutableArray<(Procedure Procedure, AxisName? Axis)> Rows =>
        [.. Desk.Means.Procedures.SelectMany(procedure => procedure.ForOneAxis ? Enum.GetValues<AxisName>().Select(axis => (procedure, (AxisName?)axis)) : [(procedure, null)])];

    /// <inheritdoc/>
    protected override int Count => Rows.Length;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => ListSheet.Of(
        new ListView
        {
            Path = $"{Desk.MachineName} / work", Right = Desk.Today, Head = "   procedure                                 axis  min  state", Live = Desk.Live,
            Lines = Lines,
            Chosen = Chosen,
            Step = Rows.IsEmpty ? ("No procedure is at hand. Esc goes back.", "Because: the folder of procedures is empty.")
                : ($"{Name(Rows[Chosen])}. Enter opens its route card.", "Nothing begins by that: hazards are read first."),
            Keys = Keys("open"),
        },
        height);

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (Count > 0)
            Desk.Show(new OverviewPage(Desk, Rows[Chosen].Procedure, Rows[Chosen].Axis));
    }

    private ((long, RunPage?, int, int) At, ImmutableArray<Line> Lines) _notes;

    // The route card of the chosen one, with its hazards: foretold once for each choice, not at every key.
    /// <inheritdoc/>
    public override IEnumerable<Line> Notes(int room, int rows)
    {
        var at = (Desk.Ledger.LastSequence, Desk.Running, Chosen, room);
        if (_notes.Lines.IsDefault || _notes.At != at)
            _notes = (at, Rows.IsEmpty ? [] : [.. new OverviewPage(Desk, Rows[Chosen].Procedure, Rows[Chosen].Axis).Card(room, rows)]);
        return _notes.Lines;
    }

    // States are asked anew after every entry, not at every key.
    private ImmutableArray<string> Lines
    {
        get
        {
            if (_known.Lines.IsDefault || (_known.Sequence, _known.Running) != (Desk.Ledger.LastSequence, Desk.Running))
            {
                var states = new WorkStates(Desk);
                _known = (Desk.Ledger.LastSequence, Desk.Running, [.. Rows.Select(row => string.Create(CultureInfo.InvariantCulture, $"{Wrap.Cut(row.Procedure.Title, 41),-42}{row.Axis?.ToString() ?? "",-5}{new OverviewPage(Desk, row.Procedure, row.Axis).Minutes,4:0}  {Wrap.Cut(states.Of(row.Procedure, row.Axis), 23)}").TrimEnd())]);
            }

            return _known.Lines;
        }
    }

    private static string Name((Procedure Procedure, AxisName? Axis) row) => row.Axis is { } axis ? $"{row.Procedure.Title}, {axis}" : row.Procedure.Title;
}

/// <summary>Words to read over a sheet.</summary>
public sealed class WordsPage(Desk desk, string called, ImmutableArray<string> words) : Page(desk)
{
    /// <inheritdoc/>
    public override string Called => called;

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => words;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => new()
    {
        Path = $"{Desk.MachineName} / {called}", Live = Desk.Live,
        Body = [.. words.SelectMany(text => Wrap.To(text, 76).Select((part, i) => (Line)((i == 0 ? " - " : "   ") + part)))],
        Next = "Esc or Enter puts it away.", Because = "Nothing is changed by looking.",
        Keys = [new("Enter, Esc", "away", "away"), new("PgUp, PgDn", "scroll", "scroll"), new("F2", "card", "card")],
    };

    /// <inheritdoc/>
    public override void FollowNext() => Desk.Uncover();
}

/// <summary>The findings, newest first.</summary>
public sealed class FindingsPage : ListPage
{
    private (UpkeepFold Fold, MachineUpkeep Upkeep)? _upkeep;

    /// <summary>The list with its mark on a finding, the newest where none is named.</summary>
    /// <param name="desk">The desk.</param>
    /// <param name="chosen">Sequence of the finding that was looked at.</param>
    public FindingsPage(Desk desk, long? chosen = null)
        : base(desk) => Chosen = Math.Max(0, desk.Findings.Select((mark, at) => (mark, at)).FirstOrDefault(row => row.mark.Sequence == chosen).at);

    /// <inheritdoc/>
    public override string Called => "findings";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["One page a finding, newest first. Nothing is deleted: a finding that was withdrawn says so."];

    private FindingMark? Now => Count == 0 ? null : Desk.Findings[Math.Min(Chosen, Count - 1)];

    /// <inheritdoc/>
    protected override int Count => Desk.Findings.Count;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => ListSheet.Of(
        new ListView
        {
            Path = $"{Desk.MachineName} / findings", Right = Words.Counted(Count, "finding"), Live = Desk.Live,
            Head = "   when         what                 value                   verdict   stands",
            Count = Count, Line = at => Text(Desk.Findings[at]), Chosen = Chosen,
            Step = Count == 0 ? ("Nothing has been found yet. Enter goes back to the bench.", "Because: a finding comes at the end of a procedure.") : ("Enter opens the finding.", WhyNone ?? "Nothing is changed by looking."),
            Keys = Keys(Count == 0 ? "bench" : "open", new SheetKey("E", "take back", "withdraw", Now is not { } now ? "nothing has been found yet" : now.Counts ? null : "it is taken back already"), Undo.Key(Desk)),
        },
        height);

    /// <inheritdoc/>
    public override void Away() => Desk.ToBench();

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        if (action == "withdraw" && Now is { } now && Desk.EntryAt(now.Sequence) is { } entry)
            LogPage.TakeBack(Desk, entry);
        else
            FollowNext();
    }

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (Now is not { } now)
            Desk.ToBench();
        else if (Desk.FindingAt(now.Sequence) is { } made)
            Desk.Show(new FindingPage(Desk, made));
        else
            Desk.Say("It is not in the journal any more: history check says what is damaged.");
    }

    /// <inheritdoc/>
    public override IEnumerable<Line> Notes(int room, int rows) => Now is { } now && Desk.FindingAt(now.Sequence) is { } made && Desk.IsNear(made) ? new FindingPage(Desk, made).Short(room) : [];

    // Why the chosen one has no U.
    private string? WhyNone => Now is { } now && Desk.FindingAt(now.Sequence) is { Body.Finding.Headline: { ExpandedUncertainty: null, WhyNoUncertainty: { } why } } ? Desk.Units.Told($"no U: {why}.") : null;

    private static string Marked(string text, int room) => text.Length <= room ? text : text[..(room - 2)] + "..";

    // A long list asks for many: they are judged by one fold of one day.
    private MachineUpkeep Upkeep => _upkeep is { } known && known.Fold == Desk.Fold ? known.Upkeep : (_upkeep = (Desk.Fold, new MachineUpkeep(Desk.Fold, Desk.Machine!, Desk.Now))).Value.Upkeep;

    private string Text(FindingMark mark)
    {
        if (Desk.FindingAt(mark.Sequence) is not { } record)
            return "             not in the journal any more";
        var made = record.Body;
        var pair = Shown.Pair(Signs.Told(made.Finding.Headline), Desk.Units);
        var value = pair is { } p ? p.Uncertainty is { } u ? $"{p.Value} +/- {u} {p.Unit}" : $"{p.Value} {p.Unit} no U" : "no value";
        var when = record.At.ToString("d MMM HH:mm", CultureInfo.InvariantCulture);
        var state = mark.Counts ? Upkeep.Of(mark.Sequence)?.Standing : null;
        // The state stands in place of a verdict that it takes away.
        var verdict = state is Standing.Stale or Standing.Suspect ? "" : made.Finding is { Verdict: Verdict.Within, Advice.Action: AdviceAction.FindTheFault } ? "fault" : FindingSheet.Verdict(made.Finding.Verdict);
        return $"{when,-13}{Marked(FindingPage.Named(made), 20),-21}{value,-24}{(mark.Counts ? $"{verdict,-10}{(state is { } standing ? StandingWords.Of(standing) : "")}" : "withdrawn")}".TrimEnd();
    }
}
