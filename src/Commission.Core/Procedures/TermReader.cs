using System.Collections.Immutable;
using Commission.Core.Machines;

namespace Commission.Core.Procedures;

/// <summary>Reads what may be a number, the name of a value, or a fraction of one.</summary>
internal static class TermReader
{
    /// <summary>A term; null where the key is missing or wrong.</summary>
    public static Term? Read(YamlFields fields, string key, double least, double most, bool required = false)
    {
        switch (required ? fields.Required(key) : fields.Optional(key))
        {
            case null:
                return null;
            case YamlNode.Leaf leaf when ProcedureReader.IsName(leaf.Value):
                return new Term(null, leaf.Value);
            case YamlNode.Mapping node:
                var parts = fields.Fields(node, $"'{key}'")!;
                var (fraction, of) = (parts.Number("fraction", 0.001, 1000, required: true), parts.Text("of"));
                parts.Done();
                return fraction is { } factor && of is not null ? new Term(null, of, factor) : null;
            default:
                return fields.Number(key, least, most) is { } number ? new Term(number, null) : null;
        }
    }

    /// <summary>An axis: X, Y, Z, or <c>chosen</c> for that of the run or of the round.</summary>
    public static AxisChoice? Axis(YamlFields fields, string key) => fields.Word(key, AxisChoices, null);

    /// <summary>A mapping of plain words to plain words or numbers.</summary>
    public static ImmutableSortedDictionary<string, string> Texts(YamlFields fields, string key)
    {
        var texts = ImmutableSortedDictionary.CreateBuilder<string, string>(StringComparer.Ordinal);
        if (fields.Fields(key, $"'{key}'") is not { } inner) return texts.ToImmutable();
        foreach (var pair in inner.Node.Pairs)
        {
            if (pair.Value is YamlNode.Leaf leaf) texts[pair.Key.Value] = leaf.Value;
            else inner.Report(pair.Value, $"'{PlainText.Of(pair.Key.Value)}' must be a word or a number", "Write one word or number");
        }

        return texts.ToImmutable();
    }

    private static readonly Dictionary<string, AxisChoice?> AxisChoices = new(StringComparer.Ordinal)
    {
        ["X"] = new AxisChoice(AxisName.X), ["Y"] = new AxisChoice(AxisName.Y), ["Z"] = new AxisChoice(AxisName.Z), ["chosen"] = new AxisChoice((AxisName?)null),
    };
}
