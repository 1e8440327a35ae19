using Commission.Tests;
using Commission.Workshop.Requests;

namespace Commission.Adapters.Tests.Storage;

/// <summary>What opening a store brings with it: witnesses, the index, a backup before each session that writes.</summary>
public sealed class StoresTests : OwnFolder
{
    private readonly FakeTimeProvider clock = new(new DateTimeOffset(2031, 5, 4, 9, 0, 0, TimeSpan.Zero));

    private string Place => Path.Combine(Folder, "store");

    private string Segment => Path.Combine(Place, "journal", "000001.jsonl");

    private string[] Backups => Directory.Exists(Path.Combine(Place, "backups")) ? Directory.GetDirectories(Path.Combine(Place, "backups")) : [];

    private IStoreFolder Open(bool write = true) => new Stores("0.1.0", clock).Open(Place, StoreNature.Real, write).Require();

    private void Session(params int[] readings)
    {
        using var store = Open();
        foreach (var reading in readings)
            store.Append(Shelf.Reading(reading)).Require();
    }

    private void CutLastEntry() => File.WriteAllText(Segment, string.Join('\n', File.ReadAllText(Segment).Split('\n')[..^2]) + "\n");

    [Fact]
    public void A_long_past_is_copied_while_work_goes_on_and_a_copy_broken_off_is_swept_away()
    {
        var opening = new JournalOpening { Nature = StoreNature.Real, Program = "0.1.0", Clock = clock, NewStore = () => "heron1", SegmentBytes = 2000, CopyMeanwhileBytes = 1 };
        Directory.CreateDirectory(Path.Combine(Place, "backups", "20310101-000000.part"));
        using (var store = (JournalFolder)JournalFolder.Open(Place, opening).Require())
        {
            for (var recorded = 1; recorded <= 30; recorded++)
                store.Append(Shelf.Reading(recorded)).Require();
            store.BackUpBeforeWriting();
            for (var recorded = 31; recorded <= 60; recorded++)
                store.Append(Shelf.Reading(recorded)).Require();
        }

        using var copy = JournalFolder.Open(Assert.Single(Backups), opening with { Write = false }).Require();
        var there = Shelf.Recorded(copy);
        Assert.InRange(there.Length, 30, 60);
        Assert.Equal(Enumerable.Range(1, there.Length), there);
        Assert.Empty(copy.Notices);
    }

    [Fact]
    public void Whatever_a_copy_made_meanwhile_stumbles_over_is_told_and_the_store_is_let_go()
    {
        var failing = new FailingClock(clock);
        var opening = new JournalOpening { Nature = StoreNature.Real, Program = "0.1.0", Clock = failing, NewStore = () => "heron1", SegmentBytes = 2000, CopyMeanwhileBytes = 1 };
        var store = (JournalFolder)JournalFolder.Open(Place, opening).Require();
        store.Append(Shelf.Reading(1)).Require();
        // The first is asked for the age of the last copy, the second by the copy.
        failing.AfterCalls = 1;
        store.BackUpBeforeWriting();
        store.Dispose();
        Assert.Contains(store.Notices, notice => notice.What == "the copy could not be made: the time cannot be told here");
        using var again = JournalFolder.Open(Place, opening with { Clock = clock }).Require();
        Assert.Null(again.ReadOnlyReason);
    }

    [Fact]
    public void Each_session_that_writes_begins_with_a_backup_of_what_is_new()
    {
        Session(1, 2);
        Assert.Empty(Backups);
        Session();
        Assert.Single(Backups);
        clock.Advance(TimeSpan.FromHours(2));
        Session(3);
        Assert.Single(Backups);
        clock.Advance(TimeSpan.FromMinutes(10));
        Session(4);
        Assert.Equal(2, Backups.Length);
        clock.Advance(TimeSpan.FromMinutes(10));
        Session(5);
        Assert.Equal(2, Backups.Length);
        using var reading = Open(write: false);
        Assert.Equal(2, Backups.Length);
        Assert.Equal(Backups.Order().Last(), reading.Check().NewestBackup);
    }

    [Fact]
    public void A_report_is_a_witness_of_what_must_be_there()
    {
        Session(1, 2);
        using (var reading = Open(write: false))
            reading.RememberReport();
        File.Delete(Path.Combine(Place, "index.db"));
        CutLastEntry();
        using var store = Open();
        Assert.Contains("the last report knows 3 entries and the journal 2", store.ReadOnlyReason, StringComparison.Ordinal);
        Assert.Contains("no sound backup is here", Assert.Single(store.Notices).Remedy, StringComparison.Ordinal);
        Assert.Contains(store.Check().Faults, fault => fault.What.Contains("the last report", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void An_index_that_knows_more_is_told_with_the_backup_to_go_on_in(bool write)
    {
        Session(1, 2);
        Session();
        Session(3);
        CutLastEntry();
        using var store = Open(write);
        var told = Assert.Single(store.Notices);
        Assert.Contains("the index knows 4 entries and the journal 3", told.What, StringComparison.Ordinal);
        Assert.Contains(Backups[0], told.Remedy, StringComparison.Ordinal);
        Assert.Null(store.Index);
        Assert.IsType<Outcome<JournalEntry>.Bad>(store.Append(Shelf.Reading(9)));
    }

    [Fact]
    public void The_index_is_caught_up_while_open_and_used_by_readers_afterwards()
    {
        using (var store = Open())
        {
            store.Append(Shelf.Reading(1)).Require();
            Assert.Equal(2, store.Index!.Last);
            store.Append(Shelf.Reading(2)).Require();
        }

        using var reading = Open(write: false);
        Assert.Equal(3, reading.Index!.Last);
    }

    [Fact]
    public void The_age_of_the_copy_elsewhere_is_told_in_words()
    {
        using var store = Open();
        store.Append(Shelf.Reading(1)).Require();
        Assert.Equal("No copy elsewhere yet.", store.CopyAge.Sentence(clock.GetUtcNow()));
        store.BackUp(Path.Combine(Folder, "stick")).Require();
        Assert.Equal("Last copy elsewhere: today, it holds everything.", store.CopyAge.Sentence(clock.GetUtcNow()));
        store.Append(Shelf.Reading(2)).Require();
        Assert.Equal("Last copy elsewhere: 12 days ago, 1 entry since.", store.CopyAge.Sentence(clock.GetUtcNow().AddDays(12)));
        Assert.Equal("Last copy elsewhere: after now: the clock was set back, 1 entry since.", store.CopyAge.Sentence(clock.GetUtcNow().AddDays(-1)));
        Assert.DoesNotContain(Folder, File.ReadAllText(Path.Combine(Place, "copies")), StringComparison.Ordinal);
    }

    // What a power cut can leave of a record that is written whole: any beginning of it, or nothing.
    [Fact]
    public void A_record_of_the_last_report_that_was_cut_anywhere_stops_nothing()
    {
        Session(1, 2);
        using (var store = Open())
            store.RememberReport();
        var file = Path.Combine(Place, "reported");
        var whole = File.ReadAllBytes(file);
        for (var cut = 0; cut < whole.Length - 1; cut++)
        {
            File.WriteAllBytes(file, whole[..cut]);
            using var store = Open(write: false);
            Assert.Empty(store.Notices);
        }

        File.WriteAllBytes(file, whole[..40]);
        Session(3);
        using var again = Open(write: false);
        Assert.Equal([1, 2, 3], Shelf.Recorded(again));
    }

    [Fact]
    public void A_record_of_a_copy_that_was_cut_anywhere_leaves_the_one_before_and_the_next_one_is_read()
    {
        Session(1);
        using (var store = Open())
            store.BackUp(Path.Combine(Folder, "stick")).Require();
        clock.Advance(TimeSpan.FromDays(1));
        using (var store = Open())
            store.BackUp(Path.Combine(Folder, "stick")).Require();
        var file = Path.Combine(Place, "copies");
        var whole = File.ReadAllText(file);
        var first = whole.IndexOf('\n', StringComparison.Ordinal) + 1;
        for (var cut = first; cut < whole.Length; cut++)
        {
            File.WriteAllText(file, whole[..cut]);
            using var store = Open(write: false);
            Assert.Equal(clock.GetUtcNow().AddDays(-1), store.CopyAge.Copy!.At.ToUniversalTime());
        }

        File.WriteAllText(file, whole[..(first + 5)]);
        clock.Advance(TimeSpan.FromDays(1));
        using var again = Open();
        again.BackUp(Path.Combine(Folder, "stick")).Require();
        Assert.Equal(clock.GetUtcNow(), again.CopyAge.Copy!.At.ToUniversalTime());
    }

    [Fact]
    public void Where_the_record_of_a_copy_cannot_be_written_the_copy_is_made_and_that_is_said()
    {
        Session(1);
        Directory.CreateDirectory(Path.Combine(Place, "copies"));
        using var store = Open();
        var made = store.BackUp(Path.Combine(Folder, "stick")).Require();
        Assert.True(Directory.Exists(made.Folder));
        Assert.Contains(store.Notices, notice => notice.What.StartsWith("the copy was made, but that could not be noted", StringComparison.Ordinal));
        Assert.Equal("No copy elsewhere yet.", store.CopyAge.Sentence(clock.GetUtcNow()));
        Directory.CreateDirectory(Path.Combine(Place, "reported"));
        store.RememberReport();
        store.Append(Shelf.Reading(2)).Require();
    }

    [Fact]
    public void Closed_parts_are_verified_while_idle()
    {
        var shelf = new Shelf { SegmentBytes = 2000 }.With(readings: 30);
        using var journal = shelf.Open();
        var bytes = shelf.Bytes("000003.jsonl");
        bytes[900] ^= 2;
        shelf.Journal.Damage("000003.jsonl", bytes);
        using var idle = new VerifyWhileIdle(journal);
        idle.Finish();
        Assert.Equal(shelf.Journal.Files().Count(file => file.EndsWith(".jsonl", StringComparison.Ordinal)) - 1, idle.Parts);
        Assert.All(idle.Faults, fault => Assert.EndsWith("000003.jsonl", fault.File!, StringComparison.Ordinal));
        Assert.NotEmpty(idle.Faults);

        using var sound = new VerifyWhileIdle(new Shelf { SegmentBytes = 2000 }.With(readings: 30).Open());
        sound.Finish();
        Assert.True(sound.Parts > 0);
        Assert.Empty(sound.Faults);
    }

    // Found in use: the first program had left, and the second one went on saying that the other one writes.
    [Fact]
    public void A_store_that_was_held_at_the_start_tells_when_it_is_free_and_writing_it_waits_for_a_new_start()
    {
        using var first = Open();
        using var second = Open();
        using var reader = Open(write: false);
        Assert.Contains("is held by another program", second.ReadOnlyReason, StringComparison.Ordinal);
        Assert.Equal((false, false, false), (first.IsFree, second.IsFree, reader.IsFree));
        first.Dispose();
        Assert.Equal((true, false), (second.IsFree, reader.IsFree));
        using var third = Open();
        Assert.Null(third.ReadOnlyReason);
        Assert.False(second.IsFree);
    }

    // Neither a file nor a right: a clock that fails once.
    private sealed class FailingClock(TimeProvider clock) : TimeProvider
    {
        public int AfterCalls { get; set; } = -1;

        public override DateTimeOffset GetUtcNow() =>
            AfterCalls-- == 0 ? throw new InvalidOperationException("the time cannot be told here.") : clock.GetUtcNow();
    }
}
