namespace Commission.Adapters.Storage;

/// <summary>A folder of the file system.</summary>
public sealed class FolderMedium : IMedium
{
    // A scanner on Windows may hold a file it has just seen for a moment; elsewhere nothing is tried twice.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(2);

    private readonly string folder;

    /// <summary>A folder; it need not be there yet.</summary>
    /// <param name="folder">Path of the folder.</param>
    public FolderMedium(string folder) => this.folder = Path.GetFullPath(folder);

    /// <inheritdoc/>
    public string Name => folder;

    /// <inheritdoc/>
    public IReadOnlyList<string> Files() => Directory.Exists(folder)
        ? [.. Directory.GetFiles(folder).Select(path => Path.GetFileName(path)).Order(StringComparer.Ordinal)]
        : [];

    /// <inheritdoc/>
    public long Length(string file) => new FileInfo(At(file)).Length;

    /// <inheritdoc/>
    public byte[] Read(string file, long offset, int count)
    {
        using var stream = Patiently(() => new FileStream(At(file), FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete, 0));
        stream.Position = offset;
        var bytes = new byte[Math.Max(0, Math.Min(count, stream.Length - offset))];
        var read = stream.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false);
        return read == bytes.Length ? bytes : bytes[..read];
    }

    /// <inheritdoc/>
    public IMediumFile Append(string file)
    {
        Make();
        return new Appending(Patiently(() => new FileStream(At(file), FileMode.Append, FileAccess.Write, FileShare.Read, 0)));
    }

    /// <inheritdoc/>
    public void Truncate(string file, long length)
    {
        using var stream = Patiently(() => new FileStream(At(file), FileMode.Open, FileAccess.ReadWrite, FileShare.Read, 0));
        stream.SetLength(length);
        stream.Flush(flushToDisk: true);
    }

    /// <inheritdoc/>
    public void Flush() => Disk.FlushFolder(folder);

    /// <summary>Makes the folder where it is missing, and its name lasting.</summary>
    internal void Make()
    {
        if (Directory.Exists(folder))
            return;
        var parent = Path.GetDirectoryName(folder);
        if (parent is not null && !Directory.Exists(parent))
            new FolderMedium(parent).Make();
        Directory.CreateDirectory(folder);
        if (parent is not null)
            Disk.FlushFolder(parent);
    }

    private static FileStream Patiently(Func<FileStream> open)
    {
        var began = TimeProvider.System.GetTimestamp();
        while (true)
        {
            try
            {
                return open();
            }
            catch (IOException) when (OperatingSystem.IsWindows() && TimeProvider.System.GetElapsedTime(began) < Patience)
            {
                Thread.Sleep(50);
            }
        }
    }

    private string At(string file) => Path.Combine(folder, file);

    private sealed class Appending(FileStream stream) : IMediumFile
    {
        public void Write(ReadOnlySpan<byte> bytes) => stream.Write(bytes);

        public void Flush() => stream.Flush(flushToDisk: true);

        public void Dispose() => stream.Dispose();
    }
}
