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
    private readonly CancellationToken cancellation;
    private volatile bool over;

    /// <param name="inner">Standard input.</param>
    /// <param name="cancellation">Ends a wait for a line: a read of standard input itself cannot be taken back.</param>
    public TypedLines(TextReader inner, CancellationToken cancellation)
    {
        (this.inner, this.cancellation) = (inner, cancellation);
        new Thread(Gather) { IsBackground = true, Name = "typed lines" }.Start();
    }

    /// <summary>Looks at every line the moment it was typed, and at the end of the input; what it uses up answers no prompt. Called on the reading thread.</summary>
    public Func<bool>? UsesUp { get; set; }

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
            if (UsesUp?.Invoke() != true || line is null)
                lines.Add(line, CancellationToken.None);
        }
        while (line is not null);
    }
}
