using System.Runtime.InteropServices;

namespace Commission.Adapters.Storage;

/// <summary>What the framework does not offer: flushing a folder, and a lock that no environment variable switches off.</summary>
internal static partial class Disk
{
    private const int ExclusiveWithoutWaiting = 2 | 4;
    private const int InvalidForThisFileSystem = 22;

    /// <summary>Takes the file's lock for this process; a crash releases it.</summary>
    /// <returns>False where another process holds it, or the file system has no locks.</returns>
    /// <remarks>FileShare does it on Windows. Elsewhere it can be switched off from outside, and then two writers would get in.</remarks>
    internal static bool Lock(FileStream file) =>
        OperatingSystem.IsWindows() || flock((int)file.SafeFileHandle.DangerousGetHandle(), ExclusiveWithoutWaiting) == 0;

    /// <summary>Puts a new file in the place of the one before: it is on the medium before it takes that place, so that a power cut leaves the old one or the new one.</summary>
    /// <param name="path">The place.</param>
    /// <param name="write">Writes the new file.</param>
    internal static void Replace(string path, Action<Stream> write)
    {
        using (var part = new FileStream(path + ".part", FileMode.Create, FileAccess.Write, FileShare.None))
        {
            write(part);
            part.Flush(flushToDisk: true);
        }

        File.Move(path + ".part", path, overwrite: true);
    }

    /// <summary>Makes names in a folder last. Windows does so by itself.</summary>
    internal static void FlushFolder(string folder)
    {
        if (OperatingSystem.IsWindows())
            return;
        var handle = open(folder, 0);
        if (handle < 0)
            throw new IOException($"the folder '{folder}' cannot be opened to flush it");
        var failed = fsync(handle) != 0 && Marshal.GetLastPInvokeError() != InvalidForThisFileSystem;
        _ = close(handle);
        if (failed)
            throw new IOException($"the folder '{folder}' cannot be flushed");
    }

    [LibraryImport("libc", SetLastError = true, StringMarshalling = StringMarshalling.Utf8)]
    private static partial int open(string path, int flags);

    [LibraryImport("libc", SetLastError = true)]
    private static partial int fsync(int handle);

    [LibraryImport("libc")]
    private static partial int close(int handle);

    [LibraryImport("libc", SetLastError = true)]
    private static partial int flock(int handle, int operation);
}
