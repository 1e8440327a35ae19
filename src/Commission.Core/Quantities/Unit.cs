using System.Collections.Frozen;

namespace Commission.Core.Quantities;

/// <summary>A unit as people write it, with its factor to the unit the program keeps.</summary>
/// <param name="Symbol">As written, for example <c>mrad</c>.</param>
/// <param name="Canonical">The unit kept inside: <c>mm rad 1 1/h N N/mm mm/min steps/mm d V s</c>.</param>
/// <param name="Factor">One of this unit in canonical units.</param>
public sealed record Unit(string Symbol, string Canonical, double Factor)
{
    private static readonly FrozenDictionary<string, Unit> Known = new Unit[]
    {
        new("mm", "mm", 1), new("cm", "mm", 10), new("m", "mm", 1000), new("um", "mm", 1e-3), new("in", "mm", Inch.Mm),
        new("rad", "rad", 1), new("mrad", "rad", 1e-3), new("urad", "rad", 1e-6), new("deg", "rad", Math.PI / 180),
        new("1", "1", 1), new("ppm", "1", 1e-6), new("%", "1", 1e-2), new("mm/m", "1", 1e-3), new("um/m", "1", 1e-6),
        new("N", "N", 1), new("N/mm", "N/mm", 1), new("mm/min", "mm/min", 1), new("in/min", "mm/min", Inch.Mm),
        new("1/h", "1/h", 1), new("h", "h", 1), new("d", "d", 1), new("s", "s", 1), new("V", "V", 1), new("A", "A", 1),
        new("steps/mm", "steps/mm", 1), new("steps/in", "steps/mm", 1 / Inch.Mm),
        new("K", "K", 1), new("degC", "degC", 1), new("ohm", "ohm", 1),
    }.ToFrozenDictionary(unit => unit.Symbol, StringComparer.OrdinalIgnoreCase);

    private static readonly FrozenDictionary<string, string> Spellings = new Dictionary<string, string>
    {
        ["inch"] = "in", ["inches"] = "in", ["\""] = "in", ["\u2033"] = "in", ["\u00b5m"] = "um", ["\u03bcm"] = "um", ["micron"] = "um",
        ["\u00b0"] = "deg", ["\u00b5rad"] = "urad", ["/h"] = "1/h", ["\u00b0C"] = "degC", ["mm/min."] = "mm/min", ["/in"] = "steps/in", ["steps/inch"] = "steps/in",
    }.ToFrozenDictionary(StringComparer.OrdinalIgnoreCase);

    /// <summary>The unit of a symbol, other spellings included; null where it is not known.</summary>
    public static Unit? Find(string symbol)
    {
        var text = symbol.Trim();
        return Known.GetValueOrDefault(Spellings.GetValueOrDefault(text, text));
    }

    /// <summary>The unit of a symbol that is known to be one.</summary>
    /// <exception cref="ArgumentException">There is no such unit.</exception>
    public static Unit Of(string symbol) => Find(symbol) ?? throw new ArgumentException($"No unit {symbol}.", nameof(symbol));
}
