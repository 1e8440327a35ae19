using System.Globalization;

namespace Commission.Core.Quantities;

/// <summary>A number as somebody typed it: the text is kept, because its zeros tell the resolution.</summary>
/// <param name="Typed">What was typed, trimmed.</param>
/// <param name="Value">The number, in <paramref name="Unit"/>.</param>
/// <param name="LastDigit">One step of the last digit typed, in the same unit; 0 where it cannot be told.</param>
/// <param name="Unit">The unit typed, or else the one assumed.</param>
public sealed record TypedNumber(string Typed, double Value, double LastDigit, Unit Unit)
{
    /// <summary>The value in another unit of the same sort.</summary>
    public double In(string unit) => Convert(Value, unit);

    /// <summary>The step of the last digit in another unit of the same sort.</summary>
    public double LastDigitIn(string unit) => Convert(LastDigit, unit);

    /// <summary>Understands a number with comma or point, sign (U+2212 too), unit and, where inches are assumed, fractions as <c>3 1/8</c>.</summary>
    /// <param name="text">What was typed.</param>
    /// <param name="assumedUnit">Symbol of the unit where none is typed.</param>
    /// <returns>What it means; both meanings where <c>1,234</c> leaves two.</returns>
    public static NumberReading Read(string text, string assumedUnit)
    {
        var typed = Words.Clean(text).Trim();
        var assumed = Unit.Of(assumedUnit);
        if (typed.Length == 0)
            return Refuse("nothing was typed", "Type a number such as 20.01");
        var plain = typed.Replace('\u2212', '-').Replace('\u2013', '-');
        var (number, unit) = SplitUnit(plain, assumed);
        if (unit is null || !number.Any(char.IsAsciiDigit))
            return Refuse($"\"{typed}\" is not a number{(assumed.Symbol == "1" ? "" : " with a unit known here")}", Asked(assumed.Symbol));
        if (unit.Canonical != assumed.Canonical)
            return Refuse($"\"{typed}\" is given in {unit.Symbol}", $"Type it in {(assumed.Symbol == "in" ? "inches" : assumed.Symbol)}");
        if (number.Contains('/', StringComparison.Ordinal))
            return Fraction(typed, number, unit);
        return Decimal(typed, number, unit);
    }

    private static string Asked(string symbol) => symbol switch
    {
        "1" => "Type a number, for example 20.01",
        "in" => "Type a number in inches, for example 3.125 or 3 1/8",
        _ => $"Type a number in {symbol}, for example 20.01",
    };

    private static NumberReading Decimal(string typed, string number, Unit unit)
    {
        var commas = number.Count(c => c == ',');
        if (commas > 1 || (commas == 1 && number.Contains('.', StringComparison.Ordinal)))
            return Refuse($"\"{typed}\" has more than one decimal sign", "Type it without separators between the thousands");
        if (Plain(typed, number.Replace(',', '.'), unit) is not { } value)
            return Refuse($"\"{typed}\" is not a number", "Type digits with one comma or point, for example 20.01");
        if (commas == 1 && LooksLikeThousands(number) && Plain(typed, number.Replace(",", "", StringComparison.Ordinal), unit) is { } thousands)
            return new NumberReading.Ambiguous(value, thousands);
        return new NumberReading.Clear(value);
    }

    /// <summary>One to three digits other than a lone zero, a comma, exactly three digits.</summary>
    private static bool LooksLikeThousands(string number)
    {
        var digits = number.TrimStart('+', '-').Trim();
        var comma = digits.IndexOf(',', StringComparison.Ordinal);
        return comma is >= 1 and <= 3 && digits.Length == comma + 4 && digits[0] != '0' && digits.Where(c => c != ',').All(char.IsAsciiDigit);
    }

    private static TypedNumber? Plain(string typed, string number, Unit unit)
    {
        const NumberStyles style = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent;
        var text = number.Trim();
        if (text.Length > 1 && text[0] is '+' or '-')
            text = text[0] + text[1..].TrimStart();
        if (!double.TryParse(text, style, CultureInfo.InvariantCulture, out var value) || !double.IsFinite(value))
            return null;
        return new TypedNumber(typed, value, StepOf(text), unit);
    }

    private static double StepOf(string text)
    {
        var end = text.IndexOfAny(['e', 'E']);
        var exponent = 0;
        if (end >= 0 && !int.TryParse(text[(end + 1)..], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out exponent))
            return 0;
        var mantissa = end >= 0 ? text[..end] : text;
        var point = mantissa.IndexOf('.', StringComparison.Ordinal);
        var decimals = point < 0 ? 0 : mantissa.Length - point - 1;
        return double.Parse(string.Create(CultureInfo.InvariantCulture, $"1e{exponent - decimals}"), CultureInfo.InvariantCulture);
    }

    private static NumberReading Fraction(string typed, string number, Unit unit)
    {
        if (unit.Symbol != "in")
            return Refuse($"\"{typed}\" is a fraction, and fractions are read in inches only", "Type a decimal number");
        var text = number.Trim();
        var negative = text.StartsWith('-');
        var parts = text.TrimStart('+', '-').Split([' ', '-'], StringSplitOptions.RemoveEmptyEntries);
        var fraction = parts.Length is 1 or 2 ? parts[^1].Split('/') : [];
        var whole = 0;
        if (fraction.Length != 2 || !Natural(fraction[0], out var top) || !Natural(fraction[1], out var bottom) || bottom == 0
            || (parts.Length == 2 && !Natural(parts[0], out whole)))
            return Refuse($"\"{typed}\" is not a fraction of an inch", "Type it as 3 1/8 or 3.125");
        // Nobody reads 31/2 off a scale: the blank of 3 1/2 was not typed, or a digit too many.
        if (parts.Length == 1 && top > bottom)
            return Refuse($"\"{typed}\" is more than one inch as a fraction", "Type the whole inches, a blank, then the fraction, as 3 1/2; or with a point");
        var value = whole + (double)top / bottom;
        return new NumberReading.Clear(new TypedNumber(typed, negative ? -value : value, 1.0 / bottom, unit));
    }

    private static bool Natural(string text, out int value) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out value);

    /// <summary>Parts the digits from what stands behind them.</summary>
    /// <param name="text">A number, and its unit perhaps.</param>
    internal static (string Number, string Suffix) Parted(string text)
    {
        var end = text.Length;
        while (end > 0 && !char.IsAsciiDigit(text[end - 1]) && text[end - 1] is not ('.' or ','))
            end--;
        // A trailing "1/h" begins with a digit: the only unit of that sort.
        if (text.EndsWith("1/h", StringComparison.OrdinalIgnoreCase) && text.Length > 3)
            end = text.Length - 3;
        return (text[..end], text[end..].Trim());
    }

    /// <summary>Parts the digits from the unit behind them; the unit is null where it is not known.</summary>
    private static (string Number, Unit? Unit) SplitUnit(string text, Unit assumed) =>
        Parted(text) is var (number, suffix) && suffix.Length == 0 ? (text, assumed) : (number, Unit.Find(suffix));

    private static NumberReading.NotANumber Refuse(string what, string remedy) => new(new Problem(what, remedy));

    private double Convert(double value, string unit)
    {
        var target = Unit.Of(unit);
        if (target.Canonical != Unit.Canonical)
            throw new ArgumentException($"{Unit.Symbol} cannot be told in {unit}.", nameof(unit));
        return target == Unit ? value : value * Unit.Factor / target.Factor;
    }
}

/// <summary>What a typed text means as a number.</summary>
public abstract record NumberReading
{
    private NumberReading()
    {
    }

    /// <summary>One meaning.</summary>
    /// <param name="Number">The number.</param>
    public sealed record Clear(TypedNumber Number) : NumberReading;

    /// <summary>Two meanings, as <c>1,234</c> has: to be asked, never guessed.</summary>
    /// <param name="AsDecimal">The comma read as the decimal sign.</param>
    /// <param name="AsThousands">The comma read as parting thousands.</param>
    public sealed record Ambiguous(TypedNumber AsDecimal, TypedNumber AsThousands) : NumberReading;

    /// <summary>No number.</summary>
    /// <param name="Problem">Why not, and what to type.</param>
    public sealed record NotANumber(Problem Problem) : NumberReading;
}
