using System.Globalization;
using Commission.Core.History;
using LiteDB;

namespace Commission.Adapters.Storage;

/// <summary>
/// The lines of the entries that bear on the present, by their key: a few hundred for each machine, however long its past. Each is a
/// copy of a line of the journal with its hash, so that one that was altered here shows. What another took the place of is remembered
/// by its number, so that the present of an earlier day can be told too.
/// </summary>
internal sealed class PresentDocuments
{
    private const char Between = '\u001f';
    private const long LastSpan = 999_999_999_999;

    private readonly ILiteCollection<BsonDocument> lines;
    private readonly ILiteCollection<BsonDocument> past;
    private readonly List<BsonDocument> replaced = [];
    private readonly Dictionary<string, BsonDocument?> changed = new(StringComparer.Ordinal);
    private HashSet<string>? skips;

    internal PresentDocuments(LiteDatabase database, bool write)
    {
        lines = database.GetCollection("present");
        past = database.GetCollection("past");
        if (!write)
            return;
        lines.EnsureIndex("owner");
        past.EnsureIndex("span");
    }

    /// <summary>Lines of the store as a whole and of a machine, in order.</summary>
    internal IEnumerable<byte[]> Lines(string machine) => lines.Find(Query.EQ("owner", ""))
        .Concat(machine.Length == 0 ? [] : lines.Find(Query.EQ("owner", machine)))
        .OrderBy(document => document["sequence"].AsInt64).Select(document => document["line"].AsBinary);

    /// <summary>The entries of the store as a whole and of a machine that bore on the present when an entry was the last one, in order.</summary>
    /// <param name="machine">The machine.</param>
    /// <param name="at">Sequence of that entry.</param>
    internal IEnumerable<long> At(string machine, long at) => new[] { "", machine }.Distinct()
        .SelectMany(owner => lines.Find(Query.EQ("owner", owner)).Concat(past.Find(Query.Between("span", Span(owner, at + 1), Span(owner, LastSpan)))))
        .Where(document => document["since"].AsInt64 <= at).Select(document => document["sequence"].AsInt64).Distinct().Order();

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
            Set(key, Document(key, PresentKey.Owner(entry), entry.Sequence, line), entry.Sequence);
            if (run is not null && entry.Body is EntryBody.Skipped or EntryBody.Confirmed)
                Keep(run, entry.Sequence, lineOf);
            if (run is not null && entry.Body is EntryBody.Checked)
                Beside(key, run, entry.Sequence, lineOf);
        }

        if (entry.Body is not EntryBody.RunEnded || run is null)
            return;
        if (run["kept"].AsBoolean)
            Put("ended", run, entry.Sequence, line, entry.Sequence);
        foreach (var check in Checks(run).Where(check => Of("began" + check) is { } began && began["sequence"] == run["_id"]))
            Set("ended" + check, OfRun("ended" + check, run, entry.Sequence, line), entry.Sequence);
    }

    /// <summary>Puts another line in the place of one, or none.</summary>
    /// <param name="key">The key.</param>
    /// <param name="by">The other entry; null where none counts any more.</param>
    /// <param name="at">Sequence of the entry that causes it.</param>
    internal void Replace(string key, (long Sequence, ReadOnlyMemory<byte>? Line)? by, long at) =>
        Set(key, by is { Line: { } line } before ? Document(key, Of(key)?["owner"].AsString ?? Owner(line), before.Sequence, line) : null, at);

    /// <summary>Writes what was taken in.</summary>
    internal void Flush()
    {
        past.Upsert(replaced);
        replaced.Clear();
        lines.Upsert(changed.Values.OfType<BsonDocument>());
        foreach (var (key, _) in changed.Where(pair => pair.Value is null))
            lines.Delete(key);
        changed.Clear();
    }

    // A confirmation tells nothing of the present but that it makes a skip of the same step good.
    private bool Bears(JournalEntry entry)
    {
        skips ??= [.. lines.Find(Query.StartsWith("_id", "skipped")).Select(document => document["_id"].AsString).Select(key => key[..(key.LastIndexOf(Between) + 1)])];
        if (entry.Body is EntryBody.Skipped skipped)
            skips.Add(PresentKey.Skips(skipped.Machine, skipped.Step));
        return entry.Body is not EntryBody.Confirmed confirmed || skips.Contains(PresentKey.Skips(confirmed.Machine, confirmed.Step));
    }

    // A skip belongs to a procedure and an axis, which only the beginning of its run tells; and a run that ended must not seem open.
    private void Keep(BsonDocument run, long at, Func<long, ReadOnlyMemory<byte>?> lineOf)
    {
        if (run["kept"].AsBoolean || lineOf(run["_id"].AsInt64) is not { } line)
            return;
        run["kept"] = true;
        Put("began", run, run["_id"].AsInt64, line, at);
        if (run["end"].AsInt64 is > 0 and var end && lineOf(end) is { } ended)
            Put("ended", run, end, ended, at);
    }

    // As with a skip; but checks are many: what their run tells stands beside each and goes when a newer one of the same key comes.
    private void Beside(string key, BsonDocument run, long at, Func<long, ReadOnlyMemory<byte>?> lineOf)
    {
        if (lineOf(run["_id"].AsInt64) is not { } line)
            return;
        Set("began" + key, OfRun("began" + key, run, run["_id"].AsInt64, line), at);
        Set("ended" + key, run["end"].AsInt64 is > 0 and var end && lineOf(end) is { } ended ? OfRun("ended" + key, run, end, ended) : null, at);
        if (!Checks(run).Contains(key))
            run["checks"] = new BsonArray(Checks(run).Append(key).Select(check => new BsonValue(check)));
    }

    private static IEnumerable<string> Checks(BsonDocument run) => run["checks"] is BsonArray keys ? keys.Select(key => key.AsString) : [];

    private void Put(string what, BsonDocument run, long sequence, ReadOnlyMemory<byte> line, long at)
    {
        var key = string.Create(CultureInfo.InvariantCulture, $"{what}{run["_id"].AsInt64}");
        Set(key, OfRun(key, run, sequence, line), at);
    }

    private static BsonDocument OfRun(string key, BsonDocument run, long sequence, ReadOnlyMemory<byte> line) =>
        Document(key, run["machine"].IsNull ? "" : run["machine"].AsString, sequence, line);

    private BsonDocument? Of(string key) => changed.TryGetValue(key, out var now) ? now : lines.FindById(key);

    // An index that was broken off takes the same entries again: what it kept of later ones is not their past.
    private void Set(string key, BsonDocument? document, long at)
    {
        var before = Of(key) is { } known && known["since"].AsInt64 < at ? known : null;
        var same = before is not null && document is not null && before["sequence"] == document["sequence"];
        if (document is not null)
            document["since"] = same ? before!["since"] : at;
        if (before is not null && !same)
        {
            replaced.Add(new BsonDocument
            {
                ["_id"] = string.Create(CultureInfo.InvariantCulture, $"{at:D12}{key}"), ["span"] = Span(before["owner"].AsString, at), ["sequence"] = before["sequence"], ["since"] = before["since"],
            });
        }

        changed[key] = document;
    }

    private static string Span(string owner, long until) => string.Create(CultureInfo.InvariantCulture, $"{owner}{Between}{until:D12}");

    private static string Owner(ReadOnlyMemory<byte> line) => JournalLine.Read(line).Match(PresentKey.Owner, _ => "");

    private static BsonDocument Document(string key, string owner, long sequence, ReadOnlyMemory<byte> line) =>
        new() { ["_id"] = key, ["owner"] = owner, ["sequence"] = sequence, ["line"] = line.ToArray() };
}
