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

    [Theory]
    [InlineData("\u00fcml\u00e4ut\nsecond", "\u00fcml\u00e4ut second")]
    [InlineData("one\r\ntwo\rthree\tfour", "one two three four")]
    [InlineData("one\u2028two\u2029three\u0085four\ffive\vsix", "one two three four five six")]
    [InlineData("a\u001b[2Jb\u0000c", "a[2Jbc")]
    public void A_line_break_becomes_a_blank_so_that_no_two_words_run_together(string text, string shown) => Assert.Equal(shown, Words.Clean(text));
}
