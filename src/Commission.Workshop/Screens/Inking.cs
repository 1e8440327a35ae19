using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Quantities;

namespace Commission.Workshop.Screens;

/// <summary>Finds what a plain text says by its form: tags, hazard tape, verdict words. One place, so that no sheet can forget it.</summary>
public static class Inking
{
    private static readonly (string Word, Ink Ink)[] Marks =
    [
        ("//// HAZARD", Ink.Hazard),
        ("////", Ink.Hazard),
        ("[!!] suspect", Ink.Ochre),
        ("[xx] stale", Ink.Ochre),
        ("[--] due", Ink.Blue),
        ("OUTSIDE", Ink.Ochre),
        (" OUT ", Ink.Ochre),
        ("NOT TRUSTED", Ink.Ochre),
        (">> ", Ink.Strong),
        ("?? ", Ink.Blue),
    ];

    /// <summary>A line from plain text.</summary>
    public static Line Of(string text)
    {
        var clean = Clean(text);
        var found = ImmutableArray.CreateBuilder<Stretch>();
        foreach (var (word, ink) in Marks)
        {
            for (var at = clean.IndexOf(word, StringComparison.Ordinal); at >= 0; at = clean.IndexOf(word, at + word.Length, StringComparison.Ordinal))
            {
                found.Add(new(at, word.Length, ink));
            }
        }

        return new(clean, found.ToImmutable());
    }

    /// <summary>A line of a drawing: its strokes are no marks of the text.</summary>
    public static Line Plain(string text) => new(Clean(text), []);

    /// <summary>Text of one character a cell: nothing from a file, a wire or the store may act on the terminal or shift what follows.</summary>
    public static string Clean(string text) =>
        text.All(c => c is >= ' ' and <= '~') ? text : string.Concat(Words.Clean(text).Select(OneCell));

    // Wide, joining and paired characters take other than one cell: a question mark stands for them.
    private static char OneCell(char c) =>
        c >= '\u1100' && c is not (>= '\u2000' and <= '\u2bff') || char.GetUnicodeCategory(c) is UnicodeCategory.NonSpacingMark
            or UnicodeCategory.EnclosingMark or UnicodeCategory.Format or UnicodeCategory.SpacingCombiningMark ? '?' : c;
}
