using System.Collections.Immutable;
using Commission.Core.Fits;

namespace Commission.Core.Characteristics;

/// <summary>Joint fit of one plate, averaged over what is not known about the scatter of marks and hand (plate note 1.2).</summary>
/// <param name="Estimates">The unknowns.</param>
/// <param name="Fresh">Covariance of the part drawn afresh.</param>
/// <param name="Jaws">Effect of the inside jaws on each unknown, one standard uncertainty.</param>
/// <param name="Scale">Effect of the caliper's scale on each unknown, one standard uncertainty.</param>
/// <param name="Marks">The solution with every mark as an unknown, for residuals and bad marks.</param>
internal sealed record PlateFit(double[] Estimates, double[,] Fresh, double[] Jaws, double[] Scale, LeastSquaresSolution Marks)
{
    private const double JawsUncertainty = 0.0125;
    private const string ScaleSource = "limit of error of the caliper";
    private const string JawsSource = "inside jaws against outside jaws";
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
        // Unknowns of a step are changes from the point b; what is expected of the whole is 0.
        void Priors(AugmentedSystem system, double[] b)
        {
            system.Pseudo(PlateModel.Names[6], -b[6], scale > 0 ? scale : 1e-9, ScaleSource, shared: true);
            system.Pseudo(PlateModel.Names[7], -b[7], JawsUncertainty, JawsSource, shared: true);
            double[] loose = [1e-2, 1e-2, 1e-2, 1, 1, 10];
            for (var i = 0; i < loose.Length; i++)
            {
                if (open.Any(direction => direction.Involves(PlateModel.Names[i])))
                    system.Pseudo(PlateModel.Names[i], (i == 5 ? 8 : 0) - b[i], loose[i], "not measured", shared: false);
            }
        }
        var b = Start(model);
        for (var step = 0; step < 8; step++)
        {
            if (model.Whitened(b, typical, Priors).System.Solve() is not Outcome<LeastSquaresSolution>.Good { Value: var solution })
                return new Problem("the readings do not determine the plate", "Measure more pairs, outside and inside");
            b = Moved(b, solution);
            if (b.Take(5).Any(v => !(Math.Abs(v) < 5)))
                return new Problem("the readings do not fit the marks at all", "Check which marks each reading lies between, its edge and its unit");
            if (solution.Estimates.All(d => Math.Abs(d) < 1e-12))
                break;
        }
        var points = average ? Grid(typical, handFreedom) : [(typical, 0.0)];
        return Average(model, b, points, Priors);
    }

    private static PlateFit Average(PlateModel model, double[] b, IReadOnlyList<(PlateScatter Scatter, double LogWeight)> points, Action<AugmentedSystem, double[]> priors)
    {
        var fits = points.Select(point =>
        {
            var (system, determinant) = model.Whitened(b, point.Scatter, priors);
            var solution = system.Solve().Require();
            // Restricted likelihood |V|^-1/2 |H|^-1/2 exp(-q/2); the covariance is the inverse of H.
            var h = -MathNet.Numerics.LinearAlgebra.Matrix<double>.Build.Dense(8, 8, (i, j) => solution.Covariance[i][j]).Cholesky().DeterminantLn;
            return (Solution: solution, Log: point.LogWeight - (determinant + h + solution.SumOfSquares + solution.PriorSumOfSquares) / 2, point.Scatter);
        }).ToArray();
        var top = fits.Max(f => f.Log);
        var total = fits.Sum(f => Math.Exp(f.Log - top));
        double Mean(Func<LeastSquaresSolution, double> value) => fits.Sum(f => Math.Exp(f.Log - top) / total * value(f.Solution));
        double[] estimate = [.. Enumerable.Range(0, 8).Select(i => Mean(s => s.Estimates[i]))];
        var fresh = new double[8, 8];
        for (var i = 0; i < 8; i++)
        {
            for (var j = 0; j < 8; j++)
            {
                var (p, q) = (i, j);
                fresh[p, q] = Mean(s => s.Covariance[p][q] - ScaleEffect(s, p) * ScaleEffect(s, q) - JawsEffect(s, p) * JawsEffect(s, q)
                    + (s.Estimates[p] - estimate[p]) * (s.Estimates[q] - estimate[q]));
            }
        }
        double[] jaws = [.. Enumerable.Range(0, 8).Select(i => Mean(s => JawsEffect(s, i)))];
        double[] scale = [.. Enumerable.Range(0, 8).Select(i => Mean(s => ScaleEffect(s, i)))];
        var likely = fits.MaxBy(f => f.Log).Scatter;
        var marks = model.WithMarks(b, likely, priors).Solve().Require();
        return new PlateFit([.. b.Zip(estimate, (x, d) => x + d)], fresh, jaws, scale, marks);
    }

    // Covariance = what stays with caliper and jaws known + what they add: their columns through the Cholesky factor of their own block.
    private static double ScaleEffect(LeastSquaresSolution s, int i) => s.Covariance[i][6] / Math.Sqrt(s.Covariance[6][6]);

    private static double JawsEffect(LeastSquaresSolution s, int i)
    {
        var along = ScaleEffect(s, 7);
        return (s.Covariance[i][7] - ScaleEffect(s, i) * along) / Math.Sqrt(s.Covariance[7][7] - along * along);
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

    private static double[] Moved(double[] b, LeastSquaresSolution solution) => [.. b.Zip(solution.Estimates, (x, d) => x + d)];
}
