using Commission.Core.Characteristics;
using Commission.Core.Reports;

namespace Commission.Workshop.Screens;

/// <summary>From the values of a figure to places among the cells.</summary>
internal sealed class CellPlane
{
    /// <summary>Height of a cell for its width, in most terminals.</summary>
    private const double CellShape = 2;
    private const int CellsPerMarkAcross = 14;
    private const int RowsPerMark = 4;
    private const double Margin = 1.08;

    private CellPlane(Ticks across, Ticks up, bool polar) => (Across, Up, IsPolar) = (across, up, polar);

    // Marks at round numbers inside the range, which itself stays as it is.
    private static Ticks Within(double low, double high, int about)
    {
        var ticks = Ticks.Over(low, high, about);
        return high > low ? new(low, high, [.. ticks.Marks.Where(mark => mark.At >= low && mark.At <= high)]) : ticks;
    }

    public Ticks Across { get; }

    public Ticks Up { get; }

    public bool IsPolar { get; }

    /// <summary>First column of the plane.</summary>
    public int Left { get; private set; }

    /// <summary>Columns of the plane.</summary>
    public int Columns { get; private set; }

    /// <summary>Rows of the plane; it begins in row 0.</summary>
    public int Rows { get; private set; }

    /// <summary>The plane of a figure in a room of cells; null where there is nothing to show.</summary>
    public static CellPlane? Of(Figure figure, int columns, int rows)
    {
        if (!FigureReach.Points(figure).Any())
            return null;
        var plane = figure.Form == FigureForm.Polar ? Polar(figure, rows) : Rectangular(figure, columns, rows);
        plane.Left = plane.IsPolar ? 0 : Math.Max(3, plane.Up.Marks.Select(mark => mark.Text.Length).DefaultIfEmpty(0).Max()) + 2;
        (plane.Columns, plane.Rows) = (columns - plane.Left, rows);
        return plane;
    }

    /// <summary>The place of a point, in cells from the upper left corner of the canvas.</summary>
    public (double X, double Y) Place(double x, double y)
    {
        var part = (y - Up.Low) / (Up.High - Up.Low);
        if (!IsPolar)
            return (Left + ((x - Across.Low) / (Across.High - Across.Low) * (Columns - 1)) + 0.5, ((1 - part) * (Rows - 1)) + 0.5);
        var radius = Radius * part;
        var (sin, cos) = Math.SinCos(x * Math.PI / 180);
        return (Centre.X + (CellShape * radius * cos), Centre.Y - (radius * sin));
    }

    /// <summary>Centre of a polar figure.</summary>
    public (double X, double Y) Centre => (Left + (Columns / 2.0), Rows / 2.0);

    /// <summary>Rows from the centre of a polar figure to its outermost ring.</summary>
    public double Radius => Math.Min((Rows - 3) / 2.0, (Columns - 10) / 2.0 / CellShape);

    private static CellPlane Rectangular(Figure figure, int columns, int rows)
    {
        var (left, right, low, high) = FigureReach.Rectangle(figure);
        var (acrossMarks, upMarks) = (Math.Max(2, columns / CellsPerMarkAcross), Math.Max(2, rows / RowsPerMark));
        if (figure.Form is FigureForm.EqualScale or FigureForm.Map)
        {
            // One scale for both directions: the shorter range is widened to the shape of the room.
            var (wide, tall) = (Math.Max(8, columns - 8) / CellShape, Math.Max(3, rows));
            var scale = Math.Max((right - left) / wide, (high - low) / tall) * Margin;
            var (x, y) = ((left + right) / 2, (low + high) / 2);
            if (scale > 0)
                return new CellPlane(Within(x - (scale * wide / 2), x + (scale * wide / 2), acrossMarks), Within(y - (scale * tall / 2), y + (scale * tall / 2), upMarks), polar: false);
        }

        return new CellPlane(Ticks.Over(left, right, acrossMarks), Ticks.Over(low, high, upMarks), polar: false);
    }

    private static CellPlane Polar(Figure figure, int rows)
    {
        var (low, high) = FigureReach.Radii(figure);
        return new CellPlane(Ticks.Over(0, 360, 8), Ticks.Over(low, high, Math.Max(2, rows / (2 * RowsPerMark))), polar: true);
    }
}
