using System.Collections.Immutable;

namespace Commission.Workshop.Screens;

/// <summary>What a wide window shows beside a sheet: more of the reasons, about what is chosen or under way. The sheet itself stays where it is.</summary>
public static class SideNotes
{
    private const int WideFrom = 120, Gap = 3, LeastRoom = 34, MostRoom = 80;

    // A message stands above NEXT where the sheet is blank there.
    private const int LeftFree = 3;

    private const string More = "...";

    /// <summary>The sheet with its notes beside it, or as it is where there is no room.</summary>
    /// <param name="sheet">The sheet.</param>
    /// <param name="notes">Makes the notes for a number of columns and rows.</param>
    /// <param name="width">Columns of the window.</param>
    /// <param name="height">Rows of the window.</param>
    public static Sheet Set(Sheet sheet, Func<int, int, IEnumerable<Line>> notes, int width, int height)
    {
        var column = Math.Max(SheetFrame.LeastWidth, sheet.Body.Select(line => line.Text.TrimEnd().Length).DefaultIfEmpty().Max()) + Gap;
        var room = Math.Min(MostRoom, width - column - 1);
        if (width < WideFrom || room < LeastRoom)
            return sheet;
        var most = SheetFrame.BodyRows(height) - LeftFree;
        var all = notes(room, most).Take(most + 1).ToList();
        if (all.Count > most)
            all = [.. all.Take(most - 1), Quiet(More)];
        return all.Count == 0 ? sheet : sheet with
        {
            Body = [.. Enumerable.Range(0, Math.Max(sheet.Body.Length, all.Count)).Select(row => (row < sheet.Body.Length ? sheet.Body[row] : Line.Blank) is var line && row < all.Count && all[row].Text.Length > 0 ? line.Set(column, all[row]) : line)],
        };
    }

    /// <summary>A head, and below it sentences with a blank line after the last; nothing where there are none.</summary>
    /// <param name="head">The head.</param>
    /// <param name="texts">The sentences.</param>
    /// <param name="room">Columns.</param>
    public static IEnumerable<Line> Part(string head, IEnumerable<string> texts, int room)
    {
        var lines = texts.SelectMany(text => Wrap.To(text, room)).Select(text => (Line)text).ToImmutableArray();
        return lines.IsEmpty ? [] : [Quiet(head), .. lines, Line.Blank];
    }

    /// <summary>The same with words in a margin before the sentences.</summary>
    /// <param name="head">The head.</param>
    /// <param name="pairs">Words and sentences.</param>
    /// <param name="room">Columns.</param>
    public static IEnumerable<Line> Margins(string head, IEnumerable<(string Word, string Text)> pairs, int room)
    {
        const int Margin = 8;
        var lines = pairs.SelectMany(pair => pair.Text.Split('\n').SelectMany(text => Wrap.To(text, room - Margin)).Select((text, i) => (Line)((i == 0 ? pair.Word : "").PadRight(Margin) + text))).ToImmutableArray();
        return lines.IsEmpty ? [] : [Quiet(head), .. lines, Line.Blank];
    }

    private static Line Quiet(string text) => new(text, [new(0, text.Length, Ink.Quiet)]);
}
