using System.Globalization;
using Commission.Core.History;
using Commission.Workshop.Ports;
using LiteDB;

namespace Commission.Adapters.Storage;

/// <summary>How far an index knows the journal.</summary>
/// <param name="Version">Version of the index's own form.</param>
/// <param name="Store">Id of the store.</param>
/// <param name="Sequence">Sequence of the last entry.</param>
/// <param name="Hash">Hash of that entry.</param>
internal sealed record IndexTip(int Version, string Store, long Sequence, string Hash);

/// <summary>The documents of the index, by hand: no mapper, no reflection. Instants are ticks with their offset, since the library cuts dates to milliseconds.</summary>
internal sealed class IndexDocuments
{
    private readonly ILiteCollection<BsonDocument> findings;
    private readonly ILiteCollection<BsonDocument> runs;
    private readonly ILiteCollection<BsonDocument> about;

    internal IndexDocuments(LiteDatabase database, bool write)
    {
        findings = database.GetCollection("findings");
        runs = database.GetCollection("runs");
        about = database.GetCollection("about");
        if (!write)
            return;
        findings.EnsureIndex("key");
        runs.EnsureIndex("machine");
    }

    internal IndexTip? Tip
    {
        get => about.FindById("tip") is { } tip ? new IndexTip(tip["version"].AsInt32, tip["store"].AsString, tip["sequence"].AsInt64, tip["hash"].AsString) : null;
        set => about.Upsert(new BsonDocument { ["_id"] = "tip", ["version"] = value!.Version, ["store"] = value.Store, ["sequence"] = value.Sequence, ["hash"] = value.Hash });
    }

    internal void Take(IReadOnlyList<JournalEntry> entries)
    {
        var newFindings = new Dictionary<long, BsonDocument>();
        var changedRuns = new Dictionary<long, BsonDocument>();
        foreach (var entry in entries)
        {
            if (entry.Body is EntryBody.RunStarted started)
                changedRuns[entry.Sequence] = Run(entry, started);
            else if (entry.Body.Run is long number && (changedRuns.TryGetValue(number, out var run) || (run = runs.FindById(number)) is not null))
                changedRuns[number] = GoOn(run, entry);
            if (entry.Body is EntryBody.FindingMade made)
                newFindings[entry.Sequence] = Finding(entry, made);
            if (entry.Body is EntryBody.Withdrawn withdrawn && (newFindings.TryGetValue(withdrawn.Finding, out var finding) || (finding = findings.FindById(withdrawn.Finding)) is not null))
            {
                finding["withdrawn"] = true;
                newFindings[withdrawn.Finding] = finding;
            }
        }

        findings.Upsert(newFindings.Values);
        runs.Upsert(changedRuns.Values);
    }

    internal IReadOnlyList<IndexedFinding> Trend(string machine, string characteristic, string? axis, string? place) =>
    [
        .. findings.Find(Query.StartsWith("key", Key(machine, characteristic, axis, place)))
            .Where(document => !document["withdrawn"].AsBoolean)
            .OrderBy(document => document["_id"].AsInt64)
            .Select(document => new IndexedFinding(
                document["_id"].AsInt64, At(document), Number(document["value"]), Number(document["expanded"]), document["unit"].AsString, document["method"].AsString,
                document["first"].IsNull ? null : document["first"].AsInt64, document["last"].IsNull ? null : document["last"].AsInt64)),
    ];

    internal IReadOnlyList<IndexedRun> Runs(string machine) =>
    [
        .. runs.Find(Query.EQ("machine", machine)).OrderBy(document => document["_id"].AsInt64).Select(document => new IndexedRun(
            document["_id"].AsInt64, document["last"].AsInt64, At(document), document["procedure"].AsString, document["axis"].IsNull ? null : document["axis"].AsString,
            document["readings"].AsInt32, document["ended"].IsNull ? null : document["ended"].AsString)),
    ];

    private static BsonDocument Run(JournalEntry entry, EntryBody.RunStarted started) => Dated(entry, new BsonDocument
    {
        ["machine"] = started.Machine, ["procedure"] = started.Procedure, ["axis"] = started.Axis, ["last"] = entry.Sequence, ["readings"] = 0, ["ended"] = BsonValue.Null,
    });

    private static BsonDocument GoOn(BsonDocument run, JournalEntry entry)
    {
        run["last"] = entry.Sequence;
        run["ended"] = entry.Body is EntryBody.RunEnded ended ? ended.How : BsonValue.Null;
        if (entry.Body is EntryBody.ReadingTaken)
            run["readings"] = run["readings"].AsInt32 + 1;
        return run;
    }

    private static BsonDocument Finding(JournalEntry entry, EntryBody.FindingMade made)
    {
        var headline = made.Finding.Parameters.IsDefaultOrEmpty ? null : made.Finding.Headline;
        var key = Key(made.Machine, made.Characteristic, made.Axis, made.Place);
        return Dated(entry, new BsonDocument
        {
            ["key"] = string.Create(CultureInfo.InvariantCulture, $"{key}{entry.Sequence:D12}"),
            ["value"] = Maybe(headline?.Value), ["expanded"] = Maybe(headline?.ExpandedUncertainty), ["unit"] = headline?.Unit ?? "", ["method"] = made.Finding.Method,
            ["first"] = made.Readings.IsDefaultOrEmpty ? BsonValue.Null : made.Readings.Min(), ["last"] = made.Readings.IsDefaultOrEmpty ? BsonValue.Null : made.Readings.Max(),
            ["withdrawn"] = false,
        });
    }

    // A control character cannot be typed into a name, so that no two keys run together.
    private static string Key(string? machine, string characteristic, string? axis, string? place) => $"{machine}\u001f{characteristic}\u001f{axis}\u001f{place}\u001f";

    private static BsonDocument Dated(JournalEntry entry, BsonDocument document)
    {
        document["_id"] = entry.Sequence;
        document["ticks"] = entry.At.Ticks;
        document["offset"] = (int)entry.At.Offset.TotalMinutes;
        return document;
    }

    private static DateTimeOffset At(BsonDocument document) => new(document["ticks"].AsInt64, TimeSpan.FromMinutes(document["offset"].AsInt32));

    private static BsonValue Maybe(double? number) => number is { } value ? value : BsonValue.Null;

    private static double? Number(BsonValue value) => value.IsNull ? null : value.AsDouble;
}
