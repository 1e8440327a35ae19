using System.Globalization;
using Commission.Core.History;
using LiteDB;

namespace Commission.Adapters.Storage;

/// <summary>
/// The lines of the entries that bear on the present, by their key: a few hundred for each machine, however long its past. Each is a
/// copy of a line of the journal with its hash, so that one that was altered here shows.
/// </summary>
internal sealed class PresentDocuments
{
    private readonly ILiteCollection<BsonDocument> lines;
    private readonly Dictionary<string, BsonDocument?> changed = new(StringComparer.Ordinal);
    private HashSet<string>? skips;

    internal PresentDocuments(LiteDatabase database, bool write)
    {
        lines = database.GetCollection("present");
        if (write)
            lines.EnsureIndex("owner");
    }

    /// <summary>Lines of the store as a whole and of a machine, in order.</summary>
    internal IEnumerable<byte[]> Lines(string machine) => lines.Find(Query.EQ("owner", ""))
        .Concat(machine.Length == 0 ? [] : lines.Find(Query.EQ("owner", machine)))
        .OrderBy(document => document["sequence"].AsInt64).Select(document => document["line"].AsBinary);

    /// <summary>Takes in an entry.</summary>
    /// <param name="entry">The entry.</param>
    /// <param name="line">Its line.</param>
    /// <param name="run">Document of its run; null outside runs.</param>
    /// <param name="lineOf">Finds the line of an older entry.</param>
    internal void Take(JournalEntry entry, ReadOnlyMemory<byte> line, BsonDocument? run, Func<long, ReadOnlyMemory<byte>?> lineOf)
    {
        var procedure = run?["procedure"].AsString;
        if (Bears(entry) && PresentKey.Of(entry, procedure, run is null || run["axis"].IsNull ? null : run["axis"].AsString) is { } key)
        {
            changed[key] = Document(key, PresentKey.Owner(entry), entry.Sequence, line);
            if (run is not null && entry.Body is EntryBody.Skipped or EntryBody.Confirmed)
                Keep(run, lineOf);
        }

        if (entry.Body is EntryBody.RunEnded && run is not null && run["kept"].AsBoolean)
            Put("ended", run, entry.Sequence, line);
    }

    /// <summary>Puts another line in the place of one, or none.</summary>
    internal void Replace(string key, (long Sequence, ReadOnlyMemory<byte>? Line)? by)
    {
        var owner = changed.TryGetValue(key, out var now) ? now?["owner"].AsString : lines.FindById(key)?["owner"].AsString;
        changed[key] = by is { Line: { } line } before ? Document(key, owner ?? Owner(line), before.Sequence, line) : null;
    }

    /// <summary>Writes what was taken in.</summary>
    internal void Flush()
    {
        lines.Upsert(changed.Values.OfType<BsonDocument>());
        foreach (var (key, _) in changed.Where(pair => pair.Value is null))
            lines.Delete(key);
        changed.Clear();
    }

    // A confirmation tells nothing of the present but that it makes a skip of the same step good.
    private bool Bears(JournalEntry entry)
    {
        skips ??= [.. lines.Find(Query.StartsWith("_id", "skipped")).Select(document => document["_id"].AsString).Select(key => key[..(key.LastIndexOf('\u001f') + 1)])];
        if (entry.Body is EntryBody.Skipped skipped)
            skips.Add(PresentKey.Skips(skipped.Machine, skipped.Step));
        return entry.Body is not EntryBody.Confirmed confirmed || skips.Contains(PresentKey.Skips(confirmed.Machine, confirmed.Step));
    }

    // A skip belongs to a procedure and an axis, which only the beginning of its run tells; and a run that ended must not seem open.
    private void Keep(BsonDocument run, Func<long, ReadOnlyMemory<byte>?> lineOf)
    {
        if (run["kept"].AsBoolean || lineOf(run["_id"].AsInt64) is not { } line)
            return;
        run["kept"] = true;
        Put("began", run, run["_id"].AsInt64, line);
        if (run["end"].AsInt64 is > 0 and var end && lineOf(end) is { } ended)
            Put("ended", run, end, ended);
    }

    private void Put(string what, BsonDocument run, long sequence, ReadOnlyMemory<byte> line)
    {
        var key = string.Create(CultureInfo.InvariantCulture, $"{what}{run["_id"].AsInt64}");
        changed[key] = Document(key, run["machine"].IsNull ? "" : run["machine"].AsString, sequence, line);
    }

    private static string Owner(ReadOnlyMemory<byte> line) => JournalLine.Read(line).Match(PresentKey.Owner, _ => "");

    private static BsonDocument Document(string key, string owner, long sequence, ReadOnlyMemory<byte> line) =>
        new() { ["_id"] = key, ["owner"] = owner, ["sequence"] = sequence, ["line"] = line.ToArray() };
}
