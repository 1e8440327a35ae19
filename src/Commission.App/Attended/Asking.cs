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
        output.WriteLine($"ask confirm {name}: {text}");
        output.Flush();
        return input.ReadLine()?.Trim().ToUpperInvariant() is "YES" or "Y";
    }

    /// <summary>Says something that needs no answer.</summary>
    public void Say(string line)
    {
        output.WriteLine(line);
        output.Flush();
    }
}
