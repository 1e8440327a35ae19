using System.Collections.Immutable;
using Commission.Core.Motion;
using Commission.Practice.Controller;
using Commission.Practice.Machines;
using Commission.Tests;
using Commission.Workshop.Screens.Pages;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>Values on the screen are replaced at most five times a second while something moves; at rest only where something has changed.</summary>
public sealed class ReplacedValuesTests : BoardScreens
{
    private const long FiveASecondMs = 200;

    public ReplacedValuesTests()
        : base(HeronMachine.Description) => KnownMachine.Pass(Journal, KnownMachine.ReadyChecks);

    [Fact]
    public void While_it_moves_five_times_a_second_at_most()
    {
        var desk = Desk();
        using var window = Homed(desk);
        var away = new PlannedMove(AxisName.X, 200, 600);
        desk.Link!.Ask(new MotionAct.Go([away], 600), box => new MotionPage(desk, box, "Heron / a move", "", ""), _ => { });
        Board.Scale = 1;
        Rest(window);
        desk.Link.Confirm('X');
        Assert.True(SpinWait.SpinUntil(() => desk.Link.Moving is not null, Patience.Longest), "It does not move.");
        List<long> replaced = [];
        var shown = desk.Live;
        // Every ten milliseconds of the screen another position: as fast as no controller tells it.
        for (var now = Later; now < Later + 400; now += 10)
        {
            Assert.True(SpinWait.SpinUntil(() => desk.Live != shown, Patience.Longest), "The position does not change any more.");
            shown = desk.Live;
            if (desk.Tick(now))
                replaced.Add(now);
        }

        Assert.Equal([0, FiveASecondMs], replaced.Select(at => at - replaced[0]));
    }

    [Fact]
    public void At_rest_nothing_is_replaced_before_something_changes_and_that_at_once()
    {
        var desk = Desk();
        using var window = Homed(desk);
        Rest(window);
        var now = Later;
        Assert.DoesNotContain(true, Enumerable.Range(0, 1000).Select(_ => desk.Tick(now += 10)).Skip(1));
        Board.Happens(ControllerFault.Alarm);
        Assert.True(SpinWait.SpinUntil(() => desk.Link!.Now!.Gate.State == TrustState.Stopped, Patience.Longest));
        Assert.True(desk.Tick(now + 1));
    }

    // Later than the window's own clock ever comes.
    private const long Later = 1_000_000_000;

    private static Headless Homed(Desk desk)
    {
        var window = new Headless(desk);
        Link(window);
        Homing(window);
        Until(window, "position trusted");
        return window;
    }
}
