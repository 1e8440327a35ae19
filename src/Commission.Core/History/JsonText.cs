using System.Text;
using System.Text.Json;

namespace Commission.Core.History;

/// <summary>Writes optional values: what is unknown is left out, what JSON has no number for is a word or refused.</summary>
internal static class JsonText
{
    internal static void Put(this Utf8JsonWriter json, string name, string? value)
    {
        if (value is not null)
            json.WriteString(name, WellFormed(value));
    }

    internal static void Put(this Utf8JsonWriter json, string name, long? value)
    {
        if (value is not null)
            json.WriteNumber(name, value.Value);
    }

    internal static void Put(this Utf8JsonWriter json, string name, double? value)
    {
        if (value is null)
            return;
        json.WritePropertyName(name);
        json.PutNumber(value.Value);
    }

    internal static void PutNumber(this Utf8JsonWriter json, double value)
    {
        if (double.IsPositiveInfinity(value))
            json.WriteStringValue("infinite"u8);
        else
            json.WriteNumberValue(value);
    }

    internal static void PutObject(this Utf8JsonWriter json, string name, Action inside)
    {
        json.WriteStartObject(name);
        inside();
        json.WriteEndObject();
    }

    internal static void PutEach<T>(this Utf8JsonWriter json, string name, IEnumerable<T> items, Action<T> write)
    {
        json.WriteStartArray(name);
        foreach (var item in items)
            write(item);
        json.WriteEndArray();
    }

    // A lone half of a surrogate pair, as a broken terminal may send it, has no UTF-8 form.
    private static string WellFormed(string text)
    {
        var at = 0;
        while (at < text.Length && Rune.TryGetRuneAt(text, at, out var rune))
            at += rune.Utf16SequenceLength;
        return at == text.Length ? text : string.Concat(text.EnumerateRunes());
    }
}
