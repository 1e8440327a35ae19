using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Pages;
using Terminal.Gui.Input;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>A window too small for a sheet: nobody can read what a key would do there, so no key but STOP does anything; what moves is told at every size.</summary>
public sealed class SmallWindowTests : KnownScreens
{
    public SmallWindowTests() => KnownMachine.Pass(Journal, KnownMachine.ReadyChecks);

    [Theory]
    [InlineData(50, 10)]
    [InlineData(70, 22)]
    [InlineData(80, 23)]
    public void A_box_that_nobody_sees_is_void_and_is_read_anew_when_it_is_drawn_again(int width, int height)
    {
        using var window = On(KnownMachine.Linked(Journal, scale: 1));
        var desk = ToHomingBox(window);
        Rest(window);
        window.Resize(width, height);
        Assert.Null(desk.Link!.Now!.Gate.Box);
        window.Type("h");
        // Past the keys too: the gate has nothing that could be confirmed.
        desk.Link.Confirm('H');
        Rest(window);
        Assert.Null(desk.Link.Moving);
        Assert.DoesNotContain("EVERY KEY STOPS", window.Text, StringComparison.Ordinal);
        window.Resize(80, 24);
        Assert.Contains("THE MACHINE WILL MOVE", window.Text, StringComparison.Ordinal);
        Assert.Contains("What was typed while the window was too small was not used", window.Said, StringComparison.Ordinal);
        Assert.NotNull(desk.Link.Now.Gate.Box);
        window.Type("h", gapMs: 0);
        window.Advance(60);
        Assert.Contains("before the box could be read", window.Said, StringComparison.Ordinal);
        Assert.Null(desk.Link.Moving);
        Confirm(window, "h", "EVERY KEY STOPS");
    }

    [Fact]
    public void A_box_under_the_help_is_void_too_and_is_asked_for_anew_when_the_help_is_put_away()
    {
        using var window = On(KnownMachine.Linked(Journal, scale: 1));
        var desk = ToHomingBox(window);
        window.Press(Key.F1);
        window.Resize(50, 10);
        window.Resize(80, 24);
        Assert.Null(desk.Link!.Now!.Gate.Box);
        window.Press(Key.Esc);
        Assert.Contains("THE MACHINE WILL MOVE", window.Text, StringComparison.Ordinal);
        Confirm(window, "h", "EVERY KEY STOPS");
    }

    [Theory]
    [InlineData(50, 10)]
    [InlineData(26, 2)]
    [InlineData(16, 1)]
    [InlineData(10, 3)]
    public void What_moves_is_told_in_any_window_that_can_hold_it_and_every_key_stops(int width, int height)
    {
        using var window = On(KnownMachine.Linked(Journal, scale: 1));
        ToHomingBox(window);
        Confirm(window, "h", "EVERY KEY STOPS");
        window.Resize(width, height);
        Assert.Contains("EVERY KEY STOPS", string.Join(' ', window.Rows.Select(row => row.Trim())), StringComparison.Ordinal);
        window.Type("7");
        window.Resize(80, 24);
        Assert.Contains("Nothing is sent to it until", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void After_STOP_a_small_window_says_so_and_takes_no_answer()
    {
        using var window = On(KnownMachine.Linked(Journal, scale: 1));
        ToHomingBox(window);
        Confirm(window, "h", "EVERY KEY STOPS");
        window.Resize(50, 10);
        window.Press(Key.Space);
        Assert.StartsWith("STOP. Look at the machine.", window.Rows[0], StringComparison.Ordinal);
        Rest(window);
        window.Type("a");
        Assert.Empty(Ledger.Stops);
        window.Resize(80, 24);
        Until(window, "practice locked");
        window.Type("a");
        Assert.Single(Ledger.Stops);
    }

    [Fact]
    public void Neither_a_reading_nor_a_deed_nor_the_way_out_is_taken_from_keys_nobody_sees()
    {
        using var window = Open();
        window.Type("\ns\ns8.4");
        window.Resize(50, 10);
        window.Type("9\n");
        window.Press(Key.Backspace);
        window.Type("bq");
        window.Click(3, 3);
        window.Resize(80, 24);
        Assert.Contains("[    8.4_ ] mm", window.Text, StringComparison.Ordinal);
        Assert.Empty(Ledger.Readings);
        Assert.False(window.Desk.Left);
    }

    [Fact]
    public void The_box_of_a_write_is_read_anew()
    {
        using var window = On(KnownMachine.Linked(Journal, scale: 1));
        var desk = (Desk)window.Desk;
        Link(window);
        desk.Link!.Plan(AxisName.Y, 319.606, writes => desk.Cover(new WritePage(desk, writes, "Heron / a write", null, null)));
        Until(window, "WRITE ONE SETTING");
        Rest(window);
        window.Resize(79, 24);
        window.Type("y");
        window.Resize(80, 24);
        window.Type("y", gapMs: 0);
        window.Advance(60);
        Assert.Contains("before the box could be read", window.Said, StringComparison.Ordinal);
        Assert.Empty(Ledger.SettingsWritten);
    }

    [Fact]
    public void The_button_that_Tab_reaches_is_drawn_with_the_focus_on_it()
    {
        using var window = On(KnownMachine.Linked(Journal, scale: 1));
        var desk = ToHomingBox(window);
        Assert.Contains("Press H to home.", window.Text, StringComparison.Ordinal);
        Assert.Contains("[ Do not move ] (Enter)", window.Text, StringComparison.Ordinal);
        window.Press(Key.Tab);
        Assert.Contains("[ Home ] (Space)", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("[ Do not move ]", window.Text, StringComparison.Ordinal);
        Assert.Contains("Do not move (Enter)", window.Text, StringComparison.Ordinal);
        var row = SheetFrame.Rows(desk.Show(80, 24), 80, 24).First(line => line.Text.Contains("[ Home ]", StringComparison.Ordinal));
        Assert.Equal(Ink.Focus, row.Cells()[row.Text.IndexOf("[ Home ]", StringComparison.Ordinal)]);
        window.Press(Key.Tab);
        Assert.Contains("[ Do not move ] (Enter)", window.Text, StringComparison.Ordinal);
    }

    private static Desk ToHomingBox(Headless window)
    {
        Link(window);
        Until(window, "Home. Enter draws its box");
        window.Type("\n");
        Until(window, "THE MACHINE WILL MOVE");
        return (Desk)window.Desk;
    }
}
