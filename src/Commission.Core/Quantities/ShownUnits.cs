using System.Globalization;

namespace Commission.Core.Quantities;

/// <summary>The units that people see. What is computed, kept and given as JSON does not depend on it.</summary>
public sealed class ShownUnits
{
    private readonly bool inch;

    private ShownUnits(bool inch) => this.inch = inch;

    /// <summary>Millimetres.</summary>
    public static ShownUnits Millimetres { get; } = new(false);

    /// <summary>Inches, and what is made of them.</summary>
    public static ShownUnits Inches { get; } = new(true);

    /// <summary>Words that name one of the two.</summary>
    public static IReadOnlyList<string> Words { get; } = ["mm", "in"];

    /// <summary>The unit of length: <c>mm</c> or <c>in</c>.</summary>
    public Unit Length => Of("mm");

    /// <summary>The units a word stands for; millimetres where there is none.</summary>
    public static ShownUnits Named(string? word) => word == "in" ? Inches : Millimetres;

    /// <summary>The units of whoever works in inches, or not.</summary>
    public static ShownUnits Of(bool inch) => inch ? Inches : Millimetres;

    /// <summary>The unit in which a quantity is shown: ratios as ppm, angles as mrad, lengths as chosen, the rest as it is kept.</summary>
    /// <param name="canonical">The unit it is kept in.</param>
    public Unit Of(string canonical) => (canonical, inch) switch
    {
        ("1", _) => Unit.Of("ppm"),
        ("rad", _) => Unit.Of("mrad"),
        ("mm", true) => Unit.Of("in"),
        ("mm/min", true) => Unit.Of("in/min"),
        ("steps/mm", true) => Unit.Of("steps/in"),
        ("1/mm", true) => new Unit("1/in", "1/mm", 1 / Inch.Mm),
        _ => new Unit(canonical, canonical, 1),
    };

    /// <summary>A value in the unit it is shown in.</summary>
    /// <param name="value">The value as it is kept.</param>
    /// <param name="canonical">The unit it is kept in.</param>
    public (double Value, string Unit) Show(double value, string canonical)
    {
        if (!inch || canonical is "1" or "rad")
            return (value, canonical);
        var unit = Of(canonical);
        return (value / unit.Factor, unit.Symbol);
    }

    /// <summary>A place or distance to the last digit that is commanded or typed, without its unit: three decimals of a millimetre, four of an inch.</summary>
    /// <param name="mm">Length, mm.</param>
    public string Digits(double mm) => (inch ? mm / Inch.Mm : mm).ToString(inch ? "F4" : "F3", CultureInfo.InvariantCulture);

    /// <summary>The step in which small heights are counted, in words, and how many of it make a millimetre: 0.01 mm, or 0.001 in.</summary>
    public (string Words, double PerMm) SmallDigit => inch ? ("0.001 in", 1000 / Inch.Mm) : ("0.01 mm", 100);

    /// <summary>A deviation, in the smallest digits that are worth showing: whole micrometres, or an inch to four decimals.</summary>
    /// <param name="mm">Deviation, mm, with its sign.</param>
    public string Deviation(double mm)
    {
        if (inch)
            return (Math.Abs(mm / Inch.Mm) < 0.00005 ? "+0.0000" : (mm / Inch.Mm).ToString("+0.0000;-0.0000", CultureInfo.InvariantCulture)) + " in";
        return (Math.Abs(mm) < 0.0005 ? "+0" : (mm * 1000).ToString("+0;-0", CultureInfo.InvariantCulture)) + " um";
    }

    /// <summary>A limit of error or a last digit with its unit: three decimals of a millimetre, four or five of an inch.</summary>
    /// <param name="mm">Length, mm.</param>
    public string Limit(double mm) => (inch ? mm / Inch.Mm : mm).ToString(inch ? "0.0000#" : "0.000", CultureInfo.InvariantCulture) + " " + Length.Symbol;

    /// <summary>A sentence with its lengths as they are shown.</summary>
    public string Told(string text) => InchText.In(text, inch);

    /// <summary>A column of readings in the unit it is shown in: <c>x_mm</c> becomes <c>x_in</c>.</summary>
    /// <param name="column">Name of the column.</param>
    public string Column(string column) => inch && IsLength(column) ? column[..^3] + "_in" : column;

    /// <summary>A value of such a column.</summary>
    public double InColumn(double value, string column) => inch && IsLength(column) ? value / Inch.Mm : value;

    private static bool IsLength(string column) => column.EndsWith("_mm", StringComparison.Ordinal);
}
