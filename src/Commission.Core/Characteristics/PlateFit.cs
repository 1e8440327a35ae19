using System.Collections.Immutable;
using Commission.Core.Fits;

namespace Commission.Core.Characteristics;

/// <summary>Joint fit of one plate, averaged over what is not known about the scatter of marks and hand: weights by restricted likelihood over a grid of scatters, own choice of grid.</summary>
/// <param name="Estimates">The unknowns.</param>
/// <param name="Fresh">Covariance of the part drawn afresh.</param>
/// <param name="Jaws">Effect of the inside jaws on each unknown, one standard uncertainty.</param>
/// <param name="Scale">Effect of the caliper's scale on each unknown, one standard uncertainty.</param>
/// <param name="Marks">What the readings say of each mark, at the likeliest scatter.</param>
internal sealed record PlateFit(double[] Estimates, double[,] Fresh, double[] Jaws, double[] Scale, PlateMarks Marks)
{
    private const double JawsUncertainty = 0.0125;
    private static readonly double[] MarkGrid = [5e-3, 8e-3, 12e-3, 18e-3, 27e-3, 40e-3];
    private static readonly double[] HandGrid = [0.65, 0.8, 1, 1.25, 1.55];

    /// <summary>Fits.</summary>
    /// <param name="model">The plate.</param>
    /// <param name="typical">Usual scatter.</param>
    /// <param name="average">Whether to average over the grid; else the typical scatter is taken as known.</param>
    /// <param name="handFreedom">Degrees of freedom of the hand's study.</param>
    /// <param name="scale">Standard uncertainty of the caliper's scale; 0 where no instrument was named.</param>
    /// <param name="open">Unknowns that the readings leave open; held loosely.</param>
    public static Outcome<PlateFit> Of(
        PlateModel model, PlateScatter typical, bool average, double handFreedom, double scale, ImmutableArray<NullDirection> open)
    {
        double[] loose = [1e-2, 1e-2, 1e-2, 1, 1, 10];
        PlatePrior[] priors =
        [
            new(6, 0, scale > 0 ? scale : 1e-9), new(7, 0, JawsUncertainty),
            .. Enumerable.Range(0, loose.Length).Where(i => open.Any(direction => direction.Involves(PlateModel.Names[i])))
                .Select(i => new PlatePrior(i, i == 5 ? 8 : 0, loose[i])),
        ];
        var undetermined = new Problem("the readings do not determine the plate", "Measure more pairs, outside and inside");
        var b = Start(model);
        for (var step = 0; step < 8; step++)
        {
            if (PlateSolution.Of(model.About(b), b, typical, priors) is not { Changes: var changes })
                return undetermined;
            b = [.. b.Zip(changes, (x, d) => x + d)];
            if (b.Take(5).Any(v => !(Math.Abs(v) < 5)))
                return new Problem("the readings do not fit the marks at all", "Check which marks each reading lies between, its edge and its unit");
            if (changes.All(d => Math.Abs(d) < 1e-12))
                break;
        }
        var points = average ? Grid(typical, handFreedom) : [(typical, 0.0)];
        return Average(model, b, points, priors) is { } fit ? fit : undetermined;
    }

    private static PlateFit? Average(PlateModel model, double[] b, IReadOnlyList<(PlateScatter Scatter, double LogWeight)> points, PlatePrior[] priors)
    {
        var about = model.About(b);
        var fits = new List<(PlateSolution Solution, double Log)>();
        foreach (var (scatter, weight) in points)
        {
            if (PlateSolution.Of(about, b, scatter, priors) is not { } solution)
                return null;
            // Restricted likelihood |V|^-1/2 |H|^-1/2 exp(-q/2); the covariance is the inverse of H.
            fits.Add((solution, weight - (solution.LogDeterminants + solution.ChiSquare) / 2));
        }
        var top = fits.Max(f => f.Log);
        var total = fits.Sum(f => Math.Exp(f.Log - top));
        double Mean(Func<PlateSolution, double> value) => fits.Sum(f => Math.Exp(f.Log - top) / total * value(f.Solution));
        double[] estimate = [.. Enumerable.Range(0, 8).Select(i => Mean(s => s.Changes[i]))];
        var fresh = new double[8, 8];
        for (var i = 0; i < 8; i++)
        {
            for (var j = 0; j < 8; j++)
            {
                var (p, q) = (i, j);
                fresh[p, q] = Mean(s => s.Covariance[p, q] - ScaleEffect(s, p) * ScaleEffect(s, q) - JawsEffect(s, p) * JawsEffect(s, q)
                    + (s.Changes[p] - estimate[p]) * (s.Changes[q] - estimate[q]));
            }
        }
        double[] jaws = [.. Enumerable.Range(0, 8).Select(i => Mean(s => JawsEffect(s, i)))];
        double[] scale = [.. Enumerable.Range(0, 8).Select(i => Mean(s => ScaleEffect(s, i)))];
        var marks = fits.MaxBy(f => f.Log).Solution.Marks(model.Readings.Count + priors.Length - PlateModel.Names.Length);
        return new PlateFit([.. b.Zip(estimate, (x, d) => x + d)], fresh, jaws, scale, marks);
    }

    // Covariance = what stays with caliper and jaws known + what they add: their columns through the Cholesky factor of their own block.
    internal static double ScaleEffect(PlateSolution s, int i) => s.Covariance[i, 6] / Math.Sqrt(s.Covariance[6, 6]);

    internal static double JawsEffect(PlateSolution s, int i)
    {
        var along = ScaleEffect(s, 7);
        return (s.Covariance[i, 7] - ScaleEffect(s, i) * along) / Math.Sqrt(s.Covariance[7, 7] - along * along);
    }

    private static List<(PlateScatter, double)> Grid(PlateScatter typical, double freedom)
    {
        var points = new List<(PlateScatter, double)>();
        foreach (var mark in MarkGrid)
        {
            foreach (var f in HandGrid)
            {
                var weight = -Math.Pow(Math.Log(mark / 12e-3) / 0.6, 2) / 2 - freedom * Math.Log(f) - freedom / (2 * f * f);
                points.Add((typical with { Reading = typical.Reading * f, Mark = mark }, weight));
            }
        }
        return points;
    }

    /// <summary>The hole from pairs measured outside and inside; everything else at its nominal.</summary>
    private static double[] Start(PlateModel model)
    {
        double[] halves = [.. model.Readings.Where(r => r.Edge > 0).SelectMany(o => model.Readings
            .Where(i => i.Edge < 0 && i.From == o.From && i.To == o.To).Select(i => (o.Value - i.Value) / 2))];
        return [0, 0, 0, 0, 0, halves.Length > 0 ? halves.Average() : 8, 0, 0];
    }
}
