using Commission.Core;
using Commission.Core.Quantities;

namespace Commission.Workshop.Screens;

/// <summary>Which of two numbers a comma means: asked in the same words wherever a number is typed, and answered with Left or Right.</summary>
/// <param name="Typed">What was typed.</param>
/// <param name="AsDecimal">The same with a point.</param>
/// <param name="AsThousands">The same without the comma.</param>
public sealed record CommaChoice(string Typed, string AsDecimal, string AsThousands)
{
    /// <summary>The question that a typed text raises; null where it has one meaning or is no number.</summary>
    /// <param name="text">What was typed.</param>
    /// <param name="unit">Symbol of the unit it is typed in; one that is not known has the same two meanings.</param>
    public static CommaChoice? Of(string text, string unit) => TypedNumber.Read(text, Unit.Find(unit) is null ? "mm" : unit) is NumberReading.Ambiguous
        ? new(PlainText.Of(text).Trim(), PlainText.Of(text).Trim().Replace(',', '.'), PlainText.Of(text).Trim().Replace(",", "", StringComparison.Ordinal)) : null;

    /// <summary>The question.</summary>
    public string Question => $"{Typed} can be {AsDecimal} or {AsThousands}. Which? Left or Right, Enter.";

    /// <summary>The one chosen.</summary>
    /// <param name="by">-1 for Left, 1 for Right.</param>
    public string Chosen(int by) => by < 0 ? AsDecimal : AsThousands;

    /// <summary>What is said of the choice.</summary>
    /// <param name="by">-1 for Left, 1 for Right.</param>
    public string Words(int by) => $"{Chosen(by)}. Enter takes it; {(by < 0 ? "Right" : "Left")} takes {Chosen(-by)}.";
}
