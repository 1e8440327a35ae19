using Commission.Core.Motion;
using Commission.Core.Quantities;
using Commission.Tests;
using Commission.Workshop.Screens.Pages;

namespace Commission.Workshop.Tests.Screens.Pages;

public class LinkWordsTests
{
    [Theory]
    [InlineData(0.9, "link rest . cmd ??? ??? ???")]
    [InlineData(1.2, "link silent 1 s . cmd ??? ??? ???")]
    [InlineData(74.8, "link silent 74 s . cmd ??? ??? ???")]
    public void The_age_of_the_last_answer_is_shown_once_it_is_over_a_second(double ageS, string words)
    {
        var gate = new Gate { Dialect = ShippedDialects.Find("numbered-settings")!, Facts = CommissionedFacts.Heron }
            .After(new GateEvent.InStep(TimeSpan.FromSeconds(1))).Gate
            .After(new GateEvent.Reported(TimeSpan.FromSeconds(1), StateReport.Of(ControllerState.Resting, new(0, 0, 0)))).Gate;
        var strip = LinkWords.Live(new LinkSnapshot(gate, TimeSpan.FromSeconds(ageS), null), practice: false, hidden: null, ShownUnits.Of(false));
        Assert.StartsWith(words, strip.Words, StringComparison.Ordinal);
        Assert.True(strip.Stops);
    }
}
