using System.Collections.Concurrent;
using System.Text;

namespace Commission.App.Tests.Plain;

/// <summary>Somebody at the prompts: each is answered after it was asked, and never before.</summary>
/// <param name="answer">The answer to a prompt; null hangs up.</param>
internal sealed class AnsweringPerson(Func<string, string?> answer) : TextWriter
{
    private readonly BlockingCollection<string?> typed = [];
    private readonly List<string> lines = [];

    public override Encoding Encoding => Encoding.UTF8;

    /// <summary>All that was printed.</summary>
    public IReadOnlyList<string> Lines => lines;

    /// <summary>Where the answers are read as from standard input.</summary>
    public TextReader Keyboard => field ??= new Keys(typed);

    public override void Write(char value)
    {
    }

    public override void WriteLine(string? value)
    {
        lines.Add(value ?? "");
        if (value?.StartsWith("ask ", StringComparison.Ordinal) == true)
            typed.Add(answer(value));
    }

    private sealed class Keys(BlockingCollection<string?> typed) : TextReader
    {
        public override string? ReadLine() => typed.Take();
    }
}
