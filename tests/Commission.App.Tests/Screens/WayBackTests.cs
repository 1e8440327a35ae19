using System.Text.RegularExpressions;
using Terminal.Gui.Input;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>The way back that the box of a write names, and what comes after trust was lost.</summary>
public sealed partial class WayBackTests : KnownScreens
{
    // Found in use: the box named the set of the minute, the list of older sets had that minute with "nothing", and a set of before under a raw name.
    [Fact]
    public void The_set_that_the_box_names_is_the_one_that_puts_the_old_value_back()
    {
        using var window = Linked(out var desk);
        Clock.Advance(TimeSpan.FromSeconds(7));
        AskToWrite(desk, window);
        var named = Named().Match(window.Text).Groups[1].Value;
        Clock.Advance(TimeSpan.FromSeconds(7));
        Confirm(window, "y", "agrees");
        window.Press(Key.Enter);
        window.Type("c");
        Until(window, "23 settings read and compared");
        window.Type("v");
        // What is saved after the write comes when it is read.
        Until(window, "2 different sets");
        var row = Assert.Single(window.Rows, line => line.Contains(" " + named, StringComparison.Ordinal) && line.Contains("Apr 2026", StringComparison.Ordinal));
        Assert.EndsWith("1: steps per mm, Y", row.TrimEnd(), StringComparison.Ordinal);
        Assert.DoesNotContain("stepsPerMm", window.Text, StringComparison.Ordinal);
        // And it does: its box holds the old value.
        window.Press(Key.CursorDown, Key.Enter);
        Until(window, "WRITE ONE SETTING");
        Assert.Matches(@"steps per mm, Y +319\.606 +-> +320\.000", window.Text);
    }

    [Fact]
    public void After_a_stop_the_sheet_says_homing_comes_where_it_may()
    {
        KnownMachine.Pass(Journal, KnownMachine.ReadyChecks);
        Assert.Equal(("After that: home, with its own confirmation. Enter does nothing here.", "The position is not trusted. The next move begins with homing."), Stopped());
    }

    // Found in use: "The next move begins with homing" before the first moves, where the box that unlocks and a move by 1 mm come.
    [Fact]
    public void Before_any_homing_is_allowed_it_says_that_the_next_box_tells_what_moves()
    {
        KnownMachine.Pass(Journal, KnownMachine.ReadyChecks.Where(check => !check.StartsWith("P25", StringComparison.Ordinal) && check != "P27"));
        Assert.Equal(("After that: the next box says what moves. Enter does nothing here.", "Not trusted. Homing is not allowed yet: the next box says what moves."), Stopped());
    }

    // The row under NEXT on the sheet of a stop, and what is said once it was answered.
    private (string Sheet, string After) Stopped()
    {
        using var window = Linked(out _);
        window.Press(Key.F9);
        Until(window, "Nothing is sent to it until A, S or O is pressed.");
        Answered(window);
        var sheet = window.Rows[21].Trim();
        Rest(window);
        window.Type("a");
        return (sheet, window.Rows[21].Trim());
    }

    [GeneratedRegex(@"settings of ([0-9:]+), write back")]
    private static partial Regex Named();
}
