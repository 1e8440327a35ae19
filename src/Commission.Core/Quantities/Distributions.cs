using MathNet.Numerics;

namespace Commission.Core.Quantities;

/// <summary>The normal distribution with mean 0 and standard deviation 1.</summary>
public static class StandardNormal
{
    /// <summary>Probability of a value up to z.</summary>
    public static double Distribution(double z) => .5 * SpecialFunctions.Erfc(-z / Math.Sqrt(2));

    /// <summary>Density.</summary>
    public static double Density(double z) => Math.Exp(-z * z / 2) / Math.Sqrt(2 * Math.PI);

    /// <summary>The value below which the probability is p.</summary>
    /// <exception cref="ArgumentOutOfRangeException">p is not between 0 and 1.</exception>
    public static double Quantile(double p) => -Math.Sqrt(2) * SpecialFunctions.ErfcInv(2 * Probability.Checked(p));
}

/// <summary>Student's t distribution; the degrees of freedom need not be whole, infinity is the normal distribution.</summary>
public static class StudentT
{
    // Beyond this the expansion about the normal distribution is more accurate than the continued fraction.
    private const double NearlyNormal = 1e5;

    /// <summary>Probability of a value up to t.</summary>
    public static double Distribution(double t, double degreesOfFreedom)
    {
        var (tail, centre) = Tail(Math.Abs(t), degreesOfFreedom);
        return t < 0 ? tail : .5 + centre;
    }

    /// <summary>Density.</summary>
    public static double Density(double t, double degreesOfFreedom)
    {
        var v = degreesOfFreedom;
        if (double.IsPositiveInfinity(v)) return StandardNormal.Density(t);
        var size = Math.Exp(IncompleteFunctions.StirlingRest((v + 1) / 2) - IncompleteFunctions.StirlingRest(v / 2) - .5 + (v / 2 * Log1P(1 / v)));
        return size / Math.Sqrt(2 * Math.PI) * Math.Exp(-(v + 1) / 2 * Log1P(t * t / v));
    }

    /// <summary>The value below which the probability is p.</summary>
    /// <param name="p">Probability, between 0 and 1.</param>
    /// <param name="degreesOfFreedom">Positive; infinity allowed.</param>
    public static double Quantile(double p, double degreesOfFreedom) => Probability.Checked(p) < .5
        ? -UpperQuantile(p, degreesOfFreedom)
        : UpperQuantile(1 - p, degreesOfFreedom);

    /// <summary>The value above which the probability is q.</summary>
    /// <param name="q">Probability, between 0 and 1.</param>
    /// <param name="degreesOfFreedom">Positive; infinity allowed.</param>
    public static double UpperQuantile(double q, double degreesOfFreedom)
    {
        Probability.Checked(q);
        if (!(degreesOfFreedom > 0)) throw new ArgumentOutOfRangeException(nameof(degreesOfFreedom), "Degrees of freedom are positive.");
        if (q == .5) return 0;
        if (q > .5) return -UpperQuantile(1 - q, degreesOfFreedom);
        var v = degreesOfFreedom;
        var z = -StandardNormal.Quantile(q);
        if (v > NearlyNormal)
        {
            // Cornish-Fisher expansion; Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.5 (from memory).
            var square = z * z;
            return z * (1 + ((square + 1) / (4 * v)) + (((((5 * square) + 16) * square) + 3) / (96 * v * v)));
        }

        return v switch
        {
            1 => 1 / Math.Tan(Math.PI * q),
            2 => (1 - (2 * q)) / Math.Sqrt(2 * q * (1 - q)),
            _ => Inversion.Positive(1 - q, q, Math.Max(z, 1e-3), t => (.5 + Tail(t, v).Centre, Tail(t, v).Tail, Density(t, v))),
        };
    }

    // Probability beyond t >= 0, and between 0 and t.
    private static (double Tail, double Centre) Tail(double t, double v)
    {
        if (v > 1e9) return (StandardNormal.Distribution(-t), .5 - StandardNormal.Distribution(-t));
        var square = t * t;
        double x = v / (v + square), y = square / (v + square);
        if (y == 0) return (.5, 0);

        // x^(v/2) y^(1/2) / B(v/2, 1/2), from the density: no difference of large logarithms.
        var power = Density(t, v) * t;
        if (x < ((v / 2) + 1) / ((v / 2) + 2.5))
        {
            var tail = power * IncompleteFunctions.BetaFraction(x, v / 2, .5) / v;
            return (tail, .5 - tail);
        }

        var centre = power * IncompleteFunctions.BetaFraction(y, .5, v / 2);
        return (.5 - centre, centre);
    }

    private static double Log1P(double x) => SpecialFunctions.Log1p(x);
}

/// <summary>The chi-square distribution; the degrees of freedom need not be whole.</summary>
public static class ChiSquare
{
    /// <summary>Probability of a value up to x.</summary>
    public static double Distribution(double x, double degreesOfFreedom) => IncompleteFunctions.Gamma(degreesOfFreedom / 2, x / 2).Lower;

    /// <summary>The value below which the probability is p.</summary>
    public static double Quantile(double p, double degreesOfFreedom)
    {
        Probability.Checked(p);
        var a = degreesOfFreedom / 2;
        var z = StandardNormal.Quantile(p);
        var guess = degreesOfFreedom * Math.Pow(Math.Max(.05, 1 - (2 / (9 * degreesOfFreedom)) + (z * Math.Sqrt(2 / (9 * degreesOfFreedom)))), 3);
        return Inversion.Positive(p, 1 - p, Math.Max(guess, 1e-8), x =>
        {
            var (lower, upper) = IncompleteFunctions.Gamma(a, x / 2);
            return (lower, upper, IncompleteFunctions.GammaPower(a, x / 2) / x);
        });
    }
}

/// <summary>The F distribution (ratio of two mean squares); the degrees of freedom need not be whole.</summary>
public static class FisherF
{
    /// <summary>Probability of a value up to f.</summary>
    public static double Distribution(double f, double numerator, double denominator) => Tails(f, numerator, denominator).Lower;

    /// <summary>Probability of a value above f.</summary>
    public static double Upper(double f, double numerator, double denominator) => Tails(f, numerator, denominator).Upper;

    /// <summary>The value below which the probability is p.</summary>
    public static double Quantile(double p, double numerator, double denominator)
    {
        Probability.Checked(p);
        return Inversion.Positive(p, 1 - p, 1, f =>
        {
            var (lower, upper) = Tails(f, numerator, denominator);
            double n = numerator * f, sum = n + denominator;
            return (lower, upper, IncompleteFunctions.BetaPower(n / sum, denominator / sum, numerator / 2, denominator / 2) / f);
        });
    }

    private static (double Lower, double Upper) Tails(double f, double numerator, double denominator)
    {
        if (f <= 0) return (0, 1);
        double n = numerator * f, sum = n + denominator;
        return IncompleteFunctions.Beta(n / sum, denominator / sum, numerator / 2, denominator / 2);
    }
}

/// <summary>Checks probabilities.</summary>
internal static class Probability
{
    public static double Checked(double p) =>
        p is > 0 and < 1 ? p : throw new ArgumentOutOfRangeException(nameof(p), "A probability lies between 0 and 1.");
}
