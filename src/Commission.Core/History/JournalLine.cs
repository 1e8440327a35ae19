using System.Buffers;
using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Commission.Core.Quantities;

namespace Commission.Core.History;

/// <summary>
/// One line of the journal as it stands on the medium and in an export, without its line end:
/// <c>{"format":"commission.journal/1","id","sequence","at","type",…,"previous","self"}</c>.
/// <c>self</c> is the SHA-256, in lower-case hexadecimal digits, of all bytes of the line before <c>,"self"</c>;
/// <c>previous</c>, the <c>self</c> of the entry before, is among them.
/// </summary>
public static class JournalLine
{
    /// <summary>What stands for the entry before the first one.</summary>
    public static readonly string NoPrevious = new('0', HashDigits);

    private const string Format = "commission.journal/1";
    private const int HashDigits = 64;

    // ,"self":"…"}
    private const int SelfBytes = 9 + HashDigits + 2;

    // ,"previous":"…"
    private const int PreviousBytes = 13 + HashDigits + 1;

    // Letters stay letters: a person reads these files too. Nothing here is put into a web page.
    private static readonly JsonWriterOptions Options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The type words this version knows.</summary>
    public static ImmutableHashSet<string> Types { get; } =
    [
        "store-born", "machine", "instrument", "operator", "study", "run-started", "confirmed", "checked", "skipped", "reading", "superseded",
        "excluded", "noted", "finding", "withdrawn", "change", "settings-saved", "setting-written", "moved", "stopped", "run-ended",
    ];

    /// <summary>The bytes with which every line begins.</summary>
    public static ReadOnlySpan<byte> Beginning => "{\"format\":\"commission.journal/"u8;

    /// <summary>Writes an entry.</summary>
    /// <param name="entry">The entry; its body is of a known type and its numbers are finite.</param>
    /// <param name="previous">The <c>self</c> of the entry before.</param>
    /// <returns>The line without its line end, or the number that JSON cannot hold.</returns>
    public static Outcome<byte[]> Write(JournalEntry entry, string previous)
    {
        var buffer = new ArrayBufferWriter<byte>(512);
        try
        {
            using var json = new Utf8JsonWriter(buffer, Options);
            json.WriteStartObject();
            json.WriteString("format", Format);
            json.WriteString("id", entry.Id);
            json.WriteNumber("sequence", entry.Sequence);
            json.WriteString("at", entry.At.ToString("O", CultureInfo.InvariantCulture));
            EntryWriter.Write(json, entry.Body);
            json.WriteString("previous", previous);
            json.Flush();
        }
        catch (ArgumentException unfit) when (entry.Body is not EntryBody.Unknown && unfit is not ArgumentNullException)
        {
            return new Problem("a number of the entry is not finite", "Type the value again");
        }

        return Sealed(buffer.WrittenSpan);
    }

    /// <summary>Closes a line whose properties are all written: adds the hash of what stands there.</summary>
    /// <param name="open">The line from its opening brace to its last property.</param>
    public static byte[] Sealed(ReadOnlySpan<byte> open) =>
        [.. open, .. ",\"self\":\""u8, .. Encoding.ASCII.GetBytes(Sha256.Hex(open)), .. "\"}"u8];

    /// <summary>Whether a line's hash fits its bytes.</summary>
    /// <param name="line">The line without its line end.</param>
    public static bool Fits(ReadOnlySpan<byte> line)
    {
        if (line.Length <= SelfBytes || !line[^SelfBytes..].StartsWith(",\"self\":\""u8) || !line.EndsWith("\"}"u8))
            return false;
        Span<byte> hash = stackalloc byte[32];
        Span<byte> digits = stackalloc byte[HashDigits];
        Sha256.Hash(line[..^SelfBytes], hash);
        return Convert.TryToHexStringLower(hash, digits, out _) && digits.SequenceEqual(line[^(HashDigits + 2)..^2]);
    }

    /// <summary>The line's own hash.</summary>
    /// <param name="line">A line that fits.</param>
    public static string Self(ReadOnlySpan<byte> line) => Encoding.ASCII.GetString(line[^(HashDigits + 2)..^2]);

    /// <summary>Reads the place of a line in its chain.</summary>
    /// <param name="line">The line without its line end.</param>
    /// <returns>Its place; null where the line is not an entry or its hash does not fit. A line of another format has that format for its type.</returns>
    public static LinePlace? Place(ReadOnlySpan<byte> line)
    {
        if (line.Length <= SelfBytes + PreviousBytes || !line.StartsWith(Beginning) || !Fits(line))
            return null;
        var before = line[^(SelfBytes + PreviousBytes)..^SelfBytes];
        if (!before.StartsWith(",\"previous\":\""u8))
            return null;
        try
        {
            var json = new Utf8JsonReader(line);
            var format = Property(ref json, "format"u8) ? json.GetString() : null;
            var id = Property(ref json, "id"u8) ? json.GetString() : null;
            var sequence = Property(ref json, "sequence"u8) && json.TryGetInt64(out var number) ? number : 0;
            var type = Property(ref json, "type"u8) ? json.GetString() : null;
            var store = id?[..Math.Max(0, id.LastIndexOf(':'))];
            return store is { Length: > 0 } && type is not null && sequence > 0 && id == string.Create(CultureInfo.InvariantCulture, $"{store}:{sequence}")
                ? new LinePlace(store, sequence, format == Format ? type : format!, Encoding.ASCII.GetString(before[13..^1]), Self(line))
                : null;
        }
        catch (Exception broken) when (broken is JsonException or InvalidOperationException)
        {
            return null;
        }
    }

    /// <summary>Reads a whole line.</summary>
    /// <param name="line">The line without its line end.</param>
    /// <returns>The entry, or what is wrong with the line.</returns>
    public static Outcome<JournalEntry> Read(ReadOnlyMemory<byte> line)
    {
        return Place(line.Span) is { } place
            ? Read(line, place)
            : new Problem("the line is no entry of a journal, or was changed after it was written", "Restore the store from a backup");
    }

    /// <summary>Reads a line whose place, and with it its hash, was read already.</summary>
    /// <param name="line">The line without its line end.</param>
    /// <param name="place">Its place.</param>
    /// <returns>The entry, or what is wrong with the line.</returns>
    public static Outcome<JournalEntry> Read(ReadOnlyMemory<byte> line, LinePlace place)
    {
        try
        {
            using var document = JsonDocument.Parse(line);
            var wrong = new List<string>();
            var fields = new JsonFields(document.RootElement, "", wrong);
            foreach (var taken in (ReadOnlySpan<string>)["format", "id", "type", "previous", "self"])
                fields.Text(taken);
            fields.Whole("sequence");
            var at = Instant(fields.Text("at"), wrong);
            var body = EntryReader.Read(place.Type, fields);
            return wrong.Count == 0
                ? new JournalEntry($"{place.Store}:{place.Sequence.ToString(CultureInfo.InvariantCulture)}", place.Sequence, at, body)
                : new Problem($"entry {place.Sequence.ToString(CultureInfo.InvariantCulture)} cannot be understood: {string.Join("; ", wrong)}", "Use a newer version of the program, or restore the store from a backup");
        }
        catch (JsonException broken)
        {
            return new Problem($"entry {place.Sequence.ToString(CultureInfo.InvariantCulture)} is not JSON: {broken.Message.TrimEnd('.')}", "Restore the store from a backup");
        }
    }

    private static bool Property(ref Utf8JsonReader json, ReadOnlySpan<byte> name)
    {
        while (json.Read())
        {
            if (json.CurrentDepth == 1 && json.TokenType == JsonTokenType.PropertyName && json.ValueTextEquals(name))
                return json.Read();
        }

        return false;
    }

    private static DateTimeOffset Instant(string text, List<string> wrong)
    {
        if (DateTimeOffset.TryParseExact(text, "O", CultureInfo.InvariantCulture, DateTimeStyles.None, out var at))
            return at;
        wrong.Add("at is not an instant");
        return default;
    }
}

/// <summary>Where a line stands in its chain.</summary>
/// <param name="Store">Id of the store.</param>
/// <param name="Sequence">Sequence in the chain.</param>
/// <param name="Type">Type word of the entry.</param>
/// <param name="Previous">Hash of the entry before.</param>
/// <param name="Self">Its own hash.</param>
public readonly record struct LinePlace(string Store, long Sequence, string Type, string Previous, string Self);
