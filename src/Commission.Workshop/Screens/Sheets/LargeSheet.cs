using System.Collections.Immutable;
using System.Globalization;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>What the large figures show.</summary>
/// <param name="Path">Where one is.</param>
/// <param name="Head">What the target is and how it is come in.</param>
/// <param name="Target">Where to go, short: <c>far</c> or <c>X 341.981</c>.</param>
/// <param name="Last">The last accepted reading with its number and place, empty where it stays hidden; null before the first.</param>
/// <param name="Typed">What is typed.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="Now">Index of the reading.</param>
/// <param name="Of">Number of readings.</param>
/// <param name="Call">Whether a second person calls the numbers: the one just accepted is read back in place of the target.</param>
/// <param name="Live">The live strip.</param>
public sealed record LargeView(
    string Path, string Head, string Target, (string Reading, int Number, string Place)? Last, string Typed, string Unit, int Now, int Of, bool Call, LiveStrip Live)
{
    /// <summary>What is read, with its article.</summary>
    public string Instrument { get; init; } = "the caliper";

    /// <summary>Whether the last reading was taken at this very place.</summary>
    public bool SamePlace { get; init; }
}

/// <summary>A score board: target and last reading three times as large; no expected value.</summary>
public static class LargeSheet
{
    /// <summary>The keys.</summary>
    public static ImmutableArray<SheetKey> Keys { get; } =
    [
        new("Enter", "accept", "accept"), new("R", "read last again", "again"), new("G", "sheet", "large"), new("N", "note", "note"),
        new("F1", "help", "help"), new("F9", "stop", "stop"),
    ];

    private const int Indent = 3;

    /// <summary>The sheet.</summary>
    /// <param name="view">What it shows.</param>
    /// <param name="width">Columns of the window.</param>
    public static Sheet Of(LargeView view, int width)
    {
        var room = width - Indent - 1;
        var target = PlaceName.Large(view.Target, room);
        var head = target == view.Target ? " " + view.Head : $" {view.Head}: {view.Target}";
        var last = view.Last is { } at ? string.Create(CultureInfo.InvariantCulture, $" {(view.Call ? "read back" : "last accepted")} ({at.Number}, ") : "";
        var typed = " typed now   " + ReadingsSheet.Cell(view.Typed, cursor: true).Replace("[", "[   ", StringComparison.Ordinal) + " " + view.Unit;
        return new Sheet
        {
            Path = view.Path,
            Right = view.Call ? "call . G back to the sheet" : "large . G back to the sheet",
            Body =
            [
                PlaceName.Within(head, width - 1), Line.Blank,
                .. BlockDigits.Within(target, room).Select(Large),
                Line.Blank,
                view.Last is { Place: var place } ? $"{last}{PlaceName.Within(place, width - last.Length - 1)})" : " nothing accepted yet",
                Line.Blank,
                .. (view.Last is { Reading.Length: > 0 } read ? BlockDigits.Within(read.Reading, room) : [.. Enumerable.Repeat("", BlockDigits.Rows)]).Select(Large),
                Line.Blank,
                ((Line)(typed.PadRight(42) + string.Create(CultureInfo.InvariantCulture, $"reading {view.Now + 1} of {view.Of}"))).With(13, 14, Ink.Focus),
            ],
            Next = view.Call ? "Say where to go, type what is called, Enter; read it back aloud." : $"Type what {view.Instrument} shows. Enter.",
            Because = view.Call ? "R, U and I take back the last three, the newest first: read again." : view switch
            {
                { Last: null } => "Because: nothing is shown that a first reading could lean on.",
                { Last.Reading.Length: 0 } => "Because: what was read stays hidden until the study ends.",
                { SamePlace: true } => "Because: each reading is taken anew; the last one is no hint for it.",
                _ => "The last reading is at another place: it is no hint for this one.",
            },
            Live = view.Live,
            Keys = Keys,
            Cursor = (17, 24),
        };
    }

    private static Line Large(string row) => new(new string(' ', Indent) + row, [new(Indent, row.Length, Ink.Strong)]);
}
