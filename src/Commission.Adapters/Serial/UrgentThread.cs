using System.Runtime.InteropServices;

namespace Commission.Adapters.Serial;

/// <summary>
/// Asks the system to run the calling thread soon after it is woken, whatever else runs: by a short time slice, which newer Linux grants to
/// everybody and puts before longer ones, and by a higher priority where this user may have one. The thread is to sleep most of the time.
/// </summary>
/// <remarks>The framework's thread priority does nothing on Linux. Elsewhere it is what there is, and this does nothing.</remarks>
public static partial class UrgentThread
{
    private const int Wanted = -15;
    private const ulong SliceNs = 100_000;

    // The number of the call, which the library has no name for everywhere.
    private static int? SetAttributes => RuntimeInformation.ProcessArchitecture switch
    {
        Architecture.X64 => 314,
        Architecture.Arm64 => 274,
        _ => null,
    };

    /// <summary>Asks. What is refused changes nothing.</summary>
    public static void Ask()
    {
        if (!OperatingSystem.IsLinux() || SetAttributes is not { } call)
            return;
        // Of the calling thread alone: on Linux each has its own.
        _ = setpriority(0, 0, Wanted);
        var attributes = new Attributes { Size = (uint)Marshal.SizeOf<Attributes>(), Nice = getpriority(0, 0), Runtime = SliceNs };
        _ = syscall(call, 0, ref attributes, 0);
    }

    [StructLayout(LayoutKind.Sequential)]
    private struct Attributes
    {
        public uint Size;
        public uint Policy;
        public ulong Flags;
        public int Nice;
        public uint Priority;
        public ulong Runtime;
        public ulong Deadline;
        public ulong Period;
    }

    [LibraryImport("libc")]
    private static partial int setpriority(int which, uint who, int value);

    [LibraryImport("libc")]
    private static partial int getpriority(int which, uint who);

    [LibraryImport("libc")]
    private static partial nint syscall(nint number, nint thread, ref Attributes attributes, nint flags);
}
