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

    /// <summary>Whether a character acts on the terminal, shows nothing, or turns the order of others.</summary>
    internal static bool IsHidden(char c) =>
        char.IsControl(c) || CharUnicodeInfo.GetUnicodeCategory(c) is UnicodeCategory.Format or UnicodeCategory.LineSeparator
            or UnicodeCategory.ParagraphSeparator;
}
