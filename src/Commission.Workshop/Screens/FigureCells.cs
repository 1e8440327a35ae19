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
    private const int LeastRows = 5;
    private const int MostRowsOfWords = 4;
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
        var room = height - legend.Length - head.Count;
        // That something had no room is known once it is drawn; the row that tells it is taken from the drawing.
        if (Drawn(figure, width, room, fine) is not { } canvas)
            return [];
        if (canvas.Crowded && Drawn(figure, width, room - 1, fine) is { } lower)
            return [.. head, .. lower.Rows(), .. legend, figure.Form == FigureForm.Map ? " # no room for all numbers" : " # several in one place"];
        return [.. head, .. canvas.Rows(), .. legend];
    }

    private static CellCanvas? Drawn(Figure figure, int width, int room, bool fine)
    {
        var polar = figure.Form == FigureForm.Polar;
        // The first plane only tells how the marks of the horizontal axis lie.
        if (room < LeastRows || CellPlane.Of(figure, width, room) is not { } first)
            return null;
        var foot = polar ? 0 : FigureFoot.Rows(first, figure.Horizontal, width) + 1;
        if (room - foot < LeastRows || CellPlane.Of(figure, width, room - foot) is not { } plane)
            return null;
        var canvas = new CellCanvas(width, room, fine);
        if (polar)
            DialCells.Rings(canvas, plane);
        else
            Axes(canvas, plane, figure, foot - 1);
        Layers(canvas, plane, figure);
        if (polar)
            DialCells.Numbers(canvas, plane);
        return canvas;
    }

    private static string Head(Figure figure) => figure.Form switch
    {
        FigureForm.Polar => $"{figure.Vertical}; {figure.Horizontal}",
        FigureForm.Map => $"{figure.Vertical} upwards; numbers: 0.001 {Unit(figure)}",
        _ => figure.Vertical,
    };

    // Levels stand in the unit of the plane they lie over.
    private static string Unit(Figure figure) => figure.Horizontal.EndsWith(", in", StringComparison.Ordinal) ? "in" : "mm";

    private static void Axes(CellCanvas canvas, CellPlane plane, Figure figure, int labelRows)
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

        foreach (var (at, _) in plane.Across.Marks)
            canvas.Put((int)plane.Place(at, plane.Up.Low).X, foot, canvas.Fine ? '\u253c' : '+', Rank.Line);
        foreach (var (column, row, text) in FigureFoot.Words(plane, figure.Horizontal, canvas.Width, labelRows))
            canvas.Write(column, foot + 1 + row, text);
    }

    // What is written comes after what is drawn, and keeps clear of it; numbers of a map cover the lines between them.
    private static void Layers(CellCanvas canvas, CellPlane plane, Figure figure)
    {
        foreach (var line in figure.Layers.Where(layer => layer is not FigureLayer.Points))
            Layer(canvas, plane, line);
        var points = figure.Layers.OfType<FigureLayer.Points>().ToList();
        if (figure.Form == FigureForm.Map)
            Numbers(canvas, plane, points);
        foreach (var series in points)
            Points(canvas, plane, series, figure.Form, Mark(figure, series));
        foreach (var happened in figure.Layers.OfType<FigureLayer.Event>())
            Words(canvas, plane, happened);
    }

    private static void Layer(CellCanvas canvas, CellPlane plane, FigureLayer layer)
    {
        switch (layer)
        {
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
                var column = (int)plane.Place(happened.X, plane.Up.Low).X;
                for (var row = 0; row < plane.Rows; row++)
                    canvas.Put(column, row, canvas.Fine ? '\u2506' : ':', Rank.Event);
                break;
        }
    }

    private static void Points(CellCanvas canvas, CellPlane plane, FigureLayer.Points points, FigureForm form, char mark)
    {
        foreach (var point in points.Values.Where(FigureReach.HasPlace))
        {
            var (x, y) = plane.Place(point.X, point.Y);
            if (point.Bar is { } bar && double.IsFinite(bar) && !plane.IsPolar)
            {
                for (var row = (int)plane.Place(point.X, point.Y + bar).Y; row <= (int)plane.Place(point.X, point.Y - bar).Y; row++)
                    canvas.Put((int)x, row, canvas.Fine ? '\u2502' : '|', Rank.Bar);
            }

            if (form != FigureForm.Map || point.Level is null)
                canvas.Mark(x, y, mark);
        }
    }

    // The largest are written first: where there is no room for all, they stand.
    private static void Numbers(CellCanvas canvas, CellPlane plane, IReadOnlyList<FigureLayer.Points> series)
    {
        foreach (var points in series)
        {
            var signed = points.Values.Any(point => point.Level < 0);
            // Of several at one place the first counts, as in reports.
            foreach (var point in points.Values.Where(point => FigureReach.HasPlace(point) && point.Level is not null).DistinctBy(point => (point.X, point.Y)).OrderByDescending(point => Math.Abs(point.Level!.Value)))
            {
                var (x, y) = plane.Place(point.X, point.Y);
                canvas.Number(x, (int)y, plane.Left + 1, (Thousandths * point.Level!.Value).ToString(signed ? "+0;-0;0" : "0", CultureInfo.InvariantCulture));
            }
        }
    }

    // The words of an event stand beside its line, in the first row in which they cover no mark and touch no other words.
    private static void Words(CellCanvas canvas, CellPlane plane, FigureLayer.Event happened)
    {
        var column = (int)plane.Place(happened.X, plane.Up.Low).X;
        var words = Inking.Clean(happened.Name);
        foreach (var (start, text) in (ReadOnlySpan<(int, string)>)[(column + 1, words + " "), (column - words.Length, words)])
        {
            for (var row = 0; start >= plane.Left && row < Math.Min(MostRowsOfWords, plane.Rows); row++)
            {
                if (!Enumerable.Range(start - 1, words.Length + 2).All(at => canvas.IsFree(at, row) || (at == start + words.Length && at == canvas.Width)))
                    continue;
                canvas.Write(start, row, text);
                return;
            }
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
