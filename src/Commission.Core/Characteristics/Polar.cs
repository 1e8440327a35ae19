using System.Collections.Immutable;

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
            var cos = 2 * values.Average(v => (v.Value - mean) * Math.Cos(v.Angle * Math.PI / 180));
            var sin = 2 * values.Average(v => (v.Value - mean) * Math.Sin(v.Angle * Math.PI / 180));
            layers.Add(new FigureLayer.Line(name + ", first harmonic", [.. Enumerable.Range(0, 73).Select(i => i * 5.0).Select(a =>
                new FigurePoint(a, lift + cos * Math.Cos(a * Math.PI / 180) + sin * Math.Sin(a * Math.PI / 180)))]));
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
}
