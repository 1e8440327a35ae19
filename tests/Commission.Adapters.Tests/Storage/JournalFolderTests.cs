using System.Text;
using Commission.Proof.Durability;

namespace Commission.Adapters.Tests.Storage;

public sealed class JournalFolderTests
{
    [Fact]
    public void A_new_store_says_first_what_it_is()
    {
        using var journal = new Shelf().Open();
        var born = Assert.IsType<EntryBody.StoreBorn>(Assert.Single(journal.Entries()).Body);
        Assert.Equal((StoreNature.Practice, "heron1", "0.1.0"), (born.Nature, born.Store, born.Program));
        Assert.Equal(("heron1", null), (journal.Store, journal.ReadOnlyReason));
    }

    [Fact]
    public void What_was_appended_is_there_after_opening_again_and_goes_on_behind()
    {
        var shelf = new Shelf().With(readings: 3).With(readings: 2);
        using var journal = shelf.Open();
        Assert.Equal([1, 2, 3, 4, 5], Shelf.Recorded(journal));
        Assert.Equal(["heron1:1", "heron1:2", "heron1:3", "heron1:4", "heron1:5", "heron1:6"], journal.Entries().Select(entry => entry.Id));
        Assert.Empty(journal.Check().Faults);
    }

    [Theory]
    [InlineData(StoreNature.Practice, StoreNature.Real)]
    [InlineData(StoreNature.Real, StoreNature.Practice)]
    public void A_store_of_the_other_kind_is_refused(StoreNature born, StoreNature wanted)
    {
        var shelf = new Shelf { Nature = born }.With(readings: 1);
        shelf.Nature = wanted;
        var bad = Assert.IsType<Outcome<IJournal>.Bad>(shelf.TryOpen());
        Assert.Contains("belongs to", bad.Problems[0].What, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_cut_of_the_last_two_entries_loses_only_what_is_cut_and_keeps_the_rest_aside()
    {
        var whole = new Shelf().With(readings: 4).Bytes();
        var ends = Enumerable.Range(0, whole.Length).Where(at => whole[at] == '\n').ToArray();
        for (var cut = ends[^3] + 1; cut < whole.Length; cut++)
        {
            var shelf = new Shelf();
            shelf.Journal.Append("000001.jsonl").Write(whole.AsSpan(0, cut));
            using var journal = shelf.Open();
            var complete = ends.Count(end => end < cut) - 2;
            Assert.Equal(Enumerable.Range(1, complete), Shelf.Recorded(journal));
            var rest = cut - (ends.Last(end => end < cut) + 1);
            Assert.Equal(rest > 0 ? 1 : 0, journal.Notices.Count);
            if (rest > 0)
                Assert.Equal(whole[(cut - rest)..cut], shelf.Bytes("000001.jsonl.torn-1"));
            journal.Append(Shelf.Reading(99)).Require();
            Assert.Equal(99, Shelf.Recorded(journal)[^1]);
            Assert.Empty(journal.Check().Faults);
        }
    }

    [Fact]
    public void Every_flipped_bit_of_the_last_entry_is_seen_and_nothing_is_overwritten() =>
        FlipAndOpen(whole => Enumerable.Range(0, (whole.Length - LastLine(whole)) * 8).Select(bit => (LastLine(whole) * 8) + bit));

    [Fact]
    public void Flipped_bits_anywhere_are_seen_and_nothing_is_overwritten() =>
        FlipAndOpen(whole => Enumerable.Range(0, 300).Select(at => (int)((long)at * whole.Length * 8 / 300)));

    private static int LastLine(byte[] whole) => whole.AsSpan(0, whole.Length - 1).LastIndexOf((byte)'\n') + 1;

    private static void FlipAndOpen(Func<byte[], IEnumerable<int>> bits)
    {
        var whole = new Shelf().With(readings: 3).Bytes();
        foreach (var bit in bits(whole))
        {
            var damaged = whole.ToArray();
            damaged[bit / 8] ^= (byte)(1 << (bit % 8));
            var shelf = new Shelf();
            shelf.Journal.Append("000001.jsonl").Write(damaged);
            using var journal = shelf.Open();
            Assert.NotEmpty(journal.Notices);
            Assert.All(journal.Notices, notice => Assert.True(notice.Line > 0 && notice.Remedy.Length > 0));
            Assert.True(Shelf.Recorded(journal).Length >= 1);
            Assert.Null(journal.ReadOnlyReason);
            journal.Append(Shelf.Reading(99)).Require();
            Assert.Equal(99, Shelf.Recorded(journal)[^1]);

            // Everything that stood there stands there still, in the segment or in the file of what was torn.
            var torn = shelf.Journal.Files().Contains("000001.jsonl.torn-1") ? shelf.Bytes("000001.jsonl.torn-1") : [];
            byte[] kept = [.. shelf.Bytes().AsSpan(0, damaged.Length - torn.Length), .. torn];
            Assert.True(damaged.AsSpan().SequenceEqual(kept));
            if (bit % 13 != 0)
                continue;
            using var again = shelf.Open();
            Assert.Equal(99, Shelf.Recorded(again)[^1]);
            Assert.Equal(again.Entries().Count(), again.Entries().Select(entry => entry.Id).Distinct().Count());
        }
    }

    [Fact]
    public void A_flipped_line_end_costs_neither_of_the_two_lines()
    {
        var whole = new Shelf().With(readings: 3).Bytes();
        foreach (var end in Enumerable.Range(0, whole.Length - 1).Where(at => whole[at] == '\n'))
        {
            var shelf = new Shelf();
            var damaged = whole.ToArray();
            damaged[end] ^= 1;
            shelf.Journal.Append("000001.jsonl").Write(damaged);
            using var journal = shelf.Open();
            Assert.Equal((null, 4L), (journal.ReadOnlyReason, journal.Last.Sequence));
            Assert.Equal([1, 2, 3], Shelf.Recorded(journal));
            Assert.Single(journal.Notices);
        }
    }

    [Fact]
    public void Where_both_first_lines_are_damaged_the_rest_is_read_and_nothing_is_written()
    {
        var whole = new Shelf().With(readings: 3).Bytes();
        var first = whole.AsSpan().IndexOf((byte)'\n');
        whole[first - 5] ^= 1;
        whole[first + 50] ^= 1;
        var shelf = new Shelf();
        shelf.Journal.Append("000001.jsonl").Write(whole);
        using var journal = shelf.Open();
        Assert.Contains("first lines are damaged", journal.ReadOnlyReason, StringComparison.Ordinal);
        Assert.Equal([1, 2, 3], Shelf.Recorded(journal));
    }

    [Fact]
    public void Each_closed_part_verifies_by_itself()
    {
        var shelf = new Shelf { SegmentBytes = 2000 }.With(readings: 30);
        using var journal = shelf.Open();
        var closed = shelf.Journal.Files().Count - 1;
        Assert.All(Enumerable.Range(0, closed), part => Assert.Empty(journal.VerifyPart(part)!));
        Assert.Null(journal.VerifyPart(closed));
        var bytes = shelf.Bytes("000003.jsonl");
        bytes[900] ^= 2;
        shelf.Journal.Damage("000003.jsonl", bytes);
        Assert.NotEmpty(journal.VerifyPart(2)!);
    }

    [Fact]
    public void After_damage_the_journal_goes_on_in_a_part_that_names_the_gap()
    {
        var shelf = new Shelf().With(readings: 3);
        var bytes = shelf.Bytes();
        bytes[^20] ^= 1;
        shelf.Journal.Damage("000001.jsonl", bytes);
        shelf.With(readings: 1);
        Assert.Contains("\"gap\":\"000001.jsonl, line 5", Encoding.UTF8.GetString(shelf.Bytes("000002.jsonl")), StringComparison.Ordinal);
        Assert.Equal(bytes[LastLine(bytes)..^1], shelf.Bytes("000001.jsonl.line-5.damaged"));
        using var journal = shelf.Open();
        Assert.Empty(journal.Notices);
        Assert.Equal([1L, 2, 3, 5], journal.Entries().Select(entry => entry.Sequence));
        var fault = Assert.Single(journal.Check().Faults);
        Assert.Equal(5, fault.Line);
    }

    [Fact]
    public void A_full_segment_is_sealed_and_the_next_one_follows_on_it()
    {
        var shelf = new Shelf { SegmentBytes = 2000 }.With(readings: 30);
        using var journal = shelf.Open();
        Assert.True(shelf.Journal.Files().Count > 5);
        Assert.Equal(Enumerable.Range(1, 30), Shelf.Recorded(journal));
        Assert.Equal(Enumerable.Range(20, 12).Select(at => (long)at), journal.Entries(from: 20).Select(entry => entry.Sequence));
        Assert.Empty(journal.Check().Faults);
        var bytes = shelf.Bytes("000002.jsonl");
        bytes[300] ^= 4;
        shelf.Journal.Damage("000002.jsonl", bytes);
        using var damaged = shelf.Open();
        Assert.Null(damaged.ReadOnlyReason);
        Assert.Contains(damaged.Check().Faults, fault => fault.File!.EndsWith("000002.jsonl", StringComparison.Ordinal));
    }

    [Fact]
    public void A_lost_segment_is_missed()
    {
        var shelf = new Shelf { SegmentBytes = 2000 }.With(readings: 30);
        var less = new CutPowerMedium();
        foreach (var file in shelf.Journal.Files().Where(file => file != "000003.jsonl"))
            less.Append(file).Write(shelf.Bytes(file));
        using var journal = new Shelf(less) { SegmentBytes = 2000 }.Open();
        Assert.Contains(journal.Notices, notice => notice.File!.EndsWith("000003.jsonl", StringComparison.Ordinal));
        Assert.Contains(journal.Check().Faults, fault => fault.File!.EndsWith("000003.jsonl", StringComparison.Ordinal));
    }

    [Fact]
    public void A_full_disk_refuses_the_entry_keeps_all_before_it_and_takes_it_once_there_is_room()
    {
        for (var room = 0; room < 700; room += 7)
        {
            // With small segments the disk fills up in a closing line or in the first line of the next one, too.
            var shelf = new Shelf { SegmentBytes = room % 2 == 0 ? 900 : 100_000 }.With(readings: 2);
            using (var journal = shelf.Open())
            {
                shelf.Journal.Room = room;
                var taken = Enumerable.Range(3, 5).TakeWhile(recorded => journal.Append(Shelf.Reading(recorded)) is Outcome<JournalEntry>.Good).Count();
                Assert.True(taken < 3);
                Assert.IsType<Outcome<JournalEntry>.Bad>(journal.Append(Shelf.Reading(9)));
                Assert.Equal(Enumerable.Range(1, 2 + taken), Shelf.Recorded(journal));
                shelf.Journal.Room = null;
                Assert.Null(journal.ReadOnlyReason);
                journal.Append(Shelf.Reading(3 + taken)).Require();
                journal.Append(Shelf.Reading(4 + taken)).Require();
                Assert.Equal(Enumerable.Range(1, 4 + taken), Shelf.Recorded(journal));
                Assert.Empty(journal.Check().Faults);
            }

            using var again = shelf.Open();
            Assert.Null(again.ReadOnlyReason);
            again.Append(Shelf.Reading(50)).Require();
            Assert.Empty(again.Check().Faults);
        }
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_read_only_medium_is_read_whole_refuses_in_words_and_is_left_as_it_was(bool torn)
    {
        var shelf = new Shelf().With(readings: 2);
        if (torn)
            shelf.Journal.Damage("000001.jsonl", shelf.Bytes()[..^5]);
        var before = shelf.Bytes();
        shelf.Journal.ReadOnly = true;
        using var journal = shelf.Open();
        Assert.Equal(Enumerable.Range(1, torn ? 1 : 2), Shelf.Recorded(journal));
        var refused = Assert.IsType<Outcome<JournalEntry>.Bad>(journal.Append(Shelf.Reading(3)));
        Assert.NotEmpty(refused.Problems[0].What);
        Assert.NotEmpty(refused.Problems[0].Remedy);
        Assert.Contains("cannot be written to", journal.ReadOnlyReason, StringComparison.Ordinal);
        Assert.Equal(before, shelf.Bytes());
    }

    [Fact]
    public void A_disk_too_full_to_set_the_torn_end_aside_can_still_be_read()
    {
        var shelf = new Shelf().With(readings: 2);
        shelf.Journal.Damage("000001.jsonl", shelf.Bytes()[..^5]);
        shelf.Journal.Room = 3;
        using var journal = shelf.Open();
        Assert.Contains("cannot be written to", journal.ReadOnlyReason, StringComparison.Ordinal);
        Assert.Equal([1], Shelf.Recorded(journal));
    }

    [Fact]
    public void An_entry_of_a_newer_kind_is_kept_and_makes_the_store_read_only()
    {
        var shelf = new Shelf().With(readings: 1);
        var last = Encoding.UTF8.GetString(shelf.Bytes()).TrimEnd('\n').Split('\n')[^1];
        var line = JournalLine.Sealed(Encoding.UTF8.GetBytes("{\"format\":\"commission.journal/1\",\"id\":\"heron1:3\",\"sequence\":3,\"at\":\"2040-01-01T00:00:00.0000000+00:00\",\"type\":\"dream\",\"previous\":\"" + JournalLine.Self(Encoding.UTF8.GetBytes(last)) + "\""));
        shelf.Journal.Append("000001.jsonl").Write([.. line, (byte)'\n']);
        using var journal = shelf.Open();
        Assert.Contains("newer version", journal.ReadOnlyReason, StringComparison.Ordinal);
        Assert.IsType<Outcome<JournalEntry>.Bad>(journal.Append(Shelf.Reading(2)));
        Assert.Equal("dream", Assert.IsType<EntryBody.Unknown>(journal.Entries().Last().Body).Type);
        Assert.Equal(line, journal.Lines().Last().ToArray());
    }

    [Fact]
    public void A_clock_set_back_and_a_change_of_zone_leave_the_order_as_it_was()
    {
        var shelf = new Shelf();
        shelf.Clock.SetLocalTimeZone(TimeZoneInfo.CreateCustomTimeZone("east", TimeSpan.FromHours(9), "east", "east"));
        using (var journal = shelf.Open())
            journal.Append(Shelf.Reading(1)).Require();
        var earlier = new Shelf(shelf.Journal);
        earlier.Clock.AdjustTime(new DateTimeOffset(2030, 1, 1, 0, 0, 0, TimeSpan.Zero));
        earlier.Clock.SetLocalTimeZone(TimeZoneInfo.CreateCustomTimeZone("west", TimeSpan.FromHours(-3.5), "west", "west"));
        using var later = earlier.Open();
        later.Append(Shelf.Reading(2)).Require();
        Assert.Equal([1, 2], Shelf.Recorded(later));
        Assert.Equal([9.0, 9.0, -3.5], later.Entries().Select(entry => entry.At.Offset.TotalHours));
        Assert.Empty(later.Check().Faults);
    }

    [Fact]
    public void Export_import_export_gives_the_same_bytes()
    {
        var shelf = new Shelf { SegmentBytes = 2000 }.With(readings: 12);
        using var source = shelf.Open();
        var exported = source.Lines().Select(line => line.ToArray()).ToArray();
        var other = new Shelf { NewStore = "other2" };
        using var target = other.Open();
        target.Append(Shelf.Reading(1)).Require();
        Assert.Equal(13, target.Import([.. exported.Select(line => (ReadOnlyMemory<byte>)line)], "export.jsonl").Require());
        Assert.Equal(["heron1"], target.ForeignStores);
        Assert.Equal("heron1:13", target.Foreign("heron1").Last().Id);
        Assert.Equal(exported, target.Lines().Skip(2).Select(line => line.ToArray()));
        Assert.Equal(2, target.Last.Sequence);
        Assert.Equal(0, target.Import([.. exported.Select(line => (ReadOnlyMemory<byte>)line)], "export.jsonl").Require());
        Assert.Empty(target.Check().Faults);
    }

    [Fact]
    public void A_changed_export_is_refused_with_its_line()
    {
        using var source = new Shelf().With(readings: 3).Open();
        var lines = source.Lines().Select(line => (ReadOnlyMemory<byte>)line.ToArray()).ToList();
        lines.RemoveAt(2);
        using var target = new Shelf { NewStore = "other2" }.Open();
        var bad = Assert.IsType<Outcome<long>.Bad>(target.Import(lines, "export.jsonl"));
        Assert.Equal("export.jsonl:3:1: entry 4 does not follow on entry 2. Export the journal again, whole.", bad.Problems[0].ToString());
        Assert.Empty(target.ForeignStores);
    }

    [Fact]
    public void No_power_cut_loses_an_acknowledged_reading() => PowerCuts.Run(cuts: 30, seed: 11);
}
