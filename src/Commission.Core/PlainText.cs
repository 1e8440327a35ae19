using System.Globalization;
using Commission.Core.Quantities;

namespace Commission.Core;

/// <summary>Text from a file, a wire or a store, made fit to be shown.</summary>
public static class PlainText
{
    /// <summary>The text without control characters and without those that show nothing or turn the order of others, cut at a length that fits a message.</summary>
    /// <param name="text">The text as it came.</param>
    /// <param name="longest">Longest text shown, characters.</param>
    public static string Of(string text, int longest = 80)
    {
        var clean = string.Concat(text.Where(c => CharUnicodeInfo.GetUnicodeCategory(c) != UnicodeCategory.Format).Select(c => Words.IsHidden(c) ? ' ' : c)).Trim();
        return clean.Length <= longest ? clean : clean[..(longest - 1)] + "…";
    }
}
