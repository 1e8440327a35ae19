using Commission.App.Plain;
using Commission.Core;

namespace Commission.App.Attended;

/// <summary>Plain prompts of requests that are not a procedure: one line, one answer.</summary>
/// <param name="input">Where answers come from.</param>
/// <param name="output">Where prompts go: not among the answers where those are JSON.</param>
internal sealed class Asking(TextReader input, TextWriter output)
{
    /// <summary>Asks for a yes until it is answered with yes or no.</summary>
    /// <returns>Whether it was given; the end of the input is none.</returns>
    public bool Confirm(string name, string text)
    {
        var asking = new PlainQuestion(() => input, output, output);
        while (true)
        {
            var (by, answer) = asking.Ask(
                "confirm", name, text, ["yes or S: it is so, and it goes on. no leaves it as it is."],
                typed => PlainWords.IsSo(typed) || PlainWords.IsNo(typed) ? null : new Problem($"'{PlainText.Of(typed)}' is no answer here", "Answer yes or no"));
            if (by is not AnsweredBy.Back)
                return by is AnsweredBy.Answer && PlainWords.IsSo(answer);
            output.WriteLine("There is nothing to take back here.");
        }
    }

    /// <summary>Says something that needs no answer.</summary>
    public void Say(string line)
    {
        output.WriteLine(line);
        output.Flush();
    }
}
