using System.Collections.Immutable;
using System.Text;
using Commission.Core.Characteristics;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>From the values of a figure to places on the page.</summary>
internal sealed class SvgPlane
{
    private const double Left = 70;
    private const double Top = 34;
    private const double Widest = 550;
    private const double Usual = 296;
    private const double Tallest = 430;
    private const double MapHeadroom = 0.08;
    private const double Radius = Usual / 2;
    private const double CentreX = Left + (Widest / 2);
    // The number of the uppermost spoke stands between title and rings.
    private const double CentreY = Top + Radius + 14;

    private readonly Ticks across;
    private readonly Ticks up;
    private readonly bool polar;

    private readonly double right;
    private readonly double bottom;

    private SvgPlane(Ticks across, Ticks up, bool polar, double width = Widest, double height = Usual) =>
        (this.across, this.up, this.polar, right, bottom) = (across, up, polar, Left + width, Top + height);

    /// <summary>Where the numbers and the label below the plane end, px.</summary>
    public double Foot => bottom + (polar ? 64 : 50);

    /// <summary>Lower end of the vertical axis, in values.</summary>
    public double Low => up.Low;

    /// <summary>Upper end of the vertical axis, in values.</summary>
    public double High => up.High;

    /// <summary>A plane with two straight axes that holds every point with its bar.</summary>
    public static SvgPlane Rectangular(Figure figure)
    {
        var (left, right, low, high) = FigureReach.Rectangle(figure);
        // Numbers stand above the points of a map: the topmost need room below the title.
        if (figure.Form == FigureForm.Map)
            high += MapHeadroom * (high - low);
        if (figure.Form is FigureForm.EqualScale or FigureForm.Map)
            return ToScale(left, right, low, high);
        return new SvgPlane(Ticks.Over(left, right, 8), Ticks.Over(low, high, 6), polar: false);
    }

    // One scale for both directions: the plane takes the shape of what it shows.
    private static SvgPlane ToScale(double left, double right, double low, double high)
    {
        var (across, up) = (Ticks.Over(left, right, 8), Ticks.Over(low, high, 8));
        var scale = Math.Min(Widest / (across.High - across.Low), Tallest / (up.High - up.Low));
        return new SvgPlane(across, up, polar: false, scale * (across.High - across.Low), scale * (up.High - up.Low));
    }

    /// <summary>A plane of angle and radius; the centre stands for the least radius shown.</summary>
    public static SvgPlane Polar(Figure figure)
    {
        var (low, high) = FigureReach.Radii(figure);
        return new SvgPlane(Ticks.Over(0, 360, 8), Ticks.Over(low, high, 4), polar: true);
    }

    /// <summary>The place of a point.</summary>
    public (double X, double Y) Place(double x, double y)
    {
        var part = (y - up.Low) / (up.High - up.Low);
        if (!polar)
            return (Left + ((x - across.Low) / (across.High - across.Low) * (right - Left)), bottom - (part * (bottom - Top)));
        var (sin, cos) = Math.SinCos(x * Math.PI / 180);
        return (CentreX + (part * Radius * cos), CentreY - (part * Radius * sin));
    }

    /// <summary>Draws grid, numbers and labels.</summary>
    public void DrawAxes(StringBuilder svg, Figure figure)
    {
        if (polar)
            DrawRings(svg, figure);
        else
            DrawGrid(svg, figure);
    }

    /// <summary>Draws a band between two values.</summary>
    public void DrawBand(StringBuilder svg, double low, double high)
    {
        if (polar)
            return;
        var top = Place(across.Low, Math.Min(high, up.High)).Y;
        var bottom = Place(across.Low, Math.Max(low, up.Low)).Y;
        svg.Append(Invariant($"<rect x=\"{Left}\" y=\"{top:0.##}\" width=\"{right - Left}\" height=\"{bottom - top:0.##}\" fill=\"#e4ecd8\" stroke=\"#7a8f55\" stroke-dasharray=\"2 2\"/>\n"));
    }

    private void DrawGrid(StringBuilder svg, Figure figure)
    {
        foreach (var (at, text) in across.Marks)
        {
            var x = Place(at, up.Low).X;
            SvgFigure.Line(svg, x, Top, x, bottom, "#ddd");
            SvgFigure.Label(svg, x, bottom + 16, text, "middle");
        }

        foreach (var (at, text) in up.Marks)
        {
            var y = Place(across.Low, at).Y;
            SvgFigure.Line(svg, Left, y, right, y, "#ddd");
            SvgFigure.Label(svg, Left - 6, y + 4, text, "end");
        }

        SvgFigure.Line(svg, Left, bottom, right, bottom, "#333");
        SvgFigure.Line(svg, Left, Top, Left, bottom, "#333");
        SvgFigure.Label(svg, (Left + right) / 2, bottom + 36, figure.Horizontal, "middle");
        SvgFigure.Label(svg, 16, (Top + bottom) / 2, figure.Vertical, "middle", turn: Invariant($"rotate(-90 16 {(Top + bottom) / 2:0.##})"));
    }

    private void DrawRings(StringBuilder svg, Figure figure)
    {
        foreach (var (at, text) in up.Marks)
        {
            var radius = (at - up.Low) / (up.High - up.Low) * Radius;
            svg.Append(Invariant($"<circle cx=\"{CentreX:0.##}\" cy=\"{CentreY:0.##}\" r=\"{radius:0.##}\" fill=\"none\" stroke=\"#ccc\"/>\n"));
            // Numbers stand along 22.5 degrees, between the spokes that carry angles.
            var (x, y) = Place(22.5, at);
            SvgFigure.Label(svg, x, y, text);
        }

        for (var angle = 0; angle < 360; angle += 45)
        {
            var (x, y) = Place(angle, up.High);
            SvgFigure.Line(svg, CentreX, CentreY, x, y, "#ddd");
            var (sin, cos) = Math.SinCos(angle * Math.PI / 180);
            SvgFigure.Label(svg, CentreX + ((Radius + 16) * cos), CentreY - ((Radius + 12) * sin) + 4, Invariant($"{angle}"), "middle");
        }

        SvgFigure.Label(svg, 16, bottom + 50, $"{figure.Horizontal}; radius: {figure.Vertical}");
    }
}
