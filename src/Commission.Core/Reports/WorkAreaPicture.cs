using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Upkeep;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>The position error over the work area as a map: arrows from where the machine was sent to where it goes, enlarged.</summary>
internal static class WorkAreaPicture
{
    private const int Steps = 4;

    /// <summary>The figure; null where the error cannot be given.</summary>
    public static Figure? Of(WorkArea area)
    {
        if (area is not { ErrorMm: { } worst, ExpandedMm: { } expanded, Corner: { } corner })
            return null;
        var grid = Grid(area, Steps).ToList();
        var arrows = grid.ConvertAll(at => (From: at, By: area.VectorAt(at.X, at.Y)!.Value));
        var enlarged = Enlargement.Of(arrows.Max(arrow => Math.Max(Math.Abs(arrow.By.X), Math.Abs(arrow.By.Y))), Math.Min(area.WidthMm, area.DepthMm) / Steps);
        FigurePoint Tip(((double X, double Y) From, (double X, double Y) By) arrow) => new(arrow.From.X + (enlarged * arrow.By.X), arrow.From.Y + (enlarged * arrow.By.Y));
        return new Figure
        {
            Title = "Position error over the work area",
            Horizontal = "X, mm",
            Vertical = "Y, mm",
            Form = FigureForm.Map,
            Layers =
            [
                .. arrows.Select(arrow => new FigureLayer.Line("", [new FigurePoint(arrow.From.X, arrow.From.Y), Tip(arrow)])),
                new FigureLayer.Points("sent to; the number is the position error there, lost motion counted", FigureMark.Dot, [.. grid.Select(at => new FigurePoint(at.X, at.Y, Level: area.ErrorAt(at.X, at.Y)))]),
                new FigureLayer.Points(Invariant($"goes to by scale and squareness, drawn {enlarged:0.##} times as far"), FigureMark.Fitted, [.. arrows.Select(Tip)]),
            ],
            Summary = Invariant($"Largest at X {corner.X:0} mm, Y {corner.Y:0} mm: {worst:0.000} mm, U {expanded:0.000} mm (k = {WorkArea.CoverageFactor:0}). Errors are drawn {enlarged:0.##} times as far as they are; half the lost motion and the amplitude within a turn are in the numbers, not in the arrows."),
        };
    }

    /// <summary>Places over the work area, ends included, row by row.</summary>
    /// <param name="area">The work area; it begins at (0, 0).</param>
    /// <param name="steps">Steps in each direction.</param>
    public static IEnumerable<(double X, double Y)> Grid(WorkArea area, int steps) =>
        from j in Enumerable.Range(0, steps + 1)
        from i in Enumerable.Range(0, steps + 1)
        select (area.WidthMm * i / steps, area.DepthMm * j / steps);
}
