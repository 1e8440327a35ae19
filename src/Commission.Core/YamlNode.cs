using System.Collections.Immutable;

namespace Commission.Core;

/// <summary>A piece of a YAML file with its place. Everything below a leaf is text: what it means is for the reader to say.</summary>
/// <param name="Line">Line in the file, counted from 1.</param>
/// <param name="Column">Column in the line, in characters, counted from 1.</param>
public abstract record YamlNode(long Line, long Column)
{
    /// <summary>A plain or quoted text, a number or a word: all are text here.</summary>
    /// <param name="Value">The text without its quotes.</param>
    /// <param name="Line">Line, from 1.</param>
    /// <param name="Column">Column, from 1.</param>
    public sealed record Leaf(string Value, long Line, long Column) : YamlNode(Line, Column);

    /// <summary>A list.</summary>
    /// <param name="Items">The entries that could be read.</param>
    /// <param name="Line">Line, from 1.</param>
    /// <param name="Column">Column, from 1.</param>
    public sealed record Sequence(ImmutableArray<YamlNode> Items, long Line, long Column) : YamlNode(Line, Column);

    /// <summary>Lines of the form <c>key: value</c>.</summary>
    /// <param name="Pairs">Keys with their values in the order of the file; no key stands twice.</param>
    /// <param name="Line">Line, from 1.</param>
    /// <param name="Column">Column, from 1.</param>
    public sealed record Mapping(ImmutableArray<YamlPair> Pairs, long Line, long Column) : YamlNode(Line, Column);
}

/// <summary>A key with its value.</summary>
/// <param name="Key">The key.</param>
/// <param name="Value">The value.</param>
public sealed record YamlPair(YamlNode.Leaf Key, YamlNode Value);
