using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace Commission.Core.Reports;

/// <summary>JSON as the contract wants it: 17 significant digits, null where there is no number, never NaN.</summary>
public static class JsonText
{
    private static readonly JsonWriterOptions Options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The text of one value, on one line.</summary>
    /// <param name="write">Writes the value.</param>
    public static string Of(Action<Utf8JsonWriter> write)
    {
        using var bytes = new MemoryStream();
        using (var writer = new Utf8JsonWriter(bytes, Options))
            write(writer);
        return Encoding.UTF8.GetString(bytes.ToArray());
    }

    /// <summary>An answer: one object that begins with the name of its form.</summary>
    /// <param name="writer">Where to.</param>
    /// <param name="format">Name and version of the form.</param>
    /// <param name="members">Writes the other members.</param>
    public static void Document(this Utf8JsonWriter writer, string format, Action members)
    {
        writer.WriteStartObject();
        writer.WriteString("format", format);
        members();
        writer.WriteEndObject();
    }

    /// <summary>A member that is a list of objects.</summary>
    /// <param name="writer">Where to.</param>
    /// <param name="name">Name of the member.</param>
    /// <param name="items">What the objects tell of.</param>
    /// <param name="members">Writes the members of one.</param>
    public static void Objects<T>(this Utf8JsonWriter writer, string name, IEnumerable<T> items, Action<T> members)
    {
        writer.WritePropertyName(name);
        writer.Objects(items, members);
    }

    /// <summary>A list of objects.</summary>
    /// <param name="writer">Where to.</param>
    /// <param name="items">What the objects tell of.</param>
    /// <param name="members">Writes the members of one.</param>
    public static void Objects<T>(this Utf8JsonWriter writer, IEnumerable<T> items, Action<T> members)
    {
        writer.WriteStartArray();
        foreach (var item in items)
        {
            writer.WriteStartObject();
            members(item);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
    }

    /// <summary>A member that is a list of sentences.</summary>
    public static void Texts(this Utf8JsonWriter writer, string name, IEnumerable<string> texts)
    {
        writer.WriteStartArray(name);
        foreach (var text in texts)
            writer.WriteStringValue(text);
        writer.WriteEndArray();
    }

    /// <summary>Yes or no, or null.</summary>
    public static void Flag(this Utf8JsonWriter writer, string name, bool? value)
    {
        if (value is { } known)
            writer.WriteBoolean(name, known);
        else
            writer.WriteNull(name);
    }

    /// <summary>A number with 17 significant digits, or null.</summary>
    /// <exception cref="ArgumentException">The number is not finite: whoever could not compute it owes a reason instead.</exception>
    public static void Number(this Utf8JsonWriter writer, string name, double? value)
    {
        writer.WritePropertyName(name);
        writer.Number(value);
    }

    /// <summary>A number with 17 significant digits, or null, in a list.</summary>
    /// <exception cref="ArgumentException">The number is not finite.</exception>
    public static void Number(this Utf8JsonWriter writer, double? value)
    {
        if (value is { } number)
        {
            if (!double.IsFinite(number))
                throw new ArgumentException("A number that is not finite has no place in an answer.", nameof(value));
            writer.WriteRawValue(number.ToString("G17", CultureInfo.InvariantCulture));
        }
        else
        {
            writer.WriteNullValue();
        }
    }

    /// <summary>A whole number, or null.</summary>
    public static void Whole(this Utf8JsonWriter writer, string name, long? value)
    {
        if (value is { } number)
            writer.WriteNumber(name, number);
        else
            writer.WriteNull(name);
    }
}
