using System.Globalization;
using System.Text;

namespace Commission.Core.Quantities;

/// <summary>Text that came from a file, a wire or a hand, made fit to be shown.</summary>
public static class Words
{
    /// <summary>The text without control and formatting characters (escape sequences, marks that turn the writing direction); a tabulator or a line break becomes a blank, so that no two words run together.</summary>
    public static string Clean(string text)
    {
        if (text.All(c => !IsHidden(c)))
            return text;
        var kept = new StringBuilder(text.Length);
        for (var at = 0; at < text.Length; at++)
        {
            if (IsBreak(text[at]))
                kept.Append(text[at] == '\n' && at > 0 && text[at - 1] == '\r' ? "" : " ");
            else if (!IsHidden(text[at]))
                kept.Append(text[at]);
        }

        return kept.ToString();
    }

    /// <summary>The lines of a text without the blanks round them; empty ones drop out.</summary>
    public static string[] Lines(string text) => text.Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    /// <summary>The lines of a text in one.</summary>
    public static string OneLine(string text) => string.Join(' ', Lines(text));

    /// <summary>The text with its first letter as a sentence begins.</summary>
    public static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    /// <summary>The text with its first letter as within a sentence.</summary>
    public static string Small(string text) => text.Length == 0 ? text : char.ToLowerInvariant(text[0]) + text[1..];

    // What parts words where it stands: tabulator, the line breaks of all systems, form feed, and those of Unicode.
    private static bool IsBreak(char c) => c is (>= '\t' and <= '\r') or '\u0085' or '\u2028' or '\u2029';

    /// <summary>A number of things: one finding, two findings.</summary>
    /// <param name="count">How many.</param>
    /// <param name="one">The word for one of them.</param>
    /// <param name="many">The word for several; null where an s makes it.</param>
    public static string Counted(long count, string one, string? many = null) => FormattableString.Invariant($"{count} {(count == 1 ? one : many ?? one + "s")}");

    /// <summary>Whether a character acts on the terminal, shows nothing, or turns the order of others.</summary>
    internal static bool IsHidden(char c) =>
        char.IsControl(c) || CharUnicodeInfo.GetUnicodeCategory(c) is UnicodeCategory.Format or UnicodeCategory.LineSeparator
            or UnicodeCategory.ParagraphSeparator;
}
