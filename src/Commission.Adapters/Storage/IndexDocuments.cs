using System.Globalization;
using Commission.Core.History;
using Commission.Core.Upkeep;
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
    private readonly ILiteCollection<BsonDocument> events;
    private readonly ILiteCollection<BsonDocument> machines;
    private readonly ILiteCollection<BsonDocument> about;

    internal IndexDocuments(LiteDatabase database, bool write)
    {
        findings = database.GetCollection("findings");
        runs = database.GetCollection("runs");
        events = database.GetCollection("events");
        machines = database.GetCollection("machines");
        about = database.GetCollection("about");
        if (!write)
            return;
        findings.EnsureIndex("key");
        runs.EnsureIndex("machine");
        events.EnsureIndex("machine");
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
                newFindings[entry.Sequence] = Finding(entry, made, made.Run is long of && changedRuns.TryGetValue(of, out var own) ? own : null);
            if (entry.Body is EntryBody.MachineDescribed described)
                machines.Upsert(new BsonDocument { ["_id"] = described.Description.Name, ["retired"] = described.Retired });
            if (UpkeepFold.Happened(entry) is { } happened)
                events.Upsert(Event(happened));
            if (entry.Body is EntryBody.Withdrawn taken)
                events.Delete(taken.Finding);
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

    internal IReadOnlyList<string> Machines => [.. machines.FindAll().Where(document => !document["retired"].AsBoolean).Select(document => document["_id"].AsString)];

    internal UpkeepFold Series(string machine, IEnumerable<string> characteristics) => UpkeepFold.Of(
        characteristics.SelectMany(word => findings.Find(Query.StartsWith("key", $"{machine}\u001f{word}\u001f")))
            .Where(document => !document["withdrawn"].AsBoolean && !document["item"].IsNull).OrderBy(document => document["_id"].AsInt64).Select(document => Kept(machine, document)),
        events.Find(Query.EQ("machine", machine)).OrderBy(document => document["_id"].AsInt64).Select(Event));

    private static (ResultKey, KeptResult) Kept(string machine, BsonDocument document) => (
        new ResultKey(machine, document["item"].AsString, Word(document["axis"]), Word(document["place"])),
        new KeptResult(document["_id"].AsInt64, new DateTimeOffset(document["measured"].AsInt64, TimeSpan.FromMinutes(document["measuredOffset"].AsInt32)), Number(document["value"]), Number(document["expanded"]))
        {
            Adopted = document["adopted"].AsBoolean,
            Number = document["kind"].IsNull ? null : new KeptNumber(
                document["kind"].AsString, document["parameter"].AsString, document["unit"].AsString, Number(document["fresh"]), Number(document["shared"]), Number(document["factor"]),
                Word(document["instrument"]), Number(document["limit"]), Word(document["limitTyped"])),
        });

    private static BsonDocument Event(KeptEvent happened) => new()
    {
        ["_id"] = happened.Sequence, ["machine"] = happened.Machine, ["axis"] = happened.Axis, ["change"] = happened.Change, ["relative"] = Maybe(happened.Relative),
        ["text"] = happened.Text, ["ticks"] = happened.At.Ticks, ["offset"] = (int)happened.At.Offset.TotalMinutes,
    };

    private static KeptEvent Event(BsonDocument document) => new(
        document["_id"].AsInt64, Word(document["machine"]), Word(document["axis"]), document["change"].AsString, Number(document["relative"])) { At = At(document), Text = document["text"].AsString };

    private static string? Word(BsonValue value) => value.IsNull ? null : value.AsString;

    private static BsonDocument Run(JournalEntry entry, EntryBody.RunStarted started) => Dated(entry, new BsonDocument
    {
        ["machine"] = started.Machine, ["procedure"] = started.Procedure, ["axis"] = started.Axis, ["last"] = entry.Sequence, ["readings"] = 0, ["ended"] = BsonValue.Null,
    });

    private static BsonDocument GoOn(BsonDocument run, JournalEntry entry)
    {
        run["last"] = entry.Sequence;
        run["ended"] = entry.Body is EntryBody.RunEnded ended ? ended.How : BsonValue.Null;
        if (entry.Body is EntryBody.ReadingTaken)
        {
            run["readings"] = run["readings"].AsInt32 + 1;
            run["read"] = entry.At.Ticks;
            run["readOffset"] = (int)entry.At.Offset.TotalMinutes;
        }

        return run;
    }

    private static BsonDocument Finding(JournalEntry entry, EntryBody.FindingMade made, BsonDocument? run)
    {
        var measured = run is not null && !run["read"].IsNull ? new DateTimeOffset(run["read"].AsInt64, TimeSpan.FromMinutes(run["readOffset"].AsInt32)) : entry.At;
        var kept = UpkeepFold.Kept(entry, made, measured, run?["procedure"].AsString);
        var number = kept?.Result.Number;
        var headline = made.Finding.Parameters.IsDefaultOrEmpty ? null : made.Finding.Headline;
        var key = Key(made.Machine, made.Characteristic, made.Axis, made.Place);
        return Dated(entry, new BsonDocument
        {
            ["key"] = string.Create(CultureInfo.InvariantCulture, $"{key}{entry.Sequence:D12}"),
            ["value"] = Maybe(headline?.Value), ["expanded"] = Maybe(headline?.ExpandedUncertainty), ["unit"] = headline?.Unit ?? "", ["method"] = made.Finding.Method,
            ["first"] = made.Readings.IsDefaultOrEmpty ? BsonValue.Null : made.Readings.Min(), ["last"] = made.Readings.IsDefaultOrEmpty ? BsonValue.Null : made.Readings.Max(),
            ["withdrawn"] = false,
            ["item"] = kept?.Key.Item, ["axis"] = kept?.Key.Axis, ["place"] = kept?.Key.Place, ["adopted"] = kept?.Result.Adopted ?? false,
            ["measured"] = measured.Ticks, ["measuredOffset"] = (int)measured.Offset.TotalMinutes,
            ["kind"] = number?.Kind, ["parameter"] = number?.Parameter, ["fresh"] = Maybe(number?.Fresh), ["shared"] = Maybe(number?.Shared), ["factor"] = Maybe(number?.CoverageFactor),
            ["instrument"] = number?.Instrument, ["limit"] = Maybe(number?.Limit), ["limitTyped"] = number?.LimitTyped,
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
