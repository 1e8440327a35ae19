using Commission.App.Plain;

namespace Commission.App.Attended;

/// <summary>Plain prompts of requests that are not a procedure: one line, one answer.</summary>
/// <param name="input">Where answers come from.</param>
/// <param name="output">Where prompts go: not among the answers where those are JSON.</param>
internal sealed class Asking(TextReader input, TextWriter output)
{
    /// <summary>Asks for a yes.</summary>
    /// <returns>Whether it was given; the end of the input is none.</returns>
    public bool Confirm(string name, string text)
    {
        var (by, answer) = new PlainQuestion(() => input, output, output).Ask("confirm", name, text, ["yes: it is so, and it goes on. Anything else leaves it as it is."]);
        if (by is AnsweredBy.Back)
            output.WriteLine("There is nothing to take back here; it is left as it is.");
        return by is AnsweredBy.Answer && PlainWords.IsYes(answer);
    }

    /// <summary>Says something that needs no answer.</summary>
    public void Say(string line)
    {
        output.WriteLine(line);
        output.Flush();
    }
}
