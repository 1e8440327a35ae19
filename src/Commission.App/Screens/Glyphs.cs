using System.Globalization;
using System.Text.RegularExpressions;

namespace Commission.App.Screens;

/// <summary>What stands in a cell: one character each, whatever a name holds, so that no glyph can break a frame.</summary>
public static partial class Glyphs
{
    // Scripts from here on are wide or need shaping in most terminals.
    private const char FirstWide = '\u1100';

    /// <summary>Whether the terminal has more than ASCII.</summary>
    /// <param name="read">Reads an environment variable.</param>
    public static bool HasMore(Func<string, string?> read)
    {
        if (OperatingSystem.IsWindows())
            return !string.IsNullOrEmpty(read("WT_SESSION"));
        var locale = new[] { "LC_ALL", "LC_CTYPE", "LANG" }.Select(read).FirstOrDefault(value => !string.IsNullOrEmpty(value)) ?? "";
        // Where lines and Braille dots may take two cells each, the plain ones are taken.
        if (locale.StartsWith("ja", StringComparison.Ordinal) || locale.StartsWith("zh", StringComparison.Ordinal) || locale.StartsWith("ko", StringComparison.Ordinal))
            return false;
        return read("TERM") is not ("linux" or "dumb") && locale.Replace("-", "", StringComparison.Ordinal).Contains("UTF8", StringComparison.OrdinalIgnoreCase);
    }

    /// <summary>Only ASCII; everything else becomes a question mark.</summary>
    public static string Ascii(string text) => string.Concat(text.Select(c => c is >= ' ' and <= '~' ? c : '?'));

    /// <summary>Lines, the plus-minus sign and arrows where ASCII had to spell them; no column moves.</summary>
    public static string Fine(string text)
    {
        var safe = string.Concat(text.Select(c => IsOneCell(c) ? c : '?'));
        if (Rule().IsMatch(safe))
            return safe.Replace('-', '\u2500');
        return Arrow().Replace(safe.Replace("+/-", " \u00b1 ", StringComparison.Ordinal), "\u2192 ");
    }

    // Box lines, blocks and Braille patterns are one cell wide everywhere.
    private static bool IsOneCell(char c) => c is (>= '\u2500' and <= '\u259f') or (>= '\u2800' and <= '\u28ff') || (c is >= ' ' and < FirstWide && c is not '\x7f' && !char.IsControl(c)
        && char.GetUnicodeCategory(c) is not (UnicodeCategory.NonSpacingMark or UnicodeCategory.EnclosingMark or UnicodeCategory.SpacingCombiningMark or UnicodeCategory.Format or UnicodeCategory.Surrogate)
        && c is < '\u0590' or > '\u08ff');

    // The end of a longer line, and of one with two ends, is drawn as its other end is.
    [GeneratedRegex("(?<![-<])->")]
    private static partial Regex Arrow();

    [GeneratedRegex("^-{20,}$")]
    private static partial Regex Rule();
}
