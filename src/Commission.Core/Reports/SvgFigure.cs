using System.Collections.Immutable;
using System.Text;
using Commission.Core.Characteristics;
using Commission.Core.Quantities;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>A figure as SVG. The same figure gives the same bytes anywhere: no fonts are measured, numbers are rounded to 0.01 px.</summary>
public static class SvgFigure
{
    private const double Width = 640;

    /// <summary>The text of one <c>svg</c> element; lines end with a line feed.</summary>
    /// <exception cref="ArgumentException">A value is not finite.</exception>
    public static string Write(Figure figure)
    {
        Refuse(figure);
        var svg = new StringBuilder();
        var legend = figure.Layers.Select(Name).Where(name => name.Length > 0).ToImmutableArray();
        var plane = figure.Form == FigureForm.Polar ? SvgPlane.Polar(figure) : SvgPlane.Rectangular(figure);
        var height = plane.Foot + (16 * legend.Length);
        svg.Append(Invariant($"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {Width} {height:0.##}\" width=\"{Width}\" height=\"{height:0.##}\" role=\"img\" font-family=\"sans-serif\" font-size=\"12\">\n"));
        svg.Append("<title>").Append(Escaped(figure.Title)).Append("</title>\n<desc>").Append(Escaped(figure.Summary)).Append("</desc>\n");
        svg.Append(Invariant($"<rect x=\"0\" y=\"0\" width=\"{Width}\" height=\"{height:0.##}\" fill=\"#fff\"/>\n"));
        Label(svg, Width / 2, 18, figure.Title, "middle", bold: true);
        plane.DrawAxes(svg, figure);
        foreach (var layer in figure.Layers)
            SvgLayers.Draw(svg, plane, layer, figure);
        for (var i = 0; i < figure.Layers.Length; i++)
        {
            if (Name(figure.Layers[i]).Length > 0)
                SvgLayers.Legend(svg, figure.Layers[i], figure, 70, plane.Foot + (16 * legend.IndexOf(Name(figure.Layers[i]))) + 4);
        }

        return svg.Append("</svg>\n").ToString();
    }

    internal static string Name(FigureLayer layer) => layer switch
    {
        FigureLayer.Points points => points.Name,
        FigureLayer.Line line => line.Name,
        FigureLayer.Band band => band.Name,
        FigureLayer.Event => "",
        _ => throw new System.Diagnostics.UnreachableException(),
    };

    internal static void Label(StringBuilder svg, double x, double y, string words, string anchor = "start", bool bold = false, string? turn = null)
    {
        svg.Append(Invariant($"<text x=\"{x:0.##}\" y=\"{y:0.##}\" text-anchor=\"{anchor}\""));
        if (bold)
            svg.Append(" font-weight=\"bold\"");
        if (turn is not null)
            svg.Append(" transform=\"").Append(turn).Append('"');
        svg.Append('>').Append(Escaped(words)).Append("</text>\n");
    }

    internal static void Line(StringBuilder svg, double x1, double y1, double x2, double y2, string stroke, double width = 1, string? dash = null) =>
        svg.Append(Invariant($"<line x1=\"{x1:0.##}\" y1=\"{y1:0.##}\" x2=\"{x2:0.##}\" y2=\"{y2:0.##}\" stroke=\"{stroke}\" stroke-width=\"{width:0.##}\""))
            .Append(dash is null ? "" : $" stroke-dasharray=\"{dash}\"").Append("/>\n");

    /// <summary>A text as it may stand between the tags of SVG and HTML.</summary>
    internal static string Escaped(string text) => Words.Clean(text)
        .Replace("&", "&amp;", StringComparison.Ordinal)
        .Replace("<", "&lt;", StringComparison.Ordinal)
        .Replace(">", "&gt;", StringComparison.Ordinal);

    private static void Refuse(Figure figure)
    {
        foreach (var layer in figure.Layers)
        {
            var finite = layer switch
            {
                FigureLayer.Points points => points.Values.All(Finite),
                FigureLayer.Line line => line.Values.All(Finite),
                FigureLayer.Band band => double.IsFinite(band.Low) && double.IsFinite(band.High),
                FigureLayer.Event happened => double.IsFinite(happened.X),
                _ => throw new System.Diagnostics.UnreachableException(),
            };
            if (!finite)
                throw new ArgumentException($"The figure \"{figure.Title}\" holds a value that is not finite.", nameof(figure));
        }
    }

    private static bool Finite(FigurePoint point) =>
        FigureReach.HasPlace(point) && double.IsFinite(point.Bar ?? 0) && double.IsFinite(point.Level ?? 0);
}
