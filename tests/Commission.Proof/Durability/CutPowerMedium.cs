using Commission.Adapters.Storage;

namespace Commission.Proof.Durability;

/// <summary>
/// A folder in memory that remembers every write and flush, so that a power cut can be played at any of them: what was flushed stays,
/// each write after the last flush stays or goes by chance, whole or in part, and a new name stays only if the folder was flushed or by chance.
/// </summary>
public sealed class CutPowerMedium : IMedium
{
    private readonly List<Happening> happened = [];
    private readonly Dictionary<string, List<byte>> files = new(StringComparer.Ordinal);

    private abstract record Happening(string File)
    {
        internal sealed record Made(string File) : Happening(File);

        internal sealed record Written(string File, byte[] Bytes) : Happening(File);

        internal sealed record Flushed(string File) : Happening(File);

        internal sealed record Cut(string File, long Length) : Happening(File);

        internal sealed record FolderFlushed() : Happening("");
    }

    /// <summary>Number of things that have happened.</summary>
    public int Count => happened.Count;

    /// <summary>Bytes that may still be written before the medium is full; null for no limit.</summary>
    public long? Room { get; set; }

    /// <summary>Whether nothing may be written at all, as on a stick whose lock is shut.</summary>
    public bool ReadOnly { get; set; }

    /// <inheritdoc/>
    public string Name => "memory";

    /// <inheritdoc/>
    public IReadOnlyList<string> Files() => [.. files.Keys.Order(StringComparer.Ordinal)];

    /// <inheritdoc/>
    public long Length(string file) => files[file].Count;

    /// <inheritdoc/>
    public byte[] Read(string file, long offset, int count) => [.. files[file].GetRange((int)offset, (int)Math.Min(count, files[file].Count - offset))];

    /// <inheritdoc/>
    public IMediumFile Append(string file)
    {
        RefuseWhereReadOnly();
        if (files.TryAdd(file, []))
            happened.Add(new Happening.Made(file));
        return new Appending(this, file);
    }

    /// <inheritdoc/>
    public void Truncate(string file, long length)
    {
        RefuseWhereReadOnly();
        files[file].RemoveRange((int)length, files[file].Count - (int)length);
        happened.Add(new Happening.Cut(file, length));
    }

    /// <inheritdoc/>
    public void Flush() => happened.Add(new Happening.FolderFlushed());

    private void RefuseWhereReadOnly()
    {
        if (ReadOnly)
            throw new UnauthorizedAccessException("the medium is read-only");
    }

    /// <summary>Replaces a file's bytes, as damage does.</summary>
    public void Damage(string file, byte[] bytes) => files[file] = [.. bytes];

    /// <summary>A medium with the same files and no past.</summary>
    public CutPowerMedium Copy()
    {
        var copy = new CutPowerMedium();
        foreach (var (name, bytes) in files)
            copy.files[name] = [.. bytes];
        return copy;
    }

    /// <summary>What a power cut leaves.</summary>
    /// <param name="until">How many of the happenings came before it.</param>
    /// <param name="random">Decides what of the unflushed stays.</param>
    /// <param name="stays">Chance that an unflushed write or name stays.</param>
    public CutPowerMedium CutPower(int until, Random random, double stays)
    {
        var left = new CutPowerMedium();
        foreach (var file in happened.Take(until).OfType<Happening.Made>().Select(made => made.File).Distinct())
        {
            var made = happened.FindIndex(one => one is Happening.Made && one.File == file);
            var nameLasts = happened.Take(until).Skip(made).OfType<Happening.FolderFlushed>().Any();
            if (nameLasts || random.NextDouble() < stays)
                left.files[file] = [.. Content(file, until, random, stays)];
        }

        return left;
    }

    private List<byte> Content(string file, int until, Random random, double stays)
    {
        var own = happened.Take(until).Where(one => one.File == file).ToList();
        var flushed = own.FindLastIndex(one => one is Happening.Flushed or Happening.Cut);
        var content = new List<byte>();
        for (var at = 0; at < own.Count; at++)
        {
            if (own[at] is Happening.Cut cut)
                content.RemoveRange((int)cut.Length, content.Count - (int)cut.Length);
            if (own[at] is not Happening.Written written)
                continue;
            if (at <= flushed)
                content.AddRange(written.Bytes);
            else if (random.NextDouble() < stays)
                content.AddRange(written.Bytes.Take(random.Next(written.Bytes.Length + 1)));
            else
                break;
        }

        return content;
    }

    private sealed class Appending(CutPowerMedium medium, string file) : IMediumFile
    {
        public void Write(ReadOnlySpan<byte> bytes)
        {
            var fits = (int)Math.Min(bytes.Length, medium.Room ?? long.MaxValue);
            medium.Room -= fits;
            medium.files[file].AddRange(bytes[..fits]);
            medium.happened.Add(new Happening.Written(file, bytes[..fits].ToArray()));
            if (fits < bytes.Length)
                throw new IOException("No space left on device");
        }

        public void Flush() => medium.happened.Add(new Happening.Flushed(file));

        public void Dispose()
        {
        }
    }
}
