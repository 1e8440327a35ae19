using System.Text;
using Commission.Core.Quantities;

namespace Commission.Core;

/// <summary>A cell with the place it starts at.</summary>
/// <param name="Text">Its text, trimmed, without quotes and without the mark that defuses formulas.</param>
/// <param name="Column">Column in characters, counted from 1.</param>
internal sealed record CsvCell(string Text, int Column);

/// <summary>A line that carries data.</summary>
/// <param name="Number">Line number, counted from 1 over all lines.</param>
/// <param name="Text">The line.</param>
internal sealed record CsvLine(int Number, string Text)
{
    /// <summary>The lines that are neither blank nor comments; any sort of line end, with or without a byte order mark.</summary>
    public static List<CsvLine> Split(string text)
    {
        var all = text.TrimStart('\uFEFF').ReplaceLineEndings("\n").Split('\n');
        return [.. all.Select((line, i) => new CsvLine(i + 1, line)).Where(line => !line.IsEmpty)];
    }

    private bool IsEmpty => string.IsNullOrWhiteSpace(Text) || Text.TrimStart().StartsWith('#');

    /// <summary>Tab, semicolon or comma, whichever the header has first in this order; a blank where it has one column only.</summary>
    public static char SeparatorOf(string header) =>
        header.Contains('\t', StringComparison.Ordinal) ? '\t'
        : header.Contains(';', StringComparison.Ordinal) ? ';'
        : header.Contains(',', StringComparison.Ordinal) ? ','
        : '\0';

    /// <summary>Parts a line; a cell may be quoted, with doubled quotes inside.</summary>
    public static List<CsvCell> Cells(CsvLine line, char separator)
    {
        var cells = new List<CsvCell>();
        var cell = new StringBuilder();
        var (start, column, quoted) = (1, 0, false);
        var text = line.Text;
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            if (!char.IsLowSurrogate(c))
                column++;
            if (quoted && c == '"' && i + 1 < text.Length && text[i + 1] == '"')
            {
                cell.Append('"');
                i++;
                column++;
            }
            else if (c == '"' && (quoted || string.IsNullOrWhiteSpace(cell.ToString())))
            {
                quoted = !quoted;
            }
            else if (c == separator && !quoted)
            {
                cells.Add(new CsvCell(Plain(cell.ToString()), start));
                cell.Clear();
                start = column + 1;
            }
            else
            {
                cell.Append(c);
            }
        }
        cells.Add(new CsvCell(Plain(cell.ToString()), start));
        return cells;
    }

    /// <summary>A leading apostrophe before a sign that a spreadsheet would run as a formula was put there by an export.</summary>
    private static string Plain(string text)
    {
        var clean = Words.Clean(text).Trim();
        return clean.Length > 1 && clean[0] == '\'' && clean[1] is '=' or '+' or '-' or '@' or '\u2212' ? clean[1..] : clean;
    }
}
