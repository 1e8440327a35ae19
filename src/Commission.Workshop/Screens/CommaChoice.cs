using System.Collections.Immutable;
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

    /// <summary>What is said where Enter is pressed before one is chosen.</summary>
    public string Neither => $"Enter takes neither: Left takes {AsDecimal}, Right takes {AsThousands}.";

    /// <summary>A sheet while one of the two is asked for: NEXT and the row of keys say how, and nothing else is done before.</summary>
    /// <param name="sheet">The sheet.</param>
    /// <param name="typed">What stands in the cell: what was typed, or the one chosen.</param>
    public Sheet On(Sheet sheet, string typed)
    {
        var isChosen = typed != Typed;
        ImmutableArray<SheetKey> choice = [new("Left", AsDecimal, "choose"), new("Right", AsThousands, "choose")];
        return sheet with
        {
            Next = isChosen ? $"Enter takes {typed}. {(typed == AsDecimal ? "Right" : "Left")} takes {(typed == AsDecimal ? AsThousands : AsDecimal)}." : $"Left takes {AsDecimal}, Right takes {AsThousands}. Then Enter.",
            Because = isChosen ? sheet.Because : "Because: nothing is taken that has two meanings. Enter alone takes neither.",
            Keys =
            [
                .. isChosen ? (ReadOnlySpan<SheetKey>)[new("Enter", "accept", "accept")] : [], .. choice, .. sheet.Keys.Where(key => key.Key is "Esc" or "F1" or "F2"),
                .. sheet.Keys.Where(key => key.Letter is not null).Select(key => key with { NotNow = $"{Typed} comes first, Left or Right" }),
            ],
        };
    }

    /// <summary>The one chosen.</summary>
    /// <param name="by">-1 for Left, 1 for Right.</param>
    public string Chosen(int by) => by < 0 ? AsDecimal : AsThousands;

    /// <summary>What is said of the choice.</summary>
    /// <param name="by">-1 for Left, 1 for Right.</param>
    public string Words(int by) => $"{Chosen(by)}. Enter takes it; {(by < 0 ? "Right" : "Left")} takes {Chosen(-by)}.";
}
