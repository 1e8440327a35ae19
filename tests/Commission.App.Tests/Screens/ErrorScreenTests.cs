using Commission.Core;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>What is shown when something is not as it should be, at both sizes; nothing that was accepted is lost by any of it.</summary>
public sealed class ErrorScreenTests
{
    [Theory]
    [InlineData(80, 24)]
    [InlineData(120, 40)]
    public void A_second_program_on_the_store_reads_only(int width, int height)
    {
        var clock = KnownMachine.Clock();
        using var journal = new Faulty(KnownMachine.Journal(clock)) { ReadOnlyReason = "another program writes" };
        using var window = KnownMachine.Window(journal, clock, width, height);
        Assert.EndsWith("read only, the other one writes", window.Rows[0], StringComparison.Ordinal);
        Golden.Same($"error-read-only-{width}x{height}", window);
        window.Type("l");
        window.Type("n");
        window.Type("not kept\n");
        Golden.Same($"error-read-only-note-{width}x{height}", window);
    }

    [Theory]
    [InlineData(80, 24)]
    [InlineData(120, 40)]
    public void A_reading_that_cannot_be_put_on_disk_stays_in_its_cell(int width, int height)
    {
        var clock = KnownMachine.Clock();
        var journal = new Faulty(KnownMachine.Journal(clock));
        using var window = KnownMachine.Window(journal, clock, width, height);
        window.Type("\ns\ns");
        Story.Read(window, 2);
        var shown = Story.Look(window);
        journal.Full = true;
        window.Type(shown + "\n");
        Assert.Contains($"{shown}_ ]", window.Text, StringComparison.Ordinal);
        Golden.Same($"error-disk-full-{width}x{height}", window);
        journal.Full = false;
        window.Type("\n");
        Assert.Equal(3, Ledger.From(journal.Entries()).Readings.Count);
    }

    [Fact]
    public void The_last_reading_of_a_plan_is_questioned_with_its_table_in_sight()
    {
        var clock = KnownMachine.Clock();
        using var journal = KnownMachine.Journal(clock);
        using var window = KnownMachine.Window(journal, clock);
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
        var clock = KnownMachine.Clock();
        var journal = KnownMachine.Journal(clock);
        using (var before = KnownMachine.Window(journal, clock, width, height))
        {
            before.Type("\ns\ns");
            Story.Read(before, 6);
        }

        clock.Advance(TimeSpan.FromMinutes(81));
        using var cut = new Faulty(journal) { CutOff = """{"format":"commission.journal/1","id":"prac:60","type":"reading","recorded":7,"place":"far","typed":"146.4""" };
        using var window = KnownMachine.Window(cut, clock, width, height);
        Golden.Same($"error-cut-line-{width}x{height}", window);
        window.Type("d");
        Golden.Same($"error-cut-line-shown-{width}x{height}", window);
    }

    [Theory]
    [InlineData(80, 24)]
    [InlineData(120, 40)]
    public void STOP_without_a_link_and_a_key_that_does_nothing(int width, int height)
    {
        var clock = KnownMachine.Clock();
        using var journal = KnownMachine.Journal(clock);
        using var window = KnownMachine.Window(journal, clock, width, height);
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
        Yes(window);
        window.Type("0.25\n");
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
    }

    private static void Yes(Headless window)
    {
        while (!window.Text.Contains(">> [ yes ]", StringComparison.Ordinal))
            window.Press(Key.CursorUp);
        window.Press(Key.Enter);
    }

    private sealed class Faulty(IJournal journal) : IJournal
    {
        public bool Full { get; set; }

        public string? ReadOnlyReason { get; init; }

        public string? CutOff { get; init; }

        public StoreNature Nature => journal.Nature;

        public string Store => journal.Store;

        public IEnumerable<JournalEntry> Entries() => journal.Entries();

        public Outcome<JournalEntry> Append(EntryBody body) => ReadOnlyReason is { } reason ? new Problem("nothing can be written: " + reason, "Close the other program")
            : Full ? new Problem("the entry could not be put on disk: the disk is full", "Make room, then press Enter again") : journal.Append(body);

        public void Dispose() => journal.Dispose();
    }
}
