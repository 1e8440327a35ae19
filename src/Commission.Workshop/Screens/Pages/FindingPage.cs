using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Core.Upkeep;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>One finding.</summary>
/// <param name="desk">The desk.</param>
/// <param name="made">The finding.</param>
/// <param name="ofRun">Whether its run has just ended: from there one goes to the bench.</param>
public sealed class FindingPage(Desk desk, Entered<EntryBody.FindingMade> made, bool ofRun = false) : Page(desk)
{
    /// <inheritdoc/>
    public override string Called => "findings";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
        ["The bar is the interval the verdict uses. 'Leave it' has the same place and size as 'change': it is a good end."];

    private Ledger Behind => Desk.Behind(made);

    private const int Roomy = 100;
    private const string LeftAsIs = "left as it is";

    /// <summary>Name of what was found, with its axis and place.</summary>
    public static string Named(EntryBody.FindingMade made) => ResultName.Of(made.Finding.Kind, made.Axis, made.Place);

    /// <inheritdoc/>
    public override string? Subject => made.Body.Finding.Kind;

    /// <inheritdoc/>
    public override Figure? Picture => FindingPicture.Of(Behind, made.Body, Desk.Units);

    // What it proposes, where its run has not just asked, while it is the newest of its kind, counts, and nothing was written or decided since.
    private ProposedSetting? Proposal
    {
        get
        {
            var ledger = Behind;
            return !ofRun && made.Body.Finding.Advice is { Action: AdviceAction.Change, Setting: { } setting } && ledger.Findings.TryGetValue(made.Sequence, out var record) && record.Counts && Outcome is null
                && IsNewest && !(State is { Standing: Standing.Stale or Standing.Suspect })
                ? setting : null;
        }
    }

    private bool IsNewest => !Behind.Findings.Values.Any(later => later.Made.Sequence > made.Sequence && later.Counts
        && (later.Made.Body.Machine, later.Made.Body.Characteristic, later.Made.Body.Axis, later.Made.Body.Place) == (made.Body.Machine, made.Body.Characteristic, made.Body.Axis, made.Body.Place));

    // What became of it: written or told since, or left as it is.
    private string? Outcome
    {
        get
        {
            if (made.Body.Finding.Advice.Setting is not { } setting)
                return null;
            if (Behind.SettingsWritten.LastOrDefault(write => write.Sequence > made.Sequence && !write.Body.IsIntended() && write.Body.Machine == made.Body.Machine && (write.Body.Name, write.Body.Axis) == (setting.Name, setting.Axis)) is { } write)
                return string.Create(CultureInfo.InvariantCulture, $"{write.Body.ReadBack ?? write.Body.After:0.####}{SettingWords.UnitOf(Behind, write.Body)}, {(write.Body.IsTold() ? "told" : "written and read back")}, {write.At:d MMM HH:mm}");
            return Behind.Notes.LastOrDefault(note => note.Body.About == made.Sequence && note.Body.Text == LeftAsIs && !Behind.Notes.Any(back => back.Body.About == note.Sequence && back.Body.Text == Undo.TakenBack)) is { } left ? $"left as it is, {left.At.ToString("d MMM HH:mm", CultureInfo.InvariantCulture)}" : null;
        }
    }

    // Sent and never read back: nobody knows what the controller holds before it is read.
    private string? Unread => made.Body.Finding.Advice.Setting is { } setting && Behind.SettingsWritten.Reverse()
        .Where(write => write.Sequence > made.Sequence && write.Body.Machine == made.Body.Machine && (write.Body.Name, write.Body.Axis) == (setting.Name, setting.Axis))
        .TakeWhile(write => write.Body.IsIntended()).LastOrDefault() is { } begun
        ? string.Create(CultureInfo.InvariantCulture, $"{begun.Body.After:0.####}{SettingWords.UnitOf(Behind, begun.Body)} was sent {begun.At:d MMM HH:mm} and not read back: C reads what the controller holds.") : null;

    private ResultState? State => new MachineUpkeep(Desk.Fold, Desk.Machine!, Desk.Now, Desk.Means.Journal.Limits).Of(made.Sequence);

    private Entered<EntryBody.Withdrawn>? Withdrawn => Behind.Findings.GetValueOrDefault(made.Sequence)?.Withdrawn;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var (state, stuff) = (Broken, Stuff);
        var plain = FindingSheet.Of(Path, Named(made.Body), made.Body.Finding, made.Body.Options, Desk.Live, Desk.Units, made.At.ToString("ddd d MMM yyyy", CultureInfo.InvariantCulture), stuff, leads: Anew is not null || LeadsToSettings);
        var sheet = FindingSketch.Drawn(plain, made.Body, Behind, Desk.Units, stuff);
        // Under the first line, where there is one; above a drawing, which is not torn apart.
        var at = sheet.Body == plain.Body ? Math.Min(2, plain.Body.Length) : 0;
        sheet = sheet with { Body = sheet.Body.InsertRange(at, Stands(state)) };
        // Where the row is short the picture's key stands in it; a place is gone to by its letter anyway.
        if (width < Roomy && !ofRun && Picture is not null)
            sheet = sheet with { Keys = [.. sheet.Keys.Select(key => key.Key == "L" ? key with { Quiet = true } : key)] };
        if (Proposal is not null)
            return sheet;
        var back = $"Enter goes back to the {Home}.";
        var again = LeadsToSettings ? "Enter shows what is set, at C." : Anew is null ? null : "Enter opens its route card.";
        sheet = Withdrawn is not null ? sheet with { Next = back, Because = "The finding is withdrawn and counts for nothing; it stays in the log." }
            : state is null ? RunPage.NextFirst(sheet, made.Body.Finding.Advice, again ?? back, again is not null)
            : again is null ? sheet with { Next = back, Because = "The finding is in the log; its verdict is withheld." }
            : sheet with { Next = "Measure it again. " + again, Because = Outcome is null ? $"Because: it is {StandingWords.Of(state.Standing)}, so its verdict is withheld." : "Because: only a new result shows what the new number does." };
        return sheet with { Keys = [.. sheet.Keys.Where(key => key.Key is not "O" && (!ofRun || key.Key is not "V")).SelectMany(key => key.Key == "Enter" ? [key with { Word = LeadsToSettings ? "controller" : Anew is null ? Home : "route card" }, .. FindingDeeds.Keys(Behind, made.Body)] : (SheetKey[])[key])] };
    }

    /// <summary>The finding in few columns, beside the list: as on its page where that has room, else its disposition, its bar, why, and what it asks for.</summary>
    public IEnumerable<Line> Short(int room)
    {
        var sheet = Show(SheetFrame.LeastWidth, SheetFrame.LeastHeight);
        if (room >= SheetFrame.LeastWidth - 1)
            return sheet.Body;
        var (finding, stuff) = (made.Body.Finding, Stuff);
        var disposition = FindingSheet.Disposition(finding.Advice.Action, stuff);
        return
        [
            new Line(disposition, [new(0, disposition.Length, Ink.Strong)]), .. Wrap.To($"{Named(made.Body)} {FindingSheet.Verdict(finding.Verdict, stuff)}".TrimEnd(), room).Select(text => (Line)text),
            .. FindingSheet.GaugeOf(finding, made.Body.Options, stuff) is { } gauge ? Bar(gauge, finding.Headline.Unit) : [], Line.Blank,
            .. SideNotes.Part("WHY", [Desk.Units.Told(finding.Advice.Because)], room),
            .. SideNotes.Part("NEXT", FindingSheet.IsWithheld(stuff) ? [] : finding.Advice.Next is { } next ? [Desk.Units.Told(next)] : [], room),
            .. SideNotes.Margins("STANDS", Told(Broken).Select(one => (one.Word, one.Text)), room),
            .. SideNotes.Part("REMARKS", finding.Remarks.Select(Desk.Units.Told), room),
        ];
    }

    // The bar with its limits below it: what they are needs no handbook.
    private Line[] Bar(Gauge gauge, string canonical)
    {
        var (strip, unit) = (LimitStrip.Draw(gauge, LimitStrip.Wide), Desk.Units.Of(canonical));
        var limit = string.Create(CultureInfo.InvariantCulture, $"{gauge.Limit / unit.Factor:0.####} {unit.Symbol}");
        var legend = $"limit {(gauge.TwoSided ? "+/-" : "")}{limit}; o value, <> its U";
        return [strip, new Line(legend, [new(0, legend.Length, Ink.Quiet)])];
    }

    private ResultState? Broken => State is { Standing: Standing.Stale or Standing.Suspect } broken && Withdrawn is null ? broken : null;

    private BarStuff Stuff => Withdrawn is not null ? BarStuff.Withdrawn : Broken is { } broken ? BenchRows.StuffOf(broken.Standing) : BarStuff.Fresh;

    private string Home => ofRun ? "bench" : "findings";

    // What no longer holds says so, and why, before anything else is read of it.
    private IEnumerable<Line> Stands(ResultState? state) => Told(state).SelectMany(one => one.Word.Length == 0
        ? [new Line("   " + one.Text, [new(3, one.Text.Length, Ink.Strong)])]
        : Wrap.Margin(one.Word, one.Text).Select(text => one.Marked ? ((Line)text).With(0, 80, Ink.Ochre) : (Line)text));

    private IEnumerable<(string Word, string Text, bool Marked)> Told(ResultState? state) =>
    [
        .. Withdrawn is { } back ? [("Stands", $"withdrawn {back.At.ToString("d MMM HH:mm", CultureInfo.InvariantCulture)}: {back.Body.Reason}", true)] : (ReadOnlySpan<(string, string, bool)>)[],
        .. Outcome is { } outcome ? [("", "Since then: " + outcome, false)] : (ReadOnlySpan<(string, string, bool)>)[],
        .. Unread is { } unread ? [("Open", unread, true)] : (ReadOnlySpan<(string, string, bool)>)[],
        .. StandingWords.Of(state) is { Length: > 0 } stands ? [("Stands", stands, false)] : (ReadOnlySpan<(string, string, bool)>)[],
        .. Withdrawn is null && IsNewest && FastestFeed.Set(Desk.Ledger, made.Body) is { } fast ? [("Set now", Desk.Units.Told(fast) + ".", true)] : (ReadOnlySpan<(string, string, bool)>)[],
        .. Withdrawn is null ? RestingFacts.Of(Desk.Ledger, made).Select(one => ("But it", Desk.Units.Told(one.Clause) + ". Its advice was given with that.", true)) : [],
        .. Withdrawn is null && RestingFacts.OtherClass(Desk.Ledger, made.Body) is { } other ? [("But it", other + ".", true)] : (ReadOnlySpan<(string, string, bool)>)[],
        .. Behind.LeftOutSince(made).Select(left => ("Contains", LeftOutText.Of(Behind, left.Reading, left.Entry, left.Reason, Desk.Units), false)),
    ];

    // What is to be measured anew, because it does not hold, says too little, or asks for work by hand after which it is another, while no newer one stands.
    private Procedure? Anew => Withdrawn is null && IsNewest && (made.Body.Finding.Advice is { Action: AdviceAction.MeasureMore or AdviceAction.FindTheFault } or { Action: AdviceAction.Change, Setting: null, Next: not null } || State is { Standing: Standing.Stale or Standing.Suspect })
        ? FindingDeeds.ProcedureOf(Desk, Behind, made.Body) : null;

    // A speed is set at the controller: there it stands beside what was found.
    private bool LeadsToSettings => Withdrawn is null && IsNewest && Broken is null && FastestFeed.IsTold(made.Body) && Desk.Link is { IsOpen: true };

    private string Path => $"{Desk.MachineName} / findings / {Named(made.Body)}";

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (Proposal is { } setting)
            SettingDeeds.Difference(Desk, setting, Path + " / set");
        else if (LeadsToSettings)
            Desk.GoTo('C');
        else if (Anew is { } procedure)
            Desk.Show(new OverviewPage(Desk, procedure, MachineWords.Axis(made.Body.Axis)) { From = 'F' });
        else if (ofRun)
            Desk.ToBench();
        else
            Away();
    }

    /// <inheritdoc/>
    public override void Away() => Desk.Show(new FindingsPage(Desk, made.Sequence));

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        if (FindingDeeds.Do(Desk, Behind, made, action))
            return;
        if (action == "details")
            Desk.Cover(Numbers(Desk, made.Body.Finding));
        else if (action == "plans")
            Plans();
        else if (action == "raw")
            Desk.Cover(new WordsPage(Desk, $"readings of {Named(made.Body)}", [.. Behind.ReadingsOf(made.Body).Select(reading => Text(reading, Desk.Units))]));
        else if (action == "finding-leave" && Desk.Write(new EntryBody.Noted(made.Sequence, LeftAsIs) { Machine = made.Body.Machine, Operator = Desk.Operator }))
            Desk.Say("It stays as it is; the finding and your answer are in the log.");
        else
            FollowNext();
    }

    // The plans of the procedure that finds this: a shorter U next time.
    private void Plans()
    {
        var axis = MachineWords.Axis(made.Body.Axis);
        if (FindingDeeds.ProcedureOf(Desk, Behind, made.Body) is not { } procedure)
            Desk.Say("The procedure that finds it is not at hand.");
        else if (Said(PlanPage.Of(Desk, procedure, axis, plan => OverviewPage.Taking(Desk, procedure, axis, plan))) is { } plans)
            Desk.Cover(plans);
    }

    /// <summary>All numbers of a finding, over the present sheet.</summary>
    public static Page Numbers(Desk desk, Core.Characteristics.Finding finding) => new WordsPage(desk, "all numbers",
    [
        .. finding.Parameters.Select(parameter => $"{desk.Units.Told(ParameterWords.Of(parameter.Name))}: {Shown.Parameter(ParameterWords.Told(parameter), units: desk.Units)}"),
        .. (finding.HeadlineIfAny()?.ExpandedUncertainty is null ? [] : finding.Budget).Select(line => string.Create(CultureInfo.InvariantCulture, $"U comes from {line.Source}: {line.Share * 100:0.#} %{(line.RepeatingHelps ? ", less with more readings" : "")}")),
        .. finding.Suspects.Select(FindingText.Questioned).Concat(finding.Remarks).Select(text => desk.Units.Told(text)),
        $"computed by {CharacteristicKinds.TitleOf(finding.Kind)}, version {finding.Method[(finding.Method.IndexOf('/', StringComparison.Ordinal) + 1)..]}; {finding.Used} of {finding.Rows} readings used",
    ]);

    /// <summary>A reading in one line.</summary>
    public static string Text(ReadingRecord reading, ShownUnits units) => string.Create(
        CultureInfo.InvariantCulture, $"{reading.Taken.Body.Number,2}  {reading.Taken.At:HH:mm}  {units.Told(reading.Taken.Body.Place)}  {Shown.Reading(reading.Taken.Body, units)}{(reading.Counts ? "" : "  not used")}");
}
