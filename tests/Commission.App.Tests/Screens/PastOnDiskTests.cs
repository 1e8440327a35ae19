using Commission.App.Rehearsal;
using Commission.Core;
using Commission.Practice.Bench;
using Terminal.Gui.Input;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>A store with a long past on the disk: what its index can tell is not read from the whole journal, and says the same.</summary>
public sealed class PastOnDiskTests : RealStore
{
    [Fact]
    public void Findings_their_readings_trends_and_the_compared_settings_are_the_same_without_reading_the_whole_journal()
    {
        var (slow, _) = Seen(quick: false);
        var (seen, readWhole) = Seen(quick: true);
        Assert.Equal(slow, seen);
        Assert.Equal(0, readWhole);
    }

    // Found in use: what is read from the disk anew was taken for another finding, so that a run ended on an empty sheet and E on the finding did nothing.
    [Fact]
    public void A_run_ends_on_its_finding_and_E_makes_the_finding_of_the_rest_from_the_list()
    {
        StoredPractice.Make(Folder, (journal, clock) => KnownMachine.Fill(journal, clock, KnownMachine.Seed));
        using (var store = new Adapters.Storage.Stores("test", Clock).Open(Folder, StoreNature.Practice, write: true).Require())
        using (var window = DoubtedFindingTests.ToFinding(KnownMachine.Window(store, Clock), () => Ledger.From(store.Entries())))
            Assert.Contains("NEXT >> Look at reading 7 first", window.Text, StringComparison.Ordinal);
        using var again = new Adapters.Storage.Stores("test", Clock).Open(Folder, StoreNature.Practice, write: true).Require();
        using var later = KnownMachine.Window(again, Clock);
        later.Type("f\ne");
        Assert.Contains("Why is reading 7 left out?", later.Text, StringComparison.Ordinal);
        later.Type("jaw slipped\n");
        Assert.Contains("9 of 10 readings", later.Rows[0], StringComparison.Ordinal);
    }

    // Found in use: a run that was over before the program began was not done on the list of the work.
    [Fact]
    public void What_was_done_before_the_program_began_is_done_on_the_list_of_the_work()
    {
        StoredPractice.Make(Folder, (journal, clock) => KnownMachine.Fill(journal, clock, KnownMachine.Seed));
        using var store = new Adapters.Storage.Stores("test", Clock).Open(Folder, StoreNature.Practice, write: true).Require();
        using var window = new Headless(ScreenProgram.DeskOf(KnownMachine.Options(store, "ratio-check"), Clock));
        window.Type("w");
        Assert.Equal(3, window.Rows.Count(row => row.EndsWith("done 11 Apr", StringComparison.Ordinal)));
    }

    // Of a number that is checked twice a store keeps the latest at hand.
    [Theory]
    [InlineData("first-power-up", @"power-up list +(\d+)/\1 .* in +\[==\] fresh")]
    [InlineData("readiness", @"power-up list +7/\d+ .*\[  \] in part")]
    public void The_power_up_list_counts_from_the_disk_as_it_was_carried_out(string procedure, string shown)
    {
        var folder = Path.Combine(Folder, procedure);
        var lists = PracticeStore.Shipped("first-power-up", "readiness");
        StoredPractice.Make(folder, (journal, clock) =>
        {
            _ = ScreenProgram.DeskOf(PracticeStore.Options(journal, KnownMachine.Seed), clock);
            new Walk(journal, TextWriter.Null).Run([new WalkStation(lists.Single(list => list.Id == procedure), "hash")], PracticeBench.Heron(KnownMachine.Seed), KnownMachine.Seed).Require();
        });
        using var store = new Adapters.Storage.Stores("test", Clock).Open(folder, StoreNature.Practice, write: true).Require();
        using var window = new Headless(ScreenProgram.DeskOf(PracticeStore.Options(store, KnownMachine.Seed) with { Procedures = lists }, Clock));
        Assert.Matches(shown, window.Text);
        // What is open of it is named, and is NEXT where nothing else is.
        Assert.Equal(procedure == "readiness", window.Rows[20].StartsWith("NEXT >> First power-up. ", StringComparison.Ordinal));
        window.Press(Terminal.Gui.Input.Key.CursorDown);
        Assert.Equal(procedure == "readiness", window.Rows[21].Contains("open in the power-up list: P", StringComparison.Ordinal));
    }

    private (List<string> Seen, int ReadWhole) Seen(bool quick)
    {
        var folder = Path.Combine(Folder, quick ? "quick" : "slow");
        StoredPractice.Make(folder, (journal, clock) =>
        {
            StoredPractice.Scale(journal, clock);
            clock.Advance(TimeSpan.FromDays(30));
            StoredPractice.Scale(journal, clock);
            clock.Advance(TimeSpan.FromDays(30));
            StoredPractice.Scale(journal, clock);
            journal.Append(new EntryBody.Noted(Ledger.From(journal.Entries()).Findings.Keys.First(), "left as it is") { Machine = "Heron" }).Require();
            journal.Append(new EntryBody.Withdrawn(Ledger.From(journal.Entries()).Findings.Keys.Last(), "the door stood open") { Machine = "Heron" }).Require();
            var told = journal.Append(new EntryBody.ChangeTold("belt-tensioned", "X", "one turn") { Machine = "Heron" }).Require();
            journal.Append(new EntryBody.Withdrawn(told.Sequence, "it was Y") { Machine = "Heron" }).Require();
            journal.Append(new EntryBody.ChangeTold("belt-tensioned", "Y", "one turn") { Machine = "Heron" }).Require();
            journal.Append(new EntryBody.SettingWritten { Machine = "Heron", Name = "stepsPerMm", Axis = "X", Before = 320, After = 320.1, ReadBack = 320.1, Stage = "told" }).Require();
            KnownMachine.Pass(journal, KnownMachine.ReadyChecks);
        });
        using var store = new Adapters.Storage.Stores("test", Clock).Open(folder, StoreNature.Practice, write: true).Require();
        using var told = new Told(store, quick);
        return (Seen(told), told.ReadWhole);
    }

    private List<string> Seen(IJournal journal)
    {
        using var window = new Headless(ScreenProgram.DeskOf(KnownMachine.Linked(journal), Clock));
        var seen = new List<string>();
        void See(params string[] keys)
        {
            foreach (var key in keys)
                window.Type(key);
            seen.Add(string.Join('\n', window.Rows[..22]).Replace(journal.Store, "store", StringComparison.Ordinal));
        }

        See("f");
        window.Press(Key.CursorDown);
        See();
        See("\n");
        See("v");
        window.Press(Key.Esc);
        See("d");
        See("t");
        See("\n");
        window.Press(Key.CursorLeft);
        See("\n");
        // The trend leads back to the finding that was open before.
        Assert.Equal(7, seen.Distinct().Count());
        // Findings, changes and settings, and what was done in runs, as the log opens them; and a note that is taken back.
        See("l");
        for (var at = 0; at < 90; at++)
        {
            // How much rests on an instrument only the whole journal tells.
            if (!window.Rows.Any(row => row.StartsWith(">>", StringComparison.Ordinal) && row.Contains(" instrument ", StringComparison.Ordinal)))
            {
                See("\n");
                window.Press(Key.Esc);
            }

            window.Press(Key.CursorDown);
        }

        Assert.True(seen.Distinct().Count() > 60, string.Join('\n', seen));
        window.Type("nthe door stood open\n");
        See("u");
        Assert.Contains("Undone: note: the door stood open.", window.Text, StringComparison.Ordinal);
        Link(window);
        See();
        window.Type("v");
        See();
        return seen;
    }

    /// <summary>A journal that counts how often all of it is read, and answers with or without its index.</summary>
    private sealed class Told(IJournal journal, bool quick) : IJournal
    {
        public int ReadWhole { get; private set; }

        public StoreNature Nature => journal.Nature;

        public string Store => journal.Store;

        public string? ReadOnlyReason => journal.ReadOnlyReason;

        public IEnumerable<JournalEntry> Entries()
        {
            ReadWhole++;
            return journal.Entries();
        }

        public IEnumerable<JournalEntry> Entries(long from) => journal.Entries(from);

        public JournalEntry? LastEntry => journal.LastEntry;

        public PresentState Present(string? machine) => quick ? journal.Present(machine) : PresentState.Of(journal.Entries());

        public ReportedState? Reported(string? machine, long? run, DateTimeOffset? asOf = null) => quick ? journal.Reported(machine, run, asOf) : null;

        public IReadOnlyList<FindingMark>? Findings(string machine) => quick ? journal.Findings(machine) : null;

        public IReadOnlyList<(long Entry, long Reading)>? LeftOut(long first, long last) => quick ? journal.LeftOut(first, last) : null;

        public Outcome<JournalEntry> Append(EntryBody body) => journal.Append(body);

        public void Dispose()
        {
        }
    }
}
