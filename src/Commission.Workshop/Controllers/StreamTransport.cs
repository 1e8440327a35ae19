using Commission.Workshop.Ports;

namespace Commission.Workshop.Controllers;

/// <summary>Bytes over any stream: the practice controller inside the process, or a script in a test.</summary>
/// <param name="stream">The stream; a stream that cannot be written any more counts as unplugged.</param>
public sealed class StreamTransport(Stream stream) : ITransport
{
    /// <inheritdoc/>
    public string? Remark => null;

    /// <inheritdoc/>
    public bool Alive => stream.CanWrite;

    /// <inheritdoc/>
    public ValueTask<int> ReadAsync(Memory<byte> into, CancellationToken cancellation) => stream.ReadAsync(into, cancellation);

    /// <inheritdoc/>
    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellation) => stream.WriteAsync(bytes, cancellation);

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => stream.DisposeAsync();
}
