using System.Collections.Immutable;
using static Commission.Core.Fits.Products;

namespace Commission.Core.Plans;

/// <summary>
/// Adds readings one by one where each gains most, and exchanges them in pairs where another does better. The gain of a reading
/// follows exactly from the covariance so far: <c>(c'C a)^2 / (v + a'C a)</c> (Sherman and Morrison).
/// </summary>
/// <param name="pool">Readings that could be taken.</param>
/// <param name="variance">Variance of one reading.</param>
/// <param name="targets">Combinations whose variance shall fall, each with its weight.</param>
internal sealed class PlanSearch(IReadOnlyList<PlanReading> pool, double variance, IReadOnlyList<(double[] Coefficients, double Weight)> targets)
{
    private const int MostPasses = 6;

    private readonly double[][] rows = [.. pool.Select(reading => (double[])[.. reading.Row, reading.ScaleLength])];

    /// <summary>Readings to add to what is known.</summary>
    /// <param name="covariance">Covariance of the unknowns before; the instrument's scale is the last of them.</param>
    /// <param name="count">How many.</param>
    /// <param name="exchange">Whether pairs are exchanged afterwards.</param>
    /// <returns>Numbers of the pool, and the covariance afterwards.</returns>
    public (ImmutableArray<int> Chosen, double[,] Covariance) Add(double[,] covariance, int count, bool exchange = true)
    {
        var (c, chosen) = ((double[,])covariance.Clone(), new List<int>());
        for (var step = 0; step < count; step++)
        {
            var best = Best(c, chosen);
            if (best < 0) break;
            chosen.Add(best);
            Update(c, rows[best], variance);
        }

        if (exchange) Exchange(c, chosen);
        return ([.. chosen], c);
    }

    /// <summary>Weighted sum of the targets' variances.</summary>
    public double Score(double[,] c) => targets.Sum(target => target.Weight * Dot(target.Coefficients, Times(c, target.Coefficients)));

    private int Best(double[,] c, List<int> chosen)
    {
        var (best, most) = (-1, 0.0);
        for (var k = 0; k < rows.Length; k++)
        {
            if (!pool[k].Repeatable && chosen.Contains(k)) continue;
            var gain = Gain(c, rows[k]);
            if (gain > most * (1 + 1e-12)) (best, most) = (k, gain);
        }

        return best;
    }

    private double Gain(double[,] c, double[] a)
    {
        var ca = Times(c, a);
        return targets.Sum(target => target.Weight * Math.Pow(Dot(target.Coefficients, ca), 2)) / (variance + Dot(a, ca));
    }

    // A chosen reading gives way wherever another lowers the score; repeated until a whole pass changes nothing.
    private void Exchange(double[,] c, List<int> chosen)
    {
        for (var (pass, changed) = (0, true); changed && pass < MostPasses; pass++)
        {
            changed = false;
            for (var at = 0; at < chosen.Count; at++)
            {
                var without = (double[,])c.Clone();
                Update(without, rows[chosen[at]], -variance);
                var others = chosen.Where((_, k) => k != at).ToList();
                var best = Best(without, others);
                if (best < 0 || best == chosen[at] || Gain(without, rows[best]) <= Gain(without, rows[chosen[at]]) * (1 + 1e-9)) continue;
                Update(without, rows[best], variance);
                Array.Copy(without, c, c.Length);
                chosen[at] = best;
                changed = true;
            }
        }
    }

    // Adds a reading of variance v; with -v takes it away again.
    private static void Update(double[,] c, double[] a, double v)
    {
        var ca = Times(c, a);
        var divisor = v + Dot(a, ca);
        for (var i = 0; i < ca.Length; i++)
            for (var j = 0; j < ca.Length; j++) c[i, j] -= ca[i] * ca[j] / divisor;
    }
}
