using System.Collections.Concurrent;

namespace Commission.App.Attended;

/// <summary>
/// Standard input, read the moment it is typed: so what was typed before a prompt can be told from what was typed after it,
/// and a line typed while the machine moves is seen at once.
/// </summary>
internal sealed class TypedLines : TextReader
{
    // Pasted lines follow each other within this time.
    private static readonly TimeSpan Paste = TimeSpan.FromMilliseconds(30);

    private readonly TextReader inner;
    private readonly BlockingCollection<string?> lines = [];
    private CancellationToken cancellation;
    private volatile Func<bool>? usesUp;
    private volatile bool over;

    /// <param name="inner">Standard input. It is read to its end from now on: nothing else may read it, and no second one of these.</param>
    public TypedLines(TextReader inner)
    {
        this.inner = inner;
        new Thread(Gather) { IsBackground = true, Name = "typed lines" }.Start();
    }

    /// <summary>Lets a run look at every line the moment it was typed, and at the end of the input, until it is disposed of.</summary>
    /// <param name="look">What it uses up answers no prompt. Called on the reading thread.</param>
    /// <param name="ending">Ends a wait for a line: a read of standard input itself cannot be taken back.</param>
    public IDisposable Watched(Func<bool> look, CancellationToken ending)
    {
        (usesUp, cancellation) = (look, ending);
        return new Watch(this);
    }

    /// <inheritdoc/>
    public override string? ReadLine()
    {
        if (over && lines.Count == 0)
            return null;
        try
        {
            return lines.Take(cancellation);
        }
        catch (OperationCanceledException)
        {
            return null;
        }
    }

    /// <summary>Throws away what was typed or pasted until now.</summary>
    /// <returns>Number of lines.</returns>
    public int DropWhatWasTyped()
    {
        var dropped = 0;
        while (lines.TryTake(out var line, Paste))
        {
            if (line is null)
            {
                // The end of the input stays the end.
                lines.Add(null, CancellationToken.None);
                break;
            }

            dropped++;
        }

        return dropped;
    }

    private void Gather()
    {
        string? line;
        do
        {
            line = inner.ReadLine();
            over |= line is null;
            // Looked at before it can be taken: the line that confirms a move is not one typed while it moves.
            if (usesUp?.Invoke() != true || line is null)
                lines.Add(line, CancellationToken.None);
        }
        while (line is not null);
    }

    private sealed class Watch(TypedLines lines) : IDisposable
    {
        public void Dispose() => (lines.usesUp, lines.cancellation) = (null, CancellationToken.None);
    }
}
