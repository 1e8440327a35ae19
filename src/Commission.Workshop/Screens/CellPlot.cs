using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;

namespace Commission.Workshop.Screens;

/// <summary>Draws the points of a figure in cells, so that both approaches are told apart without colour.</summary>
public static class CellPlot
{
    private const int LabelWidth = 6;

    /// <summary>The picture in a rectangle of cells: scale at the left, zero line dotted, names of places below.</summary>
    /// <param name="figure">The figure; only its points and lines are drawn.</param>
    /// <param name="width">Cells across, with the labels.</param>
    /// <param name="height">Rows, without the row below.</param>
    /// <param name="below">Words below the picture by horizontal value; where there are none, the two ends of the scale.</param>
    public static ImmutableArray<string> Draw(Figure figure, int width, int height, IReadOnlyList<(double X, string Word)>? below = null)
    {
        var points = figure.Layers.OfType<FigureLayer.Points>().SelectMany(layer => layer.Values.Select(value => (layer.Mark, value)))
            .Where(p => double.IsFinite(p.value.X) && double.IsFinite(p.value.Y)).ToList();
        if (points.Count == 0 || width < LabelWidth + 10 || height < 3)
        {
            return [];
        }

        // An odd number of rows: zero has one of its own in the middle, and what is near it stands on it, above or below alike.
        var spare = 1 - (height % 2);
        height -= spare;
        var reach = Reach(points.Max(p => Math.Abs(p.value.Y)));
        var (left, right) = (points.Min(p => p.value.X), points.Max(p => p.value.X));
        var span = right > left ? right - left : 1;
        var across = width - LabelWidth - 2;
        var grid = Enumerable.Range(0, height).Select(_ => new string(' ', width).ToCharArray()).ToArray();
        int Row(double y) => Math.Clamp((int)Math.Round((height - 1) / 2.0 * (1 - (y / reach)), MidpointRounding.AwayFromZero), 0, height - 1);
        int Column(double x) => LabelWidth + 1 + (int)Math.Round((x - left) / span * (across - 1), MidpointRounding.AwayFromZero);
        ZeroLine(grid[Row(0)]);
        foreach (var (mark, value) in points)
        {
            Place(grid[Row(value.Y)], Column(value.X), FigureCells.Sign(mark, 'o'));
        }

        Label(grid[Row(reach)], "+" + Text(reach));
        Label(grid[Row(0)], "0");
        Label(grid[Row(-reach)], "-" + Text(reach));
        var words = below ?? [(left, Text(left)), (right, Text(right))];
        return [.. grid.Select(row => new string(row).TrimEnd()), Words(words.Select(w => (Column(w.X), w.Word)), width), .. Enumerable.Repeat("", spare)];
    }

    private static void ZeroLine(char[] row)
    {
        for (var i = LabelWidth; i < row.Length; i += 2)
        {
            row[i] = '.';
        }
    }

    // Two points in one cell stand side by side; where there is no room the later one is shown.
    private static void Place(char[] row, int at, char mark)
    {
        foreach (var column in (ReadOnlySpan<int>)[at, at + 1, at - 1])
        {
            if (column > LabelWidth - 1 && column < row.Length && row[column] is ' ' or '.')
            {
                row[column] = mark;
                return;
            }
        }

        row[Math.Clamp(at, LabelWidth, row.Length - 1)] = mark;
    }

    private static void Label(char[] row, string text) => text.PadLeft(LabelWidth - 2).CopyTo(0, row, 0, Math.Max(LabelWidth - 2, text.Length));

    private static string Words(IEnumerable<(int Column, string Word)> words, int width)
    {
        var row = new string(' ', width).ToCharArray();
        foreach (var (column, word) in words)
        {
            var start = Math.Clamp(column - (word.Length / 2), 0, Math.Max(0, width - word.Length));
            word.CopyTo(0, row, start, Math.Min(word.Length, width - start));
        }

        return new string(row).TrimEnd();
    }

    // The next of 1, 2, 5 times a power of ten that holds the largest point.
    private static double Reach(double largest)
    {
        if (largest <= 0)
        {
            return 1;
        }

        var power = Math.Pow(10, Math.Floor(Math.Log10(largest)));
        return new[] { 1.0, 2, 5, 10 }.Select(step => step * power).First(step => step >= largest * (1 - 1e-12));
    }

    private static string Text(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);
}
