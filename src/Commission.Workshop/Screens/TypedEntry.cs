using System.Globalization;
using System.Text.RegularExpressions;
using Commission.Core;
using Commission.Core.Machines;
using Commission.Core.Quantities;

namespace Commission.Workshop.Screens;

/// <summary>A number typed into a cell, understood or asked about; never guessed.</summary>
public static partial class TypedEntry
{
    /// <summary>Why a fact of a machine typed as a power of ten is not taken: a slip of a finger makes one, and hides in it. Null for all else.</summary>
    /// <param name="text">What was typed.</param>
    public static Problem? PowerOfTen(string text) => Power().IsMatch(text) ? new Problem($"{PlainText.Of(text)} is not written as a length is read", "Type it in digits, as 400") : null;

    /// <summary>Unit in which a reading is typed: inches on a machine that is kept in inches.</summary>
    /// <param name="asked">Unit of the column.</param>
    /// <param name="kept">Unit the machine is kept in.</param>
    public static string UnitOf(string asked, LengthUnit kept) => asked == "mm" && kept == LengthUnit.Inch ? "in" : asked;

    /// <summary>A reading as typed, in the unit of the column. In inches fractions may be typed.</summary>
    /// <param name="text">What was typed.</param>
    /// <param name="asked">Unit of the column.</param>
    /// <param name="kept">Unit the machine is kept in.</param>
    public static Outcome<double> Reading(string text, string asked, LengthUnit kept) =>
        UnitOf(asked, kept) == "in" ? Number(text, "in").Then<double>(inches => inches * Inch.Mm) : Number(text, asked);

    [GeneratedRegex("[0-9][eE][0-9+-]")]
    private static partial Regex Power();

    /// <summary>The number in the unit asked for.</summary>
    /// <param name="text">What was typed.</param>
    /// <param name="unit">Unit asked for; one that cannot be converted (steps/mm, none) is taken as it is.</param>
    /// <param name="typedIn">Unit of a number typed without one; null for the unit asked for.</param>
    public static Outcome<double> Number(string text, string unit, string? typedIn = null)
    {
        var known = Unit.Find(unit) is not null;
        // A plain number has the same two meanings of a comma as a length.
        return TypedNumber.Read(text, known ? typedIn ?? unit : "mm") switch
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
