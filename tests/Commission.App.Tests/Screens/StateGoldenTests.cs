using Commission.Tests;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>Results that do not count as they did, a disk that fills in the middle of anything, a defect of the program: each as a person meets it, at both sizes.</summary>
public sealed class StateGoldenTests : KnownScreens
{
    [Fact]
    public void A_result_that_is_due_then_stale_then_withdrawn()
    {
        StoredPractice.Scale(Journal, Clock);
        Clock.Advance(TimeSpan.FromDays(400));
        using (var due = Open())
        {
            Assert.Contains("[--] due", due.Text, StringComparison.Ordinal);
            Golden.Both("state-bench-due", due);
            due.Type("f\n");
            Golden.Both("state-finding-due", due);
        }

        Journal.Append(new EntryBody.ChangeTold("belt-tensioned", "X", "") { Machine = "Heron", Operator = "M" }).Require();
        using (var stale = On(KnownMachine.Options(Journal, [.. PracticeStore.All().Select(procedure => procedure.Id)])))
        {
            Assert.Contains("[xx] stale", stale.Text, StringComparison.Ordinal);
            Golden.Both("state-bench-stale", stale);
            stale.Type("f");
            Golden.Both("state-findings-stale", stale);
            stale.Type("\n");
            Golden.Both("state-finding-stale", stale);
        }

        Journal.Append(new EntryBody.Withdrawn(Ledger.Findings.Keys.Max(), "wrong block") { Machine = "Heron", Operator = "M" }).Require();
        using var withdrawn = Open();
        withdrawn.Type("f");
        Golden.Both("state-findings-withdrawn", withdrawn);
        withdrawn.Type("\n");
        Golden.Both("state-finding-withdrawn", withdrawn);
    }

    [Fact]
    public void A_disk_that_is_full_before_a_run_begins()
    {
        using var window = KnownMachine.Window(Full(0), Clock);
        window.Type("\ns");
        Golden.Both("state-disk-full-start", window);
        Assert.DoesNotContain(Journal.Entries(), entry => entry.Body is EntryBody.RunStarted { Procedure: "axis-scale" });
    }

    [Fact]
    public void A_disk_that_is_full_when_a_note_is_written()
    {
        var full = Full(0);
        using var window = KnownMachine.Window(full, Clock);
        window.Type("lncutter out\n");
        Golden.Both("state-disk-full-note", window);
        Assert.DoesNotContain(Ledger.Notes, note => note.Body.Text == "cutter out");
        // It is still in its cell: once there is room Enter puts it into the log.
        full.Left = null;
        window.Type("\n");
        Assert.Single(Ledger.Notes, note => note.Body.Text == "cutter out");
    }

    [Fact]
    public void A_disk_that_is_full_when_the_readings_are_evaluated()
    {
        var full = Full(null);
        using var window = KnownMachine.Window(full, Clock);
        window.Type("\ns\ns");
        Story.Read(window, 10);
        full.Left = 0;
        window.Type("s");
        Golden.Both("state-disk-full-finding", window);
        Assert.Empty(Ledger.Findings);

        // Once there is room the same key ends the run on its finding.
        full.Left = null;
        window.Type("s");
        Assert.NotEmpty(Ledger.Findings);
        Golden.Both("state-disk-full-finding-next", window);
    }

    [Fact]
    public void A_defect_of_the_program_is_said_and_nothing_accepted_is_lost()
    {
        using var window = Open();
        window.Type("\ns\ns");
        Story.Read(window, 3);
        window.Type("8.4");
        window.Desk.Report(new InvalidOperationException("a test"));
        Golden.Both("state-defect", window);
        Assert.Equal(3, Ledger.Readings.Count);
    }

    private FaultyJournal Full(int? left) => new(Journal) { Left = left };
}
