using System.Runtime.InteropServices;
using System.Runtime.Versioning;

namespace Commission.Practice.Controller;

/// <summary>Serves the simulated controller behind a pseudo-terminal, so that the code for real ports is used to the last call.</summary>
[UnsupportedOSPlatform("windows")]
public sealed partial class PseudoTerminal : IDisposable
{
    private const int ReadWrite = 2;
    private const short Readable = 1;

    private readonly PracticeController controller;
    private readonly Thread thread;
    private readonly Lock turn = new();
    private readonly int master;
    private readonly int slave;
    private volatile bool ending;

    /// <param name="controller">The controller.</param>
    /// <param name="scale">Seconds of the machine for one second.</param>
    /// <exception cref="IOException">The system gives no pseudo-terminal.</exception>
    public PseudoTerminal(PracticeController controller, double scale = 1)
    {
        (this.controller, Scale) = (controller, scale);
        (master, Path) = Pair();
        // Held open by us as well: else the first close of the other side ends the pair.
        slave = open(Path, ReadWrite | NoControl);
        var modes = new byte[256];
        _ = tcgetattr(slave, modes);
        cfmakeraw(modes);
        _ = tcsetattr(slave, 0, modes);
        thread = new Thread(Serve) { IsBackground = true, Name = "practice controller" };
        thread.Start();
    }

    /// <summary>Seconds of the machine for one second.</summary>
    public double Scale { get; set; }

    /// <summary>Path of the port to open.</summary>
    public string Path { get; }

    /// <summary>A new pair: the descriptor of our side, which the caller closes, and the path of the other.</summary>
    /// <exception cref="IOException">The system gives no pseudo-terminal.</exception>
    public static (int Master, string Path) Pair()
    {
        var master = posix_openpt(ReadWrite | NoControl);
        var name = new byte[128];
        if (master < 0 || grantpt(master) != 0 || unlockpt(master) != 0 || ptsname_r(master, name, name.Length) != 0)
            throw new IOException("the system gives no pseudo-terminal");
        return (master, System.Text.Encoding.ASCII.GetString(name, 0, Array.IndexOf(name, (byte)0)));
    }

    // It does not become the terminal that can interrupt this process.
    private static int NoControl => OperatingSystem.IsMacOS() ? 0x20000 : 0x100;

    /// <summary>Does something to the controller between two of its turns; pulling the cable closes the pair.</summary>
    public void Do(Action<PracticeController> what)
    {
        lock (turn)
            what(controller);
    }

    private void Serve()
    {
        controller.Connect(Say);
        var buffer = new byte[4096];
        var last = System.Diagnostics.Stopwatch.GetTimestamp();
        while (!ending && !controller.Unplugged)
        {
            var wait = new Poll { File = master, Events = Readable };
            var ready = poll(ref wait, 1, 1);
            lock (turn)
            {
                var now = System.Diagnostics.Stopwatch.GetTimestamp();
                controller.Advance(System.Diagnostics.Stopwatch.GetElapsedTime(last, now).TotalSeconds * Scale);
                last = now;
                if (ready > 0 && read(master, buffer, buffer.Length) is var count and > 0)
                    controller.Receive(buffer.AsSpan(0, (int)count));
            }
        }
        _ = close(slave);
        _ = close(master);
    }

    private void Say(ReadOnlyMemory<byte> bytes)
    {
        var array = bytes.ToArray();
        _ = write(master, array, array.Length);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        ending = true;
        thread.Join(TimeSpan.FromSeconds(2));
    }

    [StructLayout(LayoutKind.Sequential)]
    private struct Poll
    {
        public int File;
        public short Events;
        public short Happened;
    }

    [LibraryImport("libc")]
    private static partial int posix_openpt(int flags);

    [LibraryImport("libc")]
    private static partial int grantpt(int file);

    [LibraryImport("libc")]
    private static partial int unlockpt(int file);

    [LibraryImport("libc")]
    private static partial int ptsname_r(int file, byte[] name, nint length);

    [LibraryImport("libc", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int open(string path, int flags);

    [LibraryImport("libc")]
    private static partial int close(int file);

    [LibraryImport("libc")]
    private static partial int poll(ref Poll wait, nuint count, int milliseconds);

    [LibraryImport("libc")]
    private static partial nint read(int file, byte[] into, nint count);

    [LibraryImport("libc")]
    private static partial nint write(int file, byte[] from, nint count);

    [LibraryImport("libc")]
    private static partial int tcgetattr(int file, byte[] modes);

    [LibraryImport("libc")]
    private static partial int tcsetattr(int file, int when, byte[] modes);

    [LibraryImport("libc")]
    private static partial void cfmakeraw(byte[] modes);
}
