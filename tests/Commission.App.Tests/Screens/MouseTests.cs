using System.Diagnostics;
using Commission.Core.Motion;
using Commission.Tests;
using Commission.Workshop.Screens.Pages;
using Terminal.Gui.Input;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>Everything works with a mouse: a click on a key of the last row or on NEXT is that key, a click on a row chooses it; no click confirms a move or a write.</summary>
public sealed class MouseTests : KnownScreens
{
    [Theory]
    [MemberData(nameof(EveryKeyTests.Ways), MemberType = typeof(EveryKeyTests))]
    public void A_click_on_a_key_of_the_last_row_or_on_NEXT_does_what_the_key_does(string page, string way)
    {
        using var first = At(way);
        foreach (var key in first.Desk.Show(80, 24).Keys)
        {
            var name = key.Key == "Enter, Esc" ? "Enter" : key.Key.Split(", ")[^1];
            if (key.NotNow is not null || first.Rows[23].IndexOf($" {key.Key} {key.Word}", StringComparison.Ordinal) is not (>= 0 and var at))
                continue;
            using var clicked = At(way);
            // On the word: of two keys the one that goes on.
            clicked.Click(at + 1 + key.Key.Length + key.Word.Length, 23);
            using var pressed = Pressed(way, name);
            Alike(page, key.Key, pressed, clicked);
        }

        using var next = At(way);
        next.Click(12, 20);
        using var entered = Pressed(way, "Enter");
        Alike(page, "NEXT", entered, next);
    }

    [Theory]
    [InlineData("w")]
    [InlineData("l")]
    [InlineData("k")]
    [InlineData("ka")]
    [InlineData("ma")]
    [InlineData("m>")]
    [InlineData("la")]
    [InlineData("")]
    public void A_click_on_a_row_of_a_list_chooses_it_as_the_arrows_do(string way)
    {
        using var clicked = At(way);
        using var pressed = At(way);
        var before = Shown(pressed);
        pressed.Press(Key.CursorDown, Key.CursorDown);
        var row = Array.FindIndex(pressed.Rows, 2, line => line.StartsWith('>'));
        Assert.True(row >= 0 && Shown(pressed) != before, pressed.Text);
        clicked.Click(10, row);
        Assert.Equal(Shown(pressed), Shown(clicked));
    }

    [Fact]
    public void No_click_confirms_a_move_and_one_beside_the_box_puts_nothing_away()
    {
        KnownMachine.Pass(Journal, KnownMachine.ReadyChecks);
        using var window = Linked(out var desk);
        Until(window, "Home. Enter draws its box");
        window.Click(12, 20);
        Until(window, "THE MACHINE WILL MOVE");
        Rest(window);
        for (var row = 0; row < 20; row++)
            window.Click(12, row);
        for (var column = 0; column <= window.Rows[23].IndexOf("home", StringComparison.Ordinal) + 4; column++)
            window.Click(column, 23);
        Assert.Contains("THE MACHINE WILL MOVE", window.Text, StringComparison.Ordinal);
        // The button reached with Tab waits for Space, not for a click.
        window.Press(Key.Tab);
        for (var column = 0; column < 80; column += 4)
            window.Click(column, 12);
        Assert.Contains("THE MACHINE WILL MOVE", window.Text, StringComparison.Ordinal);
        window.Click(window.Rows[23].IndexOf("Enter, Esc", StringComparison.Ordinal) + 1, 23);
        Assert.Contains("Nothing moved.", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(Journal.Entries(), entry => entry.Body is EntryBody.Moved);
        Assert.Equal(TrustState.Locked, desk.Link!.Now!.Gate.State);
    }

    [Fact]
    public void No_click_confirms_a_write()
    {
        using var window = Linked(out var desk);
        AskToWrite(desk, window);
        Rest(window);
        for (var row = 0; row < 20; row++)
            window.Click(12, row);
        for (var column = 0; column <= window.Rows[23].IndexOf("write", StringComparison.Ordinal) + 5; column++)
            window.Click(column, 23);
        Assert.Contains("Press Y to write it", window.Text, StringComparison.Ordinal);
        window.Click(12, 20);
        Assert.Contains("Nothing was written.", window.Text, StringComparison.Ordinal);
        Assert.Empty(Ledger.SettingsWritten);
    }

    /// <summary>Every key is STOP while something moves, the mouse's too; and its field is STOP on every sheet.</summary>
    [Fact]
    public void A_click_stops_what_moves_and_the_field_of_STOP_stops_always()
    {
        KnownMachine.Pass(Journal, KnownMachine.ReadyChecks);
        using var window = On(KnownMachine.Linked(Journal, 1));
        window.Click(75, 22);
        Assert.Contains("Nothing is linked. Nothing was sent", window.Text, StringComparison.Ordinal);
        Link(window);
        Homing(window);
        window.Click(40, 10);
        Until(window, "immediate stop sent");
        Assert.Contains("pressed: the mouse", window.Rows[0], StringComparison.Ordinal);
    }

    private static Headless At(string way) => new(EveryKeyTests.DeskAt(way));

    // A link is opened beside the screen: on a busy computer one of two may be behind the other.
    private static void Alike(string page, string key, Headless pressed, Headless clicked)
    {
        for (var watch = Stopwatch.StartNew(); Shown(pressed) != Shown(clicked) && watch.Elapsed < Patience.Longest;)
        {
            Pass(pressed);
            Pass(clicked);
        }

        Assert.Equal((page, key, Shown(pressed)), (page, key, Shown(clicked)));
    }

    private static Headless Pressed(string way, string name)
    {
        var window = At(way);
        window.Press(name);
        return window;
    }

    private static string Shown(Headless window) => window.Text + window.Desk.Left + window.Desk.Look;
}
