using Commission.Practice.Controller;
using Commission.Practice.Machines;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Pages;
using Terminal.Gui.Input;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>The keys of pages that an open link has: each that the sheet names does something, every other is answered, and only the letter of a box acts.</summary>
public sealed class LinkKeysTests : BoardScreens
{
    private Desk? _desk;

    public LinkKeysTests()
        : base(HeronMachine.Description) => KnownMachine.Pass(Journal, KnownMachine.ReadyChecks);

    [Fact]
    public void The_open_controller_page_and_the_sheets_over_it()
    {
        using var window = Linked();
        Each(window, () => Over("d", "settings as received"));
        Each(window, () => Over("v", "older sets"));
        Each(window, ToController);

        void Over(string key, string shown)
        {
            ToController();
            window.Type(key);
            Assert.Contains(shown, window.Rows[0], StringComparison.Ordinal);
        }

        void ToController()
        {
            Leave(window);
            window.Type("c");
            Assert.Contains("Heron / controller", window.Rows[0], StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_box_of_a_move()
    {
        using var window = Linked();
        Each(window, () =>
        {
            Leave(window);
            window.Type("c\n");
            Until(window, "THE MACHINE WILL MOVE");
            Rest(window);
        });
        Assert.DoesNotContain(Journal.Entries(), entry => entry.Body is EntryBody.Moved);
    }

    [Fact]
    public void The_box_of_a_write_and_its_read_back()
    {
        using var window = Linked();
        void ToBox()
        {
            Leave(window);
            AskToWrite(_desk!, window);
            Rest(window);
        }

        Each(window, ToBox);
        Assert.Empty(Ledger.SettingsWritten);
        ToBox();
        Confirm(window, "y", "agrees");
        Each(window, () => { }, once: "Enter");
    }

    [Fact]
    public void What_is_to_be_read_before_anything_moves()
    {
        using var window = Linked();
        Each(window, () =>
        {
            Leave(window);
            _desk!.Link!.LoseTrust("the bed was pushed");
            Until(window, "The bed was pushed");
        });
    }

    [Fact]
    public void The_page_of_a_stop()
    {
        using var window = Linked();
        Each(window, () =>
        {
            if (!window.Text.Contains("Nothing is sent to it until", StringComparison.Ordinal))
                window.Press(Key.F9);
            Until(window, "the controller restarted");
            Until(window, "link locked");
        });
        Assert.Equal(3, Ledger.Stops.Count);
    }

    [Fact]
    public void Which_machine_it_is_and_what_somebody_else_changed()
    {
        using (var before = Linked())
            before.Type("c");
        Clock.Advance(TimeSpan.FromHours(1));
        Board.ChangedElsewhere("121", "400.000");
        using var window = Linked();
        Each(window, () =>
        {
            Leave(window);
            window.Type("c");
            window.Press(Key.Enter);
            Assert.Contains("put back", window.Text, StringComparison.Ordinal);
        });
        // The last key was Enter: its box comes when the settings are read.
        Until(window, "WRITE ONE SETTING");
        Leave(window);
        Board.Happens(ControllerFault.Unplug);
        Until(window, "The link is lost");
        Each(window, () =>
        {
            Leave(window);
            window.Type("c");
        });
    }

    private void Each(Headless window, Action reach, string? once = null)
    {
        reach();
        var page = window.Rows[0];
        Others(window, reach);
        var keys = window.Desk.Show(120, 40).Keys.Where(key => key.NotNow is null && key.Action != "confirm" && (once is null || key.Key == once));
        foreach (var key in keys.OrderBy(key => key.Action is "close" or "forget" ? 2 : key.Key == "Enter" ? 1 : 0).ToList())
        {
            foreach (var name in key.Key.Split(key.Key.Contains(" or ", StringComparison.Ordinal) ? " or " : ", "))
            {
                reach();
                if (name is "Up")
                    window.Press(Key.CursorDown);
                var before = State(window);
                window.Press(name);
                var after = window.Desk.Show(120, 40);
                Assert.True(State(window) != before || name is "Up" or "Down" or "PgUp" or "PgDn" or "F9", $"{page}: {key.Key} ({name}) {key.Word} changes nothing:\n{window.Text}");
                Assert.False(after.Message is { } said && (said.Contains(" does nothing here", StringComparison.Ordinal) || said == "That is not possible here."), $"{page}: {key.Key} {key.Word}: {after.Message}");
            }
        }
    }

    // Letters that are no key of the sheet, digits, signs and the space bar: answered, and the sheet stays.
    private void Others(Headless window, Action reach)
    {
        var page = window.Rows[0];
        var scene = window.Desk.Scene;
        var letter = scene.Box?.Letter;
        foreach (var c in "abcdefghijklmnopqrstuvwxyz0123456789+- ")
        {
            var capital = char.ToUpperInvariant(c);
            if (capital == letter || scene.Deeds.Any(deed => deed.Letter == capital) || (scene.Box is null && scene.Places.Contains(capital, StringComparison.Ordinal)))
                continue;
            window.Type(c.ToString());
            Assert.True(window.Rows[0] == page, $"{page}: {c} leads away:\n{window.Text}");
            Assert.True(window.Desk.Show(120, 40).Message is { Length: > 0 }, $"{page}: {c} is not answered:\n{window.Text}");
        }

        reach();
    }

    private static string State(Headless window) => SheetFrame.Text(window.Desk.Show(120, 40), 120, 40) + window.Desk.Scrolled + window.Desk.Scene.TextField;

    // Whatever lies above: with the safe answer back to the bench.
    private static void Leave(Headless window)
    {
        for (var i = 0; i < 6 && !window.Rows[0].Contains("/ bench", StringComparison.Ordinal); i++)
        {
            // The board restarts by STOP and needs a moment before it tells its state again.
            if (window.Text.Contains("Nothing is sent to it until", StringComparison.Ordinal))
            {
                Until(window, "the controller restarted");
                Until(window, "link locked");
                window.Type("a");
            }
            else
                window.Press(Key.Esc);
        }
    }

    private Headless Linked()
    {
        _desk = Desk();
        var window = new Headless(_desk);
        Link(window);
        return window;
    }
}
