using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>What cannot be so is asked about before it is kept, with one key to take what was meant, to keep it, or to answer anew.</summary>
public sealed class OddAnswersScreenTests : KnownScreens
{
    [Fact]
    public void A_voltage_below_zero_is_asked_about_though_it_keeps_its_limit()
    {
        using var window = AtFirstStep("readiness");
        window.Type("s-48\n");
        Assert.Contains("-48: it is below zero, which cannot be here. A slip?", window.Text, StringComparison.Ordinal);
        Assert.StartsWith("NEXT >> Enter answers anew. A takes 48 V. O keeps -48.", window.Rows[20], StringComparison.Ordinal);
        Assert.StartsWith(" Enter anew  A 48 V  O as it stands", window.Rows[23], StringComparison.Ordinal);
        Assert.DoesNotContain(Ledger.Checks, made => made.Body.Check == "P05");
        window.Type("\n");
        Assert.Contains("[ _", window.Text, StringComparison.Ordinal);
        window.Type("-48\na");
        Assert.Equal(("-48", 48.0, false), (Ledger.Checks[^1].Body.Typed, Ledger.Checks[^1].Body.Value!.Value, Ledger.Checks[^1].Body.Passed));
        window.Type("r-0,4\no");
        Assert.Equal((-0.4, true), (Ledger.Checks[^1].Body.Value!.Value, Ledger.Checks[^1].Body.Passed));
    }

    [Fact]
    public void A_question_about_a_number_goes_when_the_number_is_changed()
    {
        using var window = AtFirstStep("readiness");
        window.Type("s-4\n");
        Assert.Contains("A slip?", window.Text, StringComparison.Ordinal);
        window.Press(Key.Backspace);
        Assert.DoesNotContain("A slip?", window.Text, StringComparison.Ordinal);
        Assert.StartsWith(" Enter accept", window.Rows[23], StringComparison.Ordinal);
    }

    [Fact]
    public void A_ratio_that_the_other_facts_speak_against_is_asked_about_and_kept_by_O()
    {
        using var window = Open();
        window.Type("ma");
        for (var i = 0; i < 90 && !window.Rows.Any(row => row.Contains(">>", StringComparison.Ordinal) && row.Contains("steps per mm", StringComparison.Ordinal)); i++)
            window.Press(Key.CursorDown);
        window.Type("\n641\n");
        Assert.Matches(@"X: .+\s.+ make .+ steps per mm, and 641\s+are\s+told. A\s+slip\?", string.Join(' ', window.Rows));
        Assert.Matches("^NEXT >> Enter answers anew. A takes [0-9.]+ steps/mm. O keeps 641.", window.Rows[20]);
        Assert.NotEqual(641, Ledger.Machines["Heron"].Description.X.StepsPerMm);
        window.Type("o");
        Assert.Contains("corrected. U undoes it.", window.Said, StringComparison.Ordinal);
        Assert.Equal(641, Ledger.Machines["Heron"].Description.X.StepsPerMm);
    }

    [Fact]
    public void A_reading_with_a_digit_too_many_is_asked_about_and_not_refused()
    {
        using var window = Open();
        window.Type("\ns\ns75.123\n");
        Assert.Contains("is the last digit", window.Text, StringComparison.Ordinal);
        Assert.Contains("75.123 is what it reads", window.Text, StringComparison.Ordinal);
        window.Type("r");
        Assert.Contains("reading 1 of 10", window.Rows[0], StringComparison.Ordinal);
    }

    [Fact]
    public void A_number_typed_at_the_question_about_the_last_reading_is_that_reading_read_again()
    {
        using var window = Open();
        window.Type("\ns\ns75.123\n");
        Assert.Contains("is the last digit", window.Text, StringComparison.Ordinal);
        window.Type("75.12\n");
        Assert.Contains("reading 2 of 10", window.Rows[0], StringComparison.Ordinal);
        Assert.Equal("75.12", Ledger.Readings.Values.Single(reading => reading.Counts).Taken.Body.Typed);
    }

    [Fact]
    public void A_length_below_zero_is_asked_about_and_A_takes_it_without_its_sign()
    {
        using var window = Open();
        window.Type("\ns\ns-8,49\n");
        Assert.Contains("-8.49 is below zero, and a length", window.Text, StringComparison.Ordinal);
        window.Type("a");
        Assert.Equal(8.49, Ledger.Readings.Values.Single(reading => reading.Counts).Taken.Body.Value);
    }
}
