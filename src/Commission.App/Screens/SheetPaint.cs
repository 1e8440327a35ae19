using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Commission.Workshop.Screens;
using Terminal.Gui.Drawing;
using Terminal.Gui.Drivers;
using Attribute = Terminal.Gui.Drawing.Attribute;

namespace Commission.App.Screens;

/// <summary>
/// Brings the rows of a window onto the terminal: each frame whole and in one piece. The library would write cell by cell, each row for itself, and only sixteen colours or 24 bits;
/// its own picture of the screen is kept, and told that nothing is left to be written.
/// </summary>
/// <param name="look">Colours.</param>
/// <param name="depth">What the terminal can show of them.</param>
/// <param name="ascii">Only characters of ASCII.</param>
internal sealed class SheetPaint(Look look, ColourDepth depth, bool ascii)
{
    // The cursor is hidden while a frame is written, and left where the library leaves it when it hides it.
    private const string Begin = "\x1b[?25l";
    private const string End = "\x1b[0m\x1b[1;1H";

    private static readonly ImmutableArray<string> Letters = [.. Enumerable.Range(0, 128).Select(c => ((char)c).ToString())];

    private readonly ImmutableArray<(Attribute Attribute, string Sequence)> _inks = [.. Enum.GetValues<Ink>().Select(ink => (Looks.Of(ink, look, depth), Looks.Sequence(ink, look, depth)))];
    private readonly StringBuilder _frame = new();

    /// <summary>Draws rows from the upper left corner on; what they leave of the window becomes blank.</summary>
    public void Draw(IDriver driver, ImmutableArray<Line> rows, int width, int height)
    {
        var buffer = driver.GetOutputBuffer();
        if (buffer.Contents is not { } cells)
            return;
        // A window that has just changed its size may be drawn once more as it was.
        (width, height) = (Math.Min(width, cells.GetLength(1)), Math.Min(height, cells.GetLength(0)));
        // A console without sequences is written to by the library.
        var byLibrary = driver.IsLegacyConsole;
        rows = ascii ? rows : BoxLines.In(rows);
        _frame.Clear().Append(Begin);
        for (var row = 0; row < height; row++)
        {
            _frame.Append(CultureInfo.InvariantCulture, $"\x1b[{row + 1};1H");
            Row(cells, row < rows.Length ? rows[row] : Line.Blank, row, width, byLibrary);
            buffer.DirtyLines[row] = byLibrary;
        }

        if (!byLibrary)
            driver.WriteRaw(_frame.Append(End).ToString());
    }

    private void Row(Cell[,] cells, Line line, int row, int width, bool dirty)
    {
        var text = ascii ? Glyphs.Ascii(line.Text) : Glyphs.Fine(line.Text);
        var inks = line.Cells();
        Ink? before = null;
        for (var column = 0; column < width; column++)
        {
            var (letter, ink) = column < text.Length ? (text[column], inks[column]) : (' ', Ink.Text);
            if (ink != before)
                _frame.Append(_inks[(int)ink].Sequence);
            before = ink;
            _frame.Append(letter);
            cells[row, column] = new Cell(_inks[(int)ink].Attribute, dirty, letter < Letters.Length ? Letters[letter] : letter.ToString());
        }
    }
}
