using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>Residuals of an axis against position: what each reading is off the line midway between both directions.</summary>
internal static class AxisPicture
{
    public static Figure Of(Finding finding, ReadingTable readings)
    {
        var scale = finding.Headline.Value ?? 0;
        var zero = finding.Parameter("zero")?.Value ?? 0;
        FigurePoint At(ReadingRow row) => new(row["commanded_mm"], 1e3 * (row["measured_mm"] - row["commanded_mm"] - zero - (scale * row["commanded_mm"])));
        var layers = ImmutableArray.CreateBuilder<FigureLayer>();
        layers.Add(new FigureLayer.Line("line midway", [.. Ends(readings).Select(c => new FigurePoint(c, 0))]));
        foreach (var (name, mark, sign) in (ReadOnlySpan<(string, FigureMark, int)>)
            [("reached in + direction", FigureMark.Increasing, 1), ("reached in - direction", FigureMark.Decreasing, -1), ("direction not told", FigureMark.Dot, 0)])
        {
            ImmutableArray<FigurePoint> points = [.. readings.Used.Where(row => row.Sign() == sign).Select(At)];
            if (!points.IsEmpty) layers.Add(new FigureLayer.Points(name, mark, points));
        }

        ImmutableArray<FigurePoint> leftOut = [.. readings.Rows.Where(row => row.Excluded is not null && row.Maybe("measured_mm") is not null && row.Maybe("commanded_mm") is not null).Select(At)];
        if (!leftOut.IsEmpty) layers.Add(new FigureLayer.Points("left out", FigureMark.LeftOut, leftOut));
        layers.AddRange(Band(finding, readings));
        return new Figure
        {
            Title = "Residuals of the axis",
            Horizontal = "commanded position, mm",
            Vertical = "off the fitted line, um",
            Layers = layers.ToImmutable(),
            Summary = string.Create(CultureInfo.InvariantCulture,
                $"{finding.Used} readings; a scale error of {scale * 1e6:+0;-0;0} ppm and the zero are taken off. ") + Gap(finding),
        };
    }

    private static string Gap(Finding finding) => finding.Parameter("reversal")?.Value is { } reversal
        ? string.Create(CultureInfo.InvariantCulture, $"The two directions lie {reversal * 1e3:+0;-0;0} um apart.")
        : "The directions are not separated.";

    private static double[] Ends(ReadingTable readings) => [readings.Used.Min(row => row["commanded_mm"]), readings.Used.Max(row => row["commanded_mm"])];

    // U of the line itself, from the covariance of scale and zero; absent where no U could be given.
    private static IEnumerable<FigureLayer> Band(Finding finding, ReadingTable readings)
    {
        var zero = finding.Parameters.IndexOf(finding.Parameters.First(p => p.Name == "zero"));
        if (finding.Headline.CoverageFactor is not { } k || finding.Covariance.Length <= zero) yield break;
        var ends = Ends(readings);
        double U(double c)
        {
            var cov = finding.Covariance;
            return 1e3 * k * Math.Sqrt(Math.Max(0, (c * c * cov[0][0]) + (2 * c * cov[0][zero]) + cov[zero][zero]));
        }

        double[] at = [.. Enumerable.Range(0, 13).Select(i => ends[0] + (i / 12.0 * (ends[1] - ends[0])))];
        yield return new FigureLayer.Line("+U of the line", [.. at.Select(c => new FigurePoint(c, U(c)))], Dashed: true);
        yield return new FigureLayer.Line("-U of the line", [.. at.Select(c => new FigurePoint(c, -U(c)))], Dashed: true);
    }
}
