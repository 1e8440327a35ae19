using System.Globalization;
using System.Security;
using System.Text;
using Commission.Workshop.Screens;

namespace Commission.App.Screens;

/// <summary>A screen as a picture: the rows of a sheet in the colours of a look, as SVG with the same bytes every time.</summary>
public static class ScreenPicture
{
    private const double CellWidth = 8.4;
    private const int CellHeight = 18;
    private const int Edge = 10;

    /// <summary>The picture.</summary>
    /// <param name="rows">The rows of the window.</param>
    /// <param name="look">Lamp or Daylight.</param>
    public static string Svg(IReadOnlyList<Line> rows, Look look)
    {
        var columns = rows.Max(row => row.Text.Length);
        var text = new StringBuilder();
        var (_, ground) = Looks.Hues(Ink.Text, look);
        text.Append(CultureInfo.InvariantCulture, $"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {Number((columns * CellWidth) + (2 * Edge))} {(rows.Count * CellHeight) + (2 * Edge)}\" font-family=\"monospace\" font-size=\"14\">\n");
        text.Append(CultureInfo.InvariantCulture, $"<rect width=\"100%\" height=\"100%\" fill=\"{ground}\"/>\n");
        for (var row = 0; row < rows.Count; row++)
            Row(text, rows[row], row, look, ground);
        return text.Append("</svg>\n").ToString();
    }

    private static void Row(StringBuilder text, Line line, int row, Look look, string ground)
    {
        var cells = line.Cells();
        for (var start = 0; start < cells.Length;)
        {
            var end = start + 1;
            while (end < cells.Length && cells[end] == cells[start])
                end++;
            var part = line.Text[start..end];
            if (part.Trim().Length > 0 || Looks.Hues(cells[start], look).Ground != ground)
                Stretch(text, part, start, row, cells[start], look, ground);
            start = end;
        }
    }

    private static void Stretch(StringBuilder text, string part, int column, int row, Ink ink, Look look, string ground)
    {
        var (hue, behind) = Looks.Hues(ink, look);
        var (x, y) = (Number(Edge + (column * CellWidth)), Edge + (row * CellHeight));
        var width = Number(part.Length * CellWidth);
        if (behind != ground)
            text.Append(CultureInfo.InvariantCulture, $"<rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{CellHeight}\" fill=\"{behind}\"/>\n");
        var bold = ink == Ink.Strong ? " font-weight=\"bold\"" : "";
        // The width is told, so that every font fills the same cells.
        text.Append(CultureInfo.InvariantCulture, $"<text x=\"{x}\" y=\"{y + 13}\" fill=\"{hue}\"{bold} textLength=\"{width}\" xml:space=\"preserve\">{SecurityElement.Escape(part)}</text>\n");
    }

    private static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
