namespace Commission.App.Screens;

/// <summary>What lies in the input that the screen has not taken yet: keys, as opposed to reports of the mouse and answers of the terminal.</summary>
/// <param name="Keys">Number of keys.</param>
/// <param name="Stop">Whether F9 or Ctrl+C is among them.</param>
/// <param name="Letter">The one letter, in capitals, that all keys are; null where they differ or are none.</param>
internal readonly record struct TypedBytes(int Keys, bool Stop, char? Letter)
{
    private const char Escape = '\x1b';
    private const char CtrlC = '\x3';
    private const string F9 = "20";

    /// <summary>Reads the characters as they came from the terminal.</summary>
    public static TypedBytes Of(ReadOnlySpan<char> input)
    {
        var (keys, stop) = (0, false);
        var letters = new HashSet<char>();
        for (var at = 0; at < input.Length;)
        {
            if (input[at] == Escape && at + 1 < input.Length && input[at + 1] is '[' or ']')
            {
                var (length, key, isStop) = input[at + 1] == ']' ? (Answer(input[at..]), false, false) : Sequence(input[at..]);
                (keys, stop) = (keys + (key ? 1 : 0), stop || isStop);
                if (key)
                    letters.Add('\0');
                at += length;
                continue;
            }

            stop |= input[at] == CtrlC;
            keys++;
            letters.Add(char.ToUpperInvariant(input[at++]));
        }

        return new(keys, stop, letters.Count == 1 && letters.Single() is var one && char.IsAsciiLetter(one) ? one : null);
    }

    // An answer about colours runs to a bell or to ESC \.
    private static int Answer(ReadOnlySpan<char> input)
    {
        var bell = input.IndexOf('\a');
        var end = input.IndexOf("\x1b\\");
        return bell >= 0 ? bell + 1 : end >= 0 ? end + 2 : input.Length;
    }

    // ESC [ parameters final: the final character and what the parameters begin with tell what it is.
    private static (int Length, bool Key, bool Stop) Sequence(ReadOnlySpan<char> input)
    {
        var end = 2;
        while (end < input.Length && input[end] is < '@' or > '~')
            end++;
        if (end >= input.Length)
            return (input.Length, false, false);
        var parameters = input[2..end];
        var report = parameters.StartsWith("<") || parameters.StartsWith("?") || input[end] is 'R' or 'c' or 't' or 'n' || (input[end] == 'M' && parameters.Length > 0)
            || parameters is "200" or "201";
        var f9 = input[end] == '~' && (parameters is F9 || parameters.StartsWith(F9 + ";"));
        // A terminal with the newer keyboard protocol tells Ctrl+C as a number with its modifier.
        var ctrlC = input[end] == 'u' && parameters.StartsWith("99;5");
        return (end + 1, !report, f9 || ctrlC);
    }
}
