using Commission.Core.Characteristics;
using Commission.Core.Quantities;

namespace Commission.Core.Reports;

/// <summary>A figure in the units that are to be seen: axes labelled in mm, um and mm/min and the lengths in its sentence become inches, everything else stays.</summary>
public static class FigureUnits
{
    /// <summary>The figure in other units.</summary>
    public static Figure In(Figure figure, ShownUnits units)
    {
        var length = units.Length;
        if (length.Symbol == "mm")
            return figure;
        var ((horizontal, across), (vertical, up)) = (Label(figure.Horizontal), Label(figure.Vertical));
        FigurePoint Point(FigurePoint point) => new(point.X / across, point.Y / up, point.Bar / up, point.Level / length.Factor);
        return figure with
        {
            Horizontal = horizontal,
            Vertical = vertical,
            Title = units.Told(figure.Title),
            Summary = units.Told(figure.Summary),
            Layers = [.. figure.Layers.Select<FigureLayer, FigureLayer>(layer => layer switch
            {
                FigureLayer.Points points => points with { Name = units.Told(points.Name), Values = [.. points.Values.Select(Point)] },
                FigureLayer.Line line => line with { Name = units.Told(line.Name), Values = [.. line.Values.Select(Point)] },
                FigureLayer.Band band => band with { Name = units.Told(band.Name), Low = band.Low / up, High = band.High / up },
                FigureLayer.Event happened => happened with { Name = units.Told(happened.Name), X = happened.X / across },
                _ => throw new System.Diagnostics.UnreachableException(),
            })],
        };
    }

    // A label with the factor of its axis; a thousandth of an inch is 25.4 um.
    private static (string Label, double Factor) Label(string label)
    {
        foreach (var (metric, shown) in (ReadOnlySpan<(string, string)>)[(", mm", ", in"), (", um", ", thousandths of an inch"), (", mm/min", ", in/min")])
        {
            if (label.EndsWith(metric, StringComparison.Ordinal))
                return (label[..^metric.Length] + shown, Inch.Mm);
        }

        return (label, 1);
    }
}
