using Commission.Core.Characteristics;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>The residuals of a fit in the order of the readings: the picture of kinds that have none of their own.</summary>
internal static class ResidualPicture
{
    /// <summary>The picture; null without residuals.</summary>
    /// <param name="finding">The finding.</param>
    /// <param name="unit">Unit of its readings; null where they are not in the store.</param>
    public static Figure? Of(Finding finding, string? unit)
    {
        if (finding.Residuals.IsDefaultOrEmpty || finding.Residuals.Any(residual => !double.IsFinite(residual)))
            return null;
        var layers = new List<FigureLayer>();
        if (finding.ResidualStandardDeviation is { } s && s > 0)
            layers.Add(new FigureLayer.Band("one standard deviation of the scatter", -s, s));
        layers.Add(new FigureLayer.Points("reading less fit", FigureMark.Dot, [.. finding.Residuals.Select((residual, at) => new FigurePoint(at + 1, residual))]));
        return new Figure
        {
            Title = "Residuals in the order of the readings",
            Horizontal = "reading used, number",
            Vertical = "residual, " + (unit ?? "unit of the readings"),
            Layers = [.. layers],
            Summary = Invariant($"{finding.Residuals.Length} residuals; the largest is {finding.Residuals.Max(Math.Abs):0.####} {unit ?? "in the unit of the readings"}."),
        };
    }
}
