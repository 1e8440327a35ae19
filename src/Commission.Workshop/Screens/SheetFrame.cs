using System.Collections.Immutable;

namespace Commission.Workshop.Screens;

/// <summary>Sets a sheet into a window: rows 1, 2 and the last four never move, the body takes the rest.</summary>
public static class SheetFrame
{
    /// <summary>Least width and height in which a sheet is whole.</summary>
    public const int LeastWidth = 80, LeastHeight = 24;

    /// <summary>Column at which the words of the step begin.</summary>
    public const int Indent = 8;

    // What stands before them where no step does.
    private const string Margin = "        ";
    private const string CutOff = " ...";
    private static readonly char[] PauseMarks = [' ', ':', ';', ',', '.'];

    // Words that only lead to the next one: nothing ends with them.
    private static readonly ImmutableHashSet<string> Leading =
        ["a", "an", "the", "of", "in", "on", "at", "by", "to", "for", "from", "with", "than", "more", "and", "or", "that", "which", "then", "was", "is", "were", "be", "would", "could", "have", "has", "no", "not", "this", "its", "as"];
    private const string More = " ... F1: all of it";

    /// <summary>Rows of the frame around the body.</summary>
    private const int FrameRows = 6;

    /// <summary>What stands in a window too small for a sheet.</summary>
    public const string TooSmall = "Make the window at least 80 by 24; nothing is lost.";

    /// <summary>All rows of the window.</summary>
    /// <param name="sheet">The sheet.</param>
    /// <param name="width">Columns of the window.</param>
    /// <param name="height">Rows of the window.</param>
    /// <param name="scroll">Body rows scrolled away.</param>
    public static ImmutableArray<Line> Rows(Sheet sheet, int width, int height, int scroll = 0)
    {
        if (width < LeastWidth || height < LeastHeight)
        {
            return [.. Small(sheet.WhereSmall, Math.Max(0, width), Math.Max(0, height))];
        }

        var room = BodyRows(height);
        var top = Math.Clamp(scroll, 0, Math.Max(0, sheet.Body.Length - room));
        var body = sheet.Body.Skip(top).Take(room).ToList();
        if (top + room < sheet.Body.Length)
        {
            body[^1] = Line.Blank.Set(1, $"{sheet.Body.Length - top - room + 1} more lines: PgDn").With(1, width, Ink.Quiet);
        }

        body.AddRange(Enumerable.Repeat(Line.Blank, room - body.Count));
        return
        [
            Head(sheet, width),
            new Line(new string('-', width), [new(0, width, Ink.Rule)]),
            .. WithMessage([.. body], sheet, width).Select(line => Cut(line, width)),
            .. Step(body, sheet, width).Select(line => Cut(line, width)),
            Live(sheet.Live, width),
            KeyRow(sheet, width),
        ];
    }

    // What must be said all the same comes first and whole where it fits; in the smallest windows its last sentence.
    private static IEnumerable<Line> Small(string? must, int width, int height)
    {
        var said = must is null ? [] : Wrap.To(must, width).ToList();
        if (must is not null && said.Count > height)
            said = [.. Wrap.To(must[(must.IndexOf(". ", StringComparison.Ordinal) + 2)..], width)];
        foreach (var row in said.Take(height))
            yield return new Line(row, [new(0, row.Length, Ink.Stop)]);
        if (said.Count < height)
            yield return TooSmall.Length <= width ? TooSmall : TooSmall[..width];
    }

    /// <summary>Rows that the body has in a window of this height.</summary>
    public static int BodyRows(int height) => height - FrameRows;

    /// <summary>The sheet as plain text without trailing blanks, one line a row.</summary>
    public static string Text(Sheet sheet, int width = LeastWidth, int height = LeastHeight) =>
        string.Join('\n', Rows(sheet, width, height).Select(row => row.Text.TrimEnd())) + "\n";

    private static Line Head(Sheet sheet, int width)
    {
        var path = (sheet.IsPractice ? " PRACTICE  " : " ") + Inking.Clean(sheet.Path);
        var right = Inking.Clean(sheet.Right);
        // Where one is comes before what it is done with.
        if (path.Length > width - 2 - right.Length && right.IndexOf(" . ", StringComparison.Ordinal) is var rest and > 0)
            right = right[..rest];
        var room = width - 2 - right.Length;
        var left = path.Length <= room ? path : path[..Math.Max(0, room - 2)] + "..";
        var line = new Line(left.PadRight(width - 1 - right.Length) + right, []);
        return sheet.IsPractice ? line.With("PRACTICE", Ink.Blue) : line;
    }

    // A message of more than one row stands above NEXT where the sheet is blank there.
    private static List<Line> WithMessage(List<Line> body, Sheet sheet, int width)
    {
        var said = Said(sheet, width);
        if (FitsAbove(body, said))
        {
            body.RemoveRange(body.Count - said.Count, said.Count);
            body.AddRange(said.Select(Told));
        }

        return body;
    }

    private static bool FitsAbove(List<Line> body, List<string> said) => said.Count > 1 && said.Count <= body.Count && body[^said.Count..].All(line => line.Text.Trim().Length == 0);

    private static List<string> Said(Sheet sheet, int width) => sheet.Message is { } message ? [.. Wrap.To(message, width - Indent - 1)] : [];

    private static Line Told(string text) => ((Line)(Margin + text)).With(Indent, text.Length, Ink.Strong);

    private static Line Next(Sheet sheet) => ((Line)("NEXT >> " + sheet.Next)).With(0, 7, Ink.Key).With(Indent, sheet.Next.Length, Ink.Strong);

    // Rows 21 and 22: the step, always; below it the reason, or a message in its place until the next key.
    private static IEnumerable<Line> Step(List<Line> body, Sheet sheet, int width)
    {
        yield return Next(sheet);
        var said = Said(sheet, width);
        if (said.Count == 0 || FitsAbove(body, said))
        {
            var because = sheet.Because.Length <= width - Indent ? sheet.Because : Shortened(sheet.Because, width - Indent - 1);
            yield return ((Line)(Margin + because)).With(Indent, because.Length, Ink.Quiet);
        }
        else
        {
            yield return Told(said.Count == 1 ? said[0] : Shortened(sheet.Message!, width - Indent - 1));
        }
    }

    // What its row does not hold ends with a whole word and names the key that shows it whole.
    private static string Shortened(string text, int room)
    {
        var most = room - More.Length;
        return (text.Length <= most ? text : text[..(text.LastIndexOf(' ', most) is var at and > 0 ? at : most)]) + More;
    }

    private static Line Live(LiveStrip live, int width)
    {
        var at = width - 1 - live.StopField.Length;
        var words = live.Shorter.Prepend(live.Words).Select(text => " " + Inking.Clean(text)).ToList();
        var left = words.Find(text => text.Length < at) ?? Ended(words[^1], at);
        // No mark of the text stands here: a position that is not known is told as question marks.
        return Inking.Plain(left.PadRight(at) + live.StopField).With("NOT TRUSTED", Ink.Ochre).With(1, 4, Ink.Blue).With(at, live.StopField.Length, live.Stops ? Ink.Stop : Ink.Quiet);
    }

    // What is too long ends with a whole word that carries meaning: a page of its own tells it all.
    private static string Ended(string words, int room)
    {
        var kept = words[..(words.LastIndexOf(' ', room - CutOff.Length - 1) is var blank and > 0 ? blank : room - CutOff.Length - 1)].TrimEnd(PauseMarks);
        while (kept.LastIndexOf(' ') is var last and > 0 && Leading.Contains(kept[(last + 1)..]))
            kept = kept[..last].TrimEnd(PauseMarks);
        return kept + CutOff;
    }

    private static Line KeyRow(Sheet sheet, int width)
    {
        var shown = sheet.Keys.Where(key => key.NotNow is null && !key.Quiet).ToList();
        var gap = sheet.KeyGap ?? (Length(shown, 3) <= width - 1 ? 3 : 2);
        // What does not fit leaves from the place before the card, so that the card that lists everything stays.
        while (Length(shown, gap) > width && shown.Count > 2)
        {
            shown.RemoveAt(shown.FindLastIndex(key => key.Key is not ("F2" or "Enter" or "Q")) is var at and >= 0 ? at : shown.Count - 1);
        }

        var row = Line.Blank;
        var column = 1;
        foreach (var key in shown)
        {
            row = row.Set(column, new Line(key.Key + " " + key.Word, [new(0, key.Key.Length, Ink.Key)]));
            column += key.Key.Length + 1 + key.Word.Length + gap;
        }

        return Cut(row, width);
    }

    private static int Length(List<SheetKey> keys, int gap) => 1 + keys.Sum(key => key.Key.Length + 1 + key.Word.Length + gap) - gap;

    // What has no room ends with two points: nobody takes a part for the whole.
    private static Line Cut(Line line, int width) => line.Text.Length <= width ? line : line with { Text = line.Text[..(width - 2)] + ".." };
}
