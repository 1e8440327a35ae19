using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Pages;
using Terminal.Gui.Input;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>What annoyed somebody who worked with the screens, each once.</summary>
public sealed class UsedAtTheBenchTests : KnownScreens
{
    [Fact]
    public void What_was_put_aside_says_where_it_waits_and_W_leads_to_the_list_again()
    {
        using var window = Open();
        window.Type("\nso");
        Assert.Contains("The run is put aside.", window.Text, StringComparison.Ordinal);
        Assert.EndsWith("put aside", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains("It waits on its route card", window.Text, StringComparison.Ordinal);
        window.Type("w");
        Assert.Contains("Heron / work  ", window.Rows[0], StringComparison.Ordinal);
        window.Type("\ns");
        Assert.Contains("Heron / put aside", window.Rows[0], StringComparison.Ordinal);
    }

    [Fact]
    public void A_long_list_is_turned_page_by_page_and_to_its_ends()
    {
        using var window = Open();
        window.Type("l");
        window.Press(Key.PageDown);
        Assert.Contains("11 of ", window.Rows[2], StringComparison.Ordinal);
        window.Press(Key.PageUp);
        Assert.Contains(" 1 of ", window.Rows[2], StringComparison.Ordinal);
        window.Press(Key.End);
        Assert.Matches(@" (\d+) of \1$", window.Rows[2]);
        window.Press(Key.Home);
        Assert.Contains(" 1 of ", window.Rows[2], StringComparison.Ordinal);
    }

    [Fact]
    public void One_place_of_the_card_is_where_one_is()
    {
        var desk = EveryKeyTests.DeskAt(">s>s!");
        var card = SheetFrame.Text(desk.Show(80, 24));
        Assert.Single(card.Split('\n'), row => row.Contains("<- you are here", StringComparison.Ordinal));
        Assert.Single(card.Split('\n'), row => row.Contains(" P  ", StringComparison.Ordinal));
    }

    // Found in review: what was typed beyond that was dropped without a word.
    [Fact]
    public void A_number_that_is_too_long_is_said_to_be()
    {
        using var window = Open();
        window.Type("\ns\ns1234567890.12345");
        Assert.Contains("[..90.12345_ ]", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("A number of at most", window.Text, StringComparison.Ordinal);
        window.Type("6");
        Assert.Contains("[..90.12345_ ]", window.Text, StringComparison.Ordinal);
        Assert.Contains("A number of at most 16 characters.", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_entry_of_the_log_is_called_by_its_name()
    {
        Assert.Equal("23 settings saved", LogWords.Of(new EntryBody.SettingsSaved("numbered-settings", [.. Enumerable.Range(0, 23).Select(i => new SavedSetting($"{i}", null, null, "0", 0))])));
        Assert.Equal("at the keys: MB", LogWords.Of(new EntryBody.OperatorEntered("MB")));
        Assert.Equal("gauge study begun", LogWords.Of(new EntryBody.RunStarted { Procedure = "gauge-study", ProcedureHash = "h" }));
        Assert.Equal("run put aside: later", LogWords.Of(new EntryBody.RunEnded("put-aside", "later")));
    }

    [Fact]
    public void Large_figures_name_the_instrument_that_is_read()
    {
        using var window = AtFirstStep("backlash");
        window.Type("\n");
        for (var steps = 0; steps < 50 && !window.Text.Contains("reading 1 of ", StringComparison.Ordinal); steps++)
            window.Type(window.Text.Contains("[ _", StringComparison.Ordinal) ? "0\n" : window.Text.Contains("S means", StringComparison.Ordinal) ? "s" : "\n");
        window.Type("g");
        Assert.Contains("Type what the indicator shows. Enter.", window.Text, StringComparison.Ordinal);
    }

    /// <summary>Over a secure shell somebody else must be able to stop it: the box says so, whole, in the smallest window.</summary>
    [Fact]
    public void Where_the_keyboard_is_elsewhere_the_box_of_a_move_says_that_STOP_may_come_late()
    {
        Assert.True(ScreenProgram.IsElsewhere(name => name == "SSH_CONNECTION" ? "10.0.0.2 52222 10.0.0.3 22" : null));
        Assert.False(ScreenProgram.IsElsewhere(_ => null));
        KnownMachine.Pass(Journal, KnownMachine.ReadyChecks);
        using var window = On(KnownMachine.Linked(Journal) with { Elsewhere = true });
        Link(window);
        window.Type("b\ns\ns");
        Until(window, "THE MACHINE WILL MOVE");
        Golden.Both("link-box-home-elsewhere", window);
        Confirm(window, "h", "THE CARRIAGE WILL MOVE");
        Golden.Both("link-box-move-elsewhere", window);
        Assert.Contains("This keyboard is elsewhere and STOP may come late.", window.Text, StringComparison.Ordinal);
        Assert.Contains("Somebody must stand at the wired emergency stop.", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("PgDn", window.Text, StringComparison.Ordinal);
    }
}
