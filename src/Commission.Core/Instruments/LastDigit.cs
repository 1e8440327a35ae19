using Commission.Core.Quantities;

namespace Commission.Core.Instruments;

/// <summary>The last digit of an instrument in the unit it stands in: it was told in millimetres or in inches, and in the other unit it shows some digit that nobody told.</summary>
public static class LastDigit
{
    // A share of the last digit: what is left over by binary fractions.
    private const double Whole = 1e-6;

    // Inches are typed to four decimals at most; an instrument whose digit is told in mm shows some digit of an inch, and nobody told which.
    private const double FinestInch = 0.0001;

    /// <summary>The digit in inches where it was told in them; null where it was told in mm.</summary>
    /// <param name="digitMm">Last digit, mm, positive.</param>
    public static double? ToldInches(double digitMm) => Math.Round(digitMm / Inch.Mm, 5) is > 0 and var told && Math.Abs((digitMm / Inch.Mm) - told) < 1e-9 ? told : null;

    /// <summary>The finest digit that it can show, in mm or in inches. A digit told in inches is, in mm, the next finer decimal one.</summary>
    /// <param name="digitMm">Last digit, mm, positive.</param>
    /// <param name="inches">Whether it stands in inches.</param>
    public static double Of(double digitMm, bool inches) => inches ? ToldInches(digitMm) ?? FinestInch : ToldInches(digitMm) is null ? digitMm : Math.Pow(10, Math.Floor(Math.Log10(digitMm) + Whole));

    // Steps of an inch that instruments show and are divided in (common practice, no source).
    private static readonly double[] InchSteps = [0.00005, 0.0001, 0.0005, 0.001, 0.005, 1.0 / 64, 1.0 / 32, 1.0 / 16];

    /// <summary>The step of an inch, in inches, that an instrument mostly shows which is described by a step in mm: the nearest by ratio.</summary>
    /// <param name="digitMm">Last digit, mm, positive.</param>
    public static double UsualInches(double digitMm) => InchSteps.MinBy(step => Math.Abs(Math.Log(step * Inch.Mm / digitMm)));

    /// <summary>Whether a value is a whole number of digits.</summary>
    /// <param name="value">The value.</param>
    /// <param name="digit">The digit, in the unit of the value.</param>
    public static bool IsWhole(double value, double digit)
    {
        var steps = value / digit;
        return Math.Abs(steps - Math.Round(steps)) <= Math.Max(Whole, Math.Abs(steps) * 1e-12);
    }

    /// <summary>Whether an instrument can show a length: within its reach, and to no finer digit than its last one in mm or in inches. True where that is not known.</summary>
    /// <param name="instrument">The instrument; null where nobody knows.</param>
    /// <param name="mm">The length, mm.</param>
    public static bool Shows(Instrument? instrument, double mm) => instrument is null
        || (!instrument.IsTooShortFor(mm) && (instrument.ResolutionMm is not (> 0 and var digit) || IsWhole(mm, Of(digit, inches: false)) || IsWhole(mm / Inch.Mm, Of(digit, inches: true))));
}
