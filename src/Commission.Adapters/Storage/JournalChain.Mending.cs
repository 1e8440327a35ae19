using System.Globalization;
using System.Text;
using Commission.Core;

namespace Commission.Adapters.Storage;

/// <summary>What was torn or damaged, by a power cut or by a write that failed.</summary>
internal sealed partial class JournalChain
{
    /// <summary>After a write that failed: cuts what was not acknowledged and reads the chain again, as a new start would.</summary>
    /// <returns>The same chain, to be appended to.</returns>
    /// <exception cref="IOException">The medium takes nothing yet, or holds something else than what was acknowledged; nothing is changed then.</exception>
    internal JournalChain PutRight()
    {
        Leave();
        var name = Name(acknowledged.Segment);
        if (medium.Length(name) > acknowledged.Bytes)
            medium.Truncate(name, acknowledged.Bytes);
        var again = Open(medium, write: true, segmentBytes);
        if ((again.Last, again.Tip) != (Last, Tip))
        {
            again.Dispose();
            throw new IOException("the journal no longer holds what was put there");
        }

        again.Notices.InsertRange(0, Notices);
        again.CutOff ??= CutOff;
        return again;
    }

    // What a failed write left in a file may make closing it fail as well: it is cut or read again anyway.
    private void Leave()
    {
        try
        {
            file?.Dispose();
        }
        catch (IOException)
        {
        }

        file = null;
    }

    private void MakeWritable(string name, ChainWalk walk)
    {
        foreach (var damaged in walk.Damaged)
            CopyOut(name, damaged);
        if (walk.Torn is { } torn)
        {
            var bytes = medium.Read(name, torn.Offset, torn.Length);
            CutOff = Encoding.UTF8.GetString(bytes);
            var kept = SetAside(name, torn.Offset, bytes, "torn");
            Notices.Add(new Problem($"the last line was not complete and is set aside as {kept}: it had not been acknowledged", "Nothing has to be done; take the reading again if it is missing")
            {
                File = Path.Combine(medium.Name, name), Line = torn.Line, Column = 1,
            });
        }

        bytesOfSegment = medium.Length(name);
        if (bytesOfSegment == 0)
        {
            segment--;
            Roll(walk.Seal, null);
        }
        else if (walk.Gap is not null || walk.Closed || !walk.Opened)
            Roll(walk.Seal, walk.Gap ?? (walk.Closed ? null : $"{name} has no first line"));
        else
        {
            file = medium.Append(name);
            acknowledged = (segment, bytesOfSegment);
        }
    }

    private string SetAside(string name, int offset, byte[] bytes, string why)
    {
        var kept = FreeName($"{name}.{why}");
        using (var copy = medium.Append(kept))
        {
            copy.Write(bytes);
            copy.Flush();
        }

        medium.Flush();
        medium.Truncate(name, offset);
        return kept;
    }

    private void CopyOut(string name, Stretch.Damaged damaged)
    {
        var kept = string.Create(CultureInfo.InvariantCulture, $"{name}.line-{damaged.Line}.damaged");
        if (medium.Files().Contains(kept))
            return;
        using (var copy = medium.Append(kept))
        {
            copy.Write(medium.Read(name, damaged.Offset, damaged.Length));
            copy.Flush();
        }

        medium.Flush();
    }

    private string FreeName(string wanted)
    {
        var taken = medium.Files();
        var count = 1;
        while (taken.Contains($"{wanted}-{count.ToString(CultureInfo.InvariantCulture)}"))
            count++;
        return $"{wanted}-{count.ToString(CultureInfo.InvariantCulture)}";
    }
}
