using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Quantities;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>A height that was read.</summary>
/// <param name="X">Place, mm.</param>
/// <param name="Y">Place, mm.</param>
/// <param name="HeightMm">Height as read, mm.</param>
/// <param name="OffPlaneMm">Height above the map's own plane, mm.</param>
public sealed record BedPoint(double X, double Y, double HeightMm, double OffPlaneMm);

/// <summary>A surveyor's level book and spot heights: as read, and against its own plane. Hills and hollows show without colour.</summary>
public static class BedMapSheet
{
    private const int Second = 42, Label = 4, Cell = 5;
    private const int MostColumns = 7, MostRows = 9;

    /// <summary>Both maps; empty where they are too wide or too high for a sheet of 80 by 24.</summary>
    /// <param name="points">The heights.</param>
    /// <param name="units">Units of places and heights; millimetres where not told.</param>
    public static ImmutableArray<Line> Maps(ImmutableArray<BedPoint> points, ShownUnits? units = null)
    {
        var (digit, perMm) = (units ?? ShownUnits.Millimetres).SmallDigit;
        var length = (units ?? ShownUnits.Millimetres).Length.Factor;
        double[] xs = [.. points.Select(point => point.X).Distinct().Order()];
        double[] ys = [.. points.Select(point => point.Y).Distinct().OrderDescending()];
        if (points.IsEmpty || xs.Length > MostColumns || ys.Length > MostRows)
            return [];
        var first = points[0].HeightMm;
        var far = Far(points);
        return
        [
            new Line($" height, {digit}, first point = 0".PadRight(Second + 1) + $"against its own plane, {digit}", [new(0, 80, Ink.Quiet)]),
            "   Y                                         Y",
            .. ys.Select(y => Row(points, xs, y, length, point => Height((point.HeightMm - first) * perMm)).Set(Second, Row(points, xs, y, length, point => Off(point.OffPlaneMm * perMm, far * perMm)))),
            Places(xs, length).Set(Second, Places(xs, length)),
        ];
    }

    /// <summary>What a doubled sign means, below the map in which it stands.</summary>
    public static Line Legend(ImmutableArray<BedPoint> points, ShownUnits? units = null)
    {
        var shown = units ?? ShownUnits.Millimetres;
        var text = $"doubled sign = beyond {shown.Digits(Far(points))} {shown.Length.Symbol}";
        return Line.Blank.Set(Second + 1, new Line(text, [new(0, text.Length, Ink.Quiet)]));
    }

    // Doubled signs: more than a third of the farthest point.
    private static double Far(ImmutableArray<BedPoint> points) => points.Max(point => Math.Abs(point.OffPlaneMm)) / 3;

    private static Line Row(ImmutableArray<BedPoint> points, double[] xs, double y, double length, Func<BedPoint, string> text)
    {
        var line = Line.Blank.Set(0, Number(y, length).PadLeft(Label));
        for (var i = 0; i < xs.Length; i++)
        {
            var here = points.Where(point => point.X == xs[i] && point.Y == y).ToList();
            var shown = here.Count == 0 ? "." : text(here[0] with { HeightMm = here.Average(point => point.HeightMm), OffPlaneMm = here.Average(point => point.OffPlaneMm) });
            line = line.Set(Label + (i * Cell), shown.PadLeft(Cell));
        }

        return line;
    }

    private static Line Places(double[] xs, double length)
    {
        var text = new string(' ', Label + 1) + string.Concat(xs.Select(x => Number(x, length).PadLeft(Cell)));
        // The X stands before the first place.
        var at = Math.Max(0, Label + Cell - Number(xs[0], length).Length - 1);
        return (Line)(text[..at] + "X" + text[(at + 1)..]);
    }

    private static string Number(double mm, double length) => (mm / length).ToString(length == 1 ? "0" : "0.#", CultureInfo.InvariantCulture);

    private static string Height(double digits) => Math.Round(digits).ToString("+0;-0;0", CultureInfo.InvariantCulture);

    private static string Off(double digits, double far)
    {
        var whole = Math.Round(digits);
        // What is shown as zero has no side.
        var sign = whole < 0 ? "-" : "+";
        return (whole != 0 && Math.Abs(digits) > far ? sign : "") + sign + Math.Abs(whole).ToString("0", CultureInfo.InvariantCulture);
    }
}
