using System.Text.RegularExpressions;

namespace Commission.App.Tests.Architecture;

/// <summary>Lengths of methods, read from the text: a method ends with the first brace or semicolon after which everything opened since its head is closed.</summary>
internal static partial class MethodLengths
{
    private const string Quotes = "\"\"\"";

    /// <summary>A method.</summary>
    /// <param name="Start">Line of its head, from 1.</param>
    /// <param name="Lines">Lines from its head to its end.</param>
    public readonly record struct Method(int Start, int Lines);

    /// <summary>Every method of a file.</summary>
    public static IEnumerable<Method> Of(string[] lines)
    {
        for (var at = 0; at < lines.Length; at++)
        {
            if (Head().IsMatch(lines[at]))
                yield return new Method(at + 1, End(lines, at) - at + 1);
        }
    }

    private static int End(string[] lines, int head)
    {
        var (open, raw) = (0, false);
        for (var at = head; at < lines.Length; at++)
        {
            // A text of several lines, between three quotes, is no code.
            var marks = lines[at].Split(Quotes).Length - 1;
            var code = marks % 2 == 0 ? raw ? "" : Literal().Replace(lines[at], "").TrimEnd()
                : raw ? Literal().Replace(lines[at][(lines[at].IndexOf(Quotes, StringComparison.Ordinal) + Quotes.Length)..], "").TrimEnd()
                : Literal().Replace(lines[at][..lines[at].IndexOf(Quotes, StringComparison.Ordinal)], "");
            raw ^= marks % 2 == 1;
            open += code.Count(c => c is '(' or '[' or '{') - code.Count(c => c is ')' or ']' or '}');
            if (open <= 0 && code is [.., ';' or '}'])
                return at;
        }

        return lines.Length - 1;
    }

    // A name with its parameters at the depth of a member, and no type.
    [GeneratedRegex(@"^( {4}| {8})(public|private|internal|protected|static|async|override|sealed|abstract|virtual)\b(?![^(=]*\b(class|record|struct|enum|interface|delegate)\b)[^=;]*?\w(<[^>]*>)?\(")]
    private static partial Regex Head();

    [GeneratedRegex("""("(\\.|[^"\\])*")|('(\\.|[^'\\])')|(//.*)""")]
    private static partial Regex Literal();
}
