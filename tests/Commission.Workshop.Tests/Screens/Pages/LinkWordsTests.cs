using Commission.Core.Motion;
using Commission.Core.Quantities;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Pages;
using Commission.Workshop.Tests.Controllers;

namespace Commission.Workshop.Tests.Screens.Pages;

public class LinkWordsTests
{
    [Theory]
    [InlineData(0.9, "link rest . cmd ??? ??? ???")]
    [InlineData(1.2, "link silent 1 s . cmd ??? ??? ???")]
    [InlineData(74.8, "link silent 74 s . cmd ??? ??? ???")]
    public void The_age_of_the_last_answer_is_shown_once_it_is_over_a_second(double ageS, string words)
    {
        var gate = LinkBench.AtRest(new(0, 0, 0));
        var strip = LinkWords.Live(new LinkSnapshot(gate, TimeSpan.FromSeconds(ageS), null), practice: false, hidden: null, ShownUnits.Of(false));
        Assert.StartsWith(words, strip.Words, StringComparison.Ordinal);
        Assert.True(strip.Stops);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void After_STOP_the_strip_says_since_when_the_position_is_not_trusted(bool practice)
    {
        var strip = LinkWords.Stopped(new LinkSnapshot(LinkBench.AtRest(new(0, 0, 0)), TimeSpan.Zero, null), practice, "10:41:07");
        var row = SheetFrame.Rows(new Sheet { Path = "", Next = "", Because = "", Live = strip }, 80, 24)[^2].Text;
        Assert.Contains("POSITION NOT TRUSTED since 10:41:07", row, StringComparison.Ordinal);
    }

    // Found in use: the strip ended with "NOT TRUSTED: the ...".
    [Theory]
    [InlineData("the controller restarted", "NOT TRUSTED: the controller restarted ")]
    [InlineData("STOP was pressed: 7; then the controller restarted", "NOT TRUSTED: STOP was pressed ... ")]
    [InlineData("the device is gone: cable out, power off, or the port was taken away", "NOT TRUSTED: the device is gone ... ")]
    [InlineData("the machine was described anew, with other ends of its travel", "NOT TRUSTED: the machine was described anew ... ")]
    [InlineData("the dialect would have sent a word that this program never sends", "NOT TRUSTED: the dialect would have sent ... ")]
    [InlineData("a line was typed, or the input ended, while the machine moved", "NOT TRUSTED: a line was typed ... ")]
    public void The_strip_ends_with_a_word_that_carries_the_meaning(string why, string shown)
    {
        var gate = LinkBench.AtRest(new(0, 0, 0)).After(new GateEvent.IdentityTold(TimeSpan.FromSeconds(1), true)).Gate
            .After(new GateEvent.TrustLost(TimeSpan.FromSeconds(1), why)).Gate;
        var strip = LinkWords.Live(new LinkSnapshot(gate, TimeSpan.FromSeconds(0.1), null), practice: true, hidden: null, ShownUnits.Of(false));
        var row = SheetFrame.Rows(new Sheet { Path = "", Next = "", Because = "", Live = strip }, 80, 24)[^2].Text;
        Assert.Contains(shown, row, StringComparison.Ordinal);
        Assert.EndsWith(" [STOP F9]", row, StringComparison.Ordinal);
    }
}
