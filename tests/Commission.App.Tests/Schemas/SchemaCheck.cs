using System.Text.Json;

namespace Commission.App.Tests.Schemas;

/// <summary>Checks a document against the part of JSON Schema that the project's schemas use, and refuses a schema that uses more.</summary>
internal static class SchemaCheck
{
    private static readonly string[] Known =
        ["$schema", "$id", "$defs", "$ref", "title", "description", "type", "const", "enum", "properties", "required", "additionalProperties", "items", "anyOf", "minItems", "minimum", "pattern"];

    /// <summary>Everything in which a document differs from a schema, each with its place.</summary>
    public static IEnumerable<string> Differences(JsonElement document, JsonElement schema) => Differences(document, schema, schema, "$");

    private static IEnumerable<string> Differences(JsonElement value, JsonElement schema, JsonElement root, string at)
    {
        if (schema.ValueKind == JsonValueKind.True)
            return [];
        foreach (var word in schema.EnumerateObject().Select(p => p.Name).Except(Known))
            throw new NotSupportedException($"The schema uses {word}, which this check does not know.");
        if (schema.TryGetProperty("$ref", out var reference))
            return Differences(value, root.GetProperty("$defs").GetProperty(reference.GetString()!["#/$defs/".Length..]), root, at);
        return [.. Simple(value, schema, at), .. Chosen(value, schema, root, at), .. Object(value, schema, root, at), .. Array(value, schema, root, at)];
    }

    private static IEnumerable<string> Simple(JsonElement value, JsonElement schema, string at)
    {
        if (schema.TryGetProperty("type", out var type) && !Types(type).Any(word => Is(value, word)))
            yield return $"{at} is {value.ValueKind}, not {type}";
        if (schema.TryGetProperty("const", out var wanted) && value.GetRawText() != wanted.GetRawText())
            yield return $"{at} is {value.GetRawText()}, not {wanted.GetRawText()}";
        if (schema.TryGetProperty("enum", out var list) && list.EnumerateArray().All(one => one.GetRawText() != value.GetRawText()))
            yield return $"{at} is {value.GetRawText()}, which is not in the list";
        if (schema.TryGetProperty("minimum", out var minimum) && value.ValueKind == JsonValueKind.Number && value.GetDouble() < minimum.GetDouble())
            yield return $"{at} is {value.GetRawText()}, less than {minimum}";
        if (schema.TryGetProperty("pattern", out var pattern) && value.ValueKind == JsonValueKind.String
            && !System.Text.RegularExpressions.Regex.IsMatch(value.GetString()!, pattern.GetString()!))
            yield return $"{at} is {value.GetRawText()}, which does not fit {pattern}";
    }

    private static IEnumerable<string> Chosen(JsonElement value, JsonElement schema, JsonElement root, string at)
    {
        if (schema.TryGetProperty("anyOf", out var ways) && ways.EnumerateArray().All(way => Differences(value, way, root, at).Any()))
            yield return $"{at} fits none of its forms";
    }

    private static IEnumerable<string> Object(JsonElement value, JsonElement schema, JsonElement root, string at)
    {
        if (value.ValueKind != JsonValueKind.Object)
            yield break;
        if (schema.TryGetProperty("required", out var required))
        {
            foreach (var name in required.EnumerateArray().Select(one => one.GetString()!).Where(name => !value.TryGetProperty(name, out _)))
                yield return $"{at} has no {name}";
        }

        var known = schema.TryGetProperty("properties", out var properties);
        var others = schema.TryGetProperty("additionalProperties", out var additional) ? additional : default;
        foreach (var property in value.EnumerateObject())
        {
            if (known && properties.TryGetProperty(property.Name, out var own))
            {
                foreach (var difference in Differences(property.Value, own, root, $"{at}.{property.Name}"))
                    yield return difference;
            }
            else if (others.ValueKind == JsonValueKind.False)
            {
                yield return $"{at} has {property.Name}, which the schema does not know";
            }
            else if (others.ValueKind == JsonValueKind.Object)
            {
                foreach (var difference in Differences(property.Value, others, root, $"{at}.{property.Name}"))
                    yield return difference;
            }
        }
    }

    private static IEnumerable<string> Array(JsonElement value, JsonElement schema, JsonElement root, string at)
    {
        if (value.ValueKind != JsonValueKind.Array)
            yield break;
        if (schema.TryGetProperty("minItems", out var least) && value.GetArrayLength() < least.GetInt32())
            yield return $"{at} holds {value.GetArrayLength()}, fewer than {least}";
        if (schema.TryGetProperty("items", out var items))
        {
            foreach (var difference in value.EnumerateArray().SelectMany((one, i) => Differences(one, items, root, $"{at}[{i}]")))
                yield return difference;
        }
    }

    private static IEnumerable<string> Types(JsonElement type) =>
        type.ValueKind == JsonValueKind.Array ? type.EnumerateArray().Select(one => one.GetString()!) : [type.GetString()!];

    private static bool Is(JsonElement value, string word) => word switch
    {
        "object" => value.ValueKind == JsonValueKind.Object,
        "array" => value.ValueKind == JsonValueKind.Array,
        "string" => value.ValueKind == JsonValueKind.String,
        "number" => value.ValueKind == JsonValueKind.Number,
        "integer" => value.ValueKind == JsonValueKind.Number && value.TryGetInt64(out _),
        "boolean" => value.ValueKind is JsonValueKind.True or JsonValueKind.False,
        "null" => value.ValueKind == JsonValueKind.Null,
        _ => throw new NotSupportedException($"The schema uses the type {word}."),
    };
}
