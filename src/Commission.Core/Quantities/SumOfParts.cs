namespace Commission.Core.Quantities;

/// <summary>The distribution of s T + a U + b U': Student part, and up to two parts uniform on -1 to 1.</summary>
/// <param name="Scale">s, 0 or more.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of T.</param>
/// <param name="Wide">a, the wider half width.</param>
/// <param name="Narrow">b, the narrower half width.</param>
internal sealed record SumOfParts(double Scale, double DegreesOfFreedom, double Wide, double Narrow)
{
    public static SumOfParts Of(double scale, double degreesOfFreedom, ReadOnlySpan<double> halfWidths)
    {
        var widths = halfWidths.ToArray();
        Array.Sort(widths);
        Array.Reverse(widths);

        // The smaller rectangular parts join the Student part as normal ones; its degrees of freedom follow (Welch-Satterthwaite).
        var joined = widths.Skip(2).Sum(a => a * a / 3);
        var variance = (scale * scale) + joined;
        var freedom = joined == 0 || scale == 0
            ? scale == 0 ? double.PositiveInfinity : degreesOfFreedom
            : degreesOfFreedom * Math.Pow(variance / (scale * scale), 2);
        return new SumOfParts(joined == 0 ? scale : Math.Sqrt(variance), freedom, widths.Length > 0 ? widths[0] : 0, widths.Length > 1 ? widths[1] : 0);
    }

    /// <summary>Probability of a sum up to x.</summary>
    public double Distribution(double x)
    {
        // Far narrower than the Student part: no effect that a double could show.
        var wide = Wide > 1e-9 * Scale ? Wide : 0;
        var narrow = Narrow > 1e-9 * Math.Max(Scale, wide) ? Narrow : 0;
        if (narrow > 0 && narrow < Scale / 2) return Averaged(x, narrow, at => One(at, wide));
        return narrow > 0 ? Two(x, wide, narrow) : One(x, wide);
    }

    private double One(double x, double a)
    {
        if (a == 0) return Scale == 0 ? x >= 0 ? 1 : 0 : StudentT.Distribution(x / Scale, DegreesOfFreedom);
        if (a < Scale / 2) return Averaged(x, a, at => StudentT.Distribution(at / Scale, DegreesOfFreedom));
        return (First(x + a) - First(x - a)) / (2 * a);
    }

    private double Two(double x, double a, double b) =>
        (Second(x + a + b) - Second(x + a - b) - Second(x - a + b) + Second(x - a - b)) / (4 * a * b);

    private static double Averaged(double x, double a, Func<double, double> distribution)
    {
        var sum = 0.0;
        foreach (var (node, weight) in GaussLegendre.Twelve) sum += weight * distribution(x + (a * node));
        return sum / 2;
    }

    // Integral of the Student distribution function, less z/2, which is even in z; in the unit of x.
    private double First(double x)
    {
        if (Scale == 0) return Math.Max(x, 0);
        var z = x / Scale;
        var half = StudentT.Distribution(z, DegreesOfFreedom) - .5;
        var v = DegreesOfFreedom;
        var even = double.IsPositiveInfinity(v) ? (z * half) + StandardNormal.Density(z)
            : Near(v, 1) ? ((z * Math.Atan(z)) - (.5 * Math.Log(1 + (z * z)))) / Math.PI
            : Near(v, 2) ? Math.Sqrt(2 + (z * z)) / 2
            : (z * half) + ((v + (z * z)) / (v - 1) * StudentT.Density(z, v));
        return (Scale * even) + (x / 2);
    }

    // Second integral of the Student distribution function, in the square of the unit of x.
    private double Second(double x)
    {
        if (Scale == 0) return x > 0 ? x * x / 2 : 0;
        var z = x / Scale;
        var half = StudentT.Distribution(z, DegreesOfFreedom) - .5;
        var v = DegreesOfFreedom;
        var f = StudentT.Density(z, v);
        var square = z * z;
        var odd = double.IsPositiveInfinity(v) ? (((square + 1) * half) + (z * f)) / 2
            : Near(v, 1) ? (((square - 1) * Math.Atan(z) / 2) + (z / 2) - (z * Math.Log(1 + square) / 2)) / Math.PI
            : Near(v, 2) ? ((z * Math.Sqrt(2 + square)) + (2 * Math.Asinh(z / Math.Sqrt(2)))) / 4
            : ((square * half) + (2 * z * (v + square) / (v - 1) * f) + (((v * half) - (z * (v + square) * f)) / (v - 2))) / 2;
        return (Scale * Scale * odd) + (x * x / 4);
    }

    // At 1 and 2 degrees of freedom the general form has a pole that cancels; it is replaced by its own limit there.
    private static bool Near(double v, double whole) => Math.Abs(v - whole) < 1e-6;
}
