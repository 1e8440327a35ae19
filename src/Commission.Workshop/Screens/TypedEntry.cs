using System.Globalization;
using Commission.Core;
using Commission.Core.Quantities;

namespace Commission.Workshop.Screens;

/// <summary>A number typed into a cell, understood or asked about; never guessed.</summary>
public static class TypedEntry
{
    /// <summary>The number in the unit asked for.</summary>
    /// <param name="text">What was typed.</param>
    /// <param name="unit">Unit asked for; one that cannot be converted (steps/mm, none) is taken as it is.</param>
    public static Outcome<double> Number(string text, string unit)
    {
        var known = Unit.Find(unit) is not null;
        // A plain number has the same two meanings of a comma as a length.
        return TypedNumber.Read(text, known ? unit : "mm") switch
        {
            NumberReading.Clear clear when known => clear.Number.In(unit),
            NumberReading.Clear { Number.Unit.Symbol: "mm" } clear => clear.Number.Value,
            NumberReading.Ambiguous two => new Problem(
                string.Create(CultureInfo.InvariantCulture, $"{text} can be {two.AsDecimal.Value} or {two.AsThousands.Value}"), "Type it with a point, or without"),
            NumberReading.NotANumber not => not.Problem,
            _ => new Problem($"{text} has another unit than the one asked for", $"Type it in {unit}"),
        };
    }
}
