using System.Collections.Immutable;
using System.Globalization;
using YamlDotNet.Core;
using YamlDotNet.Core.Events;

namespace Commission.Core;

/// <summary>Reads the plain part of YAML: mappings, lists and text. Whatever could surprise (anchors, aliases, tags, merge keys,
/// a second document, repeated keys, tabs, control characters) is a problem with its place, and nothing leaves as an exception.</summary>
public static class StrictYaml
{
    private const int LongestText = 1 << 20;
    private const int Deepest = 32;

    /// <summary>Reads a text.</summary>
    /// <param name="file">Name of the file, for the problems.</param>
    /// <param name="text">What the file holds.</param>
    /// <param name="problems">Takes every problem found.</param>
    /// <returns>The root; null where nothing could be read.</returns>
    public static YamlNode? Load(string file, string text, ICollection<Problem> problems)
    {
        if (text.StartsWith('\uFEFF')) text = text[1..];
        if (UnfitCharacter(file, text) is { } unfit)
        {
            problems.Add(unfit);
            return null;
        }

        var reading = new Reading(file, problems);
        try
        {
            return reading.Document(new Parser(new Scanner(new StringReader(text), skipComments: true)));
        }
        catch (YamlException broken)
        {
            problems.Add(reading.At(broken.Start, "this is not readable as YAML: " + Sentence(broken.Message), "Check indentation, quotes and the colon after each key"));
        }
        catch (Exception broken) when (broken is InvalidOperationException or ArgumentException or FormatException or IndexOutOfRangeException or OverflowException)
        {
            // The parser of the library lets these out on some broken files, without a place of their own.
            problems.Add(reading.At(reading.Last, "this is not readable as YAML from about here on", "Check brackets, quotes and indentation"));
        }

        return null;
    }

    // NUL and other control characters pass the parser, and it reports tabs at the wrong place: so they are looked for first.
    private static Problem? UnfitCharacter(string file, string text)
    {
        if (text.Length > LongestText)
            return new Problem("the file is larger than 1 MB", "Split it") { File = file, Line = 1, Column = 1 };

        var (line, column, indentation) = (1, 0, true);
        foreach (var character in text)
        {
            column++;
            if (character == '\n')
            {
                (line, column, indentation) = (line + 1, 0, true);
                continue;
            }

            if (character == '\t' && indentation)
                return new Problem("a tab stands in the indentation", "Use spaces") { File = file, Line = line, Column = column };
            if (IsForbidden(character))
            {
                var code = ((int)character).ToString("X4", CultureInfo.InvariantCulture);
                return new Problem($"the character U+{code} is not allowed", "Delete it") { File = file, Line = line, Column = column };
            }

            indentation &= character == ' ';
        }

        return null;
    }

    private static bool IsForbidden(char character) =>
        (character < ' ' && character is not ('\r' or '\t')) || character is '\u007f' or '\u0085' or '\u2028' or '\u2029' or '\ufffe' or '\uffff'
        || (character is >= '\u0080' and <= '\u009f');

    private static string Sentence(string message) => message.ReplaceLineEndings(" ").Trim().TrimEnd('.');

    private sealed class Reading(string file, ICollection<Problem> problems)
    {
        public Mark Last { get; private set; } = Mark.Empty;

        public Problem At(Mark mark, string what, string remedy) =>
            new(what, remedy) { File = file, Line = Math.Max(1, mark.Line), Column = Math.Max(1, mark.Column) };

        public YamlNode? Document(Parser parser)
        {
            parser.Consume<StreamStart>();
            if (parser.Accept<StreamEnd>(out _))
            {
                problems.Add(At(Mark.Empty, "the file is empty", "Write at least one line 'key: value'"));
                return null;
            }

            parser.Consume<DocumentStart>();
            var root = Node(parser, 0);
            parser.Consume<DocumentEnd>();
            if (parser.Accept<DocumentStart>(out var second))
                problems.Add(At(second.Start, "a second document starts here", "Keep one in a file and remove the '---'"));
            return root;
        }

        private YamlNode? Node(Parser parser, int depth)
        {
            var happened = parser.Current!;
            Last = happened.Start;
            if (depth > Deepest) throw new YamlException(happened.Start, happened.End, "nested too deeply");
            Refuse(happened);
            parser.MoveNext();
            return happened switch
            {
                Scalar scalar => new YamlNode.Leaf(scalar.Value, scalar.Start.Line, scalar.Start.Column),
                SequenceStart => Sequence(parser, happened.Start, depth),
                MappingStart => Mapping(parser, happened.Start, depth),
                AnchorAlias => null,
                _ => throw new YamlException(happened.Start, happened.End, "a value was expected here"),
            };
        }

        private void Refuse(ParsingEvent happened)
        {
            const string inFull = "Write the value out in full";
            if (happened is AnchorAlias) problems.Add(At(happened.Start, "aliases (*name) are not allowed here", inFull));
            if (happened is not NodeEvent node) return;
            if (!node.Anchor.IsEmpty) problems.Add(At(node.Start, "anchors (&name) are not allowed here", inFull));
            if (!node.Tag.IsEmpty) problems.Add(At(node.Start, "tags (!name) are not allowed here", "Remove the tag"));
        }

        private YamlNode.Sequence Sequence(Parser parser, Mark start, int depth)
        {
            var items = ImmutableArray.CreateBuilder<YamlNode>();
            while (!parser.Accept<SequenceEnd>(out _))
                if (Node(parser, depth + 1) is { } item) items.Add(item);
            parser.MoveNext();
            return new YamlNode.Sequence(items.ToImmutable(), start.Line, start.Column);
        }

        private YamlNode.Mapping Mapping(Parser parser, Mark start, int depth)
        {
            var pairs = ImmutableArray.CreateBuilder<YamlPair>();
            var seen = new Dictionary<string, long>(StringComparer.Ordinal);
            while (!parser.Accept<MappingEnd>(out _))
            {
                var place = parser.Current!.Start;
                var key = Node(parser, depth + 1);
                var value = Node(parser, depth + 1);
                if (key is not YamlNode.Leaf leaf)
                {
                    if (key is not null) problems.Add(At(place, "a key must be a plain word", "Use a name without brackets"));
                }
                else if (leaf.Value == "<<") problems.Add(At(place, "merge keys (<<) are not allowed here", "Write the keys out in full"));
                else if (!seen.TryAdd(leaf.Value, leaf.Line))
                {
                    var first = seen[leaf.Value].ToString(CultureInfo.InvariantCulture);
                    problems.Add(At(place, $"'{PlainText.Of(leaf.Value)}' is given twice (first in line {first})", "Remove one of the two"));
                }
                else if (value is not null) pairs.Add(new YamlPair(leaf, value));
            }

            parser.MoveNext();
            return new YamlNode.Mapping(pairs.ToImmutable(), start.Line, start.Column);
        }
    }
}
