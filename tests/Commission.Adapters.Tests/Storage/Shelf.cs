using Commission.Core.Machines;
using Commission.Proof.Durability;

namespace Commission.Adapters.Tests.Storage;

/// <summary>A store in memory, and a few entries to put into it.</summary>
internal sealed class Shelf
{
    internal Shelf(CutPowerMedium? journal = null) => Journal = journal ?? new CutPowerMedium();

    internal CutPowerMedium Journal { get; }

    internal Dictionary<string, CutPowerMedium> Others { get; } = new(StringComparer.Ordinal);

    internal FakeTimeProvider Clock { get; } = new(new DateTimeOffset(2031, 5, 4, 9, 0, 0, TimeSpan.Zero));

    internal StoreNature Nature { get; set; } = StoreNature.Practice;

    internal string NewStore { get; set; } = "heron1";

    internal long SegmentBytes { get; set; } = 4 << 20;

    internal JournalOpening Opening => new() { Nature = Nature, Program = "0.1.0", Clock = Clock, NewStore = () => NewStore, SegmentBytes = SegmentBytes };

    internal Outcome<IJournal> TryOpen() => JournalFolder.OpenOn(On, Opening);

    internal JournalFolder Open() => (JournalFolder)TryOpen().Require();

    internal static EntryBody.ReadingTaken Reading(int recorded) => new()
    {
        Recorded = recorded, Step = "readings", Cell = recorded - 1, Place = "far", Typed = $"{recorded}.01", Value = recorded + 0.01, Unit = "mm", Machine = "Heron",
    };

    internal static Machine Heron { get; } = new() { Name = "Heron", TravelMm = [420, 580, 90] };

    /// <summary>Opens, appends that many readings, closes.</summary>
    internal Shelf With(int readings)
    {
        using var journal = Open();
        var there = (int)journal.Last.Sequence - 1;
        for (var recorded = there + 1; recorded <= there + readings; recorded++)
            journal.Append(Reading(recorded)).Require();
        return this;
    }

    internal byte[] Bytes(string file = "000001.jsonl") => Journal.Read(file, 0, int.MaxValue);

    internal static int[] Recorded(IJournal journal) => [.. journal.Entries().Select(entry => entry.Body).OfType<EntryBody.ReadingTaken>().Select(taken => taken.Recorded)];

    private CutPowerMedium On(string name)
    {
        if (name == "journal")
            return Journal;
        if (!Others.TryGetValue(name, out var medium))
            Others[name] = medium = new CutPowerMedium();
        return medium;
    }
}
