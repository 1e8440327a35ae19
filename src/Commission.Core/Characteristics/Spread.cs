using System.Collections.Immutable;
using Commission.Core.Quantities;

namespace Commission.Core.Characteristics;

/// <summary>Distribution of an estimate about the truth: a Student part and rectangular parts, folded together.</summary>
/// <param name="Parts">The contributions.</param>
internal sealed record Spread(IReadOnlyList<UncertaintyPart> Parts)
{
    /// <summary>Combined standard uncertainty.</summary>
    public double Combined => Math.Sqrt(Parts.Sum(p => p.Uncertainty * p.Uncertainty));

    /// <summary>Root sum of squares of the parts that would be drawn afresh.</summary>
    public double Fresh => Math.Sqrt(Parts.Where(p => !p.Shared).Sum(p => p.Uncertainty * p.Uncertainty));

    /// <summary>Root sum of squares of the parts shared with other results.</summary>
    public double Shared => Math.Sqrt(Parts.Where(p => p.Shared).Sum(p => p.Uncertainty * p.Uncertainty));

    /// <summary>Effective degrees of freedom (Welch and Satterthwaite, JCGM 100 G.4), not truncated; infinite where every part is exact.</summary>
    public double DegreesOfFreedom => Welch(Parts);

    /// <summary>Half width of the symmetric interval that holds the truth with a probability.</summary>
    public double HalfWidth(double coverage)
    {
        var student = Parts.Where(p => !p.Rectangular && p.Uncertainty > 0).ToArray();
        double[] halves = [.. Parts.Where(p => p.Rectangular && p.Uncertainty > 0).Select(p => p.Uncertainty * Math.Sqrt(3))];
        var scale = Math.Sqrt(student.Sum(p => p.Uncertainty * p.Uncertainty));
        return Coverage.TwoSided(coverage, scale, Welch(student), halves);
    }

    /// <summary>The shares of the parts in the square of the combined uncertainty, largest first; empty where there is none.</summary>
    public ImmutableArray<BudgetLine> Budget
    {
        get
        {
            var total = Parts.Sum(p => p.Uncertainty * p.Uncertainty);
            return total == 0 ? [] : [.. Parts.Where(p => p.Uncertainty > 0)
                .Select(p => new BudgetLine(p.Source, p.Uncertainty * p.Uncertainty / total, p.RepeatingHelps))
                .OrderByDescending(line => line.Share)];
        }
    }

    /// <summary>Guard band of a decision at a limit: one-sided 95 % (after ISO 14253-1:2017, from memory).</summary>
    public double Guard => HalfWidth(0.90);

    private static double Welch(IReadOnlyList<UncertaintyPart> parts)
    {
        var variance = parts.Sum(p => p.Uncertainty * p.Uncertainty);
        var sum = parts.Sum(p => double.IsPositiveInfinity(p.DegreesOfFreedom) ? 0 : Math.Pow(p.Uncertainty, 4) / p.DegreesOfFreedom);
        return sum > 0 ? variance * variance / sum : double.PositiveInfinity;
    }
}
