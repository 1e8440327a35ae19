using Commission.Core.Characteristics;
using Commission.Core.Quantities;

namespace Commission.Core.Reports;

/// <summary>A figure in the units that are to be seen: axes labelled in mm become inches, everything else stays.</summary>
internal static class FigureUnits
{
    private const string Metric = ", mm";

    /// <summary>The figure in other units.</summary>
    public static Figure In(Figure figure, ShownUnits units)
    {
        var length = units.Length;
        if (length.Symbol == "mm")
            return figure;
        var across = figure.Horizontal.EndsWith(Metric, StringComparison.Ordinal) ? length.Factor : 1;
        var up = figure.Vertical.EndsWith(Metric, StringComparison.Ordinal) ? length.Factor : 1;
        FigurePoint Point(FigurePoint point) => new(point.X / across, point.Y / up, point.Bar / up, point.Level / length.Factor);
        return figure with
        {
            Horizontal = Label(figure.Horizontal, length),
            Vertical = Label(figure.Vertical, length),
            Layers = [.. figure.Layers.Select<FigureLayer, FigureLayer>(layer => layer switch
            {
                FigureLayer.Points points => points with { Values = [.. points.Values.Select(Point)] },
                FigureLayer.Line line => line with { Values = [.. line.Values.Select(Point)] },
                FigureLayer.Band band => band with { Low = band.Low / up, High = band.High / up },
                FigureLayer.Event happened => happened with { X = happened.X / across },
                _ => throw new System.Diagnostics.UnreachableException(),
            })],
        };
    }

    private static string Label(string label, Unit length) => label.EndsWith(Metric, StringComparison.Ordinal) ? label[..^2] + length.Symbol : label;
}
