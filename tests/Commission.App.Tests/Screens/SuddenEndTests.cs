using Commission.Tests;
using Terminal.Gui.Input;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>A program that ended in a move, over a link that is gone: what may have happened is told, and the way back leads over link and homing.</summary>
public sealed class SuddenEndTests : KnownScreens
{
    public SuddenEndTests() => KnownMachine.Pass(Journal, KnownMachine.ReadyChecks);

    // Found in use: after a sudden end in a move the sheet said only that nothing was being written to the controller.
    [Fact]
    public void A_move_that_was_under_way_is_named_and_where_it_ended_is_not_known()
    {
        AtTheFirstReading().Dispose();
        using var killed = new MemoryJournal(StoreNature.Practice, "prac", "test", Clock);
        // All up to the note of the move itself: what follows was never written.
        var begun = Journal.Entries().First(entry => entry.Body.Begun() is { } move && move.StartsWith('X'));
        foreach (var entry in Journal.Entries().Skip(1).TakeWhile(entry => entry.Sequence <= begun.Sequence))
            killed.Append(entry.Body).Require();
        using var window = On(KnownMachine.Linked(killed));
        Assert.StartsWith(" PRACTICE  Heron / unfinished", window.Rows[0], StringComparison.Ordinal);
        var told = string.Join(' ', window.Text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        Assert.Contains("a move was begun: X to the right, 138.0 mm. Its end is not in the log: where it stands is not known. Look.", told, StringComparison.Ordinal);
        // Though the drives kept their power: a move that may not have ended left the position unknown.
        window.Press(Key.CursorLeft);
        Assert.Contains("Home first", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("positions hold", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_move_that_has_ended_is_not_told_as_under_way()
    {
        AtTheFirstReading().Dispose();
        using var window = On(KnownMachine.Linked(Journal));
        Assert.Contains("nothing was being written", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("a move was begun", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Homing_that_was_under_way_is_told_too_until_a_stop_was_answered()
    {
        using (var before = Linked(out _, scale: 1))
        {
            before.Type("b\ns\ns");
            Until(before, "THE MACHINE WILL MOVE");
            Confirm(before, "h", "EVERY KEY STOPS");
        }

        using (var window = On(KnownMachine.Linked(Journal)))
            Assert.Contains("a move was begun: homing.", window.Text, StringComparison.Ordinal);
        Journal.Append(new EntryBody.Stopped("a key", "nothing") { Machine = "Heron" }).Require();
        using var answered = On(KnownMachine.Linked(Journal));
        Assert.DoesNotContain("a move was begun", answered.Text, StringComparison.Ordinal);
    }

    // Found in review: homing from the page of the controller belongs to no run, and left nothing that told of it.
    [Fact]
    public void Homing_outside_a_run_that_was_under_way_is_told_at_the_start_and_at_the_controller_until_it_has_homed()
    {
        using (var before = Linked(out _, scale: 1))
        {
            before.Type("c");
            Homing(before);
            Assert.Equal("homing", Journal.Entries().Last().Body.Begun());
        }

        using (var window = On(KnownMachine.Linked(Journal)))
        {
            Assert.Contains("Begun 10:02 and not known to have ended: homing. Look at the machine.", window.Said, StringComparison.Ordinal);
            Assert.StartsWith(" PRACTICE  Heron / bench", window.Rows[0], StringComparison.Ordinal);
            window.Type("c");
            Assert.Contains("Its end is not in the log: where it stands is not known.", string.Join(' ', window.Text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal);
            Link(window);
            Homing(window);
            Until(window, "position trusted", "trusted");
            Until(window, "Enter goes back to the bench");
            Assert.DoesNotContain("Its end is not in the log", window.Text, StringComparison.Ordinal);
            window.Type("l");
            Assert.Contains(window.Rows, row => row.EndsWith(" move begun: homing", StringComparison.Ordinal));
            Assert.Contains(window.Rows, row => row.EndsWith(" moved homing", StringComparison.Ordinal));
            Assert.DoesNotContain("told: motion", window.Text, StringComparison.Ordinal);
        }

        Assert.IsType<EntryBody.Moved>(Journal.Entries().Last(entry => entry.Body is EntryBody.Moved or EntryBody.Confirmed).Body);
        using var again = On(KnownMachine.Linked(Journal));
        Assert.DoesNotContain("not known to have ended", again.Said, StringComparison.Ordinal);
    }

    // What somebody types as a note is never taken for a move.
    [Fact]
    public void A_note_in_the_words_of_a_move_is_a_note()
    {
        Journal.Append(new EntryBody.Noted(null, EntryBody.Noted.MoveBegun + "homing") { Machine = "Heron", Operator = "M" }).Require();
        using var window = On(KnownMachine.Linked(Journal));
        Assert.DoesNotContain("not known to have ended", window.Said, StringComparison.Ordinal);
    }

    // Found in use: a run that was over the link asked its readings by hand, and a STOP later brought both questions once more.
    [Fact]
    public void A_run_that_was_over_the_link_leads_back_to_it_and_asks_its_questions_once()
    {
        using (var before = AtTheFirstReading())
            Story.Read(before, 1);
        using var window = On(KnownMachine.Linked(Journal));
        window.Type("\n\n");
        Assert.Contains("reading 2 of 10", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains("Enter or C opens the link", window.Rows[20], StringComparison.Ordinal);
        Assert.DoesNotContain("to copy", window.Text, StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.Contains(" / controller", window.Rows[0], StringComparison.Ordinal);
        Link(window);
        window.Type("w");
        Assert.Contains(" / work / scale X", window.Rows[0], StringComparison.Ordinal);
        window.Press(Key.Enter);
        Until(window, "THE MACHINE WILL MOVE");
        Confirm(window, "h", "THE CARRIAGE WILL MOVE");
        window.Press(Key.F9);
        Until(window, "Nothing is sent to it until A, S or O is pressed.");
        Rest(window);
        window.Type("a");
        Assert.Contains(" / work / scale X", window.Rows[0], StringComparison.Ordinal);
    }

    [Fact]
    public void Without_the_link_a_reading_counts_only_once_it_is_said_that_the_run_goes_on_by_hand()
    {
        using (var before = AtTheFirstReading())
            Story.Read(before, 1);
        using var window = On(KnownMachine.Linked(Journal));
        // The zero would hold by the answers alone: drives never off, nothing touched.
        window.Press(Key.CursorLeft, Key.CursorDown, Key.CursorLeft, Key.CursorLeft, Key.Enter);
        window.Type(Story.Look(window) + "\n");
        Assert.Single(Ledger.Readings);
        Assert.Contains("Enter again goes on by hand", window.Said, StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.Equal(2, Ledger.Readings.Count);
        Assert.Contains(Journal.Entries(), entry => entry.Body is EntryBody.Noted { Text: "by hand from here on" });
        // Commanded from somewhere else: what follows has a zero of its own.
        Assert.NotEmpty(Ledger.Readings.Values.Last().Taken.Body.Words["zero"]);
        Assert.DoesNotContain("opens the link", window.Rows[20], StringComparison.Ordinal);
    }

    // Found in use: a list whose first step is that everything is dead asked for caliper and blocks, and sent to homing.
    [Theory]
    [InlineData("first-power-up")]
    [InlineData("readiness")]
    public void A_list_of_checks_that_was_put_aside_asks_nothing_of_readings(string procedure)
    {
        AtFirstStep(procedure).Dispose();
        Journal.Append(new EntryBody.RunEnded("put-aside", "for tomorrow") { Machine = "Heron", Run = Ledger.Resumable("Heron")!.Sequence }).Require();
        using var window = AtFirstStep(procedure);
        Assert.StartsWith(" PRACTICE  Heron / put aside", window.Rows[0], StringComparison.Ordinal);
        foreach (var foreign in (string[])["Caliper", "Home first", "questions", "not sure"])
            Assert.DoesNotContain(foreign, window.Text, StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.Contains(" / work / ", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains(Journal.Entries(), entry => entry.Body is EntryBody.Noted { Text: "taken up again" });
    }
}
