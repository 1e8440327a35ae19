using System.Globalization;
using System.Text;
using Commission.Core.Characteristics;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>Draws the layers of a figure; marks differ in shape, so that colour carries nothing alone.</summary>
internal static class SvgLayers
{
    private const string Ink = "#1b3a5b";
    private const string Fit = "#9a3412";

    /// <summary>Draws one layer of a figure.</summary>
    public static void Draw(StringBuilder svg, SvgPlane plane, FigureLayer layer, Figure figure)
    {
        switch (layer)
        {
            case FigureLayer.Points points:
                Points(svg, plane, points, figure);
                break;
            case FigureLayer.Line line:
                Polyline(svg, plane, line);
                break;
            case FigureLayer.Band band:
                plane.DrawBand(svg, band.Low, band.High);
                break;
            case FigureLayer.Event happened:
                var (x, top) = plane.Place(happened.X, plane.High);
                SvgFigure.Line(svg, x, top, x, plane.Place(happened.X, plane.Low).Y, "#555", dash: "4 3");
                SvgFigure.Label(svg, x + 3, top + 12, happened.Name);
                break;
        }
    }

    /// <summary>Draws the line of the legend that explains a layer.</summary>
    public static void Legend(StringBuilder svg, FigureLayer layer, Figure figure, double x, double y)
    {
        switch (layer)
        {
            case FigureLayer.Points points:
                Mark(svg, points, figure, x, y - 4);
                break;
            case FigureLayer.Line line:
                SvgFigure.Line(svg, x - 8, y - 4, x + 8, y - 4, Fit, 1.5, line.Dashed ? "5 3" : null);
                break;
            default:
                svg.Append(Invariant($"<rect x=\"{x - 8:0.##}\" y=\"{y - 9:0.##}\" width=\"16\" height=\"9\" fill=\"#e4ecd8\" stroke=\"#7a8f55\" stroke-dasharray=\"2 2\"/>\n"));
                break;
        }

        SvgFigure.Label(svg, x + 14, y, SvgFigure.Name(layer));
    }

    private static void Points(StringBuilder svg, SvgPlane plane, FigureLayer.Points points, Figure figure)
    {
        var written = new HashSet<(double, double)>();
        var levels = Levels(points.Values);
        foreach (var point in points.Values)
        {
            var (x, y) = plane.Place(point.X, point.Y);
            if (point.Bar is { } bar)
            {
                var (x1, y1) = plane.Place(point.X, point.Y - bar);
                var (x2, y2) = plane.Place(point.X, point.Y + bar);
                SvgFigure.Line(svg, x1, y1, x2, y2, Ink);
            }

            Mark(svg, points, figure, x, y);
            // A place looked at twice has one number: two would lie on each other.
            if (figure.Form == FigureForm.Map && point.Level is { } level && written.Add((point.X, point.Y)))
                SvgFigure.Label(svg, x + 6, y - 6, level.ToString(levels, CultureInfo.InvariantCulture));
        }
    }

    // Two digits of the largest, so that all numbers of a map have the same decimals and none more than it deserves.
    private static string Levels(IEnumerable<FigurePoint> points)
    {
        var largest = points.Max(point => Math.Abs(point.Level ?? 0));
        return "F" + (largest > 0 ? Math.Clamp(1 - (int)Math.Floor(Math.Log10(largest)), 0, 5) : 0).ToString(CultureInfo.InvariantCulture);
    }

    private static void Polyline(StringBuilder svg, SvgPlane plane, FigureLayer.Line line)
    {
        svg.Append("<polyline fill=\"none\" stroke=\"").Append(Fit).Append("\" stroke-width=\"1.5\"").Append(line.Dashed ? " stroke-dasharray=\"5 3\"" : "").Append(" points=\"");
        svg.AppendJoin(' ', line.Values.Select(point =>
        {
            var (x, y) = plane.Place(point.X, point.Y);
            return Invariant($"{x:0.##},{y:0.##}");
        }));
        svg.Append("\"/>\n");
    }

    private static void Mark(StringBuilder svg, FigureLayer.Points points, Figure figure, double x, double y) => svg.Append(points.Mark switch
    {
        FigureMark.Increasing => Invariant($"<path d=\"M{x - 4:0.##} {y - 4:0.##}L{x + 4:0.##} {y:0.##}L{x - 4:0.##} {y + 4:0.##}Z\" fill=\"{Ink}\"/>\n"),
        FigureMark.Decreasing => Invariant($"<path d=\"M{x + 4:0.##} {y - 4:0.##}L{x - 4:0.##} {y:0.##}L{x + 4:0.##} {y + 4:0.##}Z\" fill=\"#fff\" stroke=\"{Ink}\"/>\n"),
        FigureMark.LeftOut => Invariant($"<path d=\"M{x - 4:0.##} {y - 4:0.##}L{x + 4:0.##} {y + 4:0.##}M{x - 4:0.##} {y + 4:0.##}L{x + 4:0.##} {y - 4:0.##}\" stroke=\"{Ink}\" stroke-width=\"1.5\"/>\n"),
        FigureMark.Fitted => Invariant($"<circle cx=\"{x:0.##}\" cy=\"{y:0.##}\" r=\"3.5\" fill=\"#fff\" stroke=\"{Fit}\" stroke-width=\"1.5\"/>\n"),
        _ => Dot(FigureReach.DotsBefore(figure, points), x, y),
    });

    // Several layers of plain dots take turns in shape.
    private static string Dot(int layer, double x, double y) => (layer % 4) switch
    {
        0 => Invariant($"<circle cx=\"{x:0.##}\" cy=\"{y:0.##}\" r=\"3\" fill=\"{Ink}\"/>\n"),
        1 => Invariant($"<rect x=\"{x - 3.5:0.##}\" y=\"{y - 3.5:0.##}\" width=\"7\" height=\"7\" fill=\"#fff\" stroke=\"{Ink}\"/>\n"),
        2 => Invariant($"<path d=\"M{x:0.##} {y - 5:0.##}L{x + 5:0.##} {y:0.##}L{x:0.##} {y + 5:0.##}L{x - 5:0.##} {y:0.##}Z\" fill=\"{Ink}\"/>\n"),
        _ => Invariant($"<path d=\"M{x:0.##} {y - 5:0.##}L{x + 5:0.##} {y:0.##}L{x:0.##} {y + 5:0.##}L{x - 5:0.##} {y:0.##}Z\" fill=\"#fff\" stroke=\"{Ink}\"/>\n"),
    };
}
