using System.Buffers;
using System.Collections.Immutable;
using System.Text.Json;
using Commission.Core.History;

namespace Commission.Adapters.Storage;

/// <summary>
/// The first or the closing line of a segment: <c>{"format":"commission.segment/1", … ,"self"}</c>. It belongs to the file, not to the chain,
/// and is not exported.
/// </summary>
internal sealed record SegmentMark
{
    /// <summary>Number of the segment, from 1.</summary>
    internal required int Segment { get; init; }

    /// <summary>Whether it closes the segment; else it opens it.</summary>
    internal required bool Closes { get; init; }

    /// <summary>Id of the store whose chain it is.</summary>
    internal required string Store { get; init; }

    /// <summary>Real or practice.</summary>
    internal required StoreNature Nature { get; init; }

    /// <summary>Sequence of the last entry until here.</summary>
    internal required long Last { get; init; }

    /// <summary>Hash of that entry.</summary>
    internal required string Tip { get; init; }

    /// <summary>SHA-256 of all bytes before the closing line; in a first line, that of the segment before. Null where the segment before was not closed.</summary>
    internal string? Seal { get; init; }

    /// <summary>In a first line, the damage after which the chain goes on; null where there was none.</summary>
    internal string? Gap { get; init; }

    /// <summary>In a closing line, the type words that stand in the segment.</summary>
    internal ImmutableArray<string> Types { get; init; } = [];

    /// <summary>The bytes with which every such line begins.</summary>
    internal static ReadOnlySpan<byte> Beginning => "{\"format\":\"commission.segment/1\""u8;

    /// <summary>The line without its line end.</summary>
    internal byte[] Line()
    {
        var buffer = new ArrayBufferWriter<byte>(512);
        using (var json = new Utf8JsonWriter(buffer))
        {
            json.WriteStartObject();
            json.WriteString("format", "commission.segment/1");
            json.WriteNumber("segment", Segment);
            json.WriteBoolean("closes", Closes);
            json.WriteString("store", Store);
            json.WriteBoolean("practice", Nature == StoreNature.Practice);
            json.WriteNumber("last", Last);
            json.WriteString("tip", Tip);
            if (Seal is not null)
                json.WriteString("seal", Seal);
            if (Gap is not null)
                json.WriteString("gap", Gap);
            json.WriteStartArray("types");
            foreach (var type in Types)
                json.WriteStringValue(type);
            json.WriteEndArray();
            json.Flush();
        }

        return JournalLine.Sealed(buffer.WrittenSpan);
    }

    /// <summary>Reads a line; null where it is no such line or was changed.</summary>
    internal static SegmentMark? Read(ReadOnlyMemory<byte> line)
    {
        if (!line.Span.StartsWith(Beginning) || !JournalLine.Fits(line.Span))
            return null;
        try
        {
            using var document = JsonDocument.Parse(line);
            return Read(document.RootElement);
        }
        catch (Exception unfit) when (unfit is JsonException or KeyNotFoundException or InvalidOperationException or FormatException)
        {
            return null;
        }
    }

    private static SegmentMark Read(JsonElement root) => new()
    {
        Segment = root.GetProperty("segment").GetInt32(),
        Closes = root.GetProperty("closes").GetBoolean(),
        Store = root.GetProperty("store").GetString()!,
        Nature = root.GetProperty("practice").GetBoolean() ? StoreNature.Practice : StoreNature.Real,
        Last = root.GetProperty("last").GetInt64(),
        Tip = root.GetProperty("tip").GetString()!,
        Seal = root.TryGetProperty("seal", out var seal) ? seal.GetString() : null,
        Gap = root.TryGetProperty("gap", out var gap) ? gap.GetString() : null,
        Types = [.. root.GetProperty("types").EnumerateArray().Select(type => type.GetString()!)],
    };
}
