using System.Collections.Immutable;

namespace Commission.Workshop.Screens;

/// <summary>A rectangle of cells to draw in. What stands for more covers what stands for less: text over marks over bars over lines.</summary>
/// <param name="width">Cells across.</param>
/// <param name="height">Rows.</param>
/// <param name="fine">Whether lines are made of Braille dots, two across and four down a cell; else of ASCII.</param>
internal sealed class CellCanvas(int width, int height, bool fine)
{
    private const char FirstBraille = '\u2800';

    // Bits of a Braille cell by column and row of the dot (Unicode Standard, chapter Braille Patterns).
    private static readonly int[,] Bits = { { 0x01, 0x02, 0x04, 0x40 }, { 0x08, 0x10, 0x20, 0x80 } };

    private readonly char[,] _cells = new char[height, width];
    private readonly Rank[,] _ranks = new Rank[height, width];
    private readonly int[,] _dots = new int[height, width];
    private readonly bool[,] _lines = new bool[height, width];

    /// <summary>What covers what; later ones cover earlier ones.</summary>
    internal enum Rank
    {
        Nothing,
        Grid,
        Line,
        Event,
        Bar,
        Mark,
        Text,
    }

    public int Width => width;

    public int Height => height;

    public bool Fine => fine;

    /// <summary>Whether two marks met in one cell, or a number had no room.</summary>
    public bool Crowded { get; private set; }

    /// <summary>A character in a cell, unless something that stands for more is there.</summary>
    public void Put(int column, int row, char c, Rank rank)
    {
        if (column < 0 || column >= width || row < 0 || row >= height || rank <= _ranks[row, column])
            return;
        (_cells[row, column], _ranks[row, column]) = (c, rank);
    }

    /// <summary>Whether a cell holds neither mark nor text.</summary>
    public bool IsFree(int column, int row) => column >= 0 && column < width && row >= 0 && row < height && _ranks[row, column] < Rank.Mark;

    /// <summary>Text from a column on; what does not fit is left out.</summary>
    public void Write(int column, int row, string text, Rank rank = Rank.Text)
    {
        for (var i = 0; i < text.Length; i++)
            Put(column + i, row, text[i], rank);
    }

    /// <summary>A mark; two in one cell stand side by side, where there is no room as <c>#</c>.</summary>
    public void Mark(double x, double y, char mark)
    {
        var (column, row) = ((int)Math.Floor(x), (int)Math.Floor(y));
        foreach (var at in (ReadOnlySpan<int>)[column, column + 1, column - 1])
        {
            if (!IsFree(at, row))
                continue;
            Put(at, row, mark, Rank.Mark);
            return;
        }

        // What is written stands for the mark that it covers.
        if (column < 0 || column >= width || row < 0 || row >= height || _ranks[row, column] == Rank.Text)
            return;
        (_cells[row, column], Crowded) = ('#', true);
    }

    /// <summary>A number at a place, set apart by blanks; a cell aside where it would touch another one, and <c>#</c> where there is no room: further off it would be read at another place.</summary>
    /// <param name="x">Its middle, in cells.</param>
    /// <param name="row">Its row.</param>
    /// <param name="from">First column that it may take.</param>
    /// <param name="text">The number.</param>
    public void Number(double x, int row, int from, string text)
    {
        foreach (var aside in (ReadOnlySpan<int>)[0, 1, -1])
        {
            var start = Math.Clamp((int)x - (text.Length / 2), from, width - text.Length) + aside;
            if (start < from || start + text.Length > width || !Enumerable.Range(start - 1, text.Length + 2).All(at => at == width || IsFree(at, row)))
                continue;
            Write(start - 1, row, $" {text} ");
            return;
        }

        Put((int)x, row, '#', Rank.Mark);
        Crowded = true;
    }

    /// <summary>Whether a stretch of a row holds neither mark nor text nor a line of data.</summary>
    public bool IsClear(int column, int row, int cells) =>
        Enumerable.Range(column, cells).All(at => at >= 0 && at < width && row >= 0 && row < height && _ranks[row, at] <= Rank.Grid && !_lines[row, at]);

    /// <summary>A line between two places, in cells from the upper left corner.</summary>
    public void Line((double X, double Y) from, (double X, double Y) to, char ascii, bool dashed = false, Rank rank = Rank.Line)
    {
        var length = Math.Max(Math.Abs(to.X - from.X) * 2, Math.Abs(to.Y - from.Y) * 4);
        // What leads far out of the canvas is not of this plane.
        if (!(length <= 16 * (width + height)))
            return;
        var steps = (int)Math.Ceiling(length);
        for (var i = 0; i <= steps; i++)
        {
            var part = steps == 0 ? 0 : (double)i / steps;
            if (!dashed || i / 3 % 2 == 0)
                Dot(from.X + (part * (to.X - from.X)), from.Y + (part * (to.Y - from.Y)), ascii, rank);
        }
    }

    /// <summary>One dot, or the character that stands for it.</summary>
    public void Dot(double x, double y, char ascii, Rank rank = Rank.Line)
    {
        var (column, row) = ((int)Math.Floor(x), (int)Math.Floor(y));
        if (column < 0 || column >= width || row < 0 || row >= height)
            return;
        _lines[row, column] |= rank > Rank.Grid;
        if (fine)
            _dots[row, column] |= Bits[Math.Clamp((int)((x - column) * 2), 0, 1), Math.Clamp((int)((y - row) * 4), 0, 3)];
        else
            Put(column, row, ascii, rank);
    }

    /// <summary>The rows, without trailing blanks.</summary>
    public ImmutableArray<string> Rows() => [.. Enumerable.Range(0, height).Select(row => new string([.. Enumerable.Range(0, width).Select(column => At(row, column))]).TrimEnd())];

    // A thin thing gives way to dots: a cell holds one character only.
    private char At(int row, int column) => _ranks[row, column] > Rank.Grid || (_ranks[row, column] == Rank.Grid && _dots[row, column] == 0) ? _cells[row, column]
        : _dots[row, column] is var dots and > 0 ? (char)(FirstBraille + dots) : ' ';
}
