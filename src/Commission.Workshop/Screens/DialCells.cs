using Rank = Commission.Workshop.Screens.CellCanvas.Rank;

namespace Commission.Workshop.Screens;

/// <summary>The rings of a polar figure in cells, with their numbers and the four directions.</summary>
internal static class DialCells
{
    // Degrees from one dot of a ring to the next: dots of Braille lie close; of ASCII as far apart as keeps a ring from looking like a line of data.
    private const double FineStep = 3, WidestStep = 30, AsciiStep = 115;

    // Between the spokes that carry angles; the first one at which nothing stands is taken.
    private static readonly double[] PlacesOfNumbers = [22.5, 67.5, 337.5, 292.5, 112.5, 157.5, 202.5, 247.5];

    /// <summary>Draws the rings, the centre and the names of the four directions.</summary>
    public static void Rings(CellCanvas canvas, CellPlane plane)
    {
        foreach (var (at, _) in plane.Up.Marks.Skip(1))
        {
            var rows = plane.Radius * (at - plane.Up.Low) / (plane.Up.High - plane.Up.Low);
            var step = canvas.Fine ? FineStep : Math.Clamp(AsciiStep / Math.Max(1, rows), FineStep, WidestStep);
            for (var angle = 0.0; angle < 360; angle += step)
            {
                var (x, y) = plane.Place(angle, at);
                canvas.Dot(x, y, '.', Rank.Grid);
            }
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

    /// <summary>Writes the number of each ring on it where it covers no data; one for which there is no such place is left out.</summary>
    public static void Numbers(CellCanvas canvas, CellPlane plane)
    {
        foreach (var (at, text) in plane.Up.Marks.Skip(1))
        {
            foreach (var angle in PlacesOfNumbers)
            {
                var (x, y) = plane.Place(angle, at);
                var (column, row) = ((int)x - (Math.Cos(angle * Math.PI / 180) < 0 ? text.Length - 1 : 0), (int)y);
                if (!canvas.IsClear(column - 1, row, text.Length + 2))
                    continue;
                canvas.Write(column - 1, row, $" {text} ");
                break;
            }
        }
    }
}
