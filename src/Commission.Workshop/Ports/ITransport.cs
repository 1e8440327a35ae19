namespace Commission.Workshop.Ports;

/// <summary>Bytes to and from a controller. Knows nothing of lines or meaning.</summary>
public interface ITransport : IAsyncDisposable
{
    /// <summary>What the person is to know of how the port was opened, for example that control lines were refused; null where nothing.</summary>
    string? Remark { get; }

    /// <summary>Whether the device is still there.</summary>
    bool Alive { get; }

    /// <summary>Waits for bytes. Returns 0 only at the end.</summary>
    /// <exception cref="IOException">The device is gone.</exception>
    ValueTask<int> ReadAsync(Memory<byte> into, CancellationToken cancellation);

    /// <summary>Writes all bytes; when it is cancelled a part may have left.</summary>
    /// <exception cref="IOException">The device is gone.</exception>
    ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellation);

    /// <summary>Writes all bytes and returns when they have left. For STOP: the calling thread is to wait for no other thread of the program.</summary>
    /// <exception cref="IOException">The device is gone.</exception>
    /// <exception cref="OperationCanceledException">Cancelled; a part may have left.</exception>
    void Write(ReadOnlyMemory<byte> bytes, CancellationToken cancellation) => WriteAsync(bytes, cancellation).AsTask().GetAwaiter().GetResult();

    /// <summary>Called once on the thread that writes STOP, before its first write: where the system permits it runs before others from then on.</summary>
    void Hurry()
    {
    }

    /// <summary>Throws away what was written and has not left the computer yet. For STOP, which waits behind nothing.</summary>
    /// <exception cref="IOException">The device is gone.</exception>
    void Discard()
    {
    }
}
