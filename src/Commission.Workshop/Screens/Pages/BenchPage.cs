using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Instruments;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Core.Upkeep;
using Commission.Workshop.Ports;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The bench: what is known of the machine, and what to do next.</summary>
public sealed class BenchPage(Desk desk) : Page(desk)
{
    private const int WideFrom = 120;
    private const int LogColumn = 66, Margin = 9, MostOpen = 6;
    private const string Electrical = "electrical";

    private (long Sequence, BenchRows Rows) _known;
    private (long Sequence, IReadOnlyList<JournalEntry> Events, CopyAge? Copy)? _past;
    private int? _chosen;

    /// <inheritdoc/>
    public override string Called => "bench";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
    [
        "One row a characteristic. Where the bar lies against the walls is the verdict: between them 'in', across one '?', behind one 'OUT'. '?' stands too where the finding says to find a fault first.",
        "What the bar is made of is its state: = fresh, - due, x stale, ! suspect. Up and Down choose a row, Enter opens its finding, or its procedure where there is none.",
        "NEXT comes from what rests on what: danger first, then suspect, stale, outside, undecided, due, never measured. W shows the whole list.",
    ];

    /// <inheritdoc/>
    public override Figure? Picture => Desk.Machine is { } machine ? FindingPicture.Of(WorkArea.Of(Desk.Ledger, machine), Desk.Units) : null;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var wide = width >= WideFrom;
        return BenchSheet.Of(
            new BenchView
            {
                Machine = Desk.MachineName!, Right = wide && Rows.Counts.Length > 0 ? $"{Desk.Today} . {Rows.Counts}" : Desk.Today, Rows = Rows.Rows, Chosen = _chosen,
                Corner = [.. Worst, .. Contains, .. Skips, .. Copy, .. wide ? Pages(width, height - Contains.Length - Skips.Length - Copy.Length) : []],
                Step = _chosen is { } at ? ($"{Rows.Places[at].Name}: Enter opens the finding that it shows, or its procedure.", OpenList(Rows.Places[at].Item) ?? "Esc: back to the next step of the list.") : Next(width - Margin),
            },
            width) with
        { Live = Desk.Live, Keys = Keys(wide) };
    }

    // Practice that was begun from the first page goes back to it.
    private ImmutableArray<SheetKey> Keys(bool wide) =>
    [
        .. BenchSheet.Keys(wide).Select(key => key.Action switch
        {
            "leave" when Desk.Means.EndPractice is not null => key with { Word = "end practice" },
            "next" when _chosen is not null => key with { Word = "open" },
            "next" when Desk.Running is null && !(Rows.Next is { } next && Rows.ProcedureOf(next) is not null) => key with { Word = "list" },
            _ => key,
        }),
    ];

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways) =>
        _chosen = _chosen is { } at ? Math.Clamp(at + by, 0, Rows.Places.Length - 1) : by > 0 ? 0 : Rows.Places.Length - 1;

    /// <inheritdoc/>
    public override void ChooseRow(int bodyRow)
    {
        if (bodyRow >= 1 && bodyRow <= Rows.Places.Length)
            _chosen = bodyRow - 1;
    }

    /// <inheritdoc/>
    public override void Away() => _chosen = null;

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (_chosen is { } at)
            Open(Rows.Places[at]);
        else if (Urgent is null && Desk.GoOn() is { } work)
            Desk.Show(work);
        else if (Rows.Next is { } next && Rows.ProcedureOf(next) is { } procedure)
            Desk.Show(new OverviewPage(Desk, procedure, BenchRows.AxisOf(next)) { From = 'B' });
        else if (Rows.Next is null && List is { } list && OpenList(Electrical) is not null)
            Desk.Show(new OverviewPage(Desk, list, null) { From = 'B' });
        else
            Desk.Show(new WorkListPage(Desk));
    }

    /// <inheritdoc/>
    public override void Deed(string action) => FollowNext();

    // States are asked anew after every entry.
    private BenchRows Rows
    {
        get
        {
            if (_known.Rows is null || _known.Sequence != Desk.Ledger.LastSequence)
                _known = (Desk.Ledger.LastSequence, new BenchRows(Desk));
            return _known.Rows;
        }
    }

    // The log is walked and the age of the copy read once for each entry, not at every drawing.
    private (long Sequence, IReadOnlyList<JournalEntry> Events, CopyAge? Copy) Past => _past is { } read && read.Sequence == Desk.Ledger.LastSequence ? read
        : (_past = (Desk.Ledger.LastSequence, Desk.Newest(8, entry => LogWords.IsEvent(entry.Body) && entry.Body.Machine == Desk.MachineName), Desk.Means.Folder?.CopyAge)).Value;

    private WorkArea? Area => Desk.Machine is { } machine ? Rows.Judge(WorkArea.Of(Desk.Ledger, machine, Desk.Means.Journal.Limits)) : null;

    // The one figure an owner understands.
    private ImmutableArray<Line> Worst => Area is { } area ? [(Line)$" {area.Short(Desk.Units)}"] : [];

    // What a finding says of itself stands here as well: a number that still contains what was left out is not simply fresh.
    private ImmutableArray<Line> Contains => [.. Rows.LeftOut.Select(row => ((Line)$" {row.Name}: {row.Words}").With(1, row.Name.Length, Ink.Ochre))];

    // A skip is shown until it is made good.
    private ImmutableArray<Line> Skips
    {
        get
        {
            var open = Desk.Ledger.OpenSkips.Where(skip => skip.Made.Body.Machine == Desk.MachineName).ToList();
            return open.Count == 0 ? [] : [.. open.Select(skip => ((Line)$" skipped: {skip.Words}, {skip.Made.Body.Reason}").With(1, 7, Ink.Ochre))];
        }
    }

    // Readings of years lie in one folder: how old the last copy elsewhere is.
    private ImmutableArray<Line> Copy => Past.Copy is { } copy && Desk.Ledger.LastSequence > 1 ? [(Line)(" " + copy.Sentence(Desk.Now) + $" M, Enter, line {MachineDeedsPage.CopyLine}: copy it.")] : [];

    // What is dangerous to leave, and what is suspect, comes before a run that was left: nothing moves for it before that.
    private NextWork? Urgent => Rows.Next is { } next && Rows.IsUrgent(next) && Rows.ProcedureOf(next)?.Id != Desk.Running?.Session.Run.Procedure.Id ? next : null;

    private (string Next, string Because) Next(int room)
    {
        if (Urgent is null && Desk.Running is { } running)
            return ($"Go on with {running.Called} where it was left{(running.HowFar is { Length: > 0 } far ? $": {far}" : "")}.", "Because: a run is under way.");
        if (Rows.Next is { } wanted && Rows.ProcedureOf(wanted) is null)
            return ($"{Words.Capital(OverviewPage.Named(wanted.Procedure, BenchRows.AxisOf(wanted)))}: its procedure is not at hand. Enter: the list.", Rows.Because(wanted, room));
        if (Rows.Next is null && List is { } list && OpenList(Electrical) is { } open)
            return (string.Create(CultureInfo.InvariantCulture, $"First power-up. {list.Minutes:0} min."), open);
        if (Rows.Next is not { } next || Rows.ProcedureOf(next) is not { } procedure)
            return ("Nothing to do now. Enter opens the list of procedures.", "Because: everything that can be measured now is measured, and holds.");
        var with = procedure.Instruments.SelectMany(need => need.Kinds).Select(kind => InstrumentCatalogue.Called(kind)).FirstOrDefault();
        var named = OverviewPage.Named(procedure.Id, BenchRows.AxisOf(next));
        return (string.Create(CultureInfo.InvariantCulture, $"{Words.Capital(next.Verifies ? "verify " + named : named)}. {new OverviewPage(Desk, procedure, BenchRows.AxisOf(next)).Minutes:0} min.{(with is null ? "" : $" With: {with}.")}"), Rows.Because(next, room));
    }

    // Which checks of the power-up list are open, while it is done in part; null for other rows.
    private string? OpenList(string item) => item == Electrical && Rows.OpenChecks is { IsEmpty: false } open
        ? $"Because: open in the power-up list: {string.Join(", ", open.Take(MostOpen))}{(open.Length > MostOpen ? string.Create(CultureInfo.InvariantCulture, $" and {open.Length - MostOpen} more") : "")}." : null;

    private Procedure? List => Desk.Means.Procedures.FirstOrDefault(procedure => procedure.Id == "first-power-up");

    private void Open(BenchPlace place)
    {
        if (Rows.Finding(place) is { } finding)
            Desk.Show(new FindingPage(Desk, finding.Made));
        else if (WorkGraph.All.First(item => item.Id == place.Item).Procedures.Select(id => Desk.Means.Procedures.FirstOrDefault(one => one.Id == id)).FirstOrDefault(one => one is not null) is { } procedure)
            Desk.Show(new OverviewPage(Desk, procedure, place.Axis) { From = 'B' });
        else
            Desk.Say("Its procedure is not at hand.");
    }

    // Wide windows have room for the work area as a plan, and the last pages of the log and the kit beside it.
    private ImmutableArray<Line> Pages(int width, int height)
    {
        var plan = Area is { } area ? CornerPlan.Of(area, Desk.Units) : [];
        var log = Past.Events;
        var kit = Desk.Ledger.Kit.Take(4).ToArray();
        string[] right =
        [
            .. log.Count == 0 ? [] : (ReadOnlySpan<string>)["LAST PAGES OF THE LOG"],
            .. log.Select(entry => $"{entry.At.ToString("d MMM", CultureInfo.InvariantCulture),6}  {LogWords.Of(entry.Body, Desk)}"),
            .. log.Count == 0 || kit.Length == 0 ? [] : (ReadOnlySpan<string>)[""],
            .. kit.Length == 0 ? [] : (ReadOnlySpan<string>)["KIT"],
            .. kit.Select(instrument => $"{instrument.Name,-15}{Study(instrument.Name)}"),
        ];
        var rows = Math.Min(Math.Max(plan.Length, right.Length), Math.Max(0, SheetFrame.BodyRows(height) - Rows.Places.Length - 3));
        return [Line.Blank, .. Enumerable.Range(0, rows).Select(row => (row < plan.Length ? plan[row] : Line.Blank).Set(LogColumn, row < right.Length ? Page(right[row], width - LogColumn - 1) : Line.Blank))];
    }

    // What is too long ends at a word, and says that it goes on.
    private static Line Page(string text, int width)
    {
        var shown = Inking.Clean(text);
        if (shown.Length > width)
            shown = shown[..Math.Max(shown.LastIndexOf(' ', width - 4), 0)] + " ...";
        return new Line(shown, shown is "LAST PAGES OF THE LOG" or "KIT" ? [new(0, shown.Length, Ink.Quiet)] : []);
    }

    private string Study(string instrument) => Desk.Hand(instrument) is { } study
        ? $"hand study [==] {StateTag.Age(Desk.Now - study.At)}" : "hand study [  ] never";
}
