using System.Collections.Immutable;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;

namespace Commission.Core.Corrections;

/// <summary>What is to be corrected, and what that is expected to do at the worst corner.</summary>
/// <param name="Correction">The errors to be taken out; all 0 where nothing is to be changed.</param>
/// <param name="BeforeMm">Expected error at the worst corner as it is, mm.</param>
/// <param name="AfterMm">Expected error after the correction, mm.</param>
/// <param name="ProbabilityOfHarm">Probability that the correction makes the machine worse (by more than 5 % and 10 um).</param>
public sealed record JointCorrection(PlaneErrors Correction, double BeforeMm, double AfterMm, double ProbabilityOfHarm)
{
    /// <summary>Whether anything is to be changed.</summary>
    public bool Changes => Correction != default;
}

/// <summary>Decides about all errors of the plane together, by the probability of making the machine worse.</summary>
/// <remarks>
/// Posterior of the five errors from fit and prior; candidates from nothing to everything; of those that make the machine worse with at most
/// the given probability the one with the least expected error at the worst corner, and only if it gains 2 um. A small correction may ride
/// along when another gains much more, which no rule for single parameters can know. Probabilities are counted over 256 fixed points
/// (Halton sequence in bases 2, 3, 5, 7, 11), so that the same readings always give the same advice.
/// </remarks>
public static class JointRule
{
    private const int Points = 256;
    private const double LeastGainMm = 0.002;
    private static readonly double[] Thresholds = [0, 1, 1.5, 2, 2.5, 3, 3.5];
    private static readonly ImmutableArray<double[]> Normals = [.. Enumerable.Range(1, Points).Select(NormalPoint)];

    /// <summary>How far the scale of a window of some 140 mm lies off that of the whole axis, standard deviation as a ratio: 30 ppm for a screw of grade 7 or better, 80 ppm for others (invented, plausible; no source).</summary>
    /// <param name="grade">Grade of the screw; null where it has none or none is known.</param>
    public static double WindowSpread(int? grade) => grade is <= 7 ? 30e-6 : 80e-6;

    /// <summary>Decides.</summary>
    /// <param name="found">The errors as fitted.</param>
    /// <param name="covariance">Their covariance, 5 x 5, in the order of <see cref="PlaneErrors.Values"/>.</param>
    /// <param name="priors">Standard deviations that are plausible before measuring, in the same order; infinite where nothing is known.</param>
    /// <param name="work">Work area, mm.</param>
    /// <param name="window">Standard deviation of the scale of the window measured against that of the whole axis, X and Y: the decision is about the whole axes.</param>
    /// <param name="harm">Largest probability of making it worse: 0.05; 0.01 to 0.02 on a machine that was adjusted before.</param>
    public static JointCorrection Decide(
        PlaneErrors found, double[,] covariance, PlaneErrors priors, (double WidthMm, double DepthMm) work, (double X, double Y) window = default, double harm = 0.05)
    {
        var known = Matrix<double>.Build.DenseOfArray(covariance);
        known[0, 0] += window.X * window.X;
        known[1, 1] += window.Y * window.Y;
        var (mean, spread) = Posterior(found.Values, known, priors.Values);
        var deviations = Enumerable.Range(0, 5).Select(i => Math.Sqrt(spread[i, i])).ToArray();
        var root = spread.Cholesky().Factor;
        PlaneErrors[] points = [.. Normals.Select(normal => PlaneErrors.Of((mean + (root * Vector<double>.Build.Dense(normal))).AsArray()))];
        var before = points.Select(point => point.WorstCornerMm(work.WidthMm, work.DepthMm)).ToArray();
        var nothing = new JointCorrection(default, before.Average(), before.Average(), 0);
        var best = nothing;
        foreach (var candidate in Candidates(mean.AsArray(), deviations))
        {
            var after = points.Select(point => point.After(candidate).WorstCornerMm(work.WidthMm, work.DepthMm)).ToArray();
            var worse = after.Zip(before).Count(pair => pair.First > 1.05 * pair.Second && pair.First > pair.Second + 0.010);
            var offer = new JointCorrection(candidate, nothing.BeforeMm, after.Average(), (double)worse / Points);
            if (offer.ProbabilityOfHarm <= harm && offer.AfterMm < best.AfterMm)
                best = offer;
        }

        return nothing.AfterMm - best.AfterMm > LeastGainMm ? best : nothing;
    }

    // An estimate beyond three of its standard deviations about the prior says that prior or reading is wrong: the prior is dropped.
    private static (Vector<double> Mean, Matrix<double> Spread) Posterior(double[] found, Matrix<double> covariance, double[] priors)
    {
        var precision = covariance.Inverse();
        var held = Matrix<double>.Build.Dense(5, 5);
        for (var i = 0; i < 5; i++)
        {
            var prior = priors[i];
            var conflict = Math.Abs(found[i]) > 3 * Math.Sqrt(covariance[i, i] + (prior * prior));
            held[i, i] = double.IsInfinity(prior) || conflict ? 0 : 1 / (prior * prior);
        }

        var spread = (precision + held).Inverse();
        spread = (spread + spread.Transpose()) / 2;
        return (spread * precision * Vector<double>.Build.Dense(found), spread);
    }

    private static IEnumerable<PlaneErrors> Candidates(double[] mean, double[] deviations)
    {
        foreach (var threshold in Thresholds)
            yield return Above(i => threshold);
        yield return Above(i => i == 2 ? 0 : double.PositiveInfinity);
        yield return Above(i => i == 2 ? 0 : 2);
        yield return Above(i => i >= 2 ? 2 : double.PositiveInfinity);

        PlaneErrors Above(Func<int, double> threshold) =>
            PlaneErrors.Of([.. mean.Select((value, i) => Math.Abs(value) > threshold(i) * deviations[i] && Possible(i, value) ? value : 0)]);

        // A controller takes up lost motion; it cannot add any.
        static bool Possible(int i, double value) => i < 3 || value < 0;
    }

    private static double[] NormalPoint(int index) =>
        [.. new[] { 2, 3, 5, 7, 11 }.Select(basis => Normal.InvCDF(0, 1, RadicalInverse(index, basis)))];

    private static double RadicalInverse(int index, int basis)
    {
        var (result, fraction) = (0.0, 1.0 / basis);
        for (; index > 0; index /= basis, fraction /= basis)
            result += fraction * (index % basis);
        return result;
    }
}
