using Commission.Tests;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>What is shown when something is not as it should be, at both sizes; nothing that was accepted is lost by any of it.</summary>
public sealed class ErrorScreenTests : KnownScreens
{
    [Theory]
    [InlineData(80, 24)]
    [InlineData(120, 40)]
    public void A_second_program_on_the_store_reads_only(int width, int height)
    {
        using var window = KnownMachine.Window(new FaultyJournal(Journal) { ReadOnlyReason = "another program writes" }, Clock, width, height);
        Assert.EndsWith("read only, the other one writes", window.Rows[0], StringComparison.Ordinal);
        Golden.Same($"error-read-only-{width}x{height}", window);
        window.Type("l");
        window.Type("n");
        Assert.DoesNotContain("N note", window.Rows[^1], StringComparison.Ordinal);
        Assert.Contains("N note: another program writes; Q and a new start try again", window.Text, StringComparison.Ordinal);
        Golden.Same($"error-read-only-note-{width}x{height}", window);
    }

    // Found in use: "ended without being closed" was said of a run that went on in the other program, with two questions before the reason.
    [Fact]
    public void A_run_that_another_program_carries_out_is_not_offered_and_the_holder_is_named_at_once()
    {
        using (var window = KnownMachine.Window(Journal, Clock))
            window.Type("\ns\ns");
        using (var alone = KnownMachine.Window(Journal, Clock))
            Assert.Contains("ended without being closed", alone.Text, StringComparison.Ordinal);
        using var second = KnownMachine.Window(new FaultyJournal(Journal) { ReadOnlyReason = "the store is held by another program (process 7)" }, Clock);
        Assert.Contains("Heron / bench", second.Rows[0], StringComparison.Ordinal);
        Assert.Contains("The store is held by another program (process 7)", second.Said, StringComparison.Ordinal);
    }

    // Found in use: after the first had left, the second one still said that the other one writes, whatever it was asked.
    [Fact]
    public void When_the_other_program_has_left_it_is_said_by_itself_and_who_comes_next_is_seen_too()
    {
        var store = new FaultyJournal(Journal) { ReadOnlyReason = "the store is held by another program (process 7)" };
        using var second = KnownMachine.Window(store, Clock);
        second.Advance(2500);
        Assert.EndsWith("read only, the other one writes", second.Rows[0], StringComparison.Ordinal);
        store.IsFree = true;
        second.Advance(2500);
        Assert.Contains("The other program has left the store: Q and a new start write here.", second.Said, StringComparison.Ordinal);
        Assert.EndsWith("read only, free since it began", second.Rows[0], StringComparison.Ordinal);
        second.Type("ln");
        second.Press(Key.F1);
        Assert.Contains("when this one began, and is free now; Q and a new start write", string.Join(' ', second.Text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal);
        store.IsFree = false;
        second.Press(Key.Esc);
        second.Advance(2500);
        Assert.EndsWith("read only, the other one writes", second.Rows[0], StringComparison.Ordinal);
    }

    // Found in use: A was offered by NEXT and was dead, the card did not say why, and a run was refused only after two questions.
    [Fact]
    public void What_would_write_is_neither_offered_nor_begun_where_the_store_was_held_at_the_start()
    {
        using (var window = KnownMachine.Window(Journal, Clock))
            window.Type("\ns\nos");
        using var second = KnownMachine.Window(new FaultyJournal(Journal) { ReadOnlyReason = "the store is held by another program (process 7)" }, Clock);
        second.Type("l");
        Assert.Equal("Enter opens the chosen entry.", second.Rows[20][8..].Trim());
        second.Press(Key.F2);
        var card = string.Join(' ', second.Text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        Assert.Contains("not now, and why", card, StringComparison.Ordinal);
        Assert.Contains("is held by another program", card, StringComparison.Ordinal);
        second.Press(Key.Esc);
        second.Type("w\n");
        Assert.Contains("/ work / scale X", second.Rows[0], StringComparison.Ordinal);
        Assert.DoesNotContain("the log keeps it", second.Text, StringComparison.Ordinal);
        second.Type("s");
        Assert.Contains("/ work / scale X", second.Rows[0], StringComparison.Ordinal);
        Assert.Contains("he store is held by another program", second.Said, StringComparison.Ordinal);
        second.Press(Key.F1);
        Assert.Contains("(process 7); Q and a new start try again", string.Join(' ', second.Text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(80, 24)]
    [InlineData(120, 40)]
    public void A_reading_that_cannot_be_put_on_disk_stays_in_its_cell(int width, int height)
    {
        var faulty = new FaultyJournal(Journal);
        using (var window = KnownMachine.Window(faulty, Clock, width, height))
        {
            window.Type("\ns\ns");
            Story.Read(window, 2);
            var shown = Story.Look(window);
            faulty.Left = 0;
            window.Type(shown + "\n");
            Assert.Contains($"{shown}_ ]", window.Text, StringComparison.Ordinal);
            Golden.Same($"error-disk-full-{width}x{height}", window);
            window.Type("\n");
            Assert.Contains($"{shown}_ ]", window.Text, StringComparison.Ordinal);
            Assert.Equal(2, Ledger.Readings.Count);
            faulty.Left = null;
            window.Type("\n");
            Assert.Contains($"recorded 3, {shown} mm", window.Text, StringComparison.Ordinal);
            Golden.Same($"error-disk-full-again-{width}x{height}", window);
        }

        using var next = Open(width, height);
        Assert.Contains("on disk, checked", next.Text, StringComparison.Ordinal);
        Assert.Equal(3, Ledger.Readings.Count);
    }

    [Fact]
    public void The_last_reading_of_a_plan_is_questioned_with_its_table_in_sight()
    {
        using var window = Open();
        window.Type("\ns\ns");
        Story.Read(window, 9);
        window.Type("120.5\n");
        Assert.Contains("A slip?", window.Text, StringComparison.Ordinal);
        Assert.Matches("near .* [0-9.]+ ", window.Rows[3]);
        window.Type("r");
        Story.Read(window, 1);
        window.Type("s");
        Assert.Contains("scale X = ", window.Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(80, 24)]
    [InlineData(120, 40)]
    public void Half_a_line_after_a_power_cut_is_shown_and_not_used(int width, int height)
    {
        Story.BreakOff(Journal, Clock, 6);
        Clock.Advance(TimeSpan.FromMinutes(81));
        var cut = new FaultyJournal(Journal) { CutOff = """{"format":"commission.journal/1","id":"prac:60","type":"reading","recorded":7,"place":"far","typed":"146.4""" };
        using var window = KnownMachine.Window(cut, Clock, width, height);
        Golden.Same($"error-cut-line-{width}x{height}", window);
        window.Type("d");
        Golden.Same($"error-cut-line-shown-{width}x{height}", window);
    }

    [Theory]
    [InlineData(80, 24)]
    [InlineData(120, 40)]
    public void STOP_without_a_link_and_a_key_that_does_nothing(int width, int height)
    {
        using var window = Open(width, height);
        window.Press(Key.F9);
        Golden.Same($"error-stop-without-link-{width}x{height}", window);
        window.Press(Key.Enter, Key.Enter);
        Golden.Same($"error-enter-reads-no-hazards-{width}x{height}", window);
    }

    [Theory]
    [InlineData(80, 24)]
    [InlineData(120, 40)]
    public void A_check_that_is_out_opens_nothing_after_it_until_it_was_made_again(int width, int height)
    {
        var clock = KnownMachine.Clock();
        using var journal = PracticeStore.Journal(clock);
        using var window = new Headless(ScreenProgram.DeskOf(PracticeStore.Options(journal, 1) with { Procedures = PracticeStore.Shipped("first-power-up") }, clock), width, height);
        window.Type("\ns\n");
        Assert.Contains("check 1 of ", window.Rows[0], StringComparison.Ordinal);
        window.Type("s0.25\n");
        Assert.Contains(" OUT  P02 ", window.Text, StringComparison.Ordinal);
        Assert.Contains(" in   P01 ", window.Text, StringComparison.Ordinal);
        Golden.Same($"error-check-out-{width}x{height}", window);
        // Neither Enter nor a number leads past it.
        window.Type("\n0.05\n");
        Assert.Contains(" OUT  P02 ", window.Text, StringComparison.Ordinal);
        window.Type("d");
        Assert.Contains("Find the missing or painted-over earth connection.", window.Text, StringComparison.Ordinal);
        window.Press(Key.Esc);
        window.Type("r");
        window.Type("0.05\n");
        Assert.Contains("check 3 of ", window.Rows[0], StringComparison.Ordinal);
        // Found in use: the run counted 44 checks and the bench 39. It is the same list.
        var all = window.Rows[0].TrimEnd().Split(' ')[^1];
        window.Press(Key.Esc);
        Assert.Matches($@"power-up list +2/{all} +{all} ", window.Text);
    }
}
