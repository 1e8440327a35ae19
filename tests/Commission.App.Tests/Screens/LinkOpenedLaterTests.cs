using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>A link opened while work is under way: what is checked counts there at once, and a run begun by hand goes on over it.</summary>
public sealed class LinkOpenedLaterTests : KnownScreens
{
    [Fact]
    public void A_run_begun_by_hand_is_taken_up_again_and_asks_its_moves_over_the_link()
    {
        KnownMachine.Pass(Journal, KnownMachine.ReadyChecks);
        using var window = new Headless(DeskOf(KnownMachine.Linked(Journal)));
        window.Type("\ns\ns");
        Story.Read(window, 2);
        Link(window);
        window.Type("w");
        Assert.StartsWith(" PRACTICE  Heron / unfinished", window.Rows[0], StringComparison.Ordinal);
        while (window.Rows[0].Contains("unfinished", StringComparison.Ordinal))
            window.Type("\n");
        window.Type("\n");
        // Homing comes first: a box of its own.
        Until(window, "THE MACHINE WILL MOVE");
        Assert.Equal(2, Ledger.Readings.Count);
    }

    [Fact]
    public void A_reading_typed_on_a_sheet_that_stood_before_the_link_was_open_is_not_recorded()
    {
        var desk = DeskOf(KnownMachine.Linked(Journal));
        using var window = new Headless(desk);
        window.Type("\ns\ns");
        var shown = Story.Look(window);
        desk.Link!.Open(desk.Link.Addresses[0]);
        Until(window, "NOT TRUSTED");
        Assert.Contains("reading 1 of 10", window.Rows[0], StringComparison.Ordinal);
        window.Type(shown + "\n");
        Assert.StartsWith(" PRACTICE  Heron / unfinished", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains("Nothing was recorded.", window.Text, StringComparison.Ordinal);
        Assert.Empty(Ledger.Readings);
    }

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
        Until(window, "The direction of every axis (P25) comes first.");
    }
}
