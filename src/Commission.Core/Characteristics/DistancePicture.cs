using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>Distances between marks of a plane, each with its residual.</summary>
internal static class DistancePicture
{
    /// <summary>Every row a line, every mark a dot. Rows have columns <c>x1_mm y1_mm x2_mm y2_mm</c>.</summary>
    public static Figure Of(string title, Finding finding, ReadingTable readings, string summary)
    {
        var spans = readings.Used.ToArray();
        var marks = spans.SelectMany(r => new[] { (r["x1_mm"], r["y1_mm"]), (r["x2_mm"], r["y2_mm"]) }).Distinct();
        return new Figure
        {
            Title = title,
            Horizontal = "X, mm",
            Vertical = "Y, mm",
            Form = FigureForm.EqualScale,
            Layers =
            [
                .. spans.Select((r, i) => (FigureLayer)new FigureLayer.Line(
                    i < finding.Residuals.Length ? string.Create(CultureInfo.InvariantCulture, $"row {r.Number}, residual {finding.Residuals[i]:+0.000;-0.000} mm") : $"row {r.Number}",
                    [new FigurePoint(r["x1_mm"], r["y1_mm"]), new FigurePoint(r["x2_mm"], r["y2_mm"])])),
                new FigureLayer.Points("marks", FigureMark.Dot, [.. marks.Select(m => new FigurePoint(m.Item1, m.Item2))]),
            ],
            Summary = summary,
        };
    }
}
