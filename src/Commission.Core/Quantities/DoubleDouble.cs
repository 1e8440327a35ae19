namespace Commission.Core.Quantities;

/// <summary>A number held as the unevaluated sum of two doubles: about 31 decimal digits, range of a double.</summary>
/// <remarks>
/// Error-free sums and products after T. J. Dekker, "A floating-point technique for extending the available precision",
/// Numerische Mathematik 18 (1971), and D. E. Knuth, The Art of Computer Programming, volume 2, 4.2.2.
/// Used where a difference of large numbers must keep its digits: residuals, powers, change of origin. Not for infinities.
/// </remarks>
/// <param name="High">The nearest double.</param>
/// <param name="Low">What is left, at most half a unit in the last place of <paramref name="High"/>.</param>
public readonly record struct DoubleDouble(double High, double Low = 0)
{
    /// <summary>A double, exactly.</summary>
    public static implicit operator DoubleDouble(double value) => new(value);

    /// <summary>The nearest double.</summary>
    public double ToDouble() => High + Low;

    /// <summary>The exact product of two doubles.</summary>
    public static DoubleDouble Product(double a, double b)
    {
        var product = a * b;
        return new(product, Math.FusedMultiplyAdd(a, b, -product));
    }

    /// <summary>The exact sum of two doubles.</summary>
    public static DoubleDouble Sum(double a, double b)
    {
        var sum = a + b;
        var part = sum - a;
        return new(sum, (a - (sum - part)) + (b - part));
    }

    /// <summary>Sum.</summary>
    public static DoubleDouble operator +(DoubleDouble a, DoubleDouble b)
    {
        var high = Sum(a.High, b.High);
        var low = Sum(a.Low, b.Low);
        var first = Ordered(high.High, high.Low + low.High);
        return Ordered(first.High, first.Low + low.Low);
    }

    /// <summary>The negative.</summary>
    public static DoubleDouble operator -(DoubleDouble a) => new(-a.High, -a.Low);

    /// <summary>Difference.</summary>
    public static DoubleDouble operator -(DoubleDouble a, DoubleDouble b) => a + -b;

    /// <summary>Product.</summary>
    public static DoubleDouble operator *(DoubleDouble a, DoubleDouble b)
    {
        var high = Product(a.High, b.High);
        return Ordered(high.High, high.Low + ((a.High * b.Low) + (a.Low * b.High)));
    }

    /// <summary>Quotient.</summary>
    public static DoubleDouble operator /(DoubleDouble a, DoubleDouble b)
    {
        var first = a.High / b.High;
        var rest = a - (b * first);
        var second = rest.High / b.High;
        rest -= b * second;
        return Ordered(first, second) + (rest.High / b.High);
    }

    /// <summary>A whole power, by repeated products.</summary>
    /// <param name="exponent">0 or more.</param>
    public DoubleDouble Power(int exponent)
    {
        DoubleDouble power = 1;
        for (var k = 0; k < exponent; k++) power *= this;
        return power;
    }

    /// <summary>The square root; 0 for 0.</summary>
    public DoubleDouble Root()
    {
        if (High == 0) return 0;
        var root = Math.Sqrt(High);
        var rest = this - Product(root, root);
        return Sum(root, rest.High / (2 * root));
    }

    // The exact sum where the first is not smaller in size than the second.
    private static DoubleDouble Ordered(double a, double b)
    {
        var sum = a + b;
        return new(sum, b - (sum - a));
    }
}
