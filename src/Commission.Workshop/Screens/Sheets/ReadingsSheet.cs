using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Quantities;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>A row of the readings sheet.</summary>
/// <param name="Number">Number in the plan, from 1.</param>
/// <param name="Place">Name of the place.</param>
/// <param name="From">How it is come in: <c>&gt;</c>, <c>&lt;</c> or a blank.</param>
public sealed record ReadingLine(int Number, string Place, char From)
{
    /// <summary>The reading as typed; null where it is not read yet.</summary>
    public string? Reading { get; init; }

    /// <summary>Distance from the line of the other readings, um; null where there is no line yet.</summary>
    public double? OffLineUm { get; init; }

    /// <summary>Where it was commanded to, as shown; null where that is not shown yet, or nothing was.</summary>
    public string? Commanded { get; init; }

    /// <summary>Time of day at which it was taken; empty before.</summary>
    public string At { get; init; } = "";

    /// <summary>Mark in the margin: <c>??</c> questioned, <c>x</c> left out, <c>r</c> read again; empty for none.</summary>
    public string Mark { get; init; } = "";
}

/// <summary>What the readings sheet shows. It holds no expected value: nothing on it can show the answer before the reading.</summary>
public sealed record ReadingsView
{
    /// <summary>Where one is.</summary>
    public required string Path { get; init; }

    /// <summary>Name of the instrument; null where none is named.</summary>
    public string? Instrument { get; init; }

    /// <summary>The rows of the plan.</summary>
    public required ImmutableArray<ReadingLine> Lines { get; init; }

    /// <summary>Index of the row that is read now.</summary>
    public required int Now { get; init; }

    /// <summary>What is typed.</summary>
    public string Typed { get; init; } = "";

    /// <summary>Units of what is computed from them.</summary>
    public ShownUnits Units { get; init; } = ShownUnits.Millimetres;

    /// <summary>Unit of the readings.</summary>
    public required string Unit { get; init; }

    /// <summary>Distances from the line by place; null until there are three readings.</summary>
    public Figure? Picture { get; init; }

    /// <summary>What lies beyond the picture and is drawn at its edge; empty for nothing.</summary>
    public string PictureBeyond { get; init; } = "";

    /// <summary>Words below the picture.</summary>
    public ImmutableArray<(double X, string Word)> PictureWords { get; init; } = [];

    /// <summary>Lines about what can be said so far.</summary>
    public ImmutableArray<string> SoFar { get; init; } = [];

    /// <summary>The same where there is room for numbers in a column; empty takes the lines of the small sheet.</summary>
    public ImmutableArray<string> SoFarWide { get; init; } = [];

    /// <summary>Where U will come from, a source and its share, shown where there is room; empty where it cannot be foretold.</summary>
    public ImmutableArray<(string Source, double Share)> Budget { get; init; } = [];

    /// <summary>Sentences below what can be said so far, shown where there is room.</summary>
    public ImmutableArray<string> Below { get; init; } = [];

    /// <summary>The same question in the whole width, for places whose names leave no room beside the table; empty where there is one form only.</summary>
    public ImmutableArray<Line> QuestionBelow { get; init; } = [];

    /// <summary>Sentences below a question.</summary>
    public ImmutableArray<string> Foot { get; init; } = [];

    /// <summary>The date, shown where there is room.</summary>
    public string Today { get; init; } = "";

    /// <summary>Minutes that the plan still takes; null where that is not known.</summary>
    public int? MinutesLeft { get; init; }

    /// <summary>Whether the target is kept from the eye until it is read: where a controller moves there by itself.</summary>
    public bool TargetHidden { get; init; }

    /// <summary>What it is done with and in which order, shown where there is room: margin word and text.</summary>
    public ImmutableArray<(string Word, string Text)> With { get; init; } = [];

    /// <summary>Lines of ISO 6983 that lead there, for whoever commands the machine in their own way; empty where a link does, or nothing moves.</summary>
    public ImmutableArray<string> ToCopy { get; init; } = [];

    /// <summary>What to do, and why.</summary>
    public required (string Next, string Because) Step { get; init; }

    /// <summary>The live strip.</summary>
    public required LiveStrip Live { get; init; }

    /// <summary>What stands in place of the picture: a question about a reading; empty for none.</summary>
    public ImmutableArray<Line> Question { get; init; } = [];

    /// <summary>The keys.</summary>
    public ImmutableArray<SheetKey> Keys { get; init; } = ReadingsSheet.Loop;
}

/// <summary>The inspector's table of readings with a graph sheet beside it.</summary>
public static class ReadingsSheet
{
    private const int PictureColumn = 42, MostPlotRows = 21, LeastWidePlot = 15;
    private const int LeastPlace = 8, WideCell = 7, MoreRoom = 3;

    // Columns of a row besides its place: mark and number, way in, reading, distance from the line.
    private const int RestOfRow = 31;

    private const int WideFrom = 120, HighFrom = 36, WidePlace = 8, WidePicture = 62, MarginColumn = 10, BudgetColumn = 61, SourceWidth = 19, ShareCells = 20;
    private const string Legend = "> came in +   < came in -";

    /// <summary>The keys of the reading loop.</summary>
    public static ImmutableArray<SheetKey> Loop { get; } =
    [
        new("Enter", "accept", "accept"), new("R", "read last again", "again"), new("E", "leave one out", "exclude"), new("G", "large", "large"),
        new("N", "note", "note"), new("F2", "card", "card"),
    ];

    /// <summary>The sheet.</summary>
    /// <param name="view">What it shows.</param>
    /// <param name="width">Columns of the window.</param>
    /// <param name="height">Rows of the window.</param>
    public static Sheet Of(ReadingsView view, int width, int height)
    {
        if (width >= WideFrom && height >= HighFrom && view.Lines.Max(line => line.Place.Length) <= WidePlace)
            return Wide(view, width, height);
        view = view with { Lines = [.. view.Lines.Select(line => line with { Place = PlaceName.Within(line.Place, width - RestOfRow) })] };
        var place = Math.Max(LeastPlace, view.Lines.Max(line => line.Place.Length) + 1);
        var column = PictureColumn + place - LeastPlace;
        var copied = Copied(view, width);
        // Beside the table where it has the room, else below it: a question is read whole.
        ImmutableArray<Line> question = view.Question.Any(line => column + line.Text.Length > width) ? [Line.Blank, .. view.QuestionBelow.IsEmpty ? view.Question : view.QuestionBelow] : [];
        var shown = Math.Min(view.Lines.Length, SheetFrame.BodyRows(height) - 2 - copied.Length - question.Length - (view.SoFar.Length > 0 ? view.SoFar.Length + 1 : 0) - (view.Foot.Length > 0 ? view.Foot.Length + 1 : 0));
        var first = Math.Clamp(view.Now - (shown / 2), 0, view.Lines.Length - shown);
        var body = new List<Line> { Head(place, view) };
        body.AddRange(view.Lines.Skip(first).Take(shown).Select((line, i) => Row(line, view, place, first + i == view.Now)));
        var side = question.IsEmpty ? Side(view, width, shown, column) : [];
        Beside(body, column, side);
        body.AddRange(question);
        if (view.SoFar.Length > 0 || copied.Length > 0)
            body.AddRange([Line.Blank, .. copied, .. view.SoFar.Select((text, i) => (Line)((i == 0 ? " so far   " : "          ") + text))]);
        if (view.Foot.Length > 0)
            body.AddRange([Line.Blank, .. view.Foot.Select(text => (Line)(" " + text))]);
        return new Sheet
        {
            Path = view.Path,
            Right = string.Create(CultureInfo.InvariantCulture, $"reading {view.Now + 1} of {view.Lines.Length}") + (view.Instrument is { } name ? " . " + name : ""),
            Body = [.. body],
            Next = view.Step.Next,
            Because = view.Step.Because,
            Live = view.Live,
            Keys = view.Keys,
            Cursor = (view.Now - first + 1, 10 + place + Math.Max(8, view.Typed.Length + 1)),
        };
    }

    private static void Beside(List<Line> body, int column, ImmutableArray<Line> side)
    {
        for (var i = 0; i < side.Length; i++)
        {
            while (body.Count <= i)
                body.Add(Line.Blank);
            body[i] = body[i].Set(column, side[i]);
        }
    }

    // One below the other where they are too long for a row.
    private static ImmutableArray<Line> Copied(ReadingsView view, int width)
    {
        var one = string.Join("   then   ", view.ToCopy);
        var lines = one.Length <= width - MarginColumn - 1 ? [one] : view.ToCopy;
        return [.. lines.Where(text => text.Length > 0).Select((text, i) => (Line)((i == 0 ? " to copy  " : "          ") + text))];
    }

    // More room means more reasons: where it was sent, when it was taken, with what and in which order, and where U will come from.
    private static Sheet Wide(ReadingsView view, int width, int height)
    {
        view = view with { With = [.. view.With, .. view.ToCopy.IsEmpty ? (ReadOnlySpan<(string, string)>)[] : [("to copy", string.Join("   then   ", view.ToCopy))]] };
        var with = view.With.SelectMany(pair => Margin(pair.Word, pair.Text)).ToList();
        var below = Below(view).ToList();
        var shown = Math.Min(view.Lines.Length, SheetFrame.BodyRows(height) - 2 - with.Count - below.Count);
        var first = Math.Clamp(view.Now - (shown / 2), 0, view.Lines.Length - shown);
        const string Head = "  no  place   from   reading    commanded    off line   at";
        var body = new List<Line> { new(Head, [new(0, Head.Length, Ink.Quiet)]) };
        body.AddRange(view.Lines.Skip(first).Take(shown).Select((line, i) => WideRow(line, view, first + i == view.Now)));
        body.Add(Line.Blank);
        body.AddRange(with.Select(text => (Line)text));
        var side = Side(view, width, view.Question.IsEmpty ? Math.Min(Math.Max(body.Count, LeastWidePlot) + 2, SheetFrame.BodyRows(height) - below.Count) : shown, WidePicture, wide: true);
        Beside(body, WidePicture, side);
        body.AddRange(below);
        var left = view.MinutesLeft is { } minutes ? string.Create(CultureInfo.InvariantCulture, $" . {minutes} min left") : "";
        return new Sheet
        {
            Path = view.Path, Right = (view.Today.Length > 0 ? view.Today + " . " : "") + string.Create(CultureInfo.InvariantCulture, $"reading {view.Now + 1} of {view.Lines.Length}") + (view.Instrument is { } name ? " . " + name : "") + left, Body = [.. body],
            Next = view.Step.Next, Because = view.Step.Because, Live = view.Live, Keys = view.Keys, Cursor = (view.Now - first + 1, 19 + Math.Max(7, view.Typed.Length + 1)),
        };
    }

    private static IEnumerable<string> Margin(string word, string text) => text.Split('\n').SelectMany(part => Wrap.To(part, WidePicture - MarginColumn - 4))
        .Select((part, i) => "  " + (i == 0 ? word : "").PadRight(MarginColumn - 2) + part);

    private static IEnumerable<Line> Below(ReadingsView view)
    {
        var said = view.SoFarWide.IsEmpty ? view.SoFar : view.SoFarWide;
        if (view.Foot.Length > 0)
            yield return Line.Blank;
        foreach (var text in view.Foot)
            yield return " " + text;
        if (said.IsEmpty && view.Budget.IsEmpty)
            yield break;
        yield return Line.Blank;
        var count = view.Lines.Count(line => line.Reading is not null);
        yield return string.Create(CultureInfo.InvariantCulture, $" SO FAR, {count} of {view.Lines.Length}").PadRight(BudgetColumn) + (view.Budget.IsEmpty ? "" : "WHERE U COMES FROM");
        for (var i = 0; i < Math.Max(said.Length, view.Budget.Length); i++)
            yield return ((i < said.Length ? "   " + said[i] : "").PadRight(BudgetColumn + 2) + (i < view.Budget.Length ? Share(view.Budget[i]) : "")).TrimEnd();
        if (view.Below.IsEmpty)
            yield break;
        yield return Line.Blank;
        foreach (var text in view.Below)
            yield return " " + text;
    }

    private static string Share((string Source, double Share) part) => string.Create(
        CultureInfo.InvariantCulture, $"{(part.Source.Length > SourceWidth ? part.Source[..SourceWidth] : part.Source),-SourceWidth}{part.Share * 100,3:0} %  {new string('=', (int)Math.Round(part.Share * ShareCells))}");

    private static Line WideRow(ReadingLine line, ReadingsView view, bool now)
    {
        var mark = now && line.Mark.Length == 0 ? ">>" : line.Mark.PadLeft(2);
        var start = string.Create(CultureInfo.InvariantCulture, $"{mark}{line.Number,2}  ") + line.Place.PadRight(9) + line.From;
        if (now)
        {
            var cell = Cell(line.Reading ?? view.Typed, cursor: line.Reading is null, WideCell);
            return ((Line)((start + "   " + cell).PadRight(32) + (view.TargetHidden ? "hidden" : ".").PadLeft(8))).With(start.Length + 3, cell.Length, Ink.Focus);
        }

        if (line.Reading is null)
            return start + "          .          .";
        return (start + line.Reading.PadLeft(11) + (line.Commanded ?? ".").PadLeft(12) + Off(line, view).PadLeft(11) + "   " + line.At).TrimEnd();
    }

    /// <summary>The entry cell: what is typed, right-aligned before the cursor. A long number takes what room the row has; of a longer one its end stays in sight.</summary>
    public static string Cell(string typed, bool cursor, int room = 8)
    {
        var most = room + MoreRoom;
        var text = typed + (cursor ? "_" : " ");
        return "[" + (text.Length <= most ? text : ".." + text[^(most - 2)..]).PadLeft(room) + " ]";
    }

    // A head without anything below it is left out: nobody comes to a distance from one side.
    private static Line Head(int place, ReadingsView view)
    {
        var sides = view.Lines.Any(line => line.From != ' ');
        var text = ("  no " + "place".PadRight(place) + (sides ? "from" : "    ") + "  reading" + (sides || view.Lines.Any(line => line.OffLineUm is not null) ? "   off line" : "")).TrimEnd();
        return new Line(text, [new(0, text.Length, Ink.Quiet)]);
    }

    private static Line Row(ReadingLine line, ReadingsView view, int place, bool now)
    {
        var mark = now && line.Mark.Length == 0 ? ">>" : line.Mark.PadLeft(2);
        var start = string.Create(CultureInfo.InvariantCulture, $"{mark}{line.Number,2} ") + line.Place.PadRight(place) + line.From + "    ";
        if (now)
        {
            var cell = Cell(line.Reading ?? view.Typed, cursor: line.Reading is null);
            return ((Line)(start + cell + " " + view.Unit)).With(start.Length, cell.Length, Ink.Focus);
        }

        if (line.Reading is null)
            return start + "        .";
        return start + line.Reading.PadLeft(9) + Off(line, view).PadLeft(11);
    }

    private static string Off(ReadingLine line, ReadingsView view) => line.OffLineUm is { } um ? view.Units.Deviation(um / 1000) : "";

    // What lies beyond the edge is said in the words that there is room for.
    private static string Title(ReadingsView view, int room)
    {
        var unit = view.Units == ShownUnits.Inches ? "0.001 in" : "um";
        var whole = "distance from the line, " + unit;
        return view.PictureBeyond.Length == 0 ? whole
            : new[] { $"{whole}; {view.PictureBeyond}", $"off the line, {unit}; {view.PictureBeyond}", $"{unit}; {view.PictureBeyond}" }.FirstOrDefault(text => text.Length < room) ?? whole;
    }

    private static ImmutableArray<Line> Side(ReadingsView view, int width, int rows, int column, bool wide = false)
    {
        if (!view.Question.IsEmpty)
            return view.Question;
        var room = width - column - 2;
        if (view.Picture is not { } picture || room < 24)
            return [];
        var title = Title(view, wide ? room - Legend.Length - 1 : room);
        if (wide)
            title = title.PadRight(Math.Min(title.Length + 5, room - Legend.Length + 2)) + Legend;
        var cells = CellPlot.Draw(picture, room, Math.Max(5, Math.Min(rows - 2, MostPlotRows)), view.PictureWords.IsEmpty ? null : view.PictureWords);
        return
        [
            new Line(title, [new(0, title.Length, Ink.Quiet)]),
            .. cells.Select(text => (Line)text),
            .. wide ? (ReadOnlySpan<Line>)[] : [new Line("      > came in +    < came in -", [new(0, 33, Ink.Quiet)])],
        ];
    }
}
