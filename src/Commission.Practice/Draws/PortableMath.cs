namespace Commission.Practice.Draws;

/// <summary>Elementary functions from the four operations alone, so that every platform gives the same bits: the system's own may differ in the last one.</summary>
/// <remarks>Series after reduction of the argument; accurate to a few units in the last place inside the ranges told.</remarks>
public static class PortableMath
{
    private const double LogTwoHigh = 6.93147180369123816490e-01;
    private const double LogTwoLow = 1.90821492927058770002e-10;
    private const double HalfPiHigh = 1.57079632673412561417;
    private const double HalfPiLow = 6.07710050650619224932e-11;

    /// <summary>Natural logarithm of a normal positive number.</summary>
    public static double Log(double x)
    {
        if (!(x > 0) || double.IsInfinity(x))
            throw new ArgumentOutOfRangeException(nameof(x));
        var exponent = Math.ILogB(x);
        var mantissa = Math.ScaleB(x, -exponent);
        if (mantissa > 1.4142135623730951)
        {
            mantissa /= 2;
            exponent++;
        }

        var s = (mantissa - 1) / (mantissa + 1);
        var square = s * s;
        var sum = 0.0;
        for (var k = 23; k >= 1; k -= 2)
            sum = (sum * square) + (1.0 / k);
        return (exponent * LogTwoHigh) + ((2 * s * sum) + (exponent * LogTwoLow));
    }

    /// <summary>Exponential, for |x| below 700.</summary>
    public static double Exp(double x)
    {
        if (!(Math.Abs(x) < 700))
            throw new ArgumentOutOfRangeException(nameof(x));
        var count = Math.Round(x / (LogTwoHigh + LogTwoLow));
        var rest = x - (count * LogTwoHigh) - (count * LogTwoLow);
        var sum = 1.0;
        for (var k = 17; k >= 1; k--)
            sum = 1 + (rest * sum / k);
        return Math.ScaleB(sum, (int)count);
    }

    /// <summary>Sine of an angle in rad, for |x| below 1e5.</summary>
    public static double Sin(double x)
    {
        var (rest, quadrant) = Reduce(x);
        return quadrant switch
        {
            0 => SineSeries(rest),
            1 => CosineSeries(rest),
            2 => -SineSeries(rest),
            _ => -CosineSeries(rest),
        };
    }

    /// <summary>Cosine of an angle in rad, for |x| below 1e5.</summary>
    public static double Cos(double x)
    {
        var (rest, quadrant) = Reduce(x);
        return quadrant switch
        {
            0 => CosineSeries(rest),
            1 => -SineSeries(rest),
            2 => -CosineSeries(rest),
            _ => SineSeries(rest),
        };
    }

    private static (double Remainder, int Quadrant) Reduce(double x)
    {
        if (!(Math.Abs(x) < 1e5))
            throw new ArgumentOutOfRangeException(nameof(x));
        var count = Math.Round(x / (HalfPiHigh + HalfPiLow));
        return (x - (count * HalfPiHigh) - (count * HalfPiLow), (int)(((long)count % 4) + 4) % 4);
    }

    private static double SineSeries(double x)
    {
        var square = x * x;
        var sum = 1.0;
        for (var k = 20; k >= 2; k -= 2)
            sum = 1 - (square * sum / (k * (k + 1)));
        return x * sum;
    }

    private static double CosineSeries(double x)
    {
        var square = x * x;
        var sum = 1.0;
        for (var k = 19; k >= 1; k -= 2)
            sum = 1 - (square * sum / (k * (k + 1)));
        return sum;
    }
}
