using System.Globalization;
using System.Text;

namespace Commission.Core.Quantities;

/// <summary>Text that came from a file, a wire or a hand, made fit to be shown.</summary>
public static class Words
{
    /// <summary>The text without control and formatting characters (escape sequences, line breaks, marks that turn the writing direction).</summary>
    public static string Clean(string text)
    {
        if (text.All(c => !IsHidden(c)))
            return text;
        var kept = new StringBuilder(text.Length);
        foreach (var c in text)
        {
            if (c == '\t')
                kept.Append(' ');
            else if (!IsHidden(c))
                kept.Append(c);
        }
        return kept.ToString();
    }

    /// <summary>The text with its first letter as a sentence begins.</summary>
    public static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    /// <summary>The text with its first letter as within a sentence.</summary>
    public static string Small(string text) => text.Length == 0 ? text : char.ToLowerInvariant(text[0]) + text[1..];

    /// <summary>Whether a character acts on the terminal, shows nothing, or turns the order of others.</summary>
    internal static bool IsHidden(char c) =>
        char.IsControl(c) || CharUnicodeInfo.GetUnicodeCategory(c) is UnicodeCategory.Format or UnicodeCategory.LineSeparator
            or UnicodeCategory.ParagraphSeparator;
}
