namespace Commission.Core.Quantities;

/// <summary>Inverts a distribution on the positive half line by Newton's method kept inside a bracket.</summary>
internal static class Inversion
{
    /// <summary>The x at which the smaller tail has its probability.</summary>
    /// <param name="lower">Probability below x.</param>
    /// <param name="upper">Probability above x.</param>
    /// <param name="start">First guess, positive.</param>
    /// <param name="at">Both tails and the density at a positive x.</param>
    public static double Positive(double lower, double upper, double start, Func<double, (double Lower, double Upper, double Density)> at)
    {
        double Beyond(double x)
        {
            var (below, above, _) = at(x);
            return lower < upper ? below - lower : upper - above;
        }

        double low = start, high = start;
        while (Beyond(low) > 0 && low > 1e-300) (high, low) = (low, low / 4);
        while (Beyond(high) < 0 && high < 1e300) (low, high) = (high, high * 4);
        var x = start >= low && start <= high ? start : Math.Sqrt(low * high);
        for (var k = 0; k < 300; k++)
        {
            var (below, above, density) = at(x);

            // Logarithms of tails are nearly straight far out, tails themselves near the middle.
            var gap = lower < upper
                ? lower < .1 ? below * Math.Log(lower / below) : lower - below
                : upper < .1 ? above * Math.Log(above / upper) : above - upper;
            if (gap > 0) low = x;
            else high = x;
            var next = x + (gap / density);
            if (!(next > low && next < high)) next = (low + high) / 2;
            if (Math.Abs(next - x) <= 2e-16 * x) return next;
            x = next;
        }

        return x;
    }
}
