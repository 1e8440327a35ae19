using Commission.Tests;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>A run that was cut off: taken up at its very cell, with the zero that the person says it has.</summary>
public sealed class ResumptionTests : KnownScreens
{
    [Fact]
    public void A_known_machine_is_at_its_first_accepted_reading_after_five_presses_besides_the_digits()
    {
        using var window = Open();
        // Enter follows NEXT to the route card, S begins, Enter and S answer the setting-up, Enter accepts.
        window.Press(Key.Enter);
        window.Type("s");
        window.Press(Key.Enter);
        window.Type("s");
        window.Type(Story.Look(window));
        Assert.Empty(Ledger.Readings);
        window.Press(Key.Enter);
        Assert.Single(Ledger.Readings);
    }

    [Fact]
    public void Blocks_that_were_touched_get_a_zero_of_their_own_and_the_scale_is_still_found()
    {
        Story.BreakOff(Journal, Clock, 6);
        using var window = Open();
        Assert.StartsWith(" PRACTICE  Heron / unfinished", window.Rows[0], StringComparison.Ordinal);
        // Drives not off, but untouched: no. The blocks were bumped by 0.7 mm meanwhile.
        window.Press(Key.CursorLeft, Key.CursorDown, Key.CursorLeft, Key.Enter);
        Assert.Contains("reading 7 of 10", window.Rows[0], StringComparison.Ordinal);
        Assert.Equal("From here on a zero of its own.", window.Rows[21].Trim());
        Assert.Contains("own zero from reading 7 on", window.Text, StringComparison.Ordinal);
        Story.Read(window, 1, shift: 0.7);
        Assert.Contains("own zero from reading 7 on", window.Text, StringComparison.Ordinal);
        Story.Read(window, 3, shift: 0.7);
        window.Type("s");
        var made = KnownMachine.FoundInsideU(Ledger, AxisName.X);
        Assert.Contains(made.Finding.Remarks, remark => remark.Contains("2 groups of readings with a zero each", StringComparison.Ordinal));
        Assert.DoesNotContain(Journal.Entries(), entry => entry.Body is EntryBody.Noted noted && noted.Text.StartsWith("Question", StringComparison.Ordinal) && entry.Sequence > made.Readings[5]);
    }

    [Fact]
    public void An_untouched_set_up_with_the_drives_on_keeps_its_zero()
    {
        Story.BreakOff(Journal, Clock, 3);
        using var window = Open();
        window.Press(Key.CursorLeft, Key.CursorDown, Key.CursorLeft, Key.CursorLeft);
        Assert.Contains("their zero holds", window.Text, StringComparison.Ordinal);
        window.Press(Key.Enter);
        Story.Read(window, 1);
        Assert.Empty(Ledger.Readings.Values.Last().Taken.Body.Words.GetValueOrDefault("zero", ""));
    }

    [Fact]
    public void The_line_that_was_cut_off_is_shown_and_not_used()
    {
        Story.BreakOff(Journal, Clock, 2);
        var cut = new FaultyJournal(Journal) { CutOff = """{"format":"commission.journal/1","id":"prac:60","type":"reading","recorded":3,"place":"middle","typed":"146.4""" };
        using var window = KnownMachine.Window(cut, Clock);
        Assert.Contains("""half a line of reading 3: "146.4" without its end.""", window.Text, StringComparison.Ordinal);
        window.Type("d");
        Assert.Contains("set aside and never used", window.Text, StringComparison.Ordinal);
        window.Press(Key.Esc, Key.Enter, Key.Enter);
        Assert.Contains("reading 3 of 10", window.Rows[0], StringComparison.Ordinal);
        Assert.Equal(2, Ledger.Readings.Count);
    }

    [Fact]
    public void What_was_put_aside_waits_on_its_route_card_and_the_bench_opens_first()
    {
        using (var before = Open())
        {
            before.Type("\ns\ns");
            Story.Read(before, 2);
            before.Type("os");
        }

        using var window = Open();
        Assert.StartsWith(" PRACTICE  Heron / bench", window.Rows[0], StringComparison.Ordinal);
        window.Type("\ns");
        Assert.StartsWith(" PRACTICE  Heron / put aside", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains(" was put aside at ", window.Rows[2], StringComparison.Ordinal);
        window.Type("\n\n");
        Assert.Contains("reading 3 of 10", window.Rows[0], StringComparison.Ordinal);
    }

    [Fact]
    public void Enter_answers_no_question_that_was_not_come_to()
    {
        Story.BreakOff(Journal, Clock, 3);
        using var window = Open();
        Assert.Contains("Enter goes on to the second question", window.Rows[20], StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.StartsWith(" PRACTICE  Heron / unfinished", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains(window.Rows, row => row.StartsWith(">> 2 ", StringComparison.Ordinal));
        window.Press(Key.Enter);
        Assert.Contains("reading 4 of 10", window.Rows[0], StringComparison.Ordinal);
        // Whether the drives were off is not known: homing comes first, and the sheet says so where the reading is asked.
        Assert.Equal("Home first. From here on a zero of its own.", window.Rows[21].Trim());
    }

    // A study of the hand sets the caliper anew for each reading: neither power nor blocks have to do with it.
    [Fact]
    public void A_study_of_the_hand_goes_on_without_a_question()
    {
        PutAside("gauge-study", "\n20.01\n20.02\n");
        using var window = AtFirstStep("gauge-study");
        Assert.StartsWith(" PRACTICE  Heron / put aside", window.Rows[0], StringComparison.Ordinal);
        foreach (var foreign in (string[])["Caliper", "Home first", "not sure", "belong to one set-up"])
            Assert.DoesNotContain(foreign, window.Text, StringComparison.Ordinal);
        Assert.Contains("Each reading is taken by itself", window.Text, StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.Contains("reading 3 of 10", window.Rows[0], StringComparison.Ordinal);
    }

    // After a power cut the drives were off for certain, and distances between marks were refused for it.
    [Fact]
    public void Distances_between_marks_ask_one_question_and_go_on_where_the_marks_are_as_they_were()
    {
        PutAside("distance-network", "\n\ns657.4\n");
        using var window = AtFirstStep("distance-network");
        Assert.Contains("One question, because the fit cannot know.", window.Text, StringComparison.Ordinal);
        Assert.Contains("Marks, board and tape untouched since then?", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("power", window.Text, StringComparison.Ordinal);
        window.Press(Key.CursorUp, Key.CursorLeft, Key.CursorLeft, Key.Enter);
        Assert.Contains("reading 2 of 12", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains(Journal.Entries(), entry => entry.Body is EntryBody.Noted { Text: "taken up again; set-up untouched: yes" });
    }

    private void PutAside(string procedure, string typed)
    {
        using var window = AtFirstStep(procedure);
        window.Type(typed);
        Journal.Append(new EntryBody.RunEnded("put-aside", "for tomorrow") { Machine = "Heron", Run = Ledger.Resumable("Heron")!.Sequence }).Require();
    }
}
