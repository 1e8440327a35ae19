using System.Runtime.InteropServices;
using System.Runtime.Versioning;

namespace Commission.Adapters.Serial;

/// <summary>What may be done with an open file of the system at this moment.</summary>
[UnsupportedOSPlatform("windows")]
public static partial class Descriptor
{
    private const short Writable = 4;
    private const short HungUp = 0x10;

    /// <summary>Waits until bytes can be handed over, or the time is over.</summary>
    /// <param name="file">The descriptor.</param>
    /// <param name="milliseconds">The longest wait.</param>
    public static void WaitForRoom(int file, int milliseconds)
    {
        var wait = new Poll { File = file, Events = Writable };
        _ = poll(ref wait, 1, milliseconds);
    }

    /// <summary>Whether the other end is gone: a window was closed, a line hung up.</summary>
    /// <param name="file">The descriptor.</param>
    public static bool IsHungUp(int file)
    {
        var look = new Poll { File = file };
        return poll(ref look, 1, 0) > 0 && (look.Happened & HungUp) != 0;
    }

    [StructLayout(LayoutKind.Sequential)]
    private struct Poll
    {
        public int File;
        public short Events;
        public short Happened;
    }

    [LibraryImport("libc")]
    private static partial int poll(ref Poll wait, nuint count, int milliseconds);
}
