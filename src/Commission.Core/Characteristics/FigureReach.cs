namespace Commission.Core.Characteristics;

/// <summary>How far a figure reaches, and which of its series a layer is: the same for every way to draw it.</summary>
public static class FigureReach
{
    /// <summary>The points that have a place, of series and lines.</summary>
    public static IEnumerable<FigurePoint> Points(Figure figure) => figure.Layers.SelectMany(layer => layer switch
    {
        FigureLayer.Points points => points.Values,
        FigureLayer.Line line => line.Values,
        _ => [],
    }).Where(HasPlace);

    /// <summary>Whether a point has a place: values without end have none.</summary>
    public static bool HasPlace(FigurePoint point) => double.IsFinite(point.X) && double.IsFinite(point.Y);

    /// <summary>The ranges that hold every point with its bar, every event and every band; 0 to 0 where there is none.</summary>
    public static (double Left, double Right, double Low, double High) Rectangle(Figure figure)
    {
        var points = Points(figure).ToList();
        var xs = points.Select(p => p.X).Concat(figure.Layers.OfType<FigureLayer.Event>().Select(e => e.X)).DefaultIfEmpty(0).ToList();
        var ys = points.SelectMany(p => new[] { p.Y - (p.Bar ?? 0), p.Y + (p.Bar ?? 0) })
            .Concat(figure.Layers.OfType<FigureLayer.Band>().SelectMany(band => new[] { band.Low, band.High })).DefaultIfEmpty(0).ToList();
        return (xs.Min(), xs.Max(), ys.Min(), ys.Max());
    }

    /// <summary>The radii of a polar figure, from its centre outwards; 0 to 1 where there is no point.</summary>
    public static (double Low, double High) Radii(Figure figure)
    {
        var points = Points(figure).ToList();
        var low = points.Select(p => p.Y - (p.Bar ?? 0)).DefaultIfEmpty(0).Min();
        var high = points.Select(p => p.Y + (p.Bar ?? 0)).DefaultIfEmpty(1).Max();
        // Room inside, so that the least reading does not fall into the centre where angles cannot be told apart.
        return (low - ((high - low) * 0.5), high);
    }

    /// <summary>Which of the figure's series of plain dots a layer is, from 0: they are told apart by their shape.</summary>
    public static int DotsBefore(Figure figure, FigureLayer.Points points) =>
        figure.Layers.OfType<FigureLayer.Points>().Where(layer => layer.Mark == FigureMark.Dot).TakeWhile(layer => layer != points).Count();
}
