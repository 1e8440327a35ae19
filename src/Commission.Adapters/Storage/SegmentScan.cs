using Commission.Core.History;

namespace Commission.Adapters.Storage;

/// <summary>One stretch of a segment file.</summary>
/// <param name="Line">Line in the file, from 1.</param>
/// <param name="Offset">Where it begins, bytes.</param>
/// <param name="Length">Its length without the line end, bytes.</param>
internal abstract record Stretch(int Line, int Offset, int Length)
{
    /// <summary>An entry whose hash fits.</summary>
    internal sealed record Entry(int Line, int Offset, int Length, LinePlace Place) : Stretch(Line, Offset, Length);

    /// <summary>A first or closing line.</summary>
    internal sealed record Mark(int Line, int Offset, int Length, SegmentMark Content) : Stretch(Line, Offset, Length);

    /// <summary>A complete line that does not verify.</summary>
    internal sealed record Damaged(int Line, int Offset, int Length, int Entries) : Stretch(Line, Offset, Length);

    /// <summary>A last line without its line end: it was never acknowledged.</summary>
    internal sealed record Torn(int Line, int Offset, int Length) : Stretch(Line, Offset, Length);
}

/// <summary>Cuts the bytes of a segment into stretches. Every byte belongs to exactly one.</summary>
internal static class SegmentScan
{
    /// <summary>The stretches in order.</summary>
    /// <param name="bytes">The segment.</param>
    /// <param name="from">Where a line begins; lines are counted from there.</param>
    internal static IEnumerable<Stretch> Of(byte[] bytes, int from = 0)
    {
        var (at, line) = (from, 1);
        while (at < bytes.Length)
        {
            var length = bytes.AsSpan(at).IndexOf((byte)'\n');
            if (length < 0)
            {
                yield return new Stretch.Torn(line, at, bytes.Length - at);
                yield break;
            }

            foreach (var stretch in Parts(bytes, line, at, length))
                yield return stretch;
            (at, line) = (at + length + 1, line + 1);
        }
    }

    // A flipped bit in a line end joins two lines that are sound by themselves: only the line end is damaged then.
    private static Stretch[] Parts(byte[] bytes, int line, int at, int length)
    {
        var whole = One(bytes.AsMemory(at, length), line, at);
        if (whole is not Stretch.Damaged || bytes.AsSpan(at + 1, length - 1).IndexOf(JournalLine.Beginning) is not (> 0 and var second))
            return [whole];
        var begin = at + 1 + second;
        var (first, rest) = (One(bytes.AsMemory(at, begin - 1 - at), line, at), One(bytes.AsMemory(begin, at + length - begin), line, begin));
        return first is Stretch.Damaged && rest is Stretch.Damaged ? [whole] : [first, new Stretch.Damaged(line, begin - 1, 1, 0), rest];
    }

    private static Stretch One(ReadOnlyMemory<byte> bytes, int line, int at)
    {
        if (JournalLine.Place(bytes.Span) is { } place)
            return new Stretch.Entry(line, at, bytes.Length, place);
        if (SegmentMark.Read(bytes) is { } mark)
            return new Stretch.Mark(line, at, bytes.Length, mark);
        return new Stretch.Damaged(line, at, bytes.Length, Math.Max(1, CountBeginnings(bytes.Span)));
    }

    // Where line ends were lost and the lines are damaged besides, several entries stand in one; all their numbers are used up.
    private static int CountBeginnings(ReadOnlySpan<byte> bytes)
    {
        var count = 0;
        for (var at = bytes.IndexOf(JournalLine.Beginning); at >= 0; at = bytes.IndexOf(JournalLine.Beginning))
        {
            count++;
            bytes = bytes[(at + 1)..];
        }

        return count;
    }
}
