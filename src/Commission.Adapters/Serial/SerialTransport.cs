using System.IO.Ports;
using Commission.Core;
using Commission.Workshop.Ports;

namespace Commission.Adapters.Serial;

/// <summary>Bytes over a serial port. Knows what the framework's class does on pseudo-terminals, on unplugging and on closing, and nothing of lines.</summary>
/// <remarks>
/// Measured on Linux: a read that waits ends within milliseconds when the device goes; closing waits for ever while an uncompleted
/// write is out, so the stream goes first; a write through the framework waits for a loop that sleeps and shares its thread, so bytes
/// leave by a descriptor of their own where the system has one. Windows and macOS were not run.
/// </remarks>
public sealed class SerialTransport : ITransport
{
    private const int ReadsOut = 2;
    private const int LongestRead = 4096;

    private readonly SerialPort port;
    private readonly PortLock held;
    private readonly DirectOut? direct;
    private readonly string path;
    private readonly CancellationTokenSource reading = new();
    private readonly Queue<(byte[] Bytes, Task<int> Read)> ahead = new();
    private ReadOnlyMemory<byte> left;
    private volatile bool closing;

    private SerialTransport(SerialPort port, PortLock held, DirectOut? direct, string path, string? remark) =>
        (this.port, this.held, this.direct, this.path, Remark) = (port, held, direct, path, remark);

    /// <inheritdoc/>
    public string? Remark { get; }

    /// <inheritdoc/>
    public bool Alive
    {
        get
        {
            try
            {
                // -1 on a dead device (Linux); the node goes when a plug is pulled.
                return !closing && port.IsOpen && port.BytesToRead >= 0 && (OperatingSystem.IsWindows() || File.Exists(path));
            }
            catch (Exception gone) when (gone is IOException or InvalidOperationException or UnauthorizedAccessException)
            {
                return false;
            }
        }
    }

    /// <summary>Opens a port. This acts on the machine: the board may restart. Ask before the first time.</summary>
    /// <param name="name">Name or path of the port.</param>
    /// <param name="baud">Speed, bits per second.</param>
    /// <param name="controlLines">Whether the control lines are raised; a port that refuses them is opened without.</param>
    public static Outcome<ITransport> Open(string name, int baud, bool controlLines = true) => Open(name, baud, controlLines, directly: true);

    /// <summary>The same, where asked for without a descriptor of its own for what is sent: as on a system that has none.</summary>
    internal static Outcome<ITransport> Open(string name, int baud, bool controlLines, bool directly)
    {
        if (PortLock.Take(name) is not { } held)
            return new Problem($"the port {PlainText.Of(name)} is in use by another run of this program", "Close the other one first");
        // Before the framework opens the port, which then is closed to every later opening.
        var direct = directly && !OperatingSystem.IsWindows() ? DirectOut.Open(name) : null;
        try
        {
            return OpenPort(name, baud, controlLines, (held, direct));
        }
        catch (Exception refused) when (refused is IOException or UnauthorizedAccessException or ArgumentException or InvalidOperationException)
        {
            direct?.Dispose();
            held.Dispose();
            return Refused(name, refused);
        }
    }

    private static SerialTransport OpenPort(string name, int baud, bool controlLines, (PortLock Held, DirectOut? Direct) ours)
    {
        try
        {
            return new(Opened(name, baud, controlLines), ours.Held, ours.Direct, name, null);
        }
        catch (IOException) when (controlLines)
        {
            return new(Opened(name, baud, controlLines: false), ours.Held, ours.Direct, name, "the system refused the control lines of this port; it was opened without them");
        }
    }

    private static SerialPort Opened(string name, int baud, bool controlLines)
    {
        var port = new SerialPort(name, baud) { DtrEnable = controlLines, RtsEnable = controlLines };
        try
        {
            port.Open();
            return port;
        }
        catch
        {
            port.Dispose();
            throw;
        }
    }

    // The framework says "access denied" for a missing device and for a regular file as well.
    private static Problem Refused(string name, Exception refused)
    {
        var shown = PlainText.Of(name);
        if (!OperatingSystem.IsWindows() && !File.Exists(name))
            return new($"there is no port {shown}", "Plug the cable in; 'controller ports' lists what is there");
        return refused is UnauthorizedAccessException
            ? new($"the port {shown} cannot be opened: it is no serial port, another program holds it, or you may not use it",
                "Close other programs; on Linux your user must belong to the group that owns the port")
            : new($"the port {shown} cannot be opened: {PlainText.Of(refused.Message)}", "Check name and speed of the port");
    }

    /// <inheritdoc/>
    /// <remarks>
    /// Two reads are out at any time: while what one brought is being understood, the other waits at the port. With none out the
    /// framework's loop for this port sleeps a millisecond before it looks again. A wait that is cancelled loses no byte.
    /// </remarks>
    public async ValueTask<int> ReadAsync(Memory<byte> into, CancellationToken cancellation)
    {
        try
        {
            while (ahead.Count < ReadsOut)
                ReadAhead();
            if (left.IsEmpty)
            {
                var (bytes, read) = ahead.Peek();
                left = bytes.AsMemory(0, await read.WaitAsync(cancellation).ConfigureAwait(false));
                ahead.Dequeue();
                ReadAhead();
                // Without a descriptor of its own STOP leaves by the framework's loop, in which this goes on: whoever takes these bytes and is slow would keep it.
                if (direct is null)
                    await Task.Yield();
            }
            var count = Math.Min(left.Length, into.Length);
            left[..count].CopyTo(into);
            left = left[count..];
            return count;
        }
        catch (Exception gone) when (gone is ObjectDisposedException or InvalidOperationException or UnauthorizedAccessException)
        {
            throw new IOException(closing ? "the port was closed" : "the device is gone", gone);
        }
    }

    private void ReadAhead()
    {
        var bytes = new byte[LongestRead];
        ahead.Enqueue((bytes, port.BaseStream.ReadAsync(bytes, reading.Token).AsTask()));
    }

    /// <inheritdoc/>
    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellation)
    {
        Write(bytes, cancellation);
        return ValueTask.CompletedTask;
    }

    /// <inheritdoc/>
    /// <remarks>The framework's own task is waited for where there is no other way: its loop wakes this thread directly. Anything awaited between would need a thread of the pool.</remarks>
    public void Write(ReadOnlyMemory<byte> bytes, CancellationToken cancellation)
    {
        try
        {
            if (direct is not null && !OperatingSystem.IsWindows())
                direct.Write(bytes.Span, cancellation);
            else
                port.BaseStream.WriteAsync(bytes, cancellation).AsTask().GetAwaiter().GetResult();
        }
        catch (Exception gone) when (gone is ObjectDisposedException or InvalidOperationException or UnauthorizedAccessException)
        {
            throw new IOException("the device is gone", gone);
        }
    }

    /// <inheritdoc/>
    public void Hurry() => UrgentThread.Ask();

    /// <inheritdoc/>
    public void Discard()
    {
        try
        {
            if (direct is not null && !OperatingSystem.IsWindows())
                direct.Discard();
            else
                port.DiscardOutBuffer();
        }
        catch (Exception gone) when (gone is ObjectDisposedException or InvalidOperationException or UnauthorizedAccessException)
        {
            throw new IOException("the device is gone", gone);
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        closing = true;
        await reading.CancelAsync().ConfigureAwait(false);
        foreach (var step in new Action[] { () => port.BaseStream.Dispose(), port.Dispose })
        {
            try
            {
                await Task.Run(step).WaitAsync(TimeSpan.FromSeconds(2)).ConfigureAwait(false);
            }
            catch (Exception late) when (late is TimeoutException or IOException or InvalidOperationException or UnauthorizedAccessException)
            {
                // Closing may hang in the driver; the system takes the port back when the program ends.
            }
        }
        direct?.Dispose();
        reading.Dispose();
        held.Dispose();
    }
}
