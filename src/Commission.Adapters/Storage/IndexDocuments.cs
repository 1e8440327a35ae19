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
/// <param name="Count">Number of entries: fewer than the sequence where some are damaged or missing.</param>
/// <param name="Latest">The latest instant of an entry; a clock may have been set back.</param>
internal sealed record IndexTip(int Version, string Store, long Sequence, string Hash, long Count, DateTimeOffset Latest);

/// <summary>The documents of the index, by hand: no mapper, no reflection. Instants are ticks with their offset, since the library cuts dates to milliseconds.</summary>
internal sealed class IndexDocuments
{
    private const char Between = '\u001f';
    private const long Now = long.MaxValue;

    private readonly ILiteCollection<BsonDocument> findings;
    private readonly ILiteCollection<BsonDocument> runs;
    private readonly ILiteCollection<BsonDocument> events;
    private readonly ILiteCollection<BsonDocument> machines;
    private readonly ILiteCollection<BsonDocument> about;
    private readonly ILiteCollection<BsonDocument> results;
    private readonly ILiteCollection<BsonDocument> marks;
    private readonly ILiteCollection<BsonDocument> instants;
    private readonly PresentDocuments present;

    internal IndexDocuments(LiteDatabase database, bool write)
    {
        findings = database.GetCollection("findings");
        runs = database.GetCollection("runs");
        events = database.GetCollection("events");
        machines = database.GetCollection("machines");
        about = database.GetCollection("about");
        results = database.GetCollection("results");
        marks = database.GetCollection("marks");
        instants = database.GetCollection("instants");
        present = new PresentDocuments(database, write);
        if (!write)
            return;
        findings.EnsureIndex("key");
        findings.EnsureIndex("series");
        findings.EnsureIndex("bears");
        findings.EnsureIndex("gone");
        marks.EnsureIndex("reading");
        results.EnsureIndex("series");
        runs.EnsureIndex("machine");
        runs.EnsureIndex("open");
        events.EnsureIndex("machine");
        events.EnsureIndex("hand");
    }

    internal IndexTip? Tip
    {
        get => about.FindById("tip") is { } tip
            ? new IndexTip(tip["version"].AsInt32, tip["store"].AsString, tip["sequence"].AsInt64, tip["hash"].AsString, Count(tip), tip["latest"].IsNull ? default : new DateTimeOffset(tip["latest"].AsInt64, TimeSpan.Zero))
            : null;
        set => about.Upsert(new BsonDocument
        {
            ["_id"] = "tip", ["version"] = value!.Version, ["store"] = value.Store, ["sequence"] = value.Sequence, ["hash"] = value.Hash,
            ["count"] = value.Count, ["latest"] = value.Latest.UtcTicks,
        });
    }

    /// <summary>Takes in entries that follow on what is known.</summary>
    /// <param name="lines">Entries with their lines, in order.</param>
    /// <param name="lineOf">Finds the line of an older entry.</param>
    internal void Take(IReadOnlyList<(ReadOnlyMemory<byte> Line, JournalEntry Entry)> lines, Func<long, ReadOnlyMemory<byte>?> lineOf)
    {
        var newFindings = new Dictionary<long, BsonDocument>();
        var changedRuns = new Dictionary<long, BsonDocument>();
        foreach (var (line, entry) in lines)
        {
            var run = RunOf(entry, changedRuns);
            if (entry.Body is EntryBody.FindingMade made)
                newFindings[entry.Sequence] = Finding(entry, made, run);
            if (entry.Body is EntryBody.MachineDescribed described)
                machines.Upsert(new BsonDocument { ["_id"] = described.Description.Name, ["retired"] = described.Retired });
            if (UpkeepFold.Happened(entry) is { } happened)
                events.Upsert(Event(happened));
            if (ResultWithoutFinding(entry, run) is { } plain)
                results.Upsert(plain);
            if (entry.Body is EntryBody.Superseded or EntryBody.Excluded)
                marks.Upsert(Mark(entry));
            present.Take(entry, line, run, lineOf);
            if (entry.Body is EntryBody.Withdrawn withdrawn)
                Withdraw(withdrawn.Finding, entry.Sequence, newFindings, lineOf);
        }

        findings.Upsert(newFindings.Values);
        runs.Upsert(changedRuns.Values);
        present.Flush();
    }

    internal IReadOnlyList<IndexedFinding> Trend(string machine, string characteristic, string? axis, string? place) =>
    [
        .. findings.Find(Query.StartsWith("key", Key(machine, characteristic, axis, place)))
            .Where(document => Counts(document))
            .OrderBy(document => document["_id"].AsInt64)
            .Select(document => new IndexedFinding(
                document["_id"].AsInt64, At(document), Number(document["value"]), Number(document["expanded"]), document["unit"].AsString, document["method"].AsString,
                document["first"].IsNull ? null : document["first"].AsInt64, document["last"].IsNull ? null : document["last"].AsInt64)),
    ];

    internal IReadOnlyList<FindingMark> Findings(string machine) =>
    [
        .. findings.Find(Query.StartsWith("key", Series(machine))).Select(document => new FindingMark(document["_id"].AsInt64, Counts(document))).OrderBy(mark => mark.Sequence),
    ];

    internal IReadOnlyList<IndexedRun> Runs(string machine) =>
    [
        .. runs.Find(Query.EQ("machine", machine)).OrderBy(document => document["_id"].AsInt64).Select(document => new IndexedRun(
            document["_id"].AsInt64, document["last"].AsInt64, At(document), document["procedure"].AsString, document["axis"].IsNull ? null : document["axis"].AsString,
            document["readings"].AsInt32, document["ended"].IsNull ? null : document["ended"].AsString)),
    ];

    internal IReadOnlyList<string> Machines => [.. machines.FindAll().Where(document => !document["retired"].AsBoolean).Select(document => document["_id"].AsString)];

    /// <summary>Results and events of one item: of the machine, and of hands and instruments, which belong to none.</summary>
    internal UpkeepFold Series(string machine, string item) => UpkeepFold.Of(Kept(Now, Series(machine) + item + Between, Series("") + item + Between), Events(machine, Now), []);

    /// <summary>Results and events of all items, with the open runs.</summary>
    /// <param name="machine">The machine.</param>
    /// <param name="open">Descriptions of machines, and the entries of the open runs.</param>
    /// <param name="at">The last entry that is known of.</param>
    internal UpkeepFold Upkeep(string machine, IEnumerable<JournalEntry> open, long at = Now) => UpkeepFold.Of(
        machine.Length == 0 ? Kept(at, Series("")) : Kept(at, Series(machine), Series("")), Events(machine, at), open);

    /// <summary>Lines of the entries that bear on the present.</summary>
    internal IEnumerable<byte[]> Present(string machine) => present.Lines(machine);

    /// <summary>Entries that bore on the present when an entry was the last one.</summary>
    internal IEnumerable<long> Present(string machine, long at) => present.At(machine, at);

    /// <summary>Remembers the latest instant of all entries up to one.</summary>
    internal void Reached(long sequence, DateTimeOffset latest) => instants.Upsert(new BsonDocument { ["_id"] = sequence, ["latest"] = latest.UtcTicks });

    /// <summary>An entry up to which none is later than an instant, near the last such; 0 where none is remembered.</summary>
    internal long NotAfter(DateTimeOffset instant) => instants.Find(Query.LTE("latest", instant.UtcTicks)).Select(document => document["_id"].AsInt64).DefaultIfEmpty(0).Max();

    /// <summary>First and last entry of the newest run that can be taken up again, for each procedure and axis.</summary>
    internal IReadOnlyList<(long First, long Last)> OpenRuns(string machine) =>
    [
        .. runs.Find(Query.EQ("open", machine)).GroupBy(run => (run["procedure"].AsString, Word(run["axis"])))
            .Select(same => same.MaxBy(run => run["_id"].AsInt64)!).Select(run => (run["_id"].AsInt64, run["last"].AsInt64)).Order(),
    ];

    /// <summary>First and last entry of a run of a machine; null where it has no such run.</summary>
    internal (long First, long Last)? Span(string machine, long run) =>
        runs.FindById(run) is { } found && Word(found["machine"]) == machine ? (run, found["last"].AsInt64) : null;

    /// <summary>Sequences of a machine's findings that were withdrawn.</summary>
    /// <param name="machine">The machine.</param>
    /// <param name="at">The last entry that is known of.</param>
    internal IEnumerable<long> Withdrawn(string machine, long at) =>
        findings.Find(Query.EQ("gone", machine)).Where(document => document["until"].AsInt64 <= at).Select(document => document["_id"].AsInt64);

    /// <summary>Entries that leave readings within a range out, or put others in their place.</summary>
    internal IEnumerable<(long Entry, long Reading)> Marks(long first, long last) =>
        marks.Find(Query.Between("reading", first, last)).Select(document => (document["_id"].AsInt64, document["reading"].AsInt64));

    private IEnumerable<(ResultKey, KeptResult)> Kept(long at, params string[] series) => series
        .SelectMany(begins => findings.Find(Query.StartsWith("series", begins)).Concat(results.Find(Query.StartsWith("series", begins))))
        .Where(document => Counts(document, at)).OrderBy(document => document["_id"].AsInt64).Select(Kept);

    private IEnumerable<KeptEvent> Events(string machine, long at) => events.Find(Query.EQ("machine", machine)).Concat(events.Find(Query.EQ("hand", true)))
        .Where(document => Counts(document, at)).DistinctBy(document => document["_id"].AsInt64).OrderBy(document => document["_id"].AsInt64).Select(Event);

    // Whether it was there and not withdrawn when an entry was the last one.
    private static bool Counts(BsonDocument document, long at = Now) => document["_id"].AsInt64 <= at && (document["until"].AsInt64 == 0 || document["until"].AsInt64 > at);

    // The run an entry belongs to, gone on with it.
    private BsonDocument? RunOf(JournalEntry entry, Dictionary<long, BsonDocument> changed)
    {
        if (entry.Body is EntryBody.RunStarted started)
            return changed[entry.Sequence] = Run(entry, started);
        return entry.Body.Run is long number && (changed.TryGetValue(number, out var run) || (run = runs.FindById(number)) is not null) ? changed[number] = GoOn(run, entry) : null;
    }

    private static BsonDocument? ResultWithoutFinding(JournalEntry entry, BsonDocument? run)
    {
        if (entry.Body is EntryBody.StudyMade made)
            return Result(UpkeepFold.Kept(entry, made));
        if (entry.Body is not EntryBody.RunEnded { How: "completed" } || run is null || run["over"].AsInt64 != entry.Sequence || run["found"].AsBoolean)
            return null;
        return UpkeepFold.Kept(entry, (Word(run["machine"]), run["procedure"].AsString, Word(run["axis"])), Read(run), SkipIn(run)) is { } kept ? Result(kept) : null;
    }

    private void Withdraw(long named, long at, Dictionary<long, BsonDocument> newFindings, Func<long, ReadOnlyMemory<byte>?> lineOf)
    {
        foreach (var kept in (ILiteCollection<BsonDocument>[])[events, results])
        {
            if (kept.FindById(named) is { } taken)
                kept.Update(Gone(taken, at));
        }

        if (!newFindings.TryGetValue(named, out var finding) && (finding = findings.FindById(named)) is null)
            return;
        Gone(finding, at);
        finding["gone"] = finding["key"].AsString[..finding["key"].AsString.IndexOf(Between)];
        newFindings[named] = finding;

        // The one before counts again.
        var key = finding["bears"].AsString;
        var before = newFindings.Values.Where(other => other["bears"].AsString == key)
            .Concat(findings.Find(Query.EQ("bears", key)).Where(other => !newFindings.ContainsKey(other["_id"].AsInt64)))
            .Where(other => Counts(other)).MaxBy(other => other["_id"].AsInt64)?["_id"].AsInt64;
        present.Replace(key, before is { } sequence ? (sequence, lineOf(sequence)) : null, at);
    }

    private static BsonDocument Gone(BsonDocument document, long at)
    {
        if (document["until"].AsInt64 == 0)
            document["until"] = at;
        return document;
    }

    private static (ResultKey, KeptResult) Kept(BsonDocument document) => (
        new ResultKey(document["owner"].AsString, document["item"].AsString, Word(document["axis"]), Word(document["place"])),
        new KeptResult(document["_id"].AsInt64, new DateTimeOffset(document["measured"].AsInt64, TimeSpan.FromMinutes(document["measuredOffset"].AsInt32)), Number(document["value"]), Number(document["expanded"]))
        {
            Adopted = document["adopted"].AsBoolean, NoResult = Word(document["noResult"]),
            Skipped = document["skipped"].IsNull ? null : new KeptSkip(document["skipped"].AsInt64, document["skippedWords"].AsString),
            Number = document["kind"].IsNull ? null : new KeptNumber(
                document["kind"].AsString, document["parameter"].AsString, document["unit"].AsString, Number(document["fresh"]), Number(document["shared"]), Number(document["factor"]),
                Word(document["instrument"]), Number(document["limit"]), Word(document["limitTyped"])),
        });

    private static BsonDocument Event(KeptEvent happened) => new()
    {
        ["_id"] = happened.Sequence, ["machine"] = happened.Machine, ["axis"] = happened.Axis, ["change"] = happened.Change, ["relative"] = Maybe(happened.Relative), ["until"] = 0L,
        ["hand"] = StaleTable.Find(happened.Change)?.Items.Contains("gauge-study") == true,
        ["text"] = happened.Text, ["ticks"] = happened.At.Ticks, ["offset"] = (int)happened.At.Offset.TotalMinutes,
    };

    private static KeptEvent Event(BsonDocument document) => new(
        document["_id"].AsInt64, Word(document["machine"]), Word(document["axis"]), document["change"].AsString, Number(document["relative"]))
    { At = At(document), Text = document["text"].AsString };

    private static BsonDocument Mark(JournalEntry entry) => new()
    {
        ["_id"] = entry.Sequence, ["reading"] = entry.Body is EntryBody.Excluded excluded ? excluded.Reading : ((EntryBody.Superseded)entry.Body).Reading,
    };

    // An older form of the index does not have it; its version tells.
    private static long Count(BsonDocument tip) => tip["count"].IsNull ? 0 : tip["count"].AsInt64;

    private static string? Word(BsonValue value) => value.IsNull ? null : value.AsString;

    private static BsonDocument Run(JournalEntry entry, EntryBody.RunStarted started) => Dated(entry, new BsonDocument
    {
        ["machine"] = started.Machine, ["procedure"] = started.Procedure, ["axis"] = started.Axis, ["last"] = entry.Sequence, ["readings"] = 0, ["ended"] = BsonValue.Null,
        ["open"] = started.Machine, ["over"] = 0L, ["end"] = 0L, ["found"] = false, ["kept"] = false,
    });

    private static BsonDocument GoOn(BsonDocument run, JournalEntry entry)
    {
        run["last"] = entry.Sequence;
        var how = (entry.Body as EntryBody.RunEnded)?.How;
        run["ended"] = how;

        // As in the ledger: what was put aside is open again with the next entry, what was completed or given up is not.
        if (how is not null)
            (run["open"], run["end"]) = (how == "put-aside" ? run["machine"] : BsonValue.Null, entry.Sequence);
        if (how == "completed" && run["over"].AsInt64 == 0)
            run["over"] = entry.Sequence;
        if (entry.Body is EntryBody.ReadingTaken)
        {
            run["readings"] = run["readings"].AsInt32 + 1;
            run["read"] = entry.At.Ticks;
            run["readOffset"] = (int)entry.At.Offset.TotalMinutes;
        }

        if (entry.Body is EntryBody.Skipped { Check: { } check } skipped)
            WithSkip(run, KeyIn(run, check, skipped.Step), entry.Sequence, skipped.Reason);
        if (entry.Body is EntryBody.Checked { Passed: true } made)
            WithSkip(run, KeyIn(run, made.Check, made.Step), 0, "");
        return run;
    }

    private static CheckKey KeyIn(BsonDocument run, string check, string step) => CheckKey.Of(check, step, run["procedure"].AsString, Word(run["axis"]));

    // As in the fold: the same check, passed in the same run, makes its skip good.
    private static void WithSkip(BsonDocument run, CheckKey key, long sequence, string reason)
    {
        var others = run["skips"] is BsonArray known ? known.Where(skip => skip["key"].AsString != key.ToString()) : [];
        run["skips"] = new BsonArray(sequence == 0 ? others : others.Append(new BsonDocument { ["key"] = key.ToString(), ["sequence"] = sequence, ["words"] = KeptSkip.Of(sequence, key, reason).Words }));
    }

    private static KeptSkip? SkipIn(BsonDocument run) => run["skips"] is BsonArray { Count: > 0 } known ? new KeptSkip(known[0]["sequence"].AsInt64, known[0]["words"].AsString) : null;

    private static BsonDocument Finding(JournalEntry entry, EntryBody.FindingMade made, BsonDocument? run)
    {
        // What comes after the end of its run stands for itself.
        var within = run?["over"].AsInt64 == 0 ? run : null;
        var kept = UpkeepFold.Kept(entry, made, (within is null ? null : Read(within)) ?? entry.At, within?["procedure"].AsString);
        if (kept is not null && within is not null)
            within["found"] = true;
        var headline = made.Finding.HeadlineIfAny();
        var document = kept is { } result ? Result(result) : new BsonDocument { ["value"] = Maybe(headline?.Value), ["expanded"] = Maybe(headline?.ExpandedUncertainty), ["until"] = 0L };
        document["key"] = string.Create(CultureInfo.InvariantCulture, $"{Key(made.Machine, made.Characteristic, made.Axis, made.Place)}{entry.Sequence:D12}");
        (document["unit"], document["method"]) = (headline?.Unit ?? "", made.Finding.Method);
        document["first"] = made.Readings.IsDefaultOrEmpty ? BsonValue.Null : made.Readings.Min();
        document["last"] = made.Readings.IsDefaultOrEmpty ? BsonValue.Null : made.Readings.Max();
        document["bears"] = PresentKey.Of(entry, null, null);
        return Dated(entry, document);
    }

    // Also of a run or a study that left no finding.
    private static BsonDocument Result((ResultKey Key, KeptResult Result) kept)
    {
        var (key, result) = kept;
        var number = result.Number;
        return new BsonDocument
        {
            ["_id"] = result.Sequence, ["owner"] = key.Machine, ["item"] = key.Item, ["axis"] = key.Axis, ["place"] = key.Place, ["adopted"] = result.Adopted, ["noResult"] = result.NoResult, ["until"] = 0L,
            ["series"] = string.Create(CultureInfo.InvariantCulture, $"{Series(key.Machine)}{key.Item}{Between}{result.Sequence:D12}"),
            ["value"] = Maybe(result.Value), ["expanded"] = Maybe(result.Expanded), ["skipped"] = result.Skipped?.Sequence, ["skippedWords"] = result.Skipped?.Words,
            ["measured"] = result.MeasuredAt.Ticks, ["measuredOffset"] = (int)result.MeasuredAt.Offset.TotalMinutes,
            ["kind"] = number?.Kind, ["parameter"] = number?.Parameter, ["unit"] = number?.Unit, ["fresh"] = Maybe(number?.Fresh), ["shared"] = Maybe(number?.Shared), ["factor"] = Maybe(number?.CoverageFactor),
            ["instrument"] = number?.Instrument, ["limit"] = Maybe(number?.Limit), ["limitTyped"] = number?.LimitTyped,
        };
    }

    private static DateTimeOffset? Read(BsonDocument run) =>
        run["read"].IsNull ? null : new DateTimeOffset(run["read"].AsInt64, TimeSpan.FromMinutes(run["readOffset"].AsInt32));

    private static string Series(string owner) => owner + Between;

    // A control character cannot be typed into a name, so that no two keys run together.
    private static string Key(string? machine, string characteristic, string? axis, string? place) => $"{machine}{Between}{characteristic}{Between}{axis}{Between}{place}{Between}";

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
