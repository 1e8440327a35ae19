using System.Globalization;
using Commission.Tests;

namespace Commission.Adapters.Tests.Storage;

public sealed class StoreOnDiskTests : OwnFolder
{
    private readonly FakeTimeProvider clock = new(new DateTimeOffset(2031, 5, 4, 9, 0, 0, TimeSpan.Zero));

    private JournalOpening Opening => new() { Nature = StoreNature.Real, Program = "0.1.0", Clock = clock, NewStore = () => "heron1" };

    private JournalFolder Open(string? name = null) => (JournalFolder)JournalFolder.Open(Path.Combine(Folder, name ?? "store"), Opening).Require();

    [Fact]
    public void A_second_writer_is_told_who_holds_the_store_and_may_read()
    {
        using var first = Open();
        first.Append(Shelf.Reading(1)).Require();
        using var second = Open();
        Assert.Contains($"process {Environment.ProcessId.ToString(CultureInfo.InvariantCulture)} since", second.ReadOnlyReason, StringComparison.Ordinal);
        Assert.Equal([1], Shelf.Recorded(second));
        Assert.IsType<Outcome<JournalEntry>.Bad>(second.Append(Shelf.Reading(2)));
        first.Append(Shelf.Reading(2)).Require();
        Assert.Equal([1, 2], Shelf.Recorded(second));
        first.Dispose();
        using var third = Open();
        Assert.Null(third.ReadOnlyReason);
    }

    [Fact]
    public void Opening_for_reading_takes_no_lock_and_makes_nothing()
    {
        var none = JournalFolder.Open(Path.Combine(Folder, "none"), Opening with { Write = false, Create = false });
        Assert.Contains("there is no store", Assert.IsType<Outcome<IJournal>.Bad>(none).Problems[0].What, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Path.Combine(Folder, "none")));
        using (var store = Open())
            store.Append(Shelf.Reading(1)).Require();
        using var reading = JournalFolder.Open(Path.Combine(Folder, "store"), Opening with { Write = false }).Require();
        using var writing = Open();
        Assert.Null(writing.ReadOnlyReason);
        Assert.Equal([1], Shelf.Recorded(reading));
    }

    [Fact]
    public void A_backup_verifies_and_a_journal_that_knows_less_stops_writing()
    {
        BackupMade made;
        using (var store = Open())
        {
            store.Append(Shelf.Reading(1)).Require();
            store.Append(Shelf.Reading(2)).Require();
            made = store.BackUp(null).Require();
            Assert.Equal((3, store.Last.Tip), (made.Entries, made.Tip));
            Assert.Equal(made.Folder, store.Check().NewestBackup);
        }

        var journal = Path.Combine(Folder, "store", "journal", "000001.jsonl");
        var lines = File.ReadAllText(journal).Split('\n');
        File.WriteAllText(journal, string.Join('\n', lines[..^2]) + "\n");
        using var shorter = Open();
        Assert.Contains(made.Folder, shorter.ReadOnlyReason, StringComparison.Ordinal);
        Assert.IsType<Outcome<JournalEntry>.Bad>(shorter.Append(Shelf.Reading(3)));
        Assert.Equal([1], Shelf.Recorded(shorter));
    }

    [Fact]
    public void A_backup_on_a_stick_is_a_store_that_opens()
    {
        using var store = Open();
        store.Append(Shelf.Reading(1)).Require();
        var made = store.BackUp(Path.Combine(Folder, "stick")).Require();
        using var copy = JournalFolder.Open(made.Folder, Opening).Require();
        Assert.Equal([1], Shelf.Recorded(copy));
    }

    [Fact]
    public void A_damaged_backup_is_not_offered()
    {
        using var store = Open();
        store.Append(Shelf.Reading(1)).Require();
        var made = store.BackUp(null).Require();
        var file = Path.Combine(made.Folder, "journal", "000001.jsonl");
        var bytes = File.ReadAllBytes(file);
        bytes[^100] ^= 1;
        File.WriteAllBytes(file, bytes);
        Assert.Null(store.Check().NewestBackup);
    }

    [Fact]
    public void An_export_brought_into_an_empty_folder_becomes_its_own_journal_to_the_byte()
    {
        byte[][] lines;
        using (var store = Open())
        {
            for (var recorded = 1; recorded < 6; recorded++)
                store.Append(Shelf.Reading(recorded)).Require();
            lines = [.. store.Lines().Select(line => line.ToArray())];
        }

        using var adopted = (JournalFolder)JournalFolder.Open(Path.Combine(Folder, "new"), Opening with { NewStore = () => "other2" }).Require();
        Assert.Equal(6, adopted.Import([.. lines.Select(line => (ReadOnlyMemory<byte>)line)], "e.jsonl").Require());
        Assert.Equal("heron1", adopted.Store);
        Assert.Equal(lines, adopted.Lines().Select(line => line.ToArray()));
        adopted.Append(Shelf.Reading(6)).Require();
        Assert.Equal("heron1:7", adopted.Entries().Last().Id);
        Assert.Empty(adopted.Check().Faults);
    }

    [Fact]
    public void Backups_are_thinned_to_the_newest_five_and_one_a_month()
    {
        string[] names = ["20310104-090000", "20310204-090000", "20310205-090000", "20310301-090000", "20310302-090000", "20310303-090000", "20310304-090000", "20310305-090000", "20310306-090000", "mine"];
        Assert.Equal(
            ["20310104-090000", "20310205-090000", "20310302-090000", "20310303-090000", "20310304-090000", "20310305-090000", "20310306-090000", "mine"],
            Thinning.Keep(names).Order(StringComparer.Ordinal));
    }
}
