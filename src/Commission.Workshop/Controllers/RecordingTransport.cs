using System.Text;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Controllers;

/// <summary>Passes bytes on and keeps the dialogue as a test script: <c>&gt;</c> before what was sent, <c>&lt;</c> before what came.</summary>
/// <param name="inner">The transport.</param>
/// <param name="keep">Takes the script when the dialogue is over.</param>
public sealed class RecordingTransport(ITransport inner, Action<string> keep) : ITransport
{
    /// <summary>First line of a script.</summary>
    public const string Head = "commission.dialogue/1\n";

    private readonly StringBuilder script = new(Head);
    private readonly LineSplitter received = new();
    private readonly Lock turn = new();
    private bool kept;

    /// <inheritdoc/>
    public string? Remark => inner.Remark;

    /// <inheritdoc/>
    public bool Alive => inner.Alive;

    /// <inheritdoc/>
    public async ValueTask<int> ReadAsync(Memory<byte> into, CancellationToken cancellation)
    {
        var count = await inner.ReadAsync(into, cancellation).ConfigureAwait(false);
        lock (turn)
            foreach (var line in received.Feed(into[..count]))
                Add('<', line);
        return count;
    }

    /// <inheritdoc/>
    public async ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellation)
    {
        lock (turn)
            Add('>', Encoding.Latin1.GetString(bytes.Span));
        await inner.WriteAsync(bytes, cancellation).ConfigureAwait(false);
    }

    /// <inheritdoc/>
    public void Write(ReadOnlyMemory<byte> bytes, CancellationToken cancellation)
    {
        lock (turn)
            Add('>', Encoding.Latin1.GetString(bytes.Span));
        inner.Write(bytes, cancellation);
    }

    /// <inheritdoc/>
    public void Discard() => inner.Discard();

    /// <inheritdoc/>
    public void Hurry() => inner.Hurry();

    private void Add(char side, string text) => script.Append(side).Append(' ').Append(Escaped(text)).Append('\n');

    /// <summary>The text with line ends, backslashes and all that cannot be shown written as <c>\xHH</c>.</summary>
    internal static string Escaped(string text) => string.Concat(text.Select(letter =>
        letter is >= ' ' and <= '~' and not '\\' ? letter.ToString() : $"\\x{(int)letter:X2}"));

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await inner.DisposeAsync().ConfigureAwait(false);
        lock (turn)
        {
            if (kept)
                return;
            kept = true;
            keep(script.ToString());
        }
    }
}
