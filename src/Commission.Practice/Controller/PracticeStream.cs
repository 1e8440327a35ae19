using System.Threading.Channels;

namespace Commission.Practice.Controller;

/// <summary>The simulated controller as a stream inside the process: what is written arrives at it, what it says can be read. Time runs at a scale.</summary>
public sealed class PracticeStream : Stream
{
    private readonly PracticeController controller;
    private readonly Channel<byte[]> said = Channel.CreateUnbounded<byte[]>();
    private readonly ITimer timer;
    private readonly TimeProvider time;
    private readonly Lock turn = new();
    private long last;
    private ReadOnlyMemory<byte> left;

    /// <param name="controller">The controller.</param>
    /// <param name="time">The clock.</param>
    /// <param name="scale">Seconds of the machine for one of the clock.</param>
    /// <param name="greets">Whether opening restarts the board.</param>
    /// <param name="turnMs">Milliseconds of the clock between two turns of the board; it also turns whenever something arrives.</param>
    public PracticeStream(PracticeController controller, TimeProvider time, double scale = 1, bool greets = true, double turnMs = 2)
    {
        (this.controller, this.time, Scale) = (controller, time, scale);
        last = time.GetTimestamp();
        controller.Connect(bytes => said.Writer.TryWrite(bytes.ToArray()), greets);
        timer = time.CreateTimer(_ => Tick(), null, TimeSpan.FromMilliseconds(turnMs), TimeSpan.FromMilliseconds(turnMs));
    }

    /// <summary>Seconds of the machine for one of the clock.</summary>
    public double Scale { get; set; }

    /// <summary>Does something to the controller between two of its turns.</summary>
    public void Do(Action<PracticeController> what)
    {
        lock (turn)
            what(controller);
        if (controller.Unplugged)
            said.Writer.TryComplete(new IOException("the cable is out"));
    }

    private void Tick()
    {
        lock (turn)
        {
            var now = time.GetTimestamp();
            controller.Advance(time.GetElapsedTime(last, now).TotalSeconds * Scale);
            last = now;
        }
    }

    /// <inheritdoc/>
    public override async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default)
    {
        if (left.IsEmpty)
            left = await said.Reader.ReadAsync(cancellationToken).ConfigureAwait(false);
        var count = Math.Min(left.Length, buffer.Length);
        left[..count].CopyTo(buffer);
        left = left[count..];
        return count;
    }

    /// <inheritdoc/>
    public override ValueTask WriteAsync(ReadOnlyMemory<byte> buffer, CancellationToken cancellationToken = default)
    {
        if (controller.Unplugged)
            throw new IOException("the cable is out");
        lock (turn)
        {
            Tick();
            controller.Receive(buffer.Span);
        }

        return ValueTask.CompletedTask;
    }

    /// <inheritdoc/>
    protected override void Dispose(bool disposing)
    {
        timer.Dispose();
        said.Writer.TryComplete();
        base.Dispose(disposing);
    }

    /// <inheritdoc/>
    public override bool CanRead => true;

    /// <inheritdoc/>
    public override bool CanWrite => !controller.Unplugged;

    /// <inheritdoc/>
    public override bool CanSeek => false;

    /// <inheritdoc/>
    public override long Length => throw new NotSupportedException();

    /// <inheritdoc/>
    public override long Position { get => throw new NotSupportedException(); set => throw new NotSupportedException(); }

    /// <inheritdoc/>
    public override void Flush()
    {
    }

    /// <inheritdoc/>
    public override int Read(byte[] buffer, int offset, int count) => throw new NotSupportedException("Read asynchronously.");

    /// <inheritdoc/>
    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException("Write asynchronously.");

    /// <inheritdoc/>
    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    /// <inheritdoc/>
    public override void SetLength(long value) => throw new NotSupportedException();
}
