using System.Collections.Immutable;
using System.Globalization;

namespace Commission.Core;

/// <summary>Takes the fields out of one mapping and remembers which were asked for, so that what nobody asked for can be told.
/// Every wrong field is a problem with its place; reading goes on, so that all problems come at once.</summary>
public sealed class YamlFields
{
    private readonly string file;
    private readonly YamlNode.Mapping mapping;
    private readonly ICollection<Problem> problems;
    private readonly List<string> asked = [];

    private YamlFields(string file, YamlNode.Mapping mapping, string where, ICollection<Problem> problems)
    {
        (this.file, this.mapping, Where, this.problems) = (file, mapping, where, problems);
    }

    /// <summary>What the mapping is, for messages: <c>the file</c>, <c>axis X</c>.</summary>
    public string Where { get; }

    /// <summary>The mapping itself, for its place.</summary>
    public YamlNode.Mapping Node => mapping;

    /// <summary>Reads a whole file: what it holds, or every problem found.</summary>
    /// <param name="file">Name of the file, for the problems.</param>
    /// <param name="text">Its text.</param>
    /// <param name="whole">Reads the fields of its outermost mapping.</param>
    public static Outcome<T> Read<T>(string file, string text, Func<YamlFields, T> whole)
        where T : class
    {
        var problems = new List<Problem>();
        var read = Open(file, StrictYaml.Load(file, text, problems), "the file", problems) is { } fields ? whole(fields) : null;
        return problems.Count > 0 || read is null ? new Outcome<T>.Bad([.. problems]) : new Outcome<T>.Good(read);
    }

    /// <summary>Reports a format that is not the one known; a file that names none is not asked further.</summary>
    /// <param name="known">The format that is read here.</param>
    public void RequireFormat(string known)
    {
        if (Text("format") is { } format && format != known)
            Report(Optional("format")!, $"'format' is '{PlainText.Of(format)}'", $"Write 'format: {known}'; another version needs another program");
    }

    /// <summary>Opens a mapping; a node of another shape is a problem.</summary>
    /// <returns>The fields, or null where the node is not a mapping.</returns>
    public static YamlFields? Open(string file, YamlNode? node, string where, ICollection<Problem> problems)
    {
        if (node is YamlNode.Mapping mapping) return new YamlFields(file, mapping, where, problems);
        if (node is not null)
            problems.Add(new Problem($"{where} must be lines of the form 'key: value'", "Write 'key: value' lines below it") { File = file, Line = node.Line, Column = node.Column });
        return null;
    }

    /// <summary>Reports a problem at a node.</summary>
    public void Report(YamlNode at, string what, string remedy) =>
        problems.Add(new Problem(what, remedy) { File = file, Line = at.Line, Column = at.Column });

    /// <summary>Whether the key stands there. Counts as asked.</summary>
    public bool Has(string key) => Optional(key) is not null;

    /// <summary>The value of a key; null where it is missing.</summary>
    public YamlNode? Optional(string key)
    {
        if (!asked.Contains(key)) asked.Add(key);
        return mapping.Pairs.FirstOrDefault(pair => pair.Key.Value == key)?.Value;
    }

    /// <summary>The value of a key; a missing one is a problem.</summary>
    public YamlNode? Required(string key)
    {
        var node = Optional(key);
        if (node is null) Report(mapping, $"'{key}' is missing in {Where}", $"Add a line '{key}: …'");
        return node;
    }

    /// <summary>A text; null where the key is missing or no text, which is a problem where it is required.</summary>
    public string? Text(string key, bool required = true)
    {
        var node = required ? Required(key) : Optional(key);
        if (node is null) return null;
        if (node is YamlNode.Leaf leaf && leaf.Value.Trim().Length > 0) return leaf.Value.Trim();
        Report(node, $"'{key}' must be a text", $"Write '{key}: some text'");
        return null;
    }

    /// <summary>A number between two limits; null where it is missing, wrong, or the word <c>unknown</c> where that is allowed.</summary>
    public double? Number(string key, double least, double most, bool required = false, bool unknownAllowed = false)
    {
        var node = required ? Required(key) : Optional(key);
        if (node is null || (unknownAllowed && node is YamlNode.Leaf { Value: "unknown" })) return null;
        if (node is not YamlNode.Leaf leaf || !TryNumber(leaf.Value, out var value))
        {
            var found = node is YamlNode.Leaf text ? $"is '{PlainText.Of(text.Value)}', not a number" : "must be a number";
            Report(node, $"'{key}' {found}", "Write a number with a decimal point, such as 12.5" + (unknownAllowed ? ", or unknown" : ""));
            return null;
        }

        if (value >= least && value <= most) return value;
        Report(node, string.Create(CultureInfo.InvariantCulture, $"'{key}' is {PlainText.Of(leaf.Value)}, outside {least} to {most}"), "Correct the value");
        return null;
    }

    /// <summary>A whole number between two limits; as <see cref="Number"/> otherwise.</summary>
    public int? Whole(string key, int least, int most, bool required = false, bool unknownAllowed = false)
    {
        if (Number(key, least, most, required, unknownAllowed) is not { } value) return null;
        if (value == Math.Floor(value)) return (int)value;
        Report(Optional(key)!, $"'{key}' must be a whole number", "Write it without a fraction");
        return null;
    }

    /// <summary>One word out of a table; the fallback where it is missing or wrong (wrong is a problem).</summary>
    public T Word<T>(string key, IReadOnlyDictionary<string, T> words, T fallback, bool required = false)
    {
        var node = required ? Required(key) : Optional(key);
        if (node is null) return fallback;
        if (node is YamlNode.Leaf leaf && words.TryGetValue(leaf.Value, out var value)) return value;
        var typed = node is YamlNode.Leaf other ? PlainText.Of(other.Value) : "";
        var what = node is YamlNode.Leaf ? $"'{key}' is '{typed}'" : $"'{key}' must be one word";
        Report(node, what, "Use one of: " + string.Join(", ", words.Keys) + Spelling.DidYouMean(typed, words.Keys));
        return fallback;
    }

    /// <summary>The fields below a key; null where it is missing or no mapping.</summary>
    public YamlFields? Fields(string key, string where, bool required = false) =>
        Open(file, required ? Required(key) : Optional(key), where, problems);

    /// <summary>The fields of a node inside this mapping.</summary>
    public YamlFields? Fields(YamlNode node, string where) => Open(file, node, where, problems);

    /// <summary>The entries of a list; empty where it is missing or no list.</summary>
    public ImmutableArray<YamlNode> List(string key, bool required = false)
    {
        var node = required ? Required(key) : Optional(key);
        if (node is YamlNode.Sequence sequence)
        {
            if (sequence.Items.IsEmpty && required) Report(node, $"'{key}' is an empty list", "Add at least one entry");
            return sequence.Items;
        }

        if (node is not null) Report(node, $"'{key}' must be a list", "Start each entry with '- '");
        return [];
    }

    /// <summary>The texts of a list.</summary>
    public ImmutableArray<string> Texts(string key, bool required = false)
    {
        var texts = ImmutableArray.CreateBuilder<string>();
        foreach (var item in List(key, required))
        {
            if (item is YamlNode.Leaf leaf && leaf.Value.Trim().Length > 0) texts.Add(leaf.Value.Trim());
            else Report(item, $"each entry of '{key}' must be a text", "Write '- some text'");
        }

        return texts.ToImmutable();
    }

    /// <summary>The numbers of a list, each between two limits.</summary>
    public ImmutableArray<double> Numbers(string key, double least, double most, bool required = false)
    {
        var numbers = ImmutableArray.CreateBuilder<double>();
        foreach (var item in List(key, required))
        {
            if (item is YamlNode.Leaf leaf && TryNumber(leaf.Value, out var value) && value >= least && value <= most) numbers.Add(value);
            else Report(item, string.Create(CultureInfo.InvariantCulture, $"each entry of '{key}' must be a number from {least} to {most}"), "Write '- 12.5' or [12.5, 20]");
        }

        return numbers.ToImmutable();
    }

    /// <summary>Reports every key that nobody asked for.</summary>
    public void Done()
    {
        foreach (var pair in mapping.Pairs)
            if (!asked.Contains(pair.Key.Value))
                Report(pair.Key, $"'{PlainText.Of(pair.Key.Value)}' is not known in {Where}", "Known here: " + string.Join(", ", asked) + Spelling.DidYouMean(pair.Key.Value, asked));
    }

    /// <summary>Reads a number as YAML writes it: digits, sign, decimal point, exponent; nothing else.</summary>
    public static bool TryNumber(string text, out double value)
    {
        value = 0;
        return text.Length is > 0 and <= 40
            && text.All(c => char.IsAsciiDigit(c) || c is '+' or '-' or '.' or 'e' or 'E')
            && double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent, CultureInfo.InvariantCulture, out value)
            && double.IsFinite(value);
    }
}
