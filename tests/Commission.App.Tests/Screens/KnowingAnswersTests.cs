using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>Answers that somebody vouches for, runs that are left, and what the sheets say of both.</summary>
public sealed class KnowingAnswersTests : KnownScreens
{
    [Fact]
    public void Enter_never_vouches_for_a_check_S_does_and_O_says_that_it_is_not_so()
    {
        using var window = AtFirstStep("readiness");
        Assert.Contains("The emergency stop is where a falling person can hit it", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("[ yes ]", window.Text, StringComparison.Ordinal);
        Assert.StartsWith(" S it is so   O not so", window.Rows[23], StringComparison.Ordinal);
        window.Press(Key.Enter, Key.CursorDown, Key.Enter, Key.Tab, Key.Space);
        window.Press(Key.Enter);
        Assert.Contains("Enter does nothing here. S means: it is so. O means: it is not so.", window.Said, StringComparison.Ordinal);
        Assert.DoesNotContain(Journal.Entries(), entry => entry.Body is EntryBody.Checked);
        window.Type("o");
        Assert.Contains("OUT  P05a", window.Text, StringComparison.Ordinal);
        window.Type("rs");
        Assert.Contains("check 2 of", window.Rows[0], StringComparison.Ordinal);
        Assert.Equal(["no", "yes"], Journal.Entries().Select(entry => entry.Body).OfType<EntryBody.Checked>().Select(made => made.Typed));
    }

    [Fact]
    public void O_among_the_readings_asks_before_the_run_is_put_aside()
    {
        using var window = Open();
        window.Type("\ns\ns");
        Story.Read(window, 2);
        window.Type("o");
        Assert.Contains("Put scale X aside?", window.Text, StringComparison.Ordinal);
        Assert.Contains("2 readings of it are on disk and stay.", window.Text, StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.Contains("reading 3 of 10", window.Rows[0], StringComparison.Ordinal);
        Assert.Equal(RunStanding.Open, Ledger.Runs.Values.Last().Standing);
        window.Type("o");
        window.Press(Key.Esc);
        Assert.Contains("reading 3 of 10", window.Rows[0], StringComparison.Ordinal);
        window.Type("os");
        Assert.Equal(RunStanding.PutAside, Ledger.Runs.Values.Last().Standing);
    }

    [Fact]
    public void The_list_of_the_work_says_what_is_done_and_what_waits_for_what()
    {
        using var window = On(KnownMachine.Options(Journal, "rails", "bed-map"));
        window.Type("w");
        Assert.EndsWith("done 11 Apr", window.Rows[3], StringComparison.Ordinal);
        Assert.EndsWith("waits for tram", window.Rows[4], StringComparison.Ordinal);
    }

    [Fact]
    public void A_run_that_was_put_aside_is_seen_in_the_list_and_on_its_card()
    {
        using var window = Open();
        window.Type("\ns\ns");
        Story.Read(window, 2);
        window.Type("osw");
        Assert.Contains(window.Rows, row => row.Contains(" X ", StringComparison.Ordinal) && row.EndsWith("put aside 18 Apr", StringComparison.Ordinal));
        window.Type("\n");
        Assert.Contains(" Left    put aside 18 Apr, 2 readings on disk. S goes on with it.", window.Text, StringComparison.Ordinal);
        Assert.StartsWith(" S go on", window.Rows[23], StringComparison.Ordinal);
        window.Type("s");
        Assert.StartsWith(" PRACTICE  Heron / put aside", window.Rows[0], StringComparison.Ordinal);
        Assert.DoesNotContain("ended without being closed", window.Text, StringComparison.Ordinal);
        var last = Ledger.LastSequence;
        window.Type("o");
        Assert.Equal(last, Ledger.LastSequence);
        Assert.StartsWith(" PRACTICE  Heron / bench", window.Rows[0], StringComparison.Ordinal);
    }

    [Theory]
    [InlineData('f')]
    [InlineData('b')]
    public void A_run_whose_finding_is_on_disk_is_closed_however_it_is_left(char place)
    {
        using var window = ToFinding();
        window.Type(place + "b");
        Assert.DoesNotContain("a run is under way", window.Text, StringComparison.Ordinal);
        window.Type("w");
        Assert.Contains("Heron / work", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains("done 18 Apr", window.Text, StringComparison.Ordinal);
        window.Type("fe");
        Assert.Contains("Why is this entry taken back?", window.Text, StringComparison.Ordinal);
        window.Type("a slip\n");
        Assert.Contains("Taken back: ", window.Said, StringComparison.Ordinal);
        Assert.False(Ledger.Findings.Values.Single().Counts);
    }

    [Fact]
    public void What_a_run_still_holds_is_refused_before_a_reason_is_typed()
    {
        using var window = Open();
        window.Type("\ns\ns");
        Story.Read(window, 2);
        window.Type("le");
        Assert.Contains("It belongs to scale X, which is under way.", window.Said, StringComparison.Ordinal);
        Assert.StartsWith(" PRACTICE  Heron / log", window.Rows[0], StringComparison.Ordinal);
        window.Press(Key.F1);
        Assert.Contains("W goes there: E leaves a reading out, U undoes.", string.Join(' ', window.Rows.Select(row => row.Trim())), StringComparison.Ordinal);
    }

    private Headless ToFinding()
    {
        var window = Open();
        window.Type("\ns\ns");
        Story.Read(window, 10);
        for (var i = 0; i < 5 && Ledger.Findings.Count == 0; i++)
            window.Type("s");
        return window;
    }
}
