using System.Collections.Immutable;
using System.Text.RegularExpressions;
using Commission.Workshop.Screens;

namespace Commission.App.Screens;

/// <summary>Frames of boxes as lines: only where both edges stand with a side on every row between them. No column moves.</summary>
internal static partial class BoxLines
{
    /// <summary>The rows with lines in the place of the characters that stand for them; everything else as it is.</summary>
    public static ImmutableArray<Line> In(ImmutableArray<Line> rows)
    {
        for (var top = 0; top < rows.Length; top++)
        {
            if (Edge().Match(rows[top].Text) is not { Success: true } edge)
                continue;
            var (left, right) = (edge.Groups[1].Length, edge.Groups[1].Length + edge.Groups[2].Length - 1);
            var bottom = top + 1;
            while (bottom < rows.Length && HasSides(rows[bottom].Text, left, right))
                bottom++;
            if (bottom == top + 1 || bottom >= rows.Length || rows[bottom].Text.TrimEnd() != edge.Value.TrimEnd())
                continue;
            rows = Framed(rows, top, bottom, left, right);
            top = bottom;
        }

        return rows;
    }

    private static ImmutableArray<Line> Framed(ImmutableArray<Line> rows, int top, int bottom, int left, int right)
    {
        var framed = rows.ToBuilder();
        for (var row = top; row <= bottom; row++)
        {
            var cells = rows[row].Text.ToCharArray();
            if (row == top || row == bottom)
                cells.AsSpan(left, right - left).Fill('\u2500');
            (cells[left], cells[right]) = row == top ? ('\u250c', '\u2510') : row == bottom ? ('\u2514', '\u2518') : ('\u2502', '\u2502');
            framed[row] = rows[row] with { Text = new string(cells) };
        }

        return framed.ToImmutable();
    }

    private static bool HasSides(string text, int left, int right) => text.Length > right && text[left] == '|' && text[right] == '|';

    [GeneratedRegex(@"^( *)(\+-{20,}\+) *$")]
    private static partial Regex Edge();
}
