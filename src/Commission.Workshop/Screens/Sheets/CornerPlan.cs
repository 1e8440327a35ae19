using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Quantities;
using Commission.Core.Upkeep;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>The work area as a plan: at each corner how far commanded and real position lie apart there, with its U.</summary>
public static class CornerPlan
{
    /// <summary>Columns it takes.</summary>
    public const int Width = 62;

    private const int Left = 6, Right = 44;

    /// <summary>The lines; none where the figure cannot be given.</summary>
    /// <param name="area">The figure.</param>
    /// <param name="units">Units of its lengths.</param>
    public static ImmutableArray<Line> Of(WorkArea area, ShownUnits units)
    {
        if (area.Corner is not { } worst)
            return [];
        var (width, depth) = (area.WidthMm, area.DepthMm);
        var edge = Blank(Left, "+" + new string('-', Right - Left - 1) + "+");
        var side = Blank(Left, "|").Set(Right, "|");
        var size = $"{Place(units, width)} x {Place(units, depth)} {units.Length.Symbol}";
        return
        [
            Pair(At(0, depth), At(width, depth)), Named((0, depth), (width, depth)), edge, side,
            side.Set(Middle("work area"), "work area"), side.Set(Middle(size), size), side, edge,
            Named((0, 0), (width, 0)), Pair(At(0, 0), At(width, 0)),
        ];

        string At(double x, double y)
        {
            var (value, u) = ValueFormat.Pair(area.ErrorAt(x, y)!.Value / units.Length.Factor, area.ExpandedAt(x, y) / units.Length.Factor, signed: false);
            return $"{value} +/- {u ?? "none"} {units.Length.Symbol}{(worst == (x, y) ? " <" : "")}";
        }

        Line Named((double X, double Y) left, (double X, double Y) right) => Pair(Name(left), Name(right));

        string Name((double X, double Y) corner) => $"({Place(units, corner.X)}, {Place(units, corner.Y)}){(worst == corner ? " worst" : "")}";
    }

    private static Line Pair(string left, string right) => Blank(Left, left).Set(Math.Min(Right - 6, Width - right.Length), right);

    private static Line Blank(int column, string text) => Line.Blank.Set(column, text);

    private static string Place(ShownUnits units, double mm) => (mm / units.Length.Factor).ToString(units == ShownUnits.Inches ? "0.0" : "0", CultureInfo.InvariantCulture);

    private static int Middle(string text) => Left + ((Right - Left - text.Length) / 2);
}
