using System.Globalization;

namespace Commission.Core.Quantities;

/// <summary>A reading as it is printed: what was understood, with a point, to the last digit that the instrument shows.</summary>
public static class ReadingText
{
    private const int MostDecimals = 4;

    // A share of the last digit: what binary fractions leave over.
    private const double Whole = 1e-6;

    /// <summary>The reading with its unit, for example <c>148.36 mm</c>.</summary>
    /// <param name="typed">What was typed; its digits are kept where they say the same.</param>
    /// <param name="value">What was understood, in <paramref name="unit"/>.</param>
    /// <param name="unit">Symbol of the unit it is kept in.</param>
    /// <param name="units">Units to show it in.</param>
    /// <param name="lastDigitMm">Last digit of the instrument, mm; null where it is not known.</param>
    public static string Of(string typed, double value, string unit, ShownUnits units, double? lastDigitMm = null)
    {
        var (shown, symbol) = units.Show(value, unit);
        return $"{Digits(typed, shown, symbol, lastDigitMm)} {symbol}".TrimEnd();
    }

    /// <summary>Its digits alone.</summary>
    /// <param name="typed">What was typed.</param>
    /// <param name="shown">What was understood, in the unit shown.</param>
    /// <param name="symbol">Symbol of the unit shown.</param>
    /// <param name="lastDigitMm">Last digit of the instrument, mm; null where it is not known.</param>
    public static string Digits(string typed, double shown, string symbol, double? lastDigitMm = null)
    {
        if (Unit.Find(symbol) is null && typed.Length > 0)
            return PlainText.Of(typed).Trim().Replace(',', '.');
        var asTyped = !typed.Any(char.IsLetter) && TypedNumber.Read(typed, symbol) is NumberReading.Clear clear && Math.Abs(clear.Number.Value - shown) <= 1e-9 * Math.Max(1, Math.Abs(shown));
        var text = asTyped ? PlainText.Of(typed).Trim().Replace(',', '.') : shown.ToString("0.####", CultureInfo.InvariantCulture);
        return symbol == "mm" && lastDigitMm is > 0 and var digit && text.All(character => char.IsAsciiDigit(character) || character is '.' or '-') ? AtLeast(text, shown, digit) : text;
    }

    // 152.1 on an instrument that shows hundredths is 152.10; more digits than it has are what somebody typed.
    private static string AtLeast(string text, double shown, double digit)
    {
        var decimals = Enumerable.Range(0, MostDecimals + 1).First(count => count == MostDecimals || Math.Abs((digit * Math.Pow(10, count)) - Math.Round(digit * Math.Pow(10, count))) < Whole);
        var point = text.IndexOf('.', StringComparison.Ordinal);
        return (point < 0 ? 0 : text.Length - point - 1) < decimals ? shown.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture) : text;
    }
}
