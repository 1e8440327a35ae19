namespace Commission.Core.Quantities;

/// <summary>
/// Half widths of coverage intervals for the sum of one Student (or normal) part and rectangular parts, from the distribution the sum
/// really has: JCGM 101 by closed form instead of by trials.
/// </summary>
/// <remarks>
/// The distribution function of the sum with one or two rectangular parts is a first or second difference quotient of the repeated
/// integrals of the Student distribution function, which are elementary in its density and distribution function (own derivation).
/// Parts narrower than half the Student part would lose digits there and are averaged over twelve Gauss-Legendre points instead.
/// Of more than two rectangular parts the smaller ones count as normal.
/// </remarks>
public static class Coverage
{
    /// <summary>The q with probability p of lying between -q and q.</summary>
    /// <param name="probability">Coverage probability, between 0 and 1.</param>
    /// <param name="studentPart">Standard uncertainty of the Student part, 0 or more.</param>
    /// <param name="degreesOfFreedom">Its degrees of freedom, positive; infinity for a normal part.</param>
    /// <param name="halfWidths">Half widths of the rectangular parts, 0 or more, in the same unit.</param>
    public static double TwoSided(double probability, double studentPart, double degreesOfFreedom, params ReadOnlySpan<double> halfWidths) =>
        OneSided((1 + Probability.Checked(probability)) / 2, studentPart, degreesOfFreedom, halfWidths);

    /// <summary>The q with probability p of lying below q; for guard bands.</summary>
    /// <param name="probability">Coverage probability, more than one half and less than 1.</param>
    /// <param name="studentPart">Standard uncertainty of the Student part, 0 or more.</param>
    /// <param name="degreesOfFreedom">Its degrees of freedom, positive; infinity for a normal part.</param>
    /// <param name="halfWidths">Half widths of the rectangular parts, 0 or more, in the same unit.</param>
    public static double OneSided(double probability, double studentPart, double degreesOfFreedom, params ReadOnlySpan<double> halfWidths)
    {
        if (!(studentPart >= 0)) throw new ArgumentOutOfRangeException(nameof(studentPart), "A standard uncertainty is not negative.");
        var parts = SumOfParts.Of(studentPart, degreesOfFreedom, halfWidths);
        if (parts.Scale == 0 && parts.Wide == 0) return 0;
        if (parts.Wide == 0) return parts.Scale * StudentT.Quantile(Probability.Checked(probability), parts.DegreesOfFreedom);

        double low = 0, high = parts.Wide + parts.Narrow;
        if (parts.Scale > 0) high += parts.Scale * StudentT.Quantile(probability, parts.DegreesOfFreedom);
        return Root(x => parts.Distribution(x) - probability, low, high);
    }

    // False position; an end that stays twice has its value halved (Illinois), so that neither end sticks.
    private static double Root(Func<double, double> f, double low, double high)
    {
        double below = f(low), above = f(high);
        if (above <= 0) return high;
        var stayed = 0;
        for (var k = 0; k < 200; k++)
        {
            var x = ((low * above) - (high * below)) / (above - below);
            if (!(x > low && x < high)) x = (low + high) / 2;
            if (!(x > low && x < high)) return x;
            var y = f(x);
            if (Math.Abs(y) <= 2e-16) return x;
            if (y < 0)
            {
                (low, below) = (x, y);
                if (stayed < 0) above /= 2;
                stayed = -1;
            }
            else
            {
                (high, above) = (x, y);
                if (stayed > 0) below /= 2;
                stayed = 1;
            }

            if (high - low <= 1e-15 * high) break;
        }

        return (low + high) / 2;
    }
}
