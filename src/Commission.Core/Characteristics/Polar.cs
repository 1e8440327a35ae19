using System.Collections.Immutable;
using Commission.Core.Fits;

namespace Commission.Core.Characteristics;

/// <summary>Pictures of readings over a full turn.</summary>
internal static class Polar
{
    /// <summary>Readings about their mean with the first harmonic through them; radii are lifted so that none is negative.</summary>
    public static Figure Harmonic(string title, IReadOnlyList<(string Name, (double Angle, double Value)[] Values)> series, string summary)
    {
        var layers = ImmutableArray.CreateBuilder<FigureLayer>();
        var reach = series.SelectMany(s => s.Values.Select(v => Math.Abs(v.Value - s.Values.Average(w => w.Value)))).DefaultIfEmpty(0).Max();
        var lift = reach > 0 ? 2 * reach : 1;
        foreach (var (name, values) in series.Where(s => s.Values.Length > 0))
        {
            var mean = values.Average(v => v.Value);
            layers.Add(new FigureLayer.Points(name, FigureMark.Dot, [.. values.Select(v => new FigurePoint(v.Angle, v.Value - mean + lift))]));
            if (Curve(values) is { } curve)
                layers.Add(new FigureLayer.Line(name + ", first harmonic", [.. Enumerable.Range(0, 73).Select(i => i * 5.0).Select(a => new FigurePoint(a, lift - mean + curve(a)))], Dashed: layers.Count > 2));
        }
        return new Figure
        {
            Title = title,
            Horizontal = "angle, degrees from +X",
            Vertical = "reading about its mean, lifted, mm",
            Form = FigureForm.Polar,
            Layers = layers.ToImmutable(),
            Summary = summary,
        };
    }

    /// <summary>Mean and first harmonic by least squares, whatever the angles; null where they do not determine it.</summary>
    private static Func<double, double>? Curve((double Angle, double Value)[] values)
    {
        var system = new AugmentedSystem("mean", "cosine", "sine");
        foreach (var (angle, value) in values)
            system.Reading(Harmonics(angle), value);
        return system.Solve() is Outcome<LeastSquaresSolution>.Good { Value: var fit } ? angle => fit.Value(Harmonics(angle)) : null;
    }

    private static double[] Harmonics(double angle) => [1, Math.Cos(angle * Math.PI / 180), Math.Sin(angle * Math.PI / 180)];
}
