namespace Commission.Adapters.Storage;

/// <summary>
/// The folder a chain of entries lies in. A port of its own, so that a power cut, a full disk and damage can be played
/// without one: what is written lasts only once it is flushed, and a new name only once the folder is.
/// Failures of the world come as <see cref="IOException"/> or <see cref="UnauthorizedAccessException"/>.
/// </summary>
public interface IMedium
{
    /// <summary>The folder's name, for messages.</summary>
    string Name { get; }

    /// <summary>Names of its files, in ordinal order.</summary>
    IReadOnlyList<string> Files();

    /// <summary>Length of a file in bytes.</summary>
    long Length(string file);

    /// <summary>Bytes of a file; fewer where it ends before.</summary>
    byte[] Read(string file, long offset, int count);

    /// <summary>Opens a file for appending; makes it where it is not there.</summary>
    IMediumFile Append(string file);

    /// <summary>Cuts a file and flushes it.</summary>
    void Truncate(string file, long length);

    /// <summary>Makes the names in the folder last.</summary>
    void Flush();
}

/// <summary>A file that is appended to.</summary>
public interface IMediumFile : IDisposable
{
    /// <summary>Writes behind the last byte.</summary>
    void Write(ReadOnlySpan<byte> bytes);

    /// <summary>Returns when everything written is on the medium.</summary>
    void Flush();
}

/// <summary>What every medium can do.</summary>
internal static class MediumReading
{
    internal static byte[] ReadAll(this IMedium medium, string file) => medium.Read(file, 0, checked((int)medium.Length(file)));
}
