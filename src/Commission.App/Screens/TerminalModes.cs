using System.Runtime.InteropServices;
using System.Runtime.Versioning;
using Commission.Adapters.Serial;

namespace Commission.App.Screens;

/// <summary>The line discipline of the terminal, kept as the bytes the system hands out, so that exactly these go back. Windows gives its console back by itself.</summary>
internal sealed partial class TerminalModes
{
    // More than any system needs: 60 bytes on Linux, 72 on macOS.
    private const int Room = 256;
    private const int ReadWrite = 2;
    private const int StandardInput = 0;

    private readonly byte[] _modes = new byte[Room];

    private TerminalModes()
    {
    }

    /// <summary>The modes as they are now; null where there is no terminal.</summary>
    public static TerminalModes? Now()
    {
        var kept = new TerminalModes();
        return !OperatingSystem.IsWindows() && WithTerminal(terminal => tcgetattr(terminal, kept._modes) == 0) ? kept : null;
    }

    /// <summary>Puts them back.</summary>
    public void Restore()
    {
        if (!OperatingSystem.IsWindows())
            WithTerminal(terminal => tcsetattr(terminal, 0, _modes) == 0);
    }

    /// <summary>Whether the terminal behind the keyboard is gone: its window was closed or the line hung up.</summary>
    [UnsupportedOSPlatform("windows")]
    public static bool IsHungUp() => Descriptor.IsHungUp(StandardInput);

    /// <summary>Stops this process until somebody lets it go on.</summary>
    [UnsupportedOSPlatform("windows")]
    public static void StopProcess() => _ = kill(Environment.ProcessId, OperatingSystem.IsMacOS() ? 17 : 19);

    private static bool WithTerminal(Func<int, bool> act)
    {
        // Output or input may be a file: the terminal itself has a name of its own.
        var terminal = open("/dev/tty", ReadWrite);
        if (terminal < 0)
            return false;
        var done = act(terminal);
        _ = close(terminal);
        return done;
    }

    [LibraryImport("libc", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int open(string path, int flags);

    [LibraryImport("libc")]
    private static partial int close(int file);

    [LibraryImport("libc")]
    private static partial int tcgetattr(int file, byte[] modes);

    [LibraryImport("libc")]
    private static partial int tcsetattr(int file, int when, byte[] modes);

    [LibraryImport("libc")]
    private static partial int kill(int process, int signal);
}
