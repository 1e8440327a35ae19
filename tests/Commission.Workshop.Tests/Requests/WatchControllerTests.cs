using Commission.Core.Motion;
using Commission.Tests;
using Commission.Workshop.Requests;

namespace Commission.Workshop.Tests.Requests;

public class WatchControllerTests
{
    [Theory]
    [InlineData(0.9, "resting  X -1.000 mm  Y -2.000 mm  Z -3.000 mm")]
    [InlineData(1.6, "resting  X -1.000 mm  Y -2.000 mm  Z -3.000 mm  answer 2 s old")]
    public void The_age_of_the_last_answer_stands_in_the_line_once_it_is_over_a_second(double ageS, string line)
    {
        var gate = new Gate { Dialect = ShippedDialects.Find("numbered-settings")!, Facts = CommissionedFacts.Heron }
            .After(new GateEvent.InStep(TimeSpan.FromSeconds(1))).Gate
            .After(new GateEvent.Reported(TimeSpan.FromSeconds(1), StateReport.Of(ControllerState.Resting, new(-1, -2, -3)))).Gate;
        Assert.Equal(line, WatchController.Line(new LinkSnapshot(gate, TimeSpan.FromSeconds(ageS), null)));
    }

    [Fact]
    public void States_stand_in_words_of_our_own() =>
        Assert.Equal(["held", "locked", "moving", "resting", "unknown"], Enum.GetValues<ControllerState>().Select(WatchController.Word).Order(StringComparer.Ordinal));
}
