using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Plans;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Sheets;
using static Commission.Core.Quantities.Words;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The work under way: whatever the run needs, one thing at a time.</summary>
public sealed partial class RunPage(Desk desk, IWorkSession session) : Page(desk)
{
    private const int MostNext = SheetFrame.LeastWidth - SheetFrame.Indent;

    private string _typed = "";
    private int _chosen;
    private Layout _layout;
    private Need? _asked;

    /// <summary>The session.</summary>
    public IWorkSession Session { get; } = session;

    /// <inheritdoc/>
    public override string Called => OverviewPage.Named(Session.Run.Procedure, Session.Run.Setting.Axis);

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => Session.Run.Needs switch
    {
        Need.TakeReading read => [read.Text, .. Session.Run.Procedure.GoodData, "Value and verdict are shown when the plan is complete: looking early makes false alarms."],
        _ => [Session.Run.Procedure.Purpose, .. Session.Run.Procedure.Abort.Select(text => "End it early: " + text)],
    };

    /// <inheritdoc/>
    public override string? Subject => Session.Run.Procedure.Id;

    /// <inheritdoc/>
    public override KeyScene Scene => new()
    {
        Deeds = Show(SheetFrame.LeastWidth, SheetFrame.LeastHeight).Keys,
        Cell = Session.Run.Needs is Need.TakeReading or Need.SlipQuestion or Need.Number or Need.Change { IsByHand: false },
        CellHasText = _typed.Length > 0,
        Fractions = Session.Run.Machine.Units == LengthUnit.Inch,
        TextField = Session.Run.Needs is Need.Line,
        CableCaliperDecimals = CableDecimals,
    };

    /// <summary>Digits behind the point of the instrument in use, where it types through a cable; null else.</summary>
    public int? CableDecimals => Session.Run.Setting.Instrument is { TypesByCable: true } instrument ? instrument.Decimals(Units.Length.Factor) : null;

    // A run goes on in the units that it was begun with.
    private ShownUnits Units => Session.Run.Machine.Units.Shown();

    private string Path => $"{Desk.MachineName} / work / {Called}";

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        Arrived();
        return _comma is { } two ? two.On(Drawn(width, height), _typed) : Drawn(width, height);
    }

    private Sheet Drawn(int width, int height) => Session.Run.Needs switch
    {
        Need.TakeReading read => _layout != Layout.Sheet ? Large(read, width) : LeadsToLink ? ReadingsSheet.Of(Readings(read), width, height) : Asked(ReadingsSheet.Of(Readings(read), width, height), read.Text, width, height),
        Need.SlipQuestion slip => ReadingsSheet.Of(Questioned(slip), width, height),
        Need.Change change => Changing(change, height),
        Need.Ended ended => Ended(ended, width, height),
        Need.Motion { Linked: true } when CalledLast is { } last => ReadBack(last, width),
        Need.CheckOut check => CheckOut(check, height),
        var need => Question(need, height),
    };

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways)
    {
        if (sideways && _comma is { } two)
            ChooseComma(two, by);
        else if (_doubt is null && Session.Run.Needs is Need.Choose { IsYesOrNo: false } choose)
            _chosen = Math.Clamp(_chosen + by, 0, choose.Options.Length - 1);
    }

    // Esc clears the cell first; then it is one level up. The run stays where it is, W comes back to the very cell.
    /// <inheritdoc/>
    public override void Away()
    {
        if (_typed.Length > 0 || (_backHeld && Session.Run.Needs is Need.Line))
            (_typed, _comma, _doubt, _backHeld, _refused) = ("", null, null, false, false);
        else if (Session.Run.Needs is Need.SlipQuestion)
            Desk.Say("The question waits for its answer. B leaves it open, W comes back.");
        else
            Desk.ToBench();
    }

    /// <inheritdoc/>
    public override void Accept()
    {
        if (_doubt is not null)
        {
            TypeAgain();
            return;
        }

        if (AsksComma()) return;
        switch (Session.Run.Needs)
        {
            case Need.TakeReading: Read(_typed); break;
            case Need.Number number: Number(number); break;
            case Need.Line: Happen(new RunEvent.TextGiven(_typed)); break;
            case Need.Change { IsByHand: false } change when !Writes(change): Told(change); break;
            default: FollowNext(); break;
        }
    }

    /// <inheritdoc/>
    public override void FollowNext()
    {
        switch (Session.Run.Needs)
        {
            case Need.Instruct when Statement(Session.Run.Needs) is not null: Desk.Say("Enter does nothing here. S: it is done and so. O: it is not so."); break;
            case Need.Instruct or Need.Power: Happen(new RunEvent.Confirmed()); break;
            case Need.Wait: Happen(new RunEvent.Waited()); break;
            case Need.Choose { IsYesOrNo: true }: Desk.Say("Enter does nothing here. S means: it is so. O means: it is not so."); break;
            case Need.Choose when _doubt is not null: TypeAgain(); break;
            case Need.Choose choose when Doubts(choose.Options[_chosen].Word): break;
            case Need.Choose choose: Happen(new RunEvent.Chosen(choose.Options[_chosen].Word)); break;
            case Need.SlipQuestion: Happen(new RunEvent.SlipAnswered(SlipAnswer.ReadAgain, null)); break;
            case Need.Evaluate: Evaluate(); break;
            case Need.Line: Happen(new RunEvent.TextGiven(_typed)); break;
            case Need.TakeReading or Need.Motion { Linked: false } when LeadsToLink: Desk.GoTo('C'); break;
            case Need.TakeReading: Desk.Say(Desk.Means.Look is null ? "Type what the instrument shows, then Enter." : "V looks at the simulated instrument; type what it shows, then Enter."); break;
            case Need.Number number when Counter(number) is not null: Number(number); break;
            case Need.Number number: Desk.Say($"A number in {number.TypedIn} is wanted, then Enter."); break;
            case Need.Confirm: Desk.Say("Enter does nothing here. S means: it is so. O means: it is not so."); break;
            case Need.Motion { Linked: true } when Desk.Link?.Lost is not null || ChecksOpen: Desk.GoTo('C'); break;
            case Need.Motion { Linked: true } motion: AskMove(motion); break;
            case Need.Motion: Desk.Say("Enter never moves anything. S means: the moves were made."); break;
            case Need.Change change: Follow(change); break;
            case Need.Ended when Result is { } found: found.FollowNext(); break;
            case Need.Ended: Finish(); break;
        }
    }

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        var run = Session.Run;
        switch (action)
        {
            case var _ when Result is { } found: found.Deed(action); break;
            case "undo-reading" or "again" or "again-1" or "again-2" or "again-3" or "exclude" when HalfTyped(): break;
            case "take-again" or "leave-out" when Session.Finding is { } named: FindingDeeds.Do(Desk, Desk.Ledger, named, action); break;
            case "large": _layout = _layout switch { Layout.Sheet => Layout.Large, Layout.Large => Layout.Call, _ => Layout.Sheet }; break;
            case "type-again": TypeAgain(); break;
            case "doubt-meant": Settle(_doubt?.Meant?.Answer); break;
            case "doubt-keep": Settle(_doubt?.Kept); break;
            case "again-1" or "again-2" or "again-3": TakeBackReading(action[^1] - '0'); break;
            case "look": Look(); break;
            case "undo-reading": Undo(); break;
            case "how": Desk.Cover(HowToMeasure()); break;
            case "counted" when run.Needs is Need.Number number && Counter(number) is { } counter: Desk.Say(counter.Watch.Words + (counter.NotKept is { } why ? $" Not kept: {why}." : "")); break;
            case "data" when Shown(run.Needs) is { } shown: Desk.Cover(shown); break;
            case "yes" or "no" when run.Needs is Need.Choose { IsYesOrNo: true }: Happen(new RunEvent.Chosen(action)); break;
            case "yes" when run.Needs is Need.Confirm: Happen(new RunEvent.Confirmed()); break;
            case "yes" when Statement(run.Needs) is not null: DoneAndSo(); break;
            case "yes" when run.Needs is Need.Motion { Linked: false }: Happen(new RunEvent.Moved()); break;
            case "no": Happen(new RunEvent.Left("put-aside", "a statement was not so")); break;
            case "again" when run.Needs is Need.CheckOut: Happen(new RunEvent.CheckRepeated()); break;
            case "again" when run.Readings.LastOrDefault(reading => reading.Stands) is { } last: ReadAgain(last); break;
            case "again": Desk.Say("There is no reading yet to take again."); break;
            case "skip": Desk.Cover(new SkipPage(Desk, Session)); break;
            case "raw": Desk.Cover(RawSoFar()); break;
            case "so-far": Desk.Cover(NumbersSoFar()); break;
            case "plans" when Said(PlanPage.Of(Desk, run.Procedure, run.Setting.Axis, take: null)) is { } plans: Desk.Cover(plans); break;
            case "plans": break;
            case "exclude": Desk.Cover(new ExcludePage(Desk, Session)); break;
            case "slip-again": Happen(new RunEvent.SlipAnswered(SlipAnswer.ReadAgain, null)); break;
            case "slip-suggested": Happen(new RunEvent.SlipAnswered(SlipAnswer.AsSuggested, null)); break;
            case "slip-earlier": Happen(new RunEvent.SlipAnswered(SlipAnswer.EarlierAgain, null)); break;
            case "slip-own-zero": Happen(new RunEvent.SlipAnswered(SlipAnswer.OwnZero, null)); break;
            case "slip-keep": Happen(new RunEvent.SlipAnswered(SlipAnswer.Keep, null)); break;
            case "change-done": Made(run.Needs as Need.Change); break;
            case "leave-change": Happen(new RunEvent.ChangeLeft()); break;
            case "aside": Desk.Cover(new AsidePage(Desk, this)); break;
            case "details" when Session.Finding is { } made: Desk.Cover(FindingPage.Numbers(Desk, made.Body.Finding)); break;
            default: FollowNext(); break;
        }
    }

    private enum Layout
    {
        Sheet,
        Large,
        Call,
    }

    // A new need begins with an empty cell and the default choice.
    private void Arrived()
    {
        var need = Session.Run.Needs;
        if (_asked?.Step == need.Step && _asked.GetType() == need.GetType())
            return;
        (_asked, _comma, _doubt, _refused) = (need, null, null, false);
        _chosen = need is Need.Choose choose ? Math.Max(0, choose.Options.Select(option => option.Word).ToList().IndexOf(choose.Default ?? "")) : 0;
        _typed = "";
    }

    /// <summary>Puts the run aside: what was accepted stays, and it waits on its route card.</summary>
    public void PutAside() => Happen(new RunEvent.Left("put-aside", "put aside by the operator"));

    private void Happen(RunEvent happened)
    {
        _backHeld = false;
        // Before the run is left: what was counted is still its own.
        if (happened is RunEvent.Left) Desk.Link?.EndCounting();
        var before = Session.Run;
        if (Said(Session.Happen(happened)) is { } words)
            Desk.Say(words);
        // What was not taken is typed over.
        _refused = ReferenceEquals(before, Session.Run) && _typed.Length > 0;
        var called = _layout == Layout.Call && happened is RunEvent.SlipAnswered { Answer: not SlipAnswer.ReadAgain };
        if (called)
            Desk.Ring();
        After(readBack: called);
    }

    private void DoneAndSo()
    {
        Happen(new RunEvent.Confirmed());
        if (Session.Run.Needs is Need.Confirm)
            Happen(new RunEvent.Confirmed());
    }

    private void After(bool readBack = false)
    {
        if (Session.Run.Needs is Need.Evaluate)
            Evaluate();
        Desk.Refresh();
        // Something else is asked for than before: moves that were made on the way to the old place do not count for the new one.
        _moved = 0;
        // The box of the next move follows by itself: it moves nothing, and its letter is not the key that was just pressed.
        // Where numbers are called the one just accepted is read back before anything covers it.
        if (Session.Run is { Needs: Need.Motion { Linked: true } motion } && !readBack)
            AskMove(motion);
    }

    private void Evaluate()
    {
        if (Said(Session.Evaluate()) is { } words)
            Desk.Say(words);
        Desk.Refresh();
    }

    private void Number(Need.Number number)
    {
        if (_typed.Length == 0 && Counter(number) is { } counter)
        {
            var (counted, words) = counter.Take(number.Counted!.Value);
            Happen(new RunEvent.NumberGiven(words, counted));
            return;
        }

        if (Given(number.Unit, number.TypedIn) is not { } value || Doubts(number, value))
            return;
        if (number.Counted is { } asked)
            Counter(number)?.Typed(asked);
        Happen(new RunEvent.NumberGiven(_typed, value));
    }

    private void Look()
    {
        if (Session.Run.Needs is Need.TakeReading read && Desk.Means.Look is { } look)
            Desk.Say($"The simulated instrument shows {look(Session, read)} {read.Unit} here.");
    }

    private void Finish()
    {
        Desk.EndWork();
        Desk.ToBench();
    }

    private static char From(PlanCell cell) => cell.Approach switch { Approach.Increasing => '>', Approach.Decreasing => '<', _ => ' ' };

    private static LinePoint? Point(TakenReading reading) =>
        reading.Cell.Given.TryGetValue("commanded_mm", out var at) ? new(at, reading.Cell.Approach != Approach.Decreasing, reading.Value, reading.Zero) : null;

    private (ImmutableArray<ReadingLine> Lines, ImmutableArray<TakenReading> Standing, RunningLine? Line) Table(string step)
    {
        var standing = Session.Run.Readings.Where(reading => reading.Stands && reading.Step == step).OrderBy(reading => reading.CellIndex).ToImmutableArray();
        // A reading in question does not bend the line it is held against.
        var questioned = (Session.Run.Needs as Need.SlipQuestion)?.Reading.Sequence;
        var line = RunningLine.Through([.. standing.Where(reading => reading.Excluded is null && reading.Sequence != questioned).Select(Point).OfType<LinePoint>()]);
        var lines = CellsOf(step).Select((cell, i) =>
        {
            var reading = standing.LastOrDefault(taken => taken.CellIndex == i);
            return new ReadingLine(i + 1, cell.Place, From(cell))
            {
                Reading = reading is null ? null : IsHidden(reading) ? "taken" : Digits(reading),
                OffLineUm = line is not null && reading is not null && Point(reading) is { } point ? line.Off(point) * 1000 : null,
                Commanded = reading is not null && reading.Cell.Given.TryGetValue("commanded_mm", out var commanded) ? Units.Digits(commanded) : null,
                At = reading is not null && Desk.Ledger.Readings.TryGetValue(reading.Sequence, out var kept) ? kept.Taken.At.ToString("HH:mm", CultureInfo.InvariantCulture) : "",
                Mark = reading?.Excluded is not null ? "x" : reading?.KeptThoughQuestioned == true ? "??" : "",
            };
        });
        return ([.. lines], standing, line);
    }

    // A question about the last reading of a plan comes when the run has gone on to its next step: each place was read then.
    private ImmutableArray<PlanCell> CellsOf(string step) => Session.Run.Current?.Name == step
        ? Session.Run.Cells
        : [.. Session.Run.Readings.Where(reading => reading.Stands && reading.Step == step).OrderBy(reading => reading.CellIndex).Select(reading => reading.Cell)];

    private ReadingsView Readings(Need.TakeReading read)
    {
        var (lines, standing, line) = Table(read.Step);
        return new ReadingsView
        {
            Path = $"{Path} / {read.Group}", Instrument = Session.Run.Setting.Instrument?.Name, Lines = lines, Now = read.Index, Typed = _typed, Unit = TypedEntry.UnitOf(read.Unit, Session.Run.Machine.Units),
            With = With(lines), ToCopy = LeadsToLink ? [] : ToCopy(read), TargetHidden = Linked, Picture = Distances(standing, line), PictureBeyond = Beyond(standing, line), PictureWords = Words(standing), SoFar = [.. SoFar(standing, line, lines.Length).Select(Units.Told)], SoFarWide = [.. SoFarWide(standing, line, lines.Length).Select(Units.Told)], Budget = BudgetToCome, Below = [.. BelowSoFar(standing.Length, lines.Length)],
            Today = Desk.Today, MinutesLeft = MinutesLeft, Units = Units, Step = LeadsToLink ? ToTheLink : (Where(read), Cut(read.Text)), Live = Desk.Live,
            Keys =
            [
                new("Enter", "accept", "accept"), .. Desk.Means.Look is null ? (ReadOnlySpan<SheetKey>)[] : [new("V", "look", "look")],
                new("R", "redo", "again"), new("U", "undo", "undo-reading"), new("E", "omit", "exclude"), new("O", "aside", "aside"), new("G", "large", "large"), new("N", "note", "note"), new("F2", "card", "card"),
                .. Desk.Means.Look is null ? (ReadOnlySpan<SheetKey>)[new("V", "readings", "raw")] : [], new("P", "plans", "plans"), new("D", "numbers", "so-far"), .. NotNow(lines.Length),
            ],
        };
    }

    private ReadingsView Questioned(Need.SlipQuestion slip)
    {
        var (lines, _, line) = Table(slip.Step);
        var at = slip.Reading.CellIndex;
        var (row, there) = (at + 1, slip.Reading.Sequence == Session.Run.Readings.LastOrDefault(reading => reading.Stands)?.Sequence);
        var suggestion = slip.Suggestion is { } value ? Session.Run.AsTyped(value) : null;
        var off = slip.Suggestion is { } meant && line is not null && Point(slip.Reading with { Value = meant }) is { } point ? Units.Deviation(line.Off(point)) : null;
        var said = new SlipWords(slip.Reason, Digits(slip.Reading), suggestion, suggestion is null ? null : SlipQuestion.Slipped(Digits(slip.Reading), suggestion) ?? SlipQuestion.Perhaps(slip.Reason)) { Off = off, OwnZero = slip.OtherZero, Earlier = slip.Earlier is { } other ? string.Create(CultureInfo.InvariantCulture, $"row {other.CellIndex + 1}, {Digits(other)}, again") : null };
        return new ReadingsView
        {
            Path = $"{Path} / {slip.Reading.Group}", Instrument = Session.Run.Setting.Instrument?.Name, Unit = Units.Length.Symbol, Units = Units, Now = Math.Min(at, lines.Length - 1), Live = Desk.Live,
            Lines = [.. lines.Select((one, i) => i == at ? one with { Reading = Digits(slip.Reading), Mark = "??" } : i == slip.Earlier?.CellIndex ? one with { Mark = "??" } : one)],
            Question = SlipQuestion.Lines(said), QuestionBelow = SlipQuestion.Below(said),
            Foot = SlipQuestion.Foot(Digits(slip.Reading), there && !slip.Reading.Cell.GoTo.IsEmpty ? Units.Told(slip.Reading.Cell.Place) : null), Keys = SlipQuestion.Keys(said),
            Step = (there ? "Read it again, the instrument is still there. Enter or R." : PlaceName.Within(string.Create(CultureInfo.InvariantCulture, $"Read row {row}, {slip.Reading.Cell.Place}, again. Enter or R."), MostNext), $"Because: a second look costs ten seconds, a wrong guess {(slip.Reading.Cell.Given.ContainsKey("commanded_mm") ? "costs the axis" : "the result")}."),
        };
    }

    private ImmutableArray<(double X, string Word)> Words(ImmutableArray<TakenReading> standing) =>
        [.. standing.Where(reading => reading.Cell.Given.ContainsKey("commanded_mm")).GroupBy(reading => reading.Cell.Place)
            .Select(group => (Units.Show(group.Average(reading => reading.Cell.Given["commanded_mm"]), "mm").Value, group.Key)).Where(word => word.Key.Length <= 8)];
}
