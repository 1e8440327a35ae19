using Commission.Proof.Durability;
using Commission.Tests;

namespace Commission.Adapters.Tests.Storage;

/// <summary>Journals of released versions open and say the same.</summary>
public sealed class OldJournalsTests : OwnFolder
{
    private static string Kept => Repository.At("tests", "OldJournals");

    public static TheoryData<string> Versions => [.. Directory.GetDirectories(Kept).Select(path => Path.GetFileName(path))];

    [Theory]
    [MemberData(nameof(Versions))]
    public void An_old_journal_opens_says_the_same_and_takes_new_entries(string version)
    {
        var store = Path.Combine(Folder, version);
        Directory.CreateDirectory(Path.Combine(store, "journal"));
        File.Copy(Path.Combine(Kept, version, "journal", "000001.jsonl"), Path.Combine(store, "journal", "000001.jsonl"));
        using var opened = new Stores("9.9", new FakeTimeProvider(new DateTimeOffset(2040, 1, 1, 0, 0, 0, TimeSpan.Zero))).Open(store, StoreNature.Real, write: true).Require();
        Assert.Empty(opened.Notices);
        Assert.Null(opened.ReadOnlyReason);
        Assert.Equal(File.ReadAllText(Path.Combine(Kept, version, "listing.txt")), OldJournal.Listing(opened.Entries()));
        Assert.DoesNotContain(opened.Entries(), entry => entry.Body is EntryBody.Unknown);
        opened.Append(new EntryBody.Noted(null, "still going")).Require();
        Assert.Empty(opened.Check().Faults);
    }

    [Fact]
    public void The_journal_of_this_version_is_made_again_to_the_byte() =>
        Assert.Equal(File.ReadAllBytes(Path.Combine(Kept, OldJournal.Version, "journal", "000001.jsonl")), OldJournal.Segment());
}
