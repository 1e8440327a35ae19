using System.Collections.Immutable;

namespace Commission.Core.Procedures;

/// <summary>Reads <c>when</c>: facts with the words of which one must be their value. No expressions.</summary>
internal static class ConditionReader
{
    public static ImmutableArray<Condition> Read(YamlFields fields)
    {
        if (fields.Fields("when", "'when'") is not { } when) return [];
        var conditions = ImmutableArray.CreateBuilder<Condition>();
        foreach (var pair in when.Node.Pairs)
        {
            var fact = pair.Key.Value;
            if (!Conditions.Facts.Contains(fact))
            {
                when.Report(pair.Key, $"'{PlainText.Of(fact)}' is no fact", "Known facts: " + string.Join(", ", Conditions.Facts) + Spelling.DidYouMean(fact, Conditions.Facts));
                continue;
            }

            conditions.Add(new Condition(fact, Words(when, fact, pair.Value)));
        }

        return conditions.ToImmutable();
    }

    private static ImmutableArray<string> Words(YamlFields when, string fact, YamlNode value)
    {
        var nodes = value is YamlNode.Sequence list ? list.Items : [value];
        var words = ImmutableArray.CreateBuilder<string>();
        foreach (var node in nodes)
        {
            if (node is YamlNode.Leaf leaf && Conditions.Fits(fact, leaf.Value)) words.Add(leaf.Value);
            else
            {
                var known = Conditions.WordsOf(fact);
                var typed = node is YamlNode.Leaf text ? PlainText.Of(text.Value) : "";
                when.Report(node, $"'{typed}' is no value of '{fact}'",
                    known.IsEmpty ? "Use a number, known or unknown" : "Use one of: " + string.Join(", ", known) + Spelling.DidYouMean(typed, known));
            }
        }

        return words.ToImmutable();
    }
}
