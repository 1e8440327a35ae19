using System.Globalization;
using Commission.Core;

namespace Commission.Adapters.Storage;

/// <summary>
/// The writer's exclusive lock on a store. A crash releases it, so there is nothing to clean up; the file itself stays.
/// Who holds it stands in a second file, since nobody can read the locked one.
/// </summary>
internal sealed class StoreLock : IDisposable
{
    // Error numbers of Linux, of other Unix systems and of Windows for a file that somebody else has locked.
    private const int WouldBlock = 11;
    private const int WouldBlockElsewhere = 35;
    private const int SharingViolation = unchecked((int)0x80070020);

    private readonly FileStream file;

    private StoreLock(FileStream file) => this.file = file;

    /// <summary>Takes the lock, or tells who holds it.</summary>
    internal static Outcome<StoreLock> Take(string folder, TimeProvider clock)
    {
        FileStream? file = null;
        try
        {
            file = new FileStream(Path.Combine(folder, "lock"), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None, 1);
            if (!Disk.Lock(file))
            {
                file.Dispose();
                return Held(folder);
            }

            File.WriteAllText(Path.Combine(folder, "holder"), string.Create(CultureInfo.InvariantCulture,
                $"process {Environment.ProcessId} since {clock.GetLocalNow():yyyy-MM-dd HH:mm}\n"));
            return new StoreLock(file);
        }
        catch (IOException busy) when (busy.HResult is WouldBlock or WouldBlockElsewhere or SharingViolation)
        {
            return Held(folder);
        }
        catch (Exception refused) when (refused is IOException or UnauthorizedAccessException)
        {
            file?.Dispose();
            return new Problem("the store's folder cannot be written to", "Free some space or change the rights of the folder, or name another with --store; reading is possible meanwhile");
        }
    }

    /// <summary>Whether nobody holds it now. It is looked at by taking it for an instant.</summary>
    internal static bool IsFree(string folder)
    {
        try
        {
            using var file = new FileStream(Path.Combine(folder, "lock"), FileMode.Open, FileAccess.ReadWrite, FileShare.None, 1);
            return Disk.Lock(file);
        }
        catch (Exception held) when (held is IOException or UnauthorizedAccessException)
        {
            return false;
        }
    }

    /// <inheritdoc/>
    public void Dispose() => file.Dispose();

    private static Problem Held(string folder) =>
        new($"the store is held by another program ({Holder(folder)})", "Close that program to write here; reading is possible meanwhile");

    private static string Holder(string folder)
    {
        try
        {
            var told = File.ReadAllText(Path.Combine(folder, "holder")).Trim();
            return told.Length is > 0 and < 200 ? new string([.. told.Where(letter => !char.IsControl(letter))]) : "its name is not known";
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException)
        {
            return "its name is not known";
        }
    }
}
