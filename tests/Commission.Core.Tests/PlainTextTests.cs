using Commission.Core.Quantities;

namespace Commission.Core.Tests;

public class PlainTextTests
{
    /// <summary>The last three were found by link-fuzz in a key of a dialect file: characters that show nothing, or turn the order of others.</summary>
    [Theory]
    [InlineData("a\u001b[2Jb", "a [2Jb")]
    [InlineData("a\u2028b", "a b")]
    [InlineData("longest\u00adLine", "longestLine")]
    [InlineData("longest\u200bLine", "longestLine")]
    [InlineData("longest\u202eLine", "longestLine")]
    public void What_cannot_be_seen_is_not_shown(string text, string shown)
    {
        Assert.Equal(shown, PlainText.Of(text));
        Assert.Equal(shown, Words.Clean(shown));
    }
}
