using MathNet.Numerics;

namespace Commission.Core.Quantities;

/// <summary>Incomplete beta and gamma functions, regularised, by continued fraction or series; both tails, so that small ones keep their digits.</summary>
/// <remarks>Fractions and series: NIST Digital Library of Mathematical Functions, 8.7, 8.9 and 8.17 (from memory). Results are checked against 30-digit values.</remarks>
internal static class IncompleteFunctions
{
    private const double Tiny = 1e-300;

    /// <summary>What Stirling's formula leaves out of the logarithm of the gamma function: small, and free of cancellation for large arguments.</summary>
    public static double StirlingRest(double x)
    {
        if (x < 12) return SpecialFunctions.GammaLn(x) - (((x - .5) * Math.Log(x)) - x + (.5 * Math.Log(2 * Math.PI)));
        var r = 1 / (x * x);
        return ((1.0 / 12) - (r * ((1.0 / 360) - (r * ((1.0 / 1260) - (r * ((1.0 / 1680) - (r * ((1.0 / 1188) - (r * 691 / 360360)))))))))) / x;
    }

    /// <summary>The lower and the upper regularised incomplete beta function.</summary>
    /// <param name="x">Upper limit, 0 to 1.</param>
    /// <param name="y">1 - x, given apart so that neither loses digits.</param>
    /// <param name="a">First parameter, positive.</param>
    /// <param name="b">Second parameter, positive.</param>
    public static (double Lower, double Upper) Beta(double x, double y, double a, double b)
    {
        if (x <= 0) return (0, 1);
        if (y <= 0) return (1, 0);
        var power = BetaPower(x, y, a, b);
        if (x < (a + 1) / (a + b + 2))
        {
            var lower = power * BetaFraction(x, a, b) / a;
            return (lower, 1 - lower);
        }

        var upper = power * BetaFraction(y, b, a) / b;
        return (1 - upper, upper);
    }

    /// <summary>x^a y^b / B(a, b).</summary>
    public static double BetaPower(double x, double y, double a, double b) =>
        Math.Exp((a * Math.Log(x * (a + b) / a)) + (b * Math.Log(y * (a + b) / b)) + StirlingRest(a + b) - StirlingRest(a) - StirlingRest(b))
        * Math.Sqrt(a / (a + b) * b / (2 * Math.PI));

    /// <summary>The continued fraction of the incomplete beta function, by the method of Lentz.</summary>
    public static double BetaFraction(double x, double a, double b)
    {
        double c = 1, d = 1 / Away(1 - ((a + b) * x / (a + 1)));
        var h = d;
        for (var m = 1; m < 100_000; m++)
        {
            var even = m * (b - m) * x / ((a + (2 * m) - 1) * (a + (2 * m)));
            var odd = -(a + m) * (a + b + m) * x / ((a + (2 * m)) * (a + (2 * m) + 1));
            d = 1 / Away(1 + (even * d));
            c = Away(1 + (even / c));
            h *= d * c;
            d = 1 / Away(1 + (odd * d));
            c = Away(1 + (odd / c));
            h *= d * c;
            if (Math.Abs((d * c) - 1) < 2e-16) break;
        }

        return h;
    }

    /// <summary>The lower and the upper regularised incomplete gamma function.</summary>
    /// <param name="a">Parameter, positive.</param>
    /// <param name="x">Limit, 0 or more.</param>
    public static (double Lower, double Upper) Gamma(double a, double x)
    {
        if (x <= 0) return (0, 1);
        var power = GammaPower(a, x);
        if (x < a + 1)
        {
            double term = 1 / a, sum = term;
            for (var n = 1; n < 100_000 && term > sum * 1e-17; n++)
            {
                term *= x / (a + n);
                sum += term;
            }

            return (power * sum, 1 - (power * sum));
        }

        double b = x + 1 - a, c = 1 / Tiny, d = 1 / b, h = d;
        for (var n = 1; n < 100_000; n++)
        {
            var an = -n * (n - a);
            b += 2;
            d = 1 / Away((an * d) + b);
            c = Away(b + (an / c));
            h *= d * c;
            if (Math.Abs((d * c) - 1) < 2e-16) break;
        }

        return (1 - (power * h), power * h);
    }

    /// <summary>x^a e^-x / Gamma(a).</summary>
    public static double GammaPower(double a, double x) =>
        Math.Exp((a * Math.Log(x / a)) + (a - x) - StirlingRest(a)) * Math.Sqrt(a / (2 * Math.PI));

    private static double Away(double value) => Math.Abs(value) < Tiny ? Tiny : value;
}
