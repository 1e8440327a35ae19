using System.Text;
using Commission.Core.Machines.Dialects;
using Commission.Workshop.Ports;

namespace Commission.Proof.Link;

/// <summary>
/// Stands between link and board: looks at every byte that leaves, and fails as ports do. What is sent as motion while nobody has
/// confirmed a move is kept as a violation.
/// </summary>
internal sealed class FaultyWire(Stream inner, Dialect dialect, Func<bool> confirmed) : ITransport
{
    private readonly List<string> violations = [];
    private int calls;

    public string? Remark => null;

    public bool Alive => !Unplugged && inner.CanWrite;

    /// <summary>Number of the call at which the cable comes out; 0 for never.</summary>
    public int UnplugAt { get; set; }

    /// <summary>The port's buffer is full: a write waits until it is given up.</summary>
    public volatile bool Full;

    public bool Unplugged { get; private set; }

    /// <summary>Reads and writes so far.</summary>
    public int Calls => calls;

    /// <summary>What was sent against the rules.</summary>
    public IReadOnlyList<string> Violations => violations;

    public async ValueTask<int> ReadAsync(Memory<byte> into, CancellationToken cancellation)
    {
        Count();
        return await inner.ReadAsync(into, cancellation).ConfigureAwait(false);
    }

    public async ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellation)
    {
        Count();
        Look(Encoding.Latin1.GetString(bytes.Span));
        if (Full)
            await Task.Delay(Timeout.Infinite, cancellation).ConfigureAwait(false);
        await inner.WriteAsync(bytes, cancellation).ConfigureAwait(false);
    }

    private void Count()
    {
        if (Unplugged || (Interlocked.Increment(ref calls) == UnplugAt && (Unplugged = true)))
            throw new IOException("the cable is out");
    }

    private void Look(string sent)
    {
        foreach (var line in sent.Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            if (!IsMotion(line))
                continue;
            if (!confirmed())
                violations.Add($"\"{line}\" left without a confirmation");
            if (DialectWords.Forbidden(line))
                violations.Add($"\"{line}\" holds a word that is never sent");
        }
    }

    private bool IsMotion(string line) =>
        dialect.Motion.Home.Contains(line) || line == dialect.Motion.Unlock || dialect.Motion.Move.Any(one => line.StartsWith(one.Split('{')[0], StringComparison.Ordinal));

    public async ValueTask DisposeAsync() => await inner.DisposeAsync().ConfigureAwait(false);
}
