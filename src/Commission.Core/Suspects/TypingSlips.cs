using System.Globalization;
using Commission.Core.Quantities;

namespace Commission.Core.Suspects;

/// <summary>What a typed length may have been meant to be. Offered with a question, never applied (slips X1 to X5 of the catalogue).</summary>
public static class TypingSlips
{
    // Graduations that are lost or counted twice, in the unit of the scale.
    private static readonly double[] Millimetres = [1, 10, 100, 0.1, 0.5, Inch.Mm];
    private static readonly double[] Inches = [1, 10, 0.1, 0.025, 0.05, 0.0625, 0.125, 1 / Inch.Mm];

    /// <summary>The commonest slip that would bring a value near what is expected.</summary>
    /// <param name="value">The value as typed, mm.</param>
    /// <param name="expected">What the other readings let expect, mm.</param>
    /// <param name="near">How near it must come, mm.</param>
    /// <param name="units">Units it was typed in: digits are swapped and miscounted as they stood in the cell; millimetres where not told.</param>
    /// <param name="canBe">Whether the instrument can show a value, mm; all can be where not told.</param>
    /// <returns>The value it may have meant with the slip in words; null where no slip explains it.</returns>
    public static (double Meant, string Slip)? Explain(double value, double expected, double near, ShownUnits? units = null, Func<double, bool>? canBe = null)
    {
        return Meanings(value, units)
            .Where(candidate => Math.Abs(candidate.Meant - expected) <= near && canBe?.Invoke(candidate.Meant) != false)
            .OrderBy(candidate => Math.Abs(candidate.Meant - expected))
            .Select(candidate => ((double, string)?)candidate)
            .FirstOrDefault();
    }

    /// <summary>All that a typed length may have been meant to be, mm, with the slip in words.</summary>
    /// <param name="value">The value as typed, mm.</param>
    /// <param name="units">Units it was typed in; millimetres where not told.</param>
    public static IEnumerable<(double Meant, string Slip)> Meanings(double value, ShownUnits? units = null)
    {
        var length = (units ?? ShownUnits.Millimetres).Length;
        return Candidates(value / length.Factor, length.Symbol).Select(candidate => (Meant: Math.Round(candidate.Meant * length.Factor, 6), candidate.Slip));
    }

    /// <summary>Whether a slip in words is a graduation lost or counted twice, and none of the digits, the point or the unit.</summary>
    /// <param name="slip">The slip.</param>
    internal static bool IsMiscount(string slip) => slip.EndsWith(Miscounted, StringComparison.Ordinal);

    private const string Miscounted = " miscounted";

    private static IEnumerable<(double Meant, string Slip)> Candidates(double value, string unit)
    {
        foreach (var swapped in Swaps(value)) yield return swapped;
        foreach (var miscount in unit == "in" ? Inches : Millimetres)
        {
            var words = Math.Round(miscount, 4).ToString(CultureInfo.InvariantCulture) + $" {unit}{Miscounted}";
            yield return (Math.Round(value + miscount, 6), words);
            yield return (Math.Round(value - miscount, 6), words);
        }

        // To the digits of the other unit: what was read there is what it may have meant.
        yield return (value * Inch.Mm, "inches typed as millimetres");
        yield return (value / Inch.Mm, "millimetres typed as inches");
        yield return (Math.Round(value * 10, 6), "the decimal point one place off");
        yield return (Math.Round(value / 10, 6), "the decimal point one place off");
        yield return (-value, "the sign");
    }

    private static IEnumerable<(double, string)> Swaps(double value)
    {
        var text = Math.Round(value, 6).ToString("0.00######", CultureInfo.InvariantCulture).ToCharArray();
        var digits = Enumerable.Range(0, text.Length).Where(i => char.IsAsciiDigit(text[i])).ToArray();
        for (var i = 0; i + 1 < digits.Length; i++)
        {
            var (a, b) = (digits[i], digits[i + 1]);
            if (text[a] == text[b]) continue;
            var swapped = (char[])text.Clone();
            (swapped[a], swapped[b]) = (swapped[b], swapped[a]);
            yield return (double.Parse(swapped, CultureInfo.InvariantCulture), $"{text[a]} and {text[b]} swapped");
        }
    }
}
