using System.Globalization;
using System.Text;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Quantities;

namespace Commission.Adapters.Storage;

/// <summary>
/// One chain of entries on a medium, in segments <c>000001.jsonl</c>, <c>000002.jsonl</c> … Append-only: what is torn is set aside in
/// a file of its own, what is damaged is copied out and left where it stands, and nothing that was ever acknowledged is cut.
/// </summary>
internal sealed partial class JournalChain : IDisposable
{
    private const string Ending = ".jsonl";
    private const int MarkBytes = 4096;

    private readonly IMedium medium;
    private readonly long segmentBytes;
    private readonly SortedSet<string> typesOfSegment = new(StringComparer.Ordinal);
    private IMediumFile? file;
    private int segment;
    private long bytesOfSegment;
    private (int Segment, long Bytes) acknowledged;

    private JournalChain(IMedium medium, long segmentBytes) => (this.medium, this.segmentBytes) = (medium, segmentBytes);

    /// <summary>Id of the store; null where the chain is empty.</summary>
    internal string? Store { get; private set; }

    /// <summary>Real or practice; null where the chain is empty.</summary>
    internal StoreNature? Nature { get; private set; }

    /// <summary>Sequence of the last entry.</summary>
    internal long Last { get; private set; }

    /// <summary>Hash of the last sound entry.</summary>
    internal string Tip { get; private set; } = JournalLine.NoPrevious;

    /// <summary>Type words in the chain.</summary>
    internal SortedSet<string> Types { get; } = new(StringComparer.Ordinal);

    /// <summary>What opening found.</summary>
    internal List<Problem> Notices { get; } = [];

    /// <summary>Text of the torn line that was set aside; null where there was none.</summary>
    internal string? CutOff { get; private set; }

    /// <summary>Opens a chain. Only the open segment is verified; the closed ones are by <see cref="Walk"/>.</summary>
    /// <param name="medium">Where it lies.</param>
    /// <param name="write">Whether it is appended to, and what is torn set aside.</param>
    /// <param name="segmentBytes">Size at which a segment is closed.</param>
    internal static JournalChain Open(IMedium medium, bool write, long segmentBytes)
    {
        var chain = new JournalChain(medium, segmentBytes);
        try
        {
            var files = chain.Segments();
            if (files.Count == 0)
                return chain;
            var walk = chain.WalkOpenPart(files);
            (chain.Store, chain.Nature, chain.Last, chain.Tip) = (walk.Store, walk.Nature ?? chain.NatureToldByFirstEntry(), walk.Last, walk.Tip);
            chain.Types.UnionWith(walk.Types);
            chain.typesOfSegment.UnionWith(walk.Types);
            chain.Notices.AddRange(walk.Faults);
            chain.segment = Number(files[^1]);
            if (write && walk.Store is not null && chain.Nature is not null)
                chain.MakeWritable(files[^1], walk);
            return chain;
        }
        catch
        {
            chain.Dispose();
            throw;
        }
    }

    /// <summary>Begins an empty chain.</summary>
    internal void Begin(string store, StoreNature nature)
    {
        (Store, Nature, segment) = (store, nature, 0);
        foreach (var leftover in Segments())
            SetAside(leftover, 0, medium.ReadAll(leftover), "torn");
        Roll(null, null);
    }

    /// <summary>Appends a line and returns when it is on the medium.</summary>
    /// <param name="line">A sealed line without its line end.</param>
    /// <param name="place">Its place.</param>
    internal void Append(ReadOnlySpan<byte> line, LinePlace place)
    {
        var before = (Last, Tip);
        try
        {
            Write(line, place);
            Flush();
        }
        catch
        {
            (Last, Tip) = before;
            throw;
        }
    }

    private void Flush()
    {
        file!.Flush();
        acknowledged = (segment, bytesOfSegment);
    }

    private void Write(ReadOnlySpan<byte> line, LinePlace place)
    {
        byte[] whole = [.. line, (byte)'\n'];
        file!.Write(whole);
        bytesOfSegment += whole.Length;
        (Last, Tip) = (place.Sequence, place.Self);
        Types.Add(place.Type);
        typesOfSegment.Add(place.Type);
    }

    /// <summary>Appends what is new among the lines of the same chain from elsewhere.</summary>
    /// <returns>Number of lines appended.</returns>
    internal long Take(string store, StoreNature nature, IEnumerable<(ReadOnlyMemory<byte> Line, LinePlace Place)> lines)
    {
        if (Store is null)
            Begin(store, nature);
        long count = 0;
        foreach (var (line, place) in lines.Where(line => line.Place.Sequence > Last))
        {
            Write(line.Span, place);
            CloseWhereFull();
            count++;
        }

        // Nothing is acknowledged before the last line: one flush for each segment and one here will do.
        Flush();
        return count;
    }

    /// <summary>Closes the segment where it is full.</summary>
    internal void CloseWhereFull()
    {
        if (bytesOfSegment < segmentBytes)
            return;
        var seal = Sha256.Hex(medium.ReadAll(Name(segment)));
        byte[] closing = [.. Mark(closes: true, seal, null).Line(), (byte)'\n'];
        file!.Write(closing);
        bytesOfSegment += closing.Length;
        Flush();
        Roll(seal, null);
    }

    /// <summary>The sound lines in order, without their line ends.</summary>
    /// <param name="from">Sequence of the first line wanted.</param>
    internal IEnumerable<(ReadOnlyMemory<byte> Line, LinePlace Place)> Lines(long from = 1)
    {
        var files = Segments();
        foreach (var name in files.Skip(Math.Max(0, Holding(files, from))))
        {
            var bytes = medium.ReadAll(name);
            foreach (var entry in SegmentScan.Of(bytes, from > 1 && Find(bytes, from) is { } found ? found.Offset : 0).OfType<Stretch.Entry>())
            {
                if (entry.Place.Sequence >= from)
                    yield return (bytes.AsMemory(entry.Offset, entry.Length), entry.Place);
            }
        }
    }

    /// <summary>One line that verifies, found without verifying those before it; null where it is not there or damaged.</summary>
    internal (ReadOnlyMemory<byte> Line, LinePlace Place)? Line(long sequence)
    {
        var files = Segments();
        var at = Holding(files, sequence);
        if (at < 0)
            return null;
        var bytes = medium.ReadAll(files[at]);
        return Find(bytes, sequence) is { } found ? (bytes.AsMemory(found.Offset, found.Length), found.Place) : null;
    }

    // The segment that an entry lies in, told by what stood before the segments; -1 where there is none.
    private int Holding(List<string> files, long sequence)
    {
        var at = files.Count - 1;
        while (at > 0 && (FirstMark(files[at]) is not { } mark || mark.Last >= sequence))
            at--;
        return at;
    }

    // The line of an entry in a segment, found by its number without verifying those before it; null where it is not there or damaged.
    private static (int Offset, int Length, LinePlace Place)? Find(byte[] bytes, long sequence)
    {
        var wanted = Encoding.ASCII.GetBytes(string.Create(CultureInfo.InvariantCulture, $"\"sequence\":{sequence},\"at\":"));
        for (var from = bytes.AsSpan().IndexOf(wanted); from >= 0; from = Next(bytes, wanted, from))
        {
            var begin = bytes.AsSpan(0, from).LastIndexOf((byte)'\n') + 1;
            var end = bytes.AsSpan(from).IndexOf((byte)'\n');
            if (end >= 0 && JournalLine.Place(bytes.AsSpan(begin, from + end - begin)) is { } place && place.Sequence == sequence)
                return (begin, from + end - begin, place);
        }

        return null;
    }

    /// <summary>Verifies one closed segment by itself; null where there is no such one.</summary>
    /// <param name="number">Number of the segment in order, from 0.</param>
    internal IReadOnlyList<Problem>? WalkClosed(int number)
    {
        var files = Segments();
        if (number < 0 || number >= files.Count - 1)
            return null;
        var walk = new ChainWalk(medium.Name);
        if (number > 0 && FirstMark(files[number]) is { } first)
            walk.StartAt(first);
        walk.Over(files[number], medium.ReadAll(files[number]));
        return walk.Faults;
    }

    /// <summary>Verifies every byte.</summary>
    internal ChainWalk Walk()
    {
        var walk = new ChainWalk(medium.Name);
        var expected = 1;
        foreach (var name in Segments())
        {
            for (; expected < Number(name); expected++)
                walk.Missing(Name(expected));
            walk.Over(name, medium.ReadAll(name));
            expected++;
        }

        return walk;
    }

    /// <inheritdoc/>
    public void Dispose() => file?.Dispose();

    private static int Next(byte[] bytes, byte[] wanted, int after)
    {
        var next = bytes.AsSpan(after + 1).IndexOf(wanted);
        return next < 0 ? -1 : after + 1 + next;
    }

    private static string Name(int number) => number.ToString("D6", CultureInfo.InvariantCulture) + Ending;

    private static int Number(string name) => int.Parse(name[..^Ending.Length], NumberStyles.None, CultureInfo.InvariantCulture);

    private List<string> Segments() => [.. medium.Files().Where(name => name.Length == 6 + Ending.Length
        && name.EndsWith(Ending, StringComparison.Ordinal) && name[..6].All(char.IsAsciiDigit))];

    // What lies before the last sound first line is vouched for by that line.
    private ChainWalk WalkOpenPart(List<string> files)
    {
        var walk = new ChainWalk(medium.Name);
        var start = files.Count - 1;
        while (start > 0 && FirstMark(files[start]) is null)
            start--;
        if (start > 0)
            walk.StartAt(FirstMark(files[start])!);
        for (var at = 0; at < files.Count; at++)
        {
            if (at == 0 ? Number(files[0]) != 1 : Number(files[at]) != Number(files[at - 1]) + 1)
                walk.Missing(Name(at == 0 ? 1 : Number(files[at - 1]) + 1));
            if (at < start)
                TakeClosed(files[at], walk);
            else
                walk.Over(files[at], medium.ReadAll(files[at]));
        }

        return walk;
    }

    // Where the first line of the only segment is damaged, the store's first entry still tells.
    private StoreNature? NatureToldByFirstEntry()
    {
        var (line, place) = Lines().FirstOrDefault();
        return place.Type == "store-born" && JournalLine.Read(line) is Outcome<JournalEntry>.Good { Value.Body: EntryBody.StoreBorn born } ? born.Nature : null;
    }

    private void TakeClosed(string name, ChainWalk walk)
    {
        if (LastMark(name) is { } closing)
            Types.UnionWith(closing.Types);
        else
            walk.Types.UnionWith(SegmentScan.Of(medium.ReadAll(name)).OfType<Stretch.Entry>().Select(entry => entry.Place.Type));
    }

    private SegmentMark? FirstMark(string name)
    {
        var bytes = medium.Read(name, 0, MarkBytes);
        var end = bytes.AsSpan().IndexOf((byte)'\n');
        return end < 0 ? null : SegmentMark.Read(bytes.AsMemory(0, end));
    }

    private SegmentMark? LastMark(string name)
    {
        var length = medium.Length(name);
        var bytes = medium.Read(name, Math.Max(0, length - MarkBytes), MarkBytes);
        if (bytes.Length == 0 || bytes[^1] != (byte)'\n')
            return null;
        var begin = bytes.AsSpan(0, bytes.Length - 1).LastIndexOf((byte)'\n') + 1;
        return SegmentMark.Read(bytes.AsMemory(begin, bytes.Length - 1 - begin)) is { Closes: true } mark ? mark : null;
    }

    private void Roll(string? seal, string? gap)
    {
        file?.Dispose();
        segment++;
        typesOfSegment.Clear();
        file = medium.Append(Name(segment));
        byte[] first = [.. Mark(closes: false, seal, gap).Line(), (byte)'\n'];
        file.Write(first);
        bytesOfSegment = first.Length;
        Flush();
        medium.Flush();
    }

    private SegmentMark Mark(bool closes, string? seal, string? gap) => new()
    {
        Segment = segment, Closes = closes, Store = Store!, Nature = Nature ?? StoreNature.Real, Last = Last, Tip = Tip, Seal = seal, Gap = gap,
        Types = closes ? [.. typesOfSegment] : [],
    };
}
