using System.Text;
using System.Threading.Channels;

namespace Commission.Workshop.Tests.Controllers;

/// <summary>
/// Plays a dialogue in the recorder's form. Lines after <c>&gt;</c> must be sent in this order, then those after <c>&lt;</c> come.
/// A line after <c>?</c> answers the state byte whenever it is asked, as often as it is asked. Wrong lines are kept for <see cref="Verdict"/>.
/// </summary>
internal sealed class ScriptedTransport : ITransport
{
    private readonly Channel<byte[]> said = Channel.CreateUnbounded<byte[]>();
    private readonly Queue<string> script;
    private readonly Lock turn = new();
    private readonly List<string> wrong = [];
    private string state = "";
    private byte[] left = [];

    public ScriptedTransport(string script)
    {
        this.script = new(script.ReplaceLineEndings("\n").Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1));
        Play();
    }

    public string? Remark => null;
    public bool Alive => true;

    /// <summary>What did not go as written; empty where everything did and nothing is left over.</summary>
    public string Verdict
    {
        get
        {
            lock (turn)
                return string.Join("\n", wrong.Concat(script.Select(line => "left over: " + line)));
        }
    }

    private void Play()
    {
        while (script.TryPeek(out var line) && line[0] != '>')
        {
            script.Dequeue();
            if (line[0] == '?')
                state = line[2..];
            else
                said.Writer.TryWrite(Encoding.Latin1.GetBytes(line[2..] + "\n"));
        }
    }

    public async ValueTask<int> ReadAsync(Memory<byte> into, CancellationToken cancellation)
    {
        if (left.Length == 0)
            left = await said.Reader.ReadAsync(cancellation);
        var count = Math.Min(left.Length, into.Length);
        left.AsSpan(0, count).CopyTo(into.Span);
        left = left[count..];
        return count;
    }

    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellation)
    {
        var sent = Encoding.Latin1.GetString(bytes.Span);
        lock (turn)
        {
            if (sent == "?")
                said.Writer.TryWrite(Encoding.Latin1.GetBytes(state + "\n"));
            else if (script.TryPeek(out var expected) && expected == "> " + sent.TrimEnd('\n'))
            {
                script.Dequeue();
                Play();
            }
            else
                wrong.Add($"sent \"{sent.TrimEnd('\n')}\", expected {(script.TryPeek(out var line) ? line : "nothing")}");
        }
        return ValueTask.CompletedTask;
    }

    public ValueTask DisposeAsync()
    {
        said.Writer.TryComplete(new IOException("closed"));
        return ValueTask.CompletedTask;
    }
}
