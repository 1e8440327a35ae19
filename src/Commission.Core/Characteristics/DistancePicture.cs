using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>Distances between marks of a plane: as commanded, and as the fitted scales and squareness draw them, crooked beyond measure so that it shows.</summary>
internal static class DistancePicture
{
    // The corner that moves most moves by this share of the figure's longer side.
    private const double Shown = 0.12;

    /// <summary>Every distance a dashed line as commanded and a full one as found, every mark a dot. Rows have columns <c>x1_mm y1_mm x2_mm y2_mm</c>.</summary>
    public static Figure Of(string title, Finding finding, ReadingTable readings, string summary)
    {
        var spans = readings.Used.Select(r => (From: new FigurePoint(r["x1_mm"], r["y1_mm"]), To: new FigurePoint(r["x2_mm"], r["y2_mm"]))).Distinct().ToArray();
        var marks = spans.SelectMany(span => new[] { span.From, span.To }).Distinct().ToArray();
        var (left, right, low, high) = (marks.Min(mark => mark.X), marks.Max(mark => mark.X), marks.Min(mark => mark.Y), marks.Max(mark => mark.Y));
        var (centreX, centreY) = ((left + right) / 2, (low + high) / 2);
        var (angle, alongX, alongY) = (Found(finding, "squareness"), Found(finding, "scaleErrorX"), Found(finding, "scaleErrorY"));
        (double X, double Y) Off(FigurePoint mark) => ((alongX * (mark.X - centreX)) + (angle * (mark.Y - centreY)), alongY * (mark.Y - centreY));
        var times = Enlargement.Of(marks.Select(Off).Max(off => Math.Sqrt((off.X * off.X) + (off.Y * off.Y))), Shown * Math.Max(right - left, high - low));
        FigurePoint Crooked(FigurePoint mark) => new(mark.X + (times * Off(mark).X), mark.Y + (times * Off(mark).Y));
        return new Figure
        {
            Title = title,
            Horizontal = "X, mm",
            Vertical = "Y, mm",
            Form = FigureForm.EqualScale,
            Layers =
            [
                .. Lines("as commanded", spans, dashed: true, mark => mark),
                .. Lines(string.Create(CultureInfo.InvariantCulture, $"as found, drawn {times:0.##} times as crooked"), spans, dashed: false, Crooked),
                new FigureLayer.Points("marks", FigureMark.Dot, [.. marks.Select(Crooked)]),
            ],
            Summary = summary,
        };
    }

    // One name in the legend for all lines of a sort.
    private static IEnumerable<FigureLayer> Lines(string name, (FigurePoint From, FigurePoint To)[] spans, bool dashed, Func<FigurePoint, FigurePoint> drawn) =>
        spans.Select((span, i) => new FigureLayer.Line(i == 0 ? name : "", [drawn(span.From), drawn(span.To)], dashed));

    private static double Found(Finding finding, string parameter) => finding.Parameter(parameter)?.Value ?? 0;
}
