using Commission.Core.Motion;
using Commission.Workshop.Requests;
using Commission.Workshop.Tests.Controllers;

namespace Commission.Workshop.Tests.Requests;

public class WatchControllerTests
{
    [Theory]
    [InlineData(0.9, "resting  X -1.000 mm  Y -2.000 mm  Z -3.000 mm")]
    [InlineData(1.6, "resting  X -1.000 mm  Y -2.000 mm  Z -3.000 mm  answer 2 s old")]
    public void The_age_of_the_last_answer_stands_in_the_line_once_it_is_over_a_second(double ageS, string line)
    {
        var gate = LinkBench.AtRest(new(-1, -2, -3));
        Assert.Equal(line, WatchController.Line(new LinkSnapshot(gate, TimeSpan.FromSeconds(ageS), null)));
    }

    [Fact]
    public void States_stand_in_words_of_our_own() =>
        Assert.Equal(["held", "locked", "moving", "resting", "unknown"], Enum.GetValues<ControllerState>().Select(WatchController.Word).Order(StringComparer.Ordinal));
}
