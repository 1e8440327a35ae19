using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Rank = Commission.Workshop.Screens.CellCanvas.Rank;

namespace Commission.Workshop.Screens;

/// <summary>Draws a figure in cells: the same values that reports draw. Marks differ in form, so that nothing hangs on colour.</summary>
public static class FigureCells
{
    /// <summary>Least room in which a figure can be read.</summary>
    public const int LeastWidth = 30, LeastHeight = 9;

    private const int LeastLegend = 4, RowsPerLegend = 4;
    private const int Indent = 4;
    private const double Thousandths = 1000;
    private const string Dots = "o@%&=";

    /// <summary>The picture, at most so many rows: label of the vertical axis, plane, horizontal axis with its label, legend. Empty where the room does not do or nothing is to be shown.</summary>
    /// <param name="figure">The figure.</param>
    /// <param name="width">Cells across.</param>
    /// <param name="height">Rows.</param>
    /// <param name="fine">Whether the terminal has Braille dots and lines; else ASCII alone is used.</param>
    public static ImmutableArray<string> Draw(Figure figure, int width, int height, bool fine = false)
    {
        if (width < LeastWidth || height < LeastHeight)
            return [];
        var legend = Legend(figure, width, Math.Max(LeastLegend, height / RowsPerLegend));
        var head = Wrap.To(Head(figure), width - 1).Select(row => " " + row).ToList();
        var polar = figure.Form == FigureForm.Polar;
        var rows = height - legend.Length - head.Count - (polar ? 0 : 2);
        if (rows < 5 || CellPlane.Of(figure, width, rows) is not { } plane)
            return [];
        var canvas = new CellCanvas(width, polar ? rows : rows + 2, fine);
        if (polar)
            Rings(canvas, plane);
        else
            Axes(canvas, plane, figure);
        // What covers comes last within its rank only: ranks see to the rest.
        foreach (var layer in figure.Layers)
            Layer(canvas, plane, layer, figure);
        string[] crowded = canvas.Crowded ? [" # several readings in one place"] : [];
        string[] below = [.. legend.Concat(crowded).Take(Math.Max(legend.Length, height - head.Count - canvas.Height))];
        return [.. head.Concat(canvas.Rows()).Concat(below).Select(row => row.Length <= width ? row : row[..width])];
    }

    private static string Head(Figure figure) => figure.Form switch
    {
        FigureForm.Polar => $"{figure.Vertical}; {figure.Horizontal}",
        FigureForm.Map => $"{figure.Vertical} upwards; numbers: 0.001 {Unit(figure)}",
        _ => figure.Vertical,
    };

    // Levels stand in the unit of the plane they lie over.
    private static string Unit(Figure figure) => figure.Horizontal.EndsWith(", in", StringComparison.Ordinal) ? "in" : "mm";

    private static void Axes(CellCanvas canvas, CellPlane plane, Figure figure)
    {
        var (axis, foot) = (plane.Left - 1, plane.Rows);
        for (var row = 0; row < foot; row++)
            canvas.Put(axis, row, canvas.Fine ? '\u2502' : '|', Rank.Grid);
        for (var column = axis + 1; column < canvas.Width; column++)
            canvas.Put(column, foot, canvas.Fine ? '\u2500' : '-', Rank.Grid);
        canvas.Put(axis, foot, canvas.Fine ? '\u2514' : '+', Rank.Grid);
        foreach (var (at, text) in plane.Up.Marks)
        {
            var row = (int)plane.Place(plane.Across.Low, at).Y;
            canvas.Write(axis - 1 - text.Length, row, text);
            canvas.Put(axis, row, canvas.Fine ? '\u2524' : '+', Rank.Line);
        }

        var label = canvas.Width - figure.Horizontal.Length;
        canvas.Write(Math.Max(0, label), foot + 1, figure.Horizontal);
        var free = plane.Left;
        foreach (var (at, text) in plane.Across.Marks)
        {
            var column = (int)plane.Place(at, plane.Up.Low).X;
            canvas.Put(column, foot, canvas.Fine ? '\u253c' : '+', Rank.Line);
            var start = Math.Max(free - 1, column - (text.Length / 2));
            if (start + text.Length >= label)
                continue;
            canvas.Write(start, foot + 1, text);
            free = start + text.Length + 2;
        }
    }

    private static void Rings(CellCanvas canvas, CellPlane plane)
    {
        (int Row, int End) before = (-1, 0);
        foreach (var (at, text) in plane.Up.Marks.Skip(1))
        {
            for (var angle = 0.0; angle < 360; angle += 3)
            {
                var (x, y) = plane.Place(angle, at);
                canvas.Dot(x, y, '.', Rank.Grid);
            }

            // Numbers stand off the spokes that carry angles; one that would touch the one before is left out.
            var (x2, y2) = plane.Place(22.5, at);
            var (column, row) = ((int)x2, (int)y2);
            if (row == before.Row && column <= before.End)
                continue;
            canvas.Write(column, row, text, Rank.Event);
            before = (row, column + text.Length);
        }

        var (centreX, centreY) = plane.Centre;
        canvas.Put((int)centreX, (int)centreY, '+', Rank.Line);
        foreach (var (angle, name) in (ReadOnlySpan<(int, string)>)[(0, "0"), (90, "90"), (180, "180"), (270, "270")])
        {
            var (x, y) = plane.Place(angle, plane.Up.High);
            var (column, row) = angle switch { 0 => ((int)x + 2, (int)y), 180 => ((int)x - 2 - name.Length, (int)y), 90 => ((int)x - 1, (int)y - 1), _ => ((int)x - 1, (int)y + 1) };
            canvas.Write(Math.Clamp(column, 0, canvas.Width - name.Length), Math.Clamp(row, 0, canvas.Height - 1), name);
        }
    }

    private static void Layer(CellCanvas canvas, CellPlane plane, FigureLayer layer, Figure figure)
    {
        switch (layer)
        {
            case FigureLayer.Points points:
                Points(canvas, plane, points, figure.Form, Mark(figure, points));
                break;
            case FigureLayer.Line line:
                var finite = line.Values.Where(FigureReach.HasPlace).ToList();
                for (var i = 1; i < finite.Count; i++)
                    canvas.Line(plane.Place(finite[i - 1].X, finite[i - 1].Y), plane.Place(finite[i].X, finite[i].Y), line.Dashed ? '-' : '.', line.Dashed);
                break;
            case FigureLayer.Band band when plane.IsPolar:
                for (var angle = 0.0; angle < 360; angle += 6)
                {
                    var (x, y) = plane.Place(angle, band.High);
                    canvas.Dot(x, y, '_', Rank.Grid);
                }

                break;
            case FigureLayer.Band band:
                foreach (var edge in new[] { band.Low, band.High })
                    canvas.Line(plane.Place(plane.Across.Low, edge), plane.Place(plane.Across.High, edge), '_', dashed: true, Rank.Grid);
                break;
            case FigureLayer.Event happened:
                Event(canvas, plane, happened);
                break;
        }
    }

    private static void Points(CellCanvas canvas, CellPlane plane, FigureLayer.Points points, FigureForm form, char mark)
    {
        var signed = points.Values.Any(point => point.Level < 0);
        foreach (var point in points.Values.Where(FigureReach.HasPlace))
        {
            var (x, y) = plane.Place(point.X, point.Y);
            if (point.Bar is { } bar && double.IsFinite(bar) && !plane.IsPolar)
            {
                for (var row = (int)plane.Place(point.X, point.Y + bar).Y; row <= (int)plane.Place(point.X, point.Y - bar).Y; row++)
                    canvas.Put((int)x, row, canvas.Fine ? '\u2502' : '|', Rank.Bar);
            }

            if (form == FigureForm.Map && point.Level is { } level)
                Number(canvas, x, y, (Thousandths * level).ToString(signed ? "+0;-0;0" : "0", CultureInfo.InvariantCulture));
            else
                canvas.Mark(x, y, mark);
        }
    }

    private static void Number(CellCanvas canvas, double x, double y, string text) =>
        canvas.Write(Math.Clamp((int)x - (text.Length / 2), 0, canvas.Width - text.Length), (int)y, text);

    // The words of an event stand beside its head, in the first row in which they cover no other.
    private static void Event(CellCanvas canvas, CellPlane plane, FigureLayer.Event happened)
    {
        var column = (int)plane.Place(happened.X, plane.Up.Low).X;
        for (var row = 0; row < plane.Rows; row++)
            canvas.Put(column, row, canvas.Fine ? '\u2506' : ':', Rank.Event);
        var words = Inking.Clean(happened.Name);
        var start = column + 1 + words.Length < canvas.Width ? column + 1 : Math.Max(plane.Left, column - words.Length);
        for (var row = 0; row < Math.Min(3, plane.Rows); row++)
        {
            if (!Enumerable.Range(start, words.Length).All(at => canvas.IsFree(at, row)))
                continue;
            canvas.Write(start, row, words);
            return;
        }
    }

    private static ImmutableArray<string> Legend(Figure figure, int width, int most)
    {
        var entries = figure.Layers.Select(layer => layer switch
        {
            FigureLayer.Points { Values: { Length: > 0 } values } points when figure.Form == FigureForm.Map && values[0].Level is not null => points.Name.Length > 0 ? "12 " + points.Name : "",
            FigureLayer.Points points => $"{Mark(figure, points)} {points.Name}",
            FigureLayer.Line { Name.Length: > 0 } line => $"{(line.Dashed ? "- -" : "...")} {line.Name}",
            FigureLayer.Band band => $"_ _ {band.Name}",
            _ => "",
        }).Where(entry => entry.Length > 0).Distinct().Select(Inking.Clean).ToList();
        var rows = new List<string>();
        // Beside the rest of an entry that was broken nothing begins.
        var broken = false;
        foreach (var entry in entries)
        {
            var fits = entry.Length < width;
            if (fits && !broken && rows.Count > 0 && rows[^1].Length + 3 + entry.Length <= width)
                rows[^1] += "   " + entry;
            else if (fits)
                rows.Add(" " + entry);
            else
                rows.AddRange(Wrap.To(entry, width - 1 - Indent).Select((part, i) => (i == 0 ? " " : new string(' ', 1 + Indent)) + part));
            broken = !fits;
        }

        return rows.Count <= most ? [.. rows] : [.. rows.Take(most - 1), string.Create(CultureInfo.InvariantCulture, $" and {rows.Count - most + 1} more rows. V: readings")];
    }

    // Several series of dots have a mark each.
    private static char Mark(Figure figure, FigureLayer.Points points) => Sign(points.Mark, Dots[FigureReach.DotsBefore(figure, points) % Dots.Length]);

    /// <summary>The sign of a mark in a cell.</summary>
    /// <param name="mark">The mark.</param>
    /// <param name="dot">The sign of a plain dot.</param>
    internal static char Sign(FigureMark mark, char dot) => mark switch
    {
        FigureMark.Increasing => '>',
        FigureMark.Decreasing => '<',
        FigureMark.LeftOut => 'x',
        FigureMark.Fitted => '*',
        _ => dot,
    };
}
