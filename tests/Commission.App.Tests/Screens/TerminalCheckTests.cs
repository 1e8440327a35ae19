namespace Commission.App.Tests.Screens;

public class TerminalCheckTests
{
    private static readonly TerminalFacts Usable = new(true, "xterm-256color", 80, 24, NeedsName: true);

    [Fact]
    public void A_usable_terminal_is_taken() => Assert.Null(TerminalCheck.Refusal(Usable));

    [Fact]
    public void Every_refusal_names_the_plain_way()
    {
        foreach (var facts in new[] { Usable with { Attached = false }, Usable with { Term = "dumb" }, Usable with { Term = null }, Usable with { Columns = 59 }, Usable with { Rows = 19 } })
        {
            Assert.Contains("--plain", TerminalCheck.Refusal(facts)!.Remedy, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_window_between_the_least_and_a_whole_sheet_starts_and_asks_for_more() =>
        Assert.Null(TerminalCheck.Refusal(Usable with { Columns = 70, Rows = 22 }));

    [Theory]
    [InlineData("1", "truecolor", "xterm-256color", ColourDepth.None)]
    [InlineData("", "truecolor", "xterm", ColourDepth.Exact)]
    [InlineData(null, null, "tmux-256color", ColourDepth.Palette)]
    [InlineData("", "", "xterm-256color", ColourDepth.Palette)]
    [InlineData(null, null, "vt100", ColourDepth.Sixteen)]
    [InlineData(null, null, "screen", ColourDepth.Sixteen)]
    [InlineData(null, null, "xterm-direct", ColourDepth.Exact)]
    [InlineData(null, null, "xterm", ColourDepth.Sixteen)]
    public void Colours_follow_the_environment(string? noColour, string? colourTerm, string term, ColourDepth depth) =>
        Assert.Equal(depth, Looks.Depth(name => name switch { "NO_COLOR" => noColour, "COLORTERM" => colourTerm, "TERM" => term, _ => null }));
}
