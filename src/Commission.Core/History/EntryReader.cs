using System.Collections.Immutable;

namespace Commission.Core.History;

/// <summary>Reads what an entry says. Strict: a property that its type does not have is an error, a type this version does not have is not.</summary>
internal static class EntryReader
{
    internal static EntryBody Read(string type, JsonFields fields)
    {
        if (ReadOwn(type, fields) is not { } body)
            return new EntryBody.Unknown(type);
        var whole = body with { Machine = fields.MaybeText("machine"), Operator = fields.MaybeText("operator"), Run = fields.MaybeWhole("run") };
        fields.Close();
        return whole;
    }

    private static EntryBody? ReadOwn(string type, JsonFields fields) => type switch
    {
        "store-born" => new EntryBody.StoreBorn(fields.Word("nature", JournalWords.Nature), fields.Text("store"), fields.Text("program")),
        "machine" => new EntryBody.MachineDescribed(fields.Object("description", MachineJson.Read), fields.Flag("retired")),
        "instrument" => new EntryBody.InstrumentDescribed(fields.Object("description", MachineJson.ReadInstrument), fields.Flag("retired")),
        "operator" => new EntryBody.OperatorEntered(fields.Text("handle")),
        "study" => new EntryBody.StudyMade(fields.Object("study", MachineJson.ReadStudy)),
        "run-started" => ReadStart(fields),
        "confirmed" => new EntryBody.Confirmed(fields.Text("step"), fields.Text("answer")),
        "checked" => ReadCheck(fields),
        "skipped" => new EntryBody.Skipped(fields.Text("step"), fields.MaybeText("check"), fields.Text("reason")),
        "reading" => ReadReading(fields),
        "superseded" => new EntryBody.Superseded(fields.Whole("reading"), fields.MaybeWhole("by"), fields.Text("reason")),
        "excluded" => new EntryBody.Excluded(fields.Whole("reading"), fields.Text("reason")),
        "noted" => new EntryBody.Noted(fields.MaybeWhole("about"), fields.Text("text")),
        "finding" => ReadFinding(fields),
        "withdrawn" => new EntryBody.Withdrawn(fields.Whole("finding"), fields.Text("reason")),
        "change" => new EntryBody.ChangeTold(fields.Text("change"), fields.MaybeText("axis"), fields.Text("text")),
        "settings-saved" => new EntryBody.SettingsSaved(fields.Text("dialect"), fields.Each("settings", ReadSetting)),
        "setting-written" => ReadWrite(fields),
        "moved" => new EntryBody.Moved(fields.MaybeText("step"), fields.Text("move")),
        "stopped" => new EntryBody.Stopped(fields.Text("why"), fields.MaybeText("answer")),
        "run-ended" => new EntryBody.RunEnded(fields.Text("how"), fields.MaybeText("reason")),
        _ => null,
    };

    private static EntryBody.RunStarted ReadStart(JsonFields fields) => new()
    {
        Procedure = fields.Text("procedure"),
        ProcedureHash = fields.Text("procedureHash"),
        Axis = fields.MaybeText("axis"),
        Instrument = fields.MaybeText("instrument"),
        Seed = fields.Whole("seed"),
        Options = fields.TextsByName("options").ToImmutableSortedDictionary(StringComparer.Ordinal),
    };

    private static EntryBody.Checked ReadCheck(JsonFields fields) => new()
    {
        Step = fields.Text("step"),
        Check = fields.Text("check"),
        Typed = fields.Text("typed"),
        Value = fields.MaybeNumber("value"),
        Unit = fields.MaybeText("unit"),
        Limit = fields.Text("limit"),
        Source = fields.MaybeText("source"),
        Passed = fields.Flag("passed"),
    };

    private static EntryBody.ReadingTaken ReadReading(JsonFields fields)
    {
        var recorded = fields.Int("recorded");
        var (place, typed) = (fields.Text("place"), fields.Text("typed"));
        var understood = fields.Object("understood", inside => new Understood(inside.Number("value"), inside.Text("unit")));
        return new EntryBody.ReadingTaken
        {
            Recorded = recorded,
            Place = place,
            Typed = typed,
            Value = understood?.Value ?? 0,
            Unit = understood?.Unit ?? "",
            Step = fields.Text("step"),
            Cell = fields.Int("cell"),
            Given = fields.NumbersByName("given").ToImmutableSortedDictionary(StringComparer.Ordinal),
            Words = fields.TextsByName("words").ToImmutableSortedDictionary(StringComparer.Ordinal),
            Instrument = fields.MaybeText("instrument"),
        };
    }

    private static EntryBody.FindingMade ReadFinding(JsonFields fields) => new()
    {
        Characteristic = fields.Text("characteristic"),
        Axis = fields.MaybeText("axis"),
        Place = fields.MaybeText("place"),
        Readings = fields.Wholes("readings"),
        Instrument = fields.MaybeText("instrument"),
        Configuration = fields.MaybeText("configuration"),
        Finding = fields.Object("finding", FindingJson.Read),
        Options = fields.Object("options", FindingJson.ReadOptions),
    };

    private static EntryBody.SettingWritten ReadWrite(JsonFields fields) => new()
    {
        Key = fields.MaybeText("key"),
        Name = fields.Text("name"),
        Axis = fields.MaybeText("axis"),
        Before = fields.MaybeNumber("before"),
        After = fields.Number("after"),
        ReadBack = fields.MaybeNumber("readBack"),
        Stage = fields.Text("stage"),
    };

    private static SavedSetting ReadSetting(JsonFields fields) => new(
        fields.Text("key"), fields.MaybeText("name"), fields.MaybeText("unit"), fields.Text("text"), fields.MaybeNumber("value"));

    private sealed record Understood(double Value, string Unit);
}
