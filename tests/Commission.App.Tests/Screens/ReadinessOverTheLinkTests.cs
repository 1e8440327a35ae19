using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>The readiness list carried out while the link is open.</summary>
public sealed class ReadinessOverTheLinkTests : KnownScreens
{
    [Fact]
    public void What_is_checked_while_the_link_is_open_counts_there_at_once()
    {
        using var window = new Headless(DeskOf(KnownMachine.Linked(Journal) with { Procedures = PracticeStore.Shipped("readiness", "axis-scale") }));
        Link(window);
        Assert.Contains("are open. Enter opens their list.", window.Text, StringComparison.Ordinal);
        window.Type("\ns");
        foreach (var answer in (string[])["s", "0.3\n", "s", "s", "s", "0.2\n", "s"])
            window.Type(answer);
        window.Type("c");
        Until(window, "Home. Enter draws its box");
    }
}
