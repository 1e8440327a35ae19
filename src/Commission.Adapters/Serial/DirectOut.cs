using System.Runtime.InteropServices;
using System.Runtime.Versioning;
using Microsoft.Win32.SafeHandles;

namespace Commission.Adapters.Serial;

/// <summary>
/// A second descriptor of an open port, for writing only. The framework passes every write through one loop that sleeps and shares
/// its threads with everything else; here the calling thread hands its bytes to the system itself, so that a STOP waits for nobody.
/// </summary>
/// <remarks>Run on Linux. macOS has the same calls with other numbers and was not run; Windows goes the framework's way.</remarks>
internal sealed partial class DirectOut : IDisposable
{
    private const int WriteOnly = 1;
    private const int Interrupted = 4;

    private readonly SafeFileHandle file;

    private DirectOut(SafeFileHandle file) => this.file = file;

    private static int NoTerminalOfOurs => OperatingSystem.IsMacOS() ? 0x20000 : 0x100;

    private static int DoNotBlock => OperatingSystem.IsMacOS() ? 4 : 0x800;

    private static int CloseOnExec => OperatingSystem.IsMacOS() ? 0x1000000 : 0x80000;

    private static int TryAgain => OperatingSystem.IsMacOS() ? 35 : 11;

    private static int UnsentBytes => OperatingSystem.IsMacOS() ? 2 : 1;

    /// <summary>Opens it; to be called before the framework takes the port for itself alone. Null where the system refuses.</summary>
    [UnsupportedOSPlatform("windows")]
    public static DirectOut? Open(string path)
    {
        var file = open(path, WriteOnly | NoTerminalOfOurs | DoNotBlock | CloseOnExec);
        if (!file.IsInvalid)
            return new(file);
        file.Dispose();
        return null;
    }

    /// <summary>Hands over all bytes. Where the system takes no more it looks again every few milliseconds.</summary>
    /// <exception cref="IOException">The device is gone.</exception>
    /// <exception cref="OperationCanceledException">Cancelled; a part may have left.</exception>
    public void Write(ReadOnlySpan<byte> bytes, CancellationToken cancellation)
    {
        while (!bytes.IsEmpty)
        {
            cancellation.ThrowIfCancellationRequested();
            var taken = write(file, bytes, bytes.Length);
            if (taken >= 0)
                bytes = bytes[(int)taken..];
            else if (Marshal.GetLastPInvokeError() is var code && code == TryAgain && !OperatingSystem.IsWindows())
                Descriptor.WaitForRoom((int)file.DangerousGetHandle(), milliseconds: 2);
            else if (code != Interrupted)
                throw new IOException("the device is gone");
        }
    }

    /// <summary>Throws away what was handed over and has not left.</summary>
    public void Discard() => _ = tcflush(file, UnsentBytes);

    /// <inheritdoc/>
    public void Dispose() => file.Dispose();

    [LibraryImport("libc", StringMarshalling = StringMarshalling.Utf8)]
    private static partial SafeFileHandle open(string path, int flags);

    [LibraryImport("libc", SetLastError = true)]
    private static partial nint write(SafeFileHandle file, ReadOnlySpan<byte> from, nint count);

    [LibraryImport("libc")]
    private static partial int tcflush(SafeFileHandle file, int what);
}
