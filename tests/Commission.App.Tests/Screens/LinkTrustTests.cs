using Commission.Core.Motion;
using Commission.Core.Procedures;
using Commission.Workshop.Screens.Pages;
using Terminal.Gui.Input;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>Trust in the position over the link on the screens: what takes it away at rest is read before anything moves, and no reading counts without it.</summary>
public sealed class LinkTrustTests : KnownScreens
{
    public LinkTrustTests() => KnownMachine.Pass(Journal, KnownMachine.ReadyChecks);

    /// <summary>An axis may sink or be pushed while its drives are off: what moves next is homing, after it was read why.</summary>
    [Fact]
    public void Drives_switched_off_take_trust_away_until_it_was_read_and_the_machine_has_homed()
    {
        using var window = Of(Journal, Clock, """
              - {name: go, move: {text: To the middle., moves: [{axis: X, toFraction: 0.5, feed: 600}]}}
              - {name: drives-off, power: {drives: off, text: Switch the drives off.}}
              - {name: again, move: {text: Once more., moves: [{axis: X, by: 20, feed: 600}]}}
            """);
        Link(window);
        window.Type("b\ns\n");
        Confirm(window, "h", "THE CARRIAGE WILL MOVE");
        Confirm(window, "x", "Switch the drives off.");
        window.Press(Key.Enter);
        Until(window, "The drives were switched off. The position is not trusted any more.");
        // Enter and the letters that move confirm nothing here.
        var moved = Moves;
        foreach (var key in "\nxyzh")
        {
            window.Type(key.ToString());
            Assert.Contains("position is not trusted any more", window.Text, StringComparison.Ordinal);
        }

        Assert.Equal(moved, Moves);
        window.Type("s");
        Until(window, "show the box", "THE MACHINE WILL MOVE");
        window.Press(Key.Enter);
        Until(window, "THE MACHINE WILL MOVE");
        Confirm(window, "h", "axis X");
    }

    /// <summary>STOP at rest while the caliper is being read: the machine homes and the place is reached anew before the reading is asked for again.</summary>
    [Fact]
    public void After_a_stop_at_rest_the_place_of_the_reading_is_reached_anew_from_its_side()
    {
        using var window = AtTheFirstReading();
        window.Press(Key.F9);
        Until(window, "Nothing is sent to it until A, S or O is pressed.");
        // The board restarts by STOP and needs a moment before it tells its state again.
        Rest(window);
        window.Type("a");
        window.Type("1");
        Assert.Contains("is a number, and nothing here takes one", window.Text, StringComparison.Ordinal);
        window.Press(Key.Enter);
        Confirm(window, "h", "axis X   to the right   138.000 mm");
        Assert.Contains("THE CARRIAGE WILL MOVE", window.Text, StringComparison.Ordinal);
        Confirm(window, "x", "reading 1 of 10 .");
        Assert.Empty(Ledger.Readings);
    }

    [Fact]
    public void With_the_link_closed_meanwhile_no_reading_counts()
    {
        using var window = AtTheFirstReading();
        Unlink(window);
        window.Type("w");
        window.Type("75.01\n");
        Assert.True(window.Text.Contains("The reading was not accepted: the link is closed", StringComparison.Ordinal), window.Text);
        Assert.Empty(Ledger.Readings);
    }

    /// <summary>The limits of one machine would else be told to the gate of the other.</summary>
    [Fact]
    public void The_link_of_one_machine_is_closed_when_another_is_used()
    {
        Journal.Append(new EntryBody.MachineDescribed(Practice.Machines.HeronMachine.Description with { Name = "Wren", TravelMm = [900, 900, 90] }, Retired: false) { Machine = "Wren" }).Require();
        var desk = DeskOf(KnownMachine.Linked(Journal) with { Machine = "Heron" });
        using var window = new Headless(desk);
        Link(window);
        Assert.True(desk.Link!.IsOpen);
        desk.Use("Wren");
        Assert.False(desk.Link.IsOpen);
        Until(window, "The link is closed.");
    }

    /// <summary>Enter on the sheet of a write says that this sheet was read: what happened since is shown and waits.</summary>
    [Fact]
    public void What_happens_after_a_write_is_shown_before_anything_is_acknowledged()
    {
        using var window = Linked(out var desk);
        AskToWrite(desk, window);
        Confirm(window, "y", "agrees");
        desk.Link!.LoseTrust("the board fell off its shelf");
        window.Press(Key.Enter);
        Until(window, "A setting was written; then the board fell off its shelf.");
        Assert.Equal(TrustState.Stopped, desk.Link.Now!.Gate.State);
    }

    [Fact]
    public void What_happens_while_a_loss_is_read_is_read_too()
    {
        using var window = Linked(out var desk);
        desk.Link!.LoseTrust("the bed was pushed");
        Until(window, "The bed was pushed. The position is not trusted");
        desk.Link.LoseTrust("the drives were switched off");
        window.Type("s");
        Assert.Contains("The bed was pushed; then the drives were switched off.", window.Text, StringComparison.Ordinal);
        Assert.Equal(TrustState.Stopped, desk.Link.Now!.Gate.State);
        window.Type("s");
        Assert.NotEqual(TrustState.Stopped, desk.Link.Now!.Gate.State);
    }

    /// <summary>A, S or O says what happened up to what the sheet shows: what came after it is shown first.</summary>
    [Theory]
    [InlineData('a')]
    [InlineData('s')]
    [InlineData('o')]
    public void What_happens_while_the_page_of_a_stop_is_read_is_shown_before_its_answer_counts(char answer)
    {
        using var window = Linked(out var desk);
        window.Press(Key.F9);
        // The board restarts by STOP: that is shown too.
        Until(window, "Also            the controller restarted");
        desk.Link!.LoseTrust("the bed was pushed");
        window.Type(answer.ToString());
        Assert.Contains("More has happened since this was drawn. Read it; then A, S or O.", window.Text, StringComparison.Ordinal);
        Assert.Contains("then the bed was pushed", window.Text, StringComparison.Ordinal);
        Assert.Equal(TrustState.Stopped, desk.Link.Now!.Gate.State);
        Assert.Empty(Ledger.Stops);
        Until(window, " locked . POSITION", " rest . POSITION");
        window.Type(answer.ToString());
        Assert.Single(Ledger.Stops);
        Assert.NotEqual(TrustState.Stopped, desk.Link.Now!.Gate.State);
    }

    private int Moves => Journal.Entries().Count(entry => entry.Body is EntryBody.Moved);
}
