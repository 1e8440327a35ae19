using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Quantities;

namespace Commission.Adapters.Storage;

/// <summary>Walks over the segments of a chain in order and notes where it does not hold.</summary>
internal sealed class ChainWalk(string folder)
{
    private const string Remedy = "Keep the folder as it is and look at the newest backup; what can be read is still used";

    private string? seal;

    /// <summary>Sequence of the last entry, damaged ones counted.</summary>
    internal long Last { get; private set; }

    /// <summary>Hash of the last sound entry.</summary>
    internal string Tip { get; private set; } = JournalLine.NoPrevious;

    /// <summary>Id of the store; null before anything sound was seen.</summary>
    internal string? Store { get; private set; }

    /// <summary>Real or practice; null before a first line was seen.</summary>
    internal StoreNature? Nature { get; private set; }

    /// <summary>Number of sound entries.</summary>
    internal long Entries { get; private set; }

    /// <summary>Type words seen.</summary>
    internal SortedSet<string> Types { get; } = new(StringComparer.Ordinal);

    /// <summary>Where the chain does not hold.</summary>
    internal List<Problem> Faults { get; } = [];

    /// <summary>Damaged lines of the segment walked last.</summary>
    internal List<Stretch.Damaged> Damaged { get; } = [];

    /// <summary>Why the segment walked last cannot be appended to; null where it can.</summary>
    internal string? Gap { get; private set; }

    /// <summary>The torn end of the segment walked last; null where there is none.</summary>
    internal Stretch.Torn? Torn { get; private set; }

    /// <summary>Whether the segment walked last is closed.</summary>
    internal bool Closed { get; private set; }

    /// <summary>Whether the segment walked last begins with its first line.</summary>
    internal bool Opened { get; private set; }

    /// <summary>Seal of the segment walked last; null where it is not closed.</summary>
    internal string? Seal => Closed ? seal : null;

    /// <summary>Takes a first line as true without walking what lies before it.</summary>
    internal void StartAt(SegmentMark mark) => (Last, Tip, Store, Nature, seal) = (mark.Last, mark.Tip, mark.Store, mark.Nature, mark.Seal);

    /// <summary>Walks over one segment.</summary>
    internal void Over(string file, byte[] bytes)
    {
        (Gap, Torn, Closed, Opened) = (null, null, false, false);
        Damaged.Clear();
        var justDamaged = false;
        foreach (var stretch in SegmentScan.Of(bytes))
        {
            switch (stretch)
            {
                case Stretch.Entry entry:
                    Take(file, entry, justDamaged);
                    break;
                case Stretch.Mark { Content.Closes: false } mark:
                    Open(file, mark);
                    break;
                case Stretch.Mark mark:
                    Close(file, mark, bytes);
                    break;
                case Stretch.Damaged damaged:
                    Last += damaged.Entries;
                    Damaged.Add(damaged);
                    Fault(file, damaged, "the line does not verify: its bytes were changed after it was written");
                    break;
                case Stretch.Torn torn:
                    Torn = torn;
                    break;
            }

            justDamaged = stretch is Stretch.Damaged;
        }
    }

    /// <summary>Notes that a segment is not there.</summary>
    internal void Missing(string file) => Faults.Add(new Problem("this part of the journal is missing", Remedy) { File = Path.Combine(folder, file) });

    private void Take(string file, Stretch.Entry entry, bool justDamaged)
    {
        var place = entry.Place;
        if (!justDamaged && (place.Sequence != Last + 1 || place.Previous != Tip))
            Fault(file, entry, string.Create(CultureInfo.InvariantCulture, $"entry {place.Sequence} does not follow on entry {Last}: what stood between them is gone"));
        else if (Store is not null && place.Store != Store)
            Fault(file, entry, $"an entry of the store '{place.Store}' stands in the chain of '{Store}'");
        (Last, Tip, Store) = (place.Sequence, place.Self, Store ?? place.Store);
        Entries++;
        Types.Add(place.Type);
    }

    private void Open(string file, Stretch.Mark mark)
    {
        var content = mark.Content;
        var follows = content.Last == Last && content.Tip == Tip && (content.Seal is null || content.Seal == seal);
        if (!follows && content.Gap is null)
            Fault(file, mark, "this part does not follow on the one before it");
        (Opened, Store, Nature) = (true, Store ?? content.Store, Nature ?? content.Nature);
        (Last, Tip) = (Math.Max(Last, content.Last), content.Tip);
    }

    private void Close(string file, Stretch.Mark mark, byte[] bytes)
    {
        (Closed, seal) = (true, mark.Content.Seal);
        if (mark.Content.Seal != Sha256.Hex(bytes.AsSpan(0, mark.Offset)) || mark.Content.Last != Last || mark.Content.Tip != Tip)
            Fault(file, mark, "the seal of this part does not fit what stands in it");
    }

    private void Fault(string file, Stretch at, string what)
    {
        var place = string.Create(CultureInfo.InvariantCulture, $"{file}, line {at.Line}, byte {at.Offset}");
        Gap ??= $"{place}: {what}";
        Faults.Add(new Problem(what, Remedy) { File = Path.Combine(folder, file), Line = at.Line, Column = 1 });
    }
}
