using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Core.Upkeep;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>One finding.</summary>
public sealed class FindingPage(Desk desk, Entered<EntryBody.FindingMade> made) : Page(desk)
{
    /// <inheritdoc/>
    public override string Called => "findings";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
        ["The bar is the interval the verdict uses. 'Leave it' has the same place and size as 'change': it is a good end."];

    private Ledger Behind => Desk.Behind(made);

    private const int Roomy = 100;
    private const string LeftAsIs = "left as it is";

    /// <summary>Name of what was found, with its axis.</summary>
    public static string Named(EntryBody.FindingMade made) =>
        (CharacteristicKinds.Find(made.Finding.Kind)?.Called ?? made.Finding.Kind) + (made.Axis is { } axis ? " " + axis : "");

    /// <inheritdoc/>
    public override string? Subject => made.Body.Finding.Kind;

    /// <inheritdoc/>
    public override Figure? Picture => FindingPicture.Of(Behind, made.Body, Desk.Units);

    // What it proposes, while it is the newest of its kind, counts, and nothing was written or decided since.
    private ProposedSetting? Proposal
    {
        get
        {
            var ledger = Behind;
            return made.Body.Finding.Advice is { Action: AdviceAction.Change, Setting: { } setting } && ledger.Findings.TryGetValue(made.Sequence, out var record) && record.Counts && Outcome is null
                && !ledger.Findings.Values.Any(later => later.Made.Sequence > made.Sequence && later.Counts && (later.Made.Body.Machine, later.Made.Body.Characteristic, later.Made.Body.Axis) == (made.Body.Machine, made.Body.Characteristic, made.Body.Axis))
                ? setting : null;
        }
    }

    // What became of it: written or told since, or left as it is.
    private string? Outcome
    {
        get
        {
            if (made.Body.Finding.Advice.Setting is not { } setting)
                return null;
            if (Behind.SettingsWritten.LastOrDefault(write => write.Sequence > made.Sequence && !write.Body.IsIntended() && write.Body.Machine == made.Body.Machine && (write.Body.Name, write.Body.Axis) == (setting.Name, setting.Axis)) is { } write)
                return string.Create(CultureInfo.InvariantCulture, $"{write.Body.ReadBack ?? write.Body.After:0.####}{SettingWords.UnitOf(Behind, write.Body)}, {(write.Body.Stage == "told" ? "told" : "written and read back")}, {write.At:d MMM HH:mm}");
            return Behind.Notes.LastOrDefault(note => note.Body.About == made.Sequence && note.Body.Text == LeftAsIs && !Behind.Notes.Any(back => back.Body.About == note.Sequence && back.Body.Text == Undo.TakenBack)) is { } left ? $"left as it is, {left.At.ToString("d MMM HH:mm", CultureInfo.InvariantCulture)}" : null;
        }
    }

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var state = new MachineUpkeep(Desk.Fold, Desk.Machine!, Desk.Now).Of(made.Sequence) is { Standing: Standing.Stale or Standing.Suspect } broken ? broken : null;
        var stuff = state is null ? BarStuff.Fresh : BenchRows.StuffOf(state.Standing);
        var sheet = FindingSketch.Drawn(FindingSheet.Of(Path, Named(made.Body), made.Body.Finding, made.Body.Options, Desk.Live, Desk.Units, made.At.ToString("ddd d MMM yyyy", CultureInfo.InvariantCulture), stuff), made.Body, Behind, Desk.Units, stuff);
        foreach (var left in Behind.LeftOutSince(made))
            sheet = sheet with { Body = sheet.Body.InsertRange(Math.Min(2, sheet.Body.Length), Wrap.Margin("Contains", LeftOutText.Of(left.Reading, left.Entry, left.Reason)).Select(text => (Line)text)) };
        // What no longer holds says so, and why, before anything else is read of it.
        if (state is not null && StandingWords.Of(state) is { Length: > 0 } stands)
            sheet = sheet with { Body = sheet.Body.InsertRange(Math.Min(2, sheet.Body.Length), Wrap.Margin("Stands", stands).Select(text => (Line)text)) };
        // Where the row is short the picture's key stands in it; a place is gone to by its letter anyway.
        if (width < Roomy && Picture is not null)
            sheet = sheet with { Keys = [.. sheet.Keys.Select(key => key.Key == "L" ? key with { Quiet = true } : key)] };
        if (Proposal is not null)
            return sheet;
        var body = Outcome is { } outcome ? sheet.Body.Insert(Math.Min(2, sheet.Body.Length), new Line("   Since then: " + outcome, [new(3, outcome.Length + 12, Ink.Strong)])) : sheet.Body;
        return RunPage.NextFirst(sheet with { Body = body }, made.Body.Finding.Advice, "findings") with { Keys = [.. sheet.Keys.Where(key => key.Key is not "O").SelectMany(key => key.Key == "Enter" ? [key with { Word = "findings" }, .. FindingDeeds.Keys(Behind, made.Body)] : (SheetKey[])[key])] };
    }

    private string Path => $"{Desk.MachineName} / findings / {Named(made.Body)}";

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (Proposal is { } setting)
            SettingDeeds.Difference(Desk, setting, Path + " / set");
        else
            Desk.Show(new FindingsPage(Desk, made.Sequence));
    }

    /// <inheritdoc/>
    public override void Away() => Desk.Show(new FindingsPage(Desk, made.Sequence));

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        if (FindingDeeds.Do(Desk, Behind, made.Body, action))
            return;
        if (action == "details")
            Desk.Cover(Numbers(Desk, made.Body.Finding));
        else if (action == "plans")
            Plans();
        else if (action == "raw")
            Desk.Cover(new WordsPage(Desk, "readings", [.. Behind.ReadingsOf(made.Body).Select(reading => Text(reading, Desk.Units))]));
        else if (action == "finding-leave" && Desk.Write(new EntryBody.Noted(made.Sequence, LeftAsIs) { Machine = made.Body.Machine, Operator = Desk.Operator }))
            Desk.Say("It stays as it is; the finding and your answer are in the log.");
        else
            FollowNext();
    }

    // The plans of the procedure that finds this: a shorter U next time.
    private void Plans()
    {
        if (Desk.Means.Procedures.FirstOrDefault(one => one.Id == made.Body.Characteristic) is not { } procedure)
            Desk.Say("The procedure that finds it is not at hand.");
        else if (Said(PlanPage.Of(Desk, procedure, MachineWords.Axis(made.Body.Axis), take: null)) is { } plans)
            Desk.Cover(plans);
    }

    /// <summary>All numbers of a finding, over the present sheet.</summary>
    public static Page Numbers(Desk desk, Core.Characteristics.Finding finding) => new WordsPage(desk, "all numbers",
    [
        .. finding.Parameters.Select(parameter => $"{desk.Units.Told(ParameterWords.Of(parameter.Name))}: {Shown.Parameter(ParameterWords.Told(parameter), units: desk.Units)}"),
        .. finding.Budget.Select(line => string.Create(CultureInfo.InvariantCulture, $"U comes from {line.Source}: {line.Share * 100:0.#} %{(line.RepeatingHelps ? ", less with more readings" : "")}")),
        .. finding.Suspects.Select(suspect => $"row {suspect.Row}: {suspect.Reason}. {suspect.Suggestion}").Concat(finding.Remarks).Select(text => desk.Units.Told(text)),
        $"computed by {CharacteristicKinds.TitleOf(finding.Kind)}, version {finding.Method[(finding.Method.IndexOf('/', StringComparison.Ordinal) + 1)..]}; {finding.Used} of {finding.Rows} readings used",
    ]);

    /// <summary>A reading in one line.</summary>
    public static string Text(ReadingRecord reading, ShownUnits units) => string.Create(
        CultureInfo.InvariantCulture, $"{reading.Taken.Body.Recorded}  {reading.Taken.At:HH:mm}  {units.Told(reading.Taken.Body.Place)}  {Shown.Reading(reading.Taken.Body, units)}{(reading.Counts ? "" : "  not used")}");
}
