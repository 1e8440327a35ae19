using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Instruments;
using Commission.Core.Procedures;
using Commission.Core.Procedures.Aids;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Workshop.Screens.Sheets;
using static Commission.Core.Quantities.Words;

namespace Commission.Workshop.Screens.Pages;

/// <content>The sheets of what is asked, besides the readings.</content>
public sealed partial class RunPage
{
    private const int MostLinesHere = 24;

    /// <inheritdoc/>
    public override Figure? Picture => Session.Run.Needs is Need.Ended or Need.Change && Session.Finding is { } made ? FindingPicture.Of(Desk.Ledger, made.Body, Desk.Units) : null;

    private Sheet Large(Need.TakeReading read, int width)
    {
        var last = Session.Run.Readings.LastOrDefault(reading => reading.Stands);
        var target = read.Moves.IsEmpty ? read.Cell.Place : Target(read.Moves[^1]);
        var side = read.Cell.Approach switch { Approach.Increasing => ", coming from below", Approach.Decreasing => ", coming from above", _ => "" };
        var call = _layout == Layout.Call;
        var isThing = read.Cell.Words.ContainsKey("object");
        var sheet = LargeSheet.Of(new LargeView(
            $"{Path} / {read.Group}", (isThing ? call ? "call: next, measure" : "measure" : call ? "call: next, go to" : "go to") + side, target, last is null ? null : (!call && IsHidden(last) ? "" : Digits(last), last.CellIndex + 1, last.Cell.Place), _typed, TypedEntry.UnitOf(read.Unit, Session.Run.Machine.Units), read.Index, read.Of, call, Desk.Live)
        { Instrument = ReadOff, SamePlace = last is not null && IsSame(last.Cell, read.Cell) }, width);
        if (call)
            sheet = sheet with { Keys = [new("Enter", "accept", "accept"), .. LastThree(), new("G", "sheet", "large"), new("F1", "help", "help")] };
        if (!Linked)
            sheet = sheet with { Keys = [.. sheet.Keys.Select(key => key.Action == "stop" ? key with { NotNow = "no controller is linked" } : key)] };
        return Desk.Means.Look is null ? sheet : sheet with { Keys = sheet.Keys.Insert(1, new("V", "look", "look")) };
    }

    private IEnumerable<SheetKey> LastThree() => Session.Run.Readings.Where(reading => reading.Stands && reading.Excluded is null).Reverse().Take(3)
        .Select((reading, i) => new SheetKey("RUI"[i].ToString(), "not " + (i > 0 && IsHidden(reading) ? string.Create(CultureInfo.InvariantCulture, $"number {reading.CellIndex + 1}") : reading.Typed), string.Create(CultureInfo.InvariantCulture, $"again-{i + 1}")));

    // The reading that was called last, while a move leads to the next one; null elsewhere.
    private TakenReading? CalledLast => _layout == Layout.Call && Session.Run.Current?.Step is Step.Read ? Session.Run.Readings.LastOrDefault(reading => reading.Stands) : null;

    // Between two moves: the number stands alone, as large as it was called, and Enter goes on to the box of the next move.
    private Sheet ReadBack(TakenReading last, int width)
    {
        var cells = Session.Run.Cells;
        var next = Session.Run.NextCell < cells.Length ? cells[Session.Run.NextCell] : last.Cell;
        var unit = TypedEntry.UnitOf((Session.Run.Current?.Step as Step.Read)?.Unit ?? "mm", Session.Run.Machine.Units);
        var sheet = LargeSheet.Of(new LargeView(
            $"{Path}{Group}", "call: next" + PlaceName.Side(next), next.Place, (Digits(last), last.CellIndex + 1, last.Cell.Place), "", unit, Session.Run.NextCell, cells.Length, true, Desk.Live), width);
        return sheet with
        {
            Next = "Read it back aloud. Enter draws the box of the next move.",
            Cursor = null,
            Body = [.. sheet.Body.SkipLast(1), string.Create(CultureInfo.InvariantCulture, $" a move leads to reading {Session.Run.NextCell + 1} of {cells.Length}; its box moves nothing")],
            Keys = [new("Enter", "box", "next"), .. LastThree(), new("G", "sheet", "large"), new("F1", "help", "help"), new("F9", "stop", "stop")],
        };
    }

    // What the instrument in use is called.
    private string ReadOff => Session.Run.Setting.Instrument?.Kind switch
    {
        null => "the instrument",
        InstrumentKind.CaliperDigital or InstrumentKind.CaliperVernier => "the caliper",
        { } kind => "the " + InstrumentCatalogue.Called(kind),
    };

    // What a wide sheet has room for: with what, and in which order.
    private ImmutableArray<(string Word, string Text)> With(ImmutableArray<ReadingLine> lines)
    {
        var order = string.Join(' ', lines.Select(line => line.Place).Take(12));
        var instrument = Session.Run.Setting.Instrument;
        var study = Study;
        return
        [
            .. instrument is null ? [] : (ReadOnlySpan<(string, string)>)[("with", $"{instrument.Name}\nlimit of error {(instrument.LimitMm is { } limit ? Units.Limit(limit) : "not known")}{(study is null ? "; no hand study" : string.Create(CultureInfo.InvariantCulture, $"; your hand {Units.Digits(study.StandardDeviationMm)} {Units.Length.Symbol} ({study.DegreesOfFreedom:0} repeats)"))}")],
            ("order", order + (lines.Length > 12 ? " ..." : "")),
        ];
    }

    private Sheet Ended(Need.Ended ended, int width, int height)
    {
        if (Result is not { } found)
        {
            return QuestionSheet.Of(new QuestionView
            {
                Path = Path, Right = ended.How.Replace('-', ' '), Text = ended.How == "completed" ? "The procedure is complete." : $"The run is {ended.How.Replace('-', ' ')}.", About = [.. ended.Reason is null ? [] : (ReadOnlySpan<string>)[ended.Reason], .. ended.How == "put-aside" ? (ReadOnlySpan<string>)["It waits on its route card: W, then Enter on its line, then S goes on with it."] : []],
                Live = Desk.Live, Step = ("Enter goes back to the bench.", "Everything that was accepted is in the log."), Keys = [new("Enter", "bench", "next"), new("N", "note", "note"), new("F2", "card", "card")],
            });
        }

        return found.Show(width, height);
    }

    // What a run found has its own page once it has ended.
    private FindingPage? Result => Session is { Run.Needs: Need.Ended, Finding: { } made } ? new FindingPage(Desk, made, ofRun: true) : null;

    // Words enough to know a sentence again.
    private const int Begin = 24;

    /// <summary>What is to be done next stands where the eye looks for it, where Enter leads to it; whole it stands in the body.</summary>
    /// <param name="sheet">The sheet of the finding.</param>
    /// <param name="advice">Its advice.</param>
    /// <param name="enter">What Enter does, a sentence.</param>
    /// <param name="leads">Whether Enter leads to what the advice asks for.</param>
    internal static Sheet NextFirst(Sheet sheet, Advice advice, string enter, bool leads)
    {
        if (advice.Next is null || advice.Setting is not null)
            return sheet with { Next = enter, Because = "The finding is in the log." };
        var said = sheet.Next;
        var brief = said.Length <= MostNext ? said : Clause(said);
        return sheet with
        {
            Next = leads ? brief : enter,
            Because = leads ? "The finding is in the log. " + enter : "The finding is in the log; what it asks for stands above.",
            Body = (leads && brief == said) || sheet.Body.Any(line => line.Text.TrimStart().StartsWith("Next ", StringComparison.Ordinal) || line.Text.TrimStart().StartsWith(said[..Math.Min(Begin, said.Length)], StringComparison.Ordinal))
                ? sheet.Body : [.. sheet.Body, .. Wrap.Margin("Next", said).Select(text => (Line)text)],
        };
    }

    // As much of a long text as says something by itself: a sentence, else a clause; what hangs on a comma is no clause where there is a better end.
    private static string Clause(string text)
    {
        var head = text[..(MostNext - 1)];
        var end = new[] { ". ", "; ", ": ", ", " }.Select(mark => head.LastIndexOf(mark, StringComparison.Ordinal)).FirstOrDefault(at => at > Begin);
        return end > Begin ? text[..end] + "." : Wrap.To(text, MostNext - 4).First() + " ...";
    }

    private Sheet Question(Need need, int height)
    {
        var statement = Statement(need);
        var (text, next, because, keys) = need switch
        {
            Need.Instruct instruct when statement is not null => (instruct.Text, "Do it. S means: it is done, and it is so as stated above.", "O: it is not so, the run is put aside. Enter does nothing here.", [new("S", "done, it is so", "yes"), new SheetKey("O", "not so", "no")]),
            Need.Instruct { Data: Outcome<ImmutableArray<WorkData>>.Good { Value: var files } } instruct when !IsShort(files) => (instruct.Text, "D shows the lines and writes them into a file. Enter when it is done.", "You run them in your own way: this program sends none of them.", [new("Enter", "done", "next"), new SheetKey("D", "lines", "data")]),
            Need.Instruct instruct => (instruct.Text, "Do it. Enter when it is done.", "The log keeps that it was done.", Done("Enter", "done", "next")),
            Need.Confirm confirm => (confirm.Text, "S means: it is so. O: it is not, the run is put aside.", "Enter does nothing here.", [new("S", "it is so", "yes"), new SheetKey("O", "not so", "no")]),
            Need.Motion { Linked: true } lost when Desk.Link?.Lost is not null => (MovesOf(lost), "The link is lost. Enter shows what to do about it.", "Because: nothing is sent and nothing moves over a lost link.", Done("Enter", "controller", "next")),
            Need.Motion { Linked: true } held when ChecksOpen => (MovesOf(held), "The checks before motion are open. Enter: C has their list.", "Because: nothing moves over the link before them. The run waits as it is.", Done("Enter", "controller", "next")),
            Need.Motion { Linked: true } motion => (MovesOf(motion), "Enter draws the box of the move; nothing moves by that.", "Only the axis' letter, typed in the box, moves it.", Done("Enter", "show the box", "next")),
            Need.Motion left when LeadsToLink => (MovesOf(left), ToTheLink.Next, "Because: this run moved over the link. S: the moves were made by hand.", Done("S", "moves made", "yes")),
            Need.Motion motion => (motion.Text + "\n" + string.Join("\n", motion.Moves.Select(move => ToCopy(move) is { } line ? $"{move.Words}   to copy: {line}" : move.Words)), "Hands out, command the moves yourself. S when they are made.", "No controller is linked: this program moves nothing.", Done("S", "moves made", "yes")),
            Need.Power power => (power.Text, "Do it. Enter when it is done.", "The position is not trusted afterwards.", Done("Enter", "done", "next")),
            Need.Wait wait => (wait.Text, "Wait. Enter when it is over.", wait.Seconds is { } s ? string.Create(CultureInfo.InvariantCulture, $"At least {s:0} s.") : "As long as you think right.", Done("Enter", "over", "next")),
            Need.Number number when Counter(number) is { } counter => (number.Text, "Enter takes what the link counted; or type the number.", $"{counter.Words}. V tells the count.", [new("Enter", "take it", "accept"), new SheetKey("V", "so far", "counted")]),
            Need.Number number => (number.Text, $"Type the number in {number.TypedIn}. Enter.", number.Check is { } check ? "Limit: " + check.Limit : "It is kept in the log.", Done("Enter", "accept", "accept")),
            Need.Line line => (line.Question, "Type it. Enter.", "It is kept in the log.", Done("Enter", "accept", "accept")),
            Need.Choose { IsYesOrNo: true } yes => (yes.Text, "S means: it is so, seen by me. O: it is not so.", yes.Check is null ? "Enter does nothing here." : "Enter does nothing here. Where it is not so, the sheet says what to do.", [new("S", "it is so", "yes"), new SheetKey("O", "not so", "no")]),
            Need.Choose choose => (choose.Text, "Up and Down choose, Enter answers.", choose.Check is { } check ? "Limit: " + check.Limit : "It is kept in the log.", Done("Enter", "answer", "next")),
            Need.Evaluate => ("All readings are taken.", "Enter evaluates them.", "Nothing is written to a controller by that.", Done("Enter", "evaluate", "next")),
            _ => ("", "Esc goes back to the bench.", "", ImmutableArray<SheetKey>.Empty),
        };
        return QuestionSheet.Of(Doubted(new QuestionView
        {
            Drawing = Drawing(need)?.Rows ?? [], Height = height,
            Path = Path, Right = CheckId + Count, Text = text, About = statement is not null ? [statement] : need is Need.Instruct { Data: { } data } ? [.. About(data)] : [], Live = Desk.Live, Step = (next, because),
            Typed = need is Need.Number or Need.Line ? _typed : null, Unit = need is Need.Number { TypedIn: var unit } ? unit : "",
            Choices = need is Need.Choose { IsYesOrNo: false, Options: var options } ? [.. options.Select(option => (option.Word, option.Meaning))] : [], Chosen = _chosen,
            Keys = [.. keys, .. Drawing(need) is null ? (ReadOnlySpan<SheetKey>)[] : [new("D", "picture in words", "data")], new("O", "put aside", "aside", keys.Any(key => key.Key == "O") ? "here O means: not so" : null), new("U", "undo", "undo-reading", NoWayBack), new("Q", "leave", "leave-run", "from the bench; Esc first"), new("N", "note", "note"), new("Esc", "bench", "away"), new("F1", "help", "help"), new("F2", "card", "card")],
        }));
    }

    // What is to be done and the statement that it is so are one sheet and one key where both fit the smallest: each is an entry of its own.
    private string? Statement(Need need) => need is Need.Instruct { Data: null } instruct && Session.Run.After(new RunEvent.Confirmed()).Needs is Need.Confirm confirm
        && QuestionSheet.Fits(instruct.Text, [confirm.Text], Drawing(need)?.Rows ?? []) ? confirm.Text : null;

    private static string MovesOf(Need.Motion motion) => motion.Text + "\n" + string.Join("\n", motion.Moves.Select(move => move.Words));

    private static StepDrawing? Drawing(Need need) => (need as Need.Instruct)?.Drawing;

    // What D shows over a step: the lines it makes, or its drawing.
    private Page? Shown(Need need) => need switch
    {
        Need.Instruct { Data: Outcome<ImmutableArray<WorkData>>.Good { Value: var files } } => new DataPage(Desk, files),
        Need.Instruct { Drawing: { } drawing } => new DrawingPage(Desk, drawing),
        _ => null,
    };

    // Few lines are read where they stand; many are for a file.
    private static bool IsShort(ImmutableArray<WorkData> files) => files.Sum(file => file.Lines.Length) <= MostLinesHere;

    private static IEnumerable<string> About(Outcome<ImmutableArray<WorkData>> data) => data.Match(
        files => files.SelectMany(file => IsShort(files) ? (IEnumerable<string>)[$"{file.Name}: {file.About}", .. file.Lines] : [string.Create(CultureInfo.InvariantCulture, $"{file.Name}, {file.Lines.Length} lines: {file.About}")]),
        problems => problems.Select(problem => $"{problem.What}. {problem.Remedy}."));

    private string? ToCopy(Move move) => IsoText.Of(move, Session.Run.Machine.Units);

    private ImmutableArray<string> ToCopy(Need.TakeReading read) => [.. read.Moves.Select(ToCopy).OfType<string>()];

    private static ImmutableArray<SheetKey> Done(string key, string word, string action) => [new(key, word, action)];

    // Without a controller the sheet must say where to go; that is the command, not what the instrument will show.
    private string Where(Need.TakeReading read)
    {
        if (read.Moves.IsEmpty)
        {
            var named = PlaceName.Brief(Capital(read.Cell.Place));
            return new[] { $"{Capital(read.Cell.Place)}. Read, type it. Enter.", named + ". Read, type it. Enter.", named + ". Read." }.FirstOrDefault(text => text.Length <= MostNext) ?? PlaceName.Within(named, MostNext);
        }

        var (place, go) = ($"{Capital(read.Cell.Place)}{PlaceName.Side(read.Cell)}: ", $"go to {Targets(read.Moves)}.");
        return new[] { place + go + " Read, type. Enter.", place + go + " Read. Enter.", Capital(go) + " Read, type. Enter." }.FirstOrDefault(text => text.Length <= MostNext) ?? place + go;
    }

    // Inches are four digits behind the point: the axis and the unit are said once.
    private string Targets(ImmutableArray<Move> moves) => Units == ShownUnits.Inches && moves.All(move => move is Move.To to && to.Axis == (moves[0] as Move.To)?.Axis)
        ? $"{((Move.To)moves[0]).Axis} {string.Join(", then ", moves.Cast<Move.To>().Select(to => Units.Digits(to.Mm)))} in"
        : string.Join(", then ", moves.Select(Target));

    private string Target(Move move) => move is Move.To to ? $"{to.Axis} {Units.Digits(to.Mm)}" : move.Words;

    // Whole sentences only; what does not fit stands in the help.
    private static string Cut(string text)
    {
        var kept = "";
        foreach (var sentence in text.ReplaceLineEndings(" ").Split(". ", StringSplitOptions.RemoveEmptyEntries))
        {
            var longer = (kept.Length == 0 ? "" : kept + " ") + sentence.Trim().TrimEnd('.') + ".";
            if (longer.Length > 71)
                break;
            kept = longer;
        }

        return kept;
    }

    // How it is read, in its row; where not even its first sentence has room there it stands whole below what is known so far.
    private static Sheet Asked(Sheet sheet, string ask, int width, int height)
    {
        var words = ask.ReplaceLineEndings(" ");
        if (words.Length <= width - SheetFrame.Indent)
            return sheet with { Because = words };
        if (sheet.Because.Length > 0)
            return sheet;
        var lines = Wrap.To(words, width - HowColumn - 1).Select((part, i) => (Line)((i == 0 ? " how      " : "          ") + part)).ToList();
        return sheet.Body.Length + 1 + lines.Count <= SheetFrame.BodyRows(height)
            ? sheet with { Body = [.. sheet.Body, Line.Blank, .. lines], Because = "How it is read stands above." }
            : sheet with { Because = words };
    }

    private const int HowColumn = 10;
}
