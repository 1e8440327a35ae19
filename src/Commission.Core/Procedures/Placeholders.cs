using System.Text;

namespace Commission.Core.Procedures;

/// <summary>Names in braces inside texts: replaced, never computed.</summary>
public static class Placeholders
{
    /// <summary>Names that every procedure may use, besides the names of its steps.</summary>
    public static IReadOnlyList<string> Known { get; } =
        ["axis", "place", "force", "height", "round", "rung", "travel", "lead", "stepsPerMm", "driveWidth", "machine", "press", "beyond", "room"];

    /// <summary>The text with its names replaced; a name without a text becomes a line to fill in.</summary>
    public static string Fill(string text, Func<string, string?> textOf)
    {
        var filled = new StringBuilder();
        foreach (var (literal, name) in Parts(text))
        {
            filled.Append(literal);
            if (name is not null) filled.Append(textOf(name) ?? "____");
        }

        return filled.ToString();
    }

    /// <summary>The names in a text, in order.</summary>
    public static IEnumerable<string> In(string text) => Parts(text).Select(part => part.Name).OfType<string>();

    private static IEnumerable<(string Literal, string? Name)> Parts(string text)
    {
        var start = 0;
        while (start < text.Length)
        {
            var open = text.IndexOf('{', start);
            var close = open < 0 ? -1 : text.IndexOf('}', open);
            if (close < 0) break;
            yield return (text[start..open], text[(open + 1)..close]);
            start = close + 1;
        }

        yield return (text[start..], null);
    }
}
