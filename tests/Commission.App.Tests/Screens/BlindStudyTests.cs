using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Pages;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>A study of the hand is made blind: until it ends none of its readings is shown again, on any sheet, but one that is asked about and one that is read back to who called it.</summary>
public sealed class BlindStudyTests : KnownScreens
{
    private const string Stays = "What it was stays hidden until the study ends.";

    [Fact]
    public void What_was_read_stays_hidden_on_the_sheet_in_large_figures_and_wherever_readings_are_listed()
    {
        using var window = AtFirst();
        window.Type("58.01\n");
        Assert.Equal("recorded 1. " + Stays, window.Rows[21].Trim());
        window.Type("58.02\n");
        Assert.Contains("taken: hidden until the study ends, so that nobody reads towards it", window.Text, StringComparison.Ordinal);
        Hidden(window);
        foreach (var key in "de")
        {
            window.Type(key.ToString());
            Hidden(window);
            window.Press(Key.Esc);
        }

        window.Type("g");
        Assert.Contains("what was read stays hidden until the study ends", window.Text, StringComparison.Ordinal);
        Hidden(window);
        window.Type("ggl");
        Assert.Contains("reading 2 of hand study, hidden until the study ends", window.Text, StringComparison.Ordinal);
        Hidden(window);
        window.Press(Key.CursorDown, Key.Enter);
        Hidden(window);
        window.Type("wu");
        Assert.Equal("Reading 2 taken back, kept in the log. Read it again.", window.Rows[21].Trim());
    }

    [Fact]
    public void What_was_read_stays_hidden_in_a_study_that_is_taken_up_again()
    {
        using (var window = AtFirst())
            window.Type("58.01\n");
        using var again = new Headless(new Desk(DeskOf(KnownMachine.Options(Journal, "gauge-study")).Means with { Look = null }), 80, 24);
        again.Type("v");
        Assert.Contains("hidden until the study ends", again.Text, StringComparison.Ordinal);
        Hidden(again);
        again.Press(Key.Esc, Key.CursorLeft, Key.Enter, Key.CursorLeft, Key.CursorLeft, Key.Enter);
        Assert.Contains("reading 2 of 10", again.Rows[0], StringComparison.Ordinal);
        again.Type("v");
        Assert.Contains("1 first thing, trial 1 of 10: hidden until the study ends", again.Text, StringComparison.Ordinal);
        Hidden(again);
    }

    // Another thing is read between the two trials of a thing: what it was stays hidden over it.
    [Fact]
    public void What_was_read_of_another_thing_stays_hidden_too()
    {
        using var window = AtFirst();
        for (var i = 0; i < 10; i++)
            window.Type(i % 2 == 0 ? "58.01\n" : "58.02\n");
        window.Type("20.58\n");
        Assert.DoesNotContain("20.58", window.Text, StringComparison.Ordinal);
        Assert.Equal("recorded 1. " + Stays, window.Rows[21].Trim());
    }

    [Fact]
    public void A_question_shows_the_reading_it_is_about_and_of_the_others_only_how_far_away_they_lie()
    {
        using var window = AtFirst();
        window.Type("58.01\n");
        window.Type("68.02\n");
        Assert.Contains("68.02", window.Text, StringComparison.Ordinal);
        Assert.Contains("about 10 mm from", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("58.01", window.Text, StringComparison.Ordinal);
        window.Type("r");
        Hidden(window);
        // The question comes back by U, and does not count by it.
        window.Type("u");
        Assert.Contains("A slip?", window.Text, StringComparison.Ordinal);
        Assert.Equal("The question is open again; both entries stay in the log.", window.Rows[21].Trim());
        window.Type("u");
        Assert.Contains("reading 2 of 10", window.Rows[0], StringComparison.Ordinal);
        window.Type("u");
        Assert.Contains("reading 1 of 10", window.Rows[0], StringComparison.Ordinal);
    }

    [Fact]
    public void In_the_call_layout_the_number_just_called_is_read_back_and_the_next_thing_stands_in_large_figures()
    {
        using var window = AtFirst();
        window.Type("gg");
        window.Type("58.01\n");
        window.Type("58.02\n");
        Assert.Contains(BlockDigits.Of("58.02")[2], window.Text, StringComparison.Ordinal);
        Assert.Contains("read back (2, first thing, trial 2 of 10)", window.Text, StringComparison.Ordinal);
        Assert.Contains(BlockDigits.Of("FIRST 3/10")[2], window.Text, StringComparison.Ordinal);
        Assert.Contains("U not number 1", window.Rows[23], StringComparison.Ordinal);
        Assert.DoesNotContain("58.01", window.Text, StringComparison.Ordinal);
    }

    private static void Hidden(Headless window) => Assert.DoesNotContain("58.0", window.Text, StringComparison.Ordinal);

    private Headless AtFirst()
    {
        var window = AtFirstStep("gauge-study");
        window.Press(Key.Enter);
        Assert.Contains("reading 1 of 10", window.Rows[0], StringComparison.Ordinal);
        return window;
    }
}
