using System.Diagnostics;
using Commission.Workshop.Ports;

namespace Commission.Proof.Link;

/// <summary>Stands between link and port and notes when a STOP was handed to the system.</summary>
internal sealed class WatchedWire(ITransport inner) : ITransport
{
    private volatile bool stopping;
    private long leftAt;

    public string? Remark => inner.Remark;

    public bool Alive => inner.Alive;

    /// <summary>Set as soon as the system has the bytes of the STOP that is watched for.</summary>
    public ManualResetEventSlim StopLeft { get; } = new();

    /// <summary>When it had them.</summary>
    public long LeftAt => Interlocked.Read(ref leftAt);

    /// <summary>Watches for the next STOP.</summary>
    public void Watch() => StopLeft.Reset();

    public ValueTask<int> ReadAsync(Memory<byte> into, CancellationToken cancellation) => inner.ReadAsync(into, cancellation);

    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellation) => inner.WriteAsync(bytes, cancellation);

    public void Write(ReadOnlyMemory<byte> bytes, CancellationToken cancellation)
    {
        inner.Write(bytes, cancellation);
        if (!stopping)
            return;
        stopping = false;
        Interlocked.Exchange(ref leftAt, Stopwatch.GetTimestamp());
        StopLeft.Set();
    }

    // Nothing but STOP discards, and what is written next is its bytes.
    public void Discard()
    {
        inner.Discard();
        stopping = true;
    }

    public void Hurry() => inner.Hurry();

    public ValueTask DisposeAsync()
    {
        StopLeft.Dispose();
        return inner.DisposeAsync();
    }
}
