using System.Text;

namespace Commission.App.Plain;

/// <summary>
/// Text for a terminal that breaks lines where they are full: blanks are put before a word that would be cut, so that it begins the next row.
/// What is typed or copied as it stands, such as <c>go X+25</c>, is one word here, blanks and all. A line stays one line: whoever reads it as one finds its words whole and in their order.
/// </summary>
/// <param name="inner">The terminal.</param>
/// <param name="width">Its columns now; 0 where they are not known, and nothing is put in then.</param>
internal sealed class WholeWords(TextWriter inner, Func<int> width) : TextWriter
{
    // Narrower than this every other word would be moved.
    private const int LeastWidth = 30;

    /// <inheritdoc/>
    public override Encoding Encoding => inner.Encoding;

    /// <inheritdoc/>
    public override void Write(char value) => inner.Write(value);

    /// <inheritdoc/>
    public override void Write(string? value) => inner.Write(value);

    /// <inheritdoc/>
    public override void WriteLine(string? value) => inner.WriteLine(Filled(value ?? "", width()));

    /// <inheritdoc/>
    public override void WriteLine() => inner.WriteLine();

    /// <inheritdoc/>
    public override void Flush() => inner.Flush();

    /// <summary>A line as it is written.</summary>
    /// <param name="line">The line.</param>
    /// <param name="columns">Columns of the terminal.</param>
    public static string Filled(string line, int columns)
    {
        if (columns < LeastWidth || line.Length <= columns)
            return line;
        var text = new StringBuilder(line.Length + columns);
        var indent = line.Length - line.TrimStart(' ').Length;
        text.Append(' ', indent);
        foreach (var word in Words(line[indent..]))
        {
            if (text.Length > indent)
                text.Append(' ');
            var left = columns - (text.Length % columns);
            if (word.Length > left && word.Length <= columns && left < columns)
                text.Append(' ', left);
            text.Append(word);
        }

        return text.ToString();
    }

    private static List<string> Words(string line)
    {
        var words = new List<string>();
        string? before = null;
        foreach (var word in line.Split(' '))
        {
            if (before is not null && AreOne(before, word))
                words[^1] += " " + word;
            else
                words.Add(word);
            before = word;
        }

        return words;
    }

    // The words that confirm a move, and the words of a line for the machine.
    private static bool AreOne(string before, string word) => word.TrimEnd('.') switch
    {
        "home" => before == "go",
        "reference" => before == "set",
        "X" or "Y" or "Z" => before == "reference",
        var address => IsAddress(address) && (before == "go" || (IsAddress(before) && char.IsAsciiDigit(before[^1]))),
    };

    private static bool IsAddress(string word) => word.Length > 1 && char.IsAsciiLetterUpper(word[0]) && (char.IsAsciiDigit(word[1]) || word[1] is '+' or '-');
}
