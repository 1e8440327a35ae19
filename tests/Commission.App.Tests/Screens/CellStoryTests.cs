using Commission.Workshop.Screens.Keys;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>What is typed into the cell of a reading: nothing half typed does anything else, what was refused is typed over.</summary>
public sealed class CellStoryTests : KnownScreens
{
    [Fact]
    public void A_fraction_in_a_cell_of_millimetres_is_refused_whole_and_takes_no_reading_back()
    {
        using var window = AtReadings();
        Story.Read(window, 1);
        window.Type("3/");
        Assert.Contains("A fraction counts in inches only.", window.Rows[21], StringComparison.Ordinal);
        Assert.Contains("3/_ ]", window.Text, StringComparison.Ordinal);
        window.Type("4\n");
        Assert.Contains("fractions are read in inches only", window.Said, StringComparison.Ordinal);
        Assert.Contains("reading 2 of 10", window.Rows[0], StringComparison.Ordinal);
        Assert.IsType<ReadingStanding.Accepted>(Assert.Single(Ledger.Readings.Values).Standing);
        // In an empty cell the slash of a loose number pad reads the last one again.
        window.Press(Key.Esc);
        window.Type("/");
        Assert.Contains("reading 1 of 10", window.Rows[0], StringComparison.Ordinal);
    }

    [Fact]
    public void What_was_refused_is_typed_over_and_Backspace_edits_it()
    {
        using var window = AtReadings();
        window.Type("8..5\n");
        Assert.StartsWith("NEXT >> ", window.Rows[20], StringComparison.Ordinal);
        window.Press(Key.Backspace);
        Assert.Contains("8.._ ]", window.Text, StringComparison.Ordinal);
        window.Type("5\n7");
        Assert.Contains("[      7_ ]", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_digit_that_the_instrument_does_not_have_is_asked_about_with_a_key_for_each_answer()
    {
        using var window = AtReadings();
        window.Type("4.193\n");
        Assert.Contains("A   4.19", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("recorded", window.Said, StringComparison.Ordinal);
        window.Type("a");
        Assert.Contains("reading 2 of 10", window.Rows[0], StringComparison.Ordinal);
        Assert.Equal("4.19", Ledger.Readings.Values.Single(reading => reading.Standing is ReadingStanding.Accepted).Taken.Body.Typed);
    }

    [Fact]
    public void Esc_leaves_no_question_behind_by_accident()
    {
        using var window = AtReadings();
        window.Type("4.193\n");
        window.Press(Key.Esc);
        Assert.Contains("A slip?", window.Text, StringComparison.Ordinal);
        Assert.Contains("The question waits for its answer.", window.Rows[21], StringComparison.Ordinal);
    }

    [Fact]
    public void A_long_number_stays_in_its_frame()
    {
        using var window = AtReadings();
        window.Type("1234567890123456");
        Assert.Contains("[..90123456_ ] mm", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_question_in_a_study_leaves_the_other_rows_in_sight_and_a_number_typed_at_it_is_a_new_reading()
    {
        using var window = AtFirstStep("gauge-study");
        window.Type("\n58.01\n");
        window.Type("58.02\n");
        window.Type("58.03\n");
        window.Type("580.1\n");
        Assert.Contains("A slip?", window.Text, StringComparison.Ordinal);
        Assert.Contains(window.Rows, row => row.StartsWith("   5 first thing", StringComparison.Ordinal) || row.StartsWith(" 5 first thing", StringComparison.Ordinal) || row.Contains("first thing, trial 5", StringComparison.Ordinal));
        Assert.DoesNotContain("recorded", window.Said, StringComparison.Ordinal);
        // What the thing read before stays hidden in the question too.
        Assert.DoesNotContain("58.03", window.Text, StringComparison.Ordinal);
        window.Type("58.02");
        Assert.Contains("58.02_ ]", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("nothing here takes one", window.Said, StringComparison.Ordinal);
    }

    // Found in use: a letter beside a half-typed number took back what was accepted, and the number stayed for another cell.
    [Theory]
    [InlineData("u")]
    [InlineData("r")]
    [InlineData("e")]
    public void What_is_half_typed_comes_first_and_nothing_accepted_is_taken_back_beside_it(string key)
    {
        using var window = AtReadings();
        Story.Read(window, 2);
        window.Type("8.5" + key);
        Assert.Equal("8.5 is still in the cell: Enter takes it, Esc clears it; then again.", window.Rows[21].Trim());
        Assert.Contains("8.5_ ]", window.Text, StringComparison.Ordinal);
        Assert.Contains("reading 3 of 10", window.Rows[0], StringComparison.Ordinal);
        window.Type("g");
        window.Type("g" + key);
        Assert.All(Ledger.Readings.Values, reading => Assert.True(reading.Counts));
    }

    // Found in use: the question about a comma stood in one row, NEXT asked for a number still, and Enter repeated it without a word.
    [Fact]
    public void Of_two_meanings_of_a_comma_NEXT_and_the_keys_tell_how_one_is_chosen_and_Enter_alone_takes_neither()
    {
        using var window = AtReadings();
        window.Type("8,125\n");
        Assert.Equal("NEXT >> Left takes 8.125, Right takes 8125. Then Enter.", window.Rows[20].TrimEnd());
        Assert.Contains("8,125 can be 8.125 or 8125.", window.Rows[21], StringComparison.Ordinal);
        Assert.StartsWith(" Left 8.125   Right 8125", window.Rows[23], StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.Equal("Enter takes neither: Left takes 8.125, Right takes 8125.", window.Rows[21].Trim());
        window.Type("u");
        Assert.Contains("U undo: 8,125 comes first, Left or Right", window.Said, StringComparison.Ordinal);
        Assert.Empty(Ledger.Readings);
        window.Press(Key.CursorRight);
        Assert.Equal("NEXT >> Enter takes 8125. Left takes 8.125.", window.Rows[20].TrimEnd());
        window.Press(Key.CursorLeft);
        Assert.StartsWith(" Enter accept   Left 8.125   Right 8125", window.Rows[23], StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.Single(Ledger.Readings);
        Assert.DoesNotContain("Left", window.Rows[23], StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("r", 3)]
    [InlineData("u", 2)]
    [InlineData("i", 1)]
    public void In_the_call_layout_a_number_is_read_back_and_each_of_the_last_three_has_its_key(string key, int reading)
    {
        using var window = AtReadings();
        Story.Read(window, 3);
        window.Type("gg");
        Assert.Contains("read back (3, ", window.Text, StringComparison.Ordinal);
        window.Type(key);
        Assert.Matches($@"Reading {reading} \(.+ mm\) taken back", window.Said);
        Assert.Equal([reading != 1, reading != 2, reading != 3], Ledger.Readings.Values.Select(one => one.Counts));
    }

    [Fact]
    public void In_the_call_layout_each_accepted_number_rings_once_though_no_bells_were_chosen()
    {
        using var window = AtReadings();
        window.Type("gg" + Story.Look(window));
        // Done at the desk: the window would ring what came at once.
        Assert.Equal(0, window.Desk.TakeBells());
        window.Desk.Do(new KeyAct.Accept());
        Assert.Single(Ledger.Readings);
        Assert.Equal(1, window.Desk.TakeBells());
    }

    private Headless AtReadings()
    {
        var window = Open();
        window.Type("\ns\ns");
        return window;
    }
}
