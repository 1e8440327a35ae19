using System.Collections.Immutable;
using System.Text.Json;

namespace Commission.Core.History;

/// <summary>
/// Reads one JSON object strictly: each property is asked for by name, and what nobody asked for is reported.
/// Values that are missing or wrong come back as defaults; the list of what is wrong decides whether they are used.
/// </summary>
internal sealed class JsonFields
{
    private readonly Dictionary<string, JsonElement> left = new(StringComparer.Ordinal);
    private readonly List<string> wrong;
    private readonly string path;

    internal JsonFields(JsonElement element, string path, List<string> wrong)
    {
        (this.path, this.wrong) = (path, wrong);
        if (element.ValueKind != JsonValueKind.Object)
        {
            wrong.Add($"{(path.Length == 0 ? "the line" : path)} is not an object");
            return;
        }

        foreach (var property in element.EnumerateObject())
        {
            if (!left.TryAdd(property.Name, property.Value))
                wrong.Add($"{path}{property.Name} stands twice");
        }
    }

    internal string Text(string name) => MaybeText(name) ?? Missing(name, "");

    internal string? MaybeText(string name) =>
        Take(name) is not { } element ? null : element.ValueKind == JsonValueKind.String ? element.GetString() : Wrong<string?>(name, "a text");

    internal double Number(string name) => MaybeNumber(name) ?? Missing(name, 0.0);

    internal double? MaybeNumber(string name) => Take(name) is { } element ? AsNumber(element, name) : null;

    internal long Whole(string name) => MaybeWhole(name) ?? Missing(name, 0L);

    internal long? MaybeWhole(string name) => Take(name) is not { } element ? null
        : element.ValueKind == JsonValueKind.Number && element.TryGetInt64(out var value) ? value : Wrong<long?>(name, "a whole number");

    internal int? MaybeInt(string name) => MaybeWhole(name) switch
    {
        null => null,
        >= int.MinValue and <= int.MaxValue and var value => (int)value,
        _ => Wrong<int?>(name, "a smaller whole number"),
    };

    internal int Int(string name) => MaybeInt(name) ?? Missing(name, 0);

    internal bool? MaybeFlag(string name) => Take(name) switch
    {
        { ValueKind: JsonValueKind.True } => true,
        { ValueKind: JsonValueKind.False } => false,
        null => null,
        _ => Wrong<bool?>(name, "true or false"),
    };

    internal bool Flag(string name) => Take(name) switch
    {
        { ValueKind: JsonValueKind.True } => true,
        { ValueKind: JsonValueKind.False } => false,
        null => Missing(name, false),
        _ => Wrong<bool>(name, "true or false"),
    };

    internal T Word<T>(string name, JournalWords<T> words)
        where T : struct, Enum => MaybeWord(name, words) ?? Missing(name, default(T));

    internal T? MaybeWord<T>(string name, JournalWords<T> words)
        where T : struct, Enum => MaybeText(name) is not { } word ? null
        : words.TryRead(word, out var value) ? value : Wrong<T?>(name, "one of " + words.All);

    internal T Object<T>(string name, Func<JsonFields, T> read)
        where T : class => MaybeObject(name, read) ?? Missing<T>(name, null!);

    internal T? MaybeObject<T>(string name, Func<JsonFields, T> read)
        where T : class => Take(name) is { } element ? Inside(element, $"{path}{name}.", read) : null;

    internal ImmutableArray<T> Each<T>(string name, Func<JsonFields, T> read) =>
        Items(name, (element, at) => Inside(element, $"{path}{name}[{at}].", read));

    internal ImmutableArray<double> Numbers(string name) => Items(name, (element, _) => AsNumber(element, name) ?? 0);

    internal ImmutableArray<long> Wholes(string name) => Items(name, (element, _) =>
        element.ValueKind == JsonValueKind.Number && element.TryGetInt64(out var value) ? value : Wrong<long>(name, "a list of whole numbers"));

    internal ImmutableArray<string> Texts(string name) => Items(name, (element, _) =>
        element.ValueKind == JsonValueKind.String ? element.GetString()! : Wrong<string?>(name, "a list of texts") ?? "");

    internal ImmutableArray<ImmutableArray<double>> Table(string name) => Items(name, (row, _) =>
        row.ValueKind == JsonValueKind.Array ? row.EnumerateArray().Select(cell => AsNumber(cell, name) ?? 0).ToImmutableArray() : Wrong<double[]?>(name, "rows of numbers") is null ? [] : []);

    internal IEnumerable<KeyValuePair<string, double>> NumbersByName(string name) => Pairs(name, element => AsNumber(element, name) ?? 0);

    internal IEnumerable<KeyValuePair<string, string>> TextsByName(string name) => Pairs(name, element =>
        element.ValueKind == JsonValueKind.String ? element.GetString()! : Wrong<string?>(name, "texts by name") ?? "");

    /// <summary>Reports every property that nobody asked for.</summary>
    internal void Close()
    {
        foreach (var name in left.Keys)
            wrong.Add($"{path}{name} is not known here");
    }

    private T Inside<T>(JsonElement element, string inner, Func<JsonFields, T> read)
    {
        var fields = new JsonFields(element, inner, wrong);
        var value = read(fields);
        fields.Close();
        return value;
    }

    private ImmutableArray<T> Items<T>(string name, Func<JsonElement, int, T> read)
    {
        if (Take(name) is not { } element)
            return [];
        if (element.ValueKind == JsonValueKind.Array)
            return [.. element.EnumerateArray().Select(read)];
        wrong.Add($"{path}{name} is not a list");
        return [];
    }

    private List<KeyValuePair<string, T>> Pairs<T>(string name, Func<JsonElement, T> read)
    {
        var pairs = new List<KeyValuePair<string, T>>();
        if (Take(name) is not { } element)
            return pairs;
        if (element.ValueKind != JsonValueKind.Object)
        {
            wrong.Add($"{path}{name} is not an object");
            return pairs;
        }

        foreach (var property in element.EnumerateObject())
        {
            if (pairs.Exists(pair => pair.Key == property.Name))
                wrong.Add($"{path}{name}.{property.Name} stands twice");
            else
                pairs.Add(new(property.Name, read(property.Value)));
        }

        return pairs;
    }

    // Degrees of freedom may be without end, which JSON has no number for.
    private double? AsNumber(JsonElement element, string name) => element.ValueKind switch
    {
        JsonValueKind.Number when element.TryGetDouble(out var value) && double.IsFinite(value) => value,
        JsonValueKind.String when element.ValueEquals("infinite"u8) => double.PositiveInfinity,
        _ => Wrong<double?>(name, "a number"),
    };

    private JsonElement? Take(string name) => left.Remove(name, out var element) ? element : null;

    private T Missing<T>(string name, T instead)
    {
        if (!wrong.Exists(said => said.StartsWith($"{path}{name} ", StringComparison.Ordinal)))
            wrong.Add($"{path}{name} is missing");
        return instead;
    }

    private T? Wrong<T>(string name, string expected)
    {
        wrong.Add($"{path}{name} is not {expected}");
        return default;
    }
}
