using System.Text.Json;

namespace Commission.Core.History;

/// <summary>Writes what an entry says: its type word and its own properties, then those that all entries may have.</summary>
internal static class EntryWriter
{
    internal static void Write(Utf8JsonWriter json, EntryBody body)
    {
        json.WriteString("type", TypeOf(body));
        WriteOwn(json, body);
        json.Put("machine", body.Machine);
        json.Put("operator", body.Operator);
        json.Put("run", body.Run);
    }

    /// <summary>The type word of the contract.</summary>
    internal static string TypeOf(EntryBody body) => body switch
    {
        EntryBody.StoreBorn => "store-born",
        EntryBody.MachineDescribed => "machine",
        EntryBody.InstrumentDescribed => "instrument",
        EntryBody.OperatorEntered => "operator",
        EntryBody.StudyMade => "study",
        EntryBody.RunStarted => "run-started",
        EntryBody.Confirmed => "confirmed",
        EntryBody.Checked => "checked",
        EntryBody.Skipped => "skipped",
        EntryBody.ReadingTaken => "reading",
        EntryBody.Superseded => "superseded",
        EntryBody.Excluded => "excluded",
        EntryBody.Noted => "noted",
        EntryBody.FindingMade => "finding",
        EntryBody.Withdrawn => "withdrawn",
        EntryBody.ChangeTold => "change",
        EntryBody.SettingsSaved => "settings-saved",
        EntryBody.SettingWritten => "setting-written",
        EntryBody.Moved => "moved",
        EntryBody.Stopped => "stopped",
        EntryBody.RunEnded => "run-ended",
        _ => throw new ArgumentException("an entry of an unknown type is kept as it stands, never written", nameof(body)),
    };

    private static void WriteOwn(Utf8JsonWriter json, EntryBody body)
    {
        switch (body)
        {
            case EntryBody.StoreBorn born:
                json.Put("nature", JournalWords.Nature[born.Nature]);
                json.Put("store", born.Store);
                json.Put("program", born.Program);
                break;
            case EntryBody.MachineDescribed described:
                json.PutObject("description", () => MachineJson.Write(json, described.Description));
                json.WriteBoolean("retired", described.Retired);
                break;
            case EntryBody.InstrumentDescribed described:
                json.PutObject("description", () => MachineJson.Write(json, described.Description));
                json.WriteBoolean("retired", described.Retired);
                break;
            case EntryBody.OperatorEntered entered:
                json.Put("handle", entered.Handle);
                break;
            case EntryBody.StudyMade made:
                json.PutObject("study", () => MachineJson.Write(json, made.Study));
                break;
            case EntryBody.ReadingTaken taken:
                WriteReading(json, taken);
                break;
            case EntryBody.FindingMade made:
                WriteFinding(json, made);
                break;
            case EntryBody.ChangeTold or EntryBody.SettingsSaved or EntryBody.SettingWritten or EntryBody.Moved or EntryBody.Stopped:
                WriteMachineLife(json, body);
                break;
            default:
                WriteRunLife(json, body);
                break;
        }
    }

    private static void WriteRunLife(Utf8JsonWriter json, EntryBody body)
    {
        switch (body)
        {
            case EntryBody.RunStarted started:
                json.Put("procedure", started.Procedure);
                json.Put("procedureHash", started.ProcedureHash);
                json.Put("axis", started.Axis);
                json.Put("instrument", started.Instrument);
                json.Put("seed", started.Seed);
                json.PutObject("options", () => WriteTexts(json, started.Options));
                break;
            case EntryBody.Confirmed confirmed:
                json.Put("step", confirmed.Step);
                json.Put("answer", confirmed.Answer);
                break;
            case EntryBody.Checked made:
                json.Put("step", made.Step);
                json.Put("check", made.Check);
                json.Put("typed", made.Typed);
                json.Put("value", made.Value);
                json.Put("unit", made.Unit);
                json.Put("limit", made.Limit);
                json.Put("source", made.Source);
                json.WriteBoolean("passed", made.Passed);
                break;
            case EntryBody.Skipped skipped:
                json.Put("step", skipped.Step);
                json.Put("check", skipped.Check);
                json.Put("reason", skipped.Reason);
                break;
            case EntryBody.Superseded superseded:
                json.Put("reading", superseded.Reading);
                json.Put("by", superseded.By);
                json.Put("reason", superseded.Reason);
                break;
            case EntryBody.Excluded excluded:
                json.Put("reading", excluded.Reading);
                json.Put("reason", excluded.Reason);
                break;
            case EntryBody.Noted noted:
                json.Put("about", noted.About);
                json.Put("text", noted.Text);
                break;
            case EntryBody.Withdrawn withdrawn:
                json.Put("finding", withdrawn.Finding);
                json.Put("reason", withdrawn.Reason);
                break;
            case EntryBody.RunEnded ended:
                json.Put("how", ended.How);
                json.Put("reason", ended.Reason);
                break;
        }
    }

    private static void WriteMachineLife(Utf8JsonWriter json, EntryBody body)
    {
        switch (body)
        {
            case EntryBody.ChangeTold told:
                json.Put("change", told.Change);
                json.Put("axis", told.Axis);
                json.Put("text", told.Text);
                break;
            case EntryBody.SettingsSaved saved:
                json.Put("dialect", saved.Dialect);
                json.PutEach("settings", saved.Settings, setting => WriteSetting(json, setting));
                break;
            case EntryBody.SettingWritten written:
                json.Put("key", written.Key);
                json.Put("name", written.Name);
                json.Put("axis", written.Axis);
                json.Put("before", written.Before);
                json.Put("after", written.After);
                json.Put("readBack", written.ReadBack);
                json.Put("stage", written.Stage);
                break;
            case EntryBody.Moved moved:
                json.Put("step", moved.Step);
                json.Put("move", moved.Move);
                break;
            case EntryBody.Stopped stopped:
                json.Put("why", stopped.Why);
                json.Put("answer", stopped.Answer);
                break;
        }
    }

    private static void WriteReading(Utf8JsonWriter json, EntryBody.ReadingTaken taken)
    {
        json.Put("recorded", (long?)taken.Recorded);
        json.Put("place", taken.Place);
        json.Put("typed", taken.Typed);
        json.PutObject("understood", () =>
        {
            json.Put("value", taken.Value);
            json.Put("unit", taken.Unit);
        });
        json.Put("step", taken.Step);
        json.Put("cell", (long?)taken.Cell);
        json.PutObject("given", () =>
        {
            foreach (var (name, value) in taken.Given)
                json.Put(name, value);
        });
        json.PutObject("words", () => WriteTexts(json, taken.Words));
        json.Put("instrument", taken.Instrument);
    }

    private static void WriteFinding(Utf8JsonWriter json, EntryBody.FindingMade made)
    {
        json.Put("characteristic", made.Characteristic);
        json.Put("axis", made.Axis);
        json.Put("place", made.Place);
        json.PutEach("readings", made.Readings, json.WriteNumberValue);
        json.Put("instrument", made.Instrument);
        json.Put("configuration", made.Configuration);
        json.PutObject("finding", () => FindingJson.Write(json, made.Finding));
        json.PutObject("options", () => FindingJson.Write(json, made.Options));
    }

    private static void WriteSetting(Utf8JsonWriter json, SavedSetting setting)
    {
        json.WriteStartObject();
        json.Put("key", setting.Key);
        json.Put("name", setting.Name);
        json.Put("unit", setting.Unit);
        json.Put("text", setting.Text);
        json.Put("value", setting.Value);
        json.WriteEndObject();
    }

    private static void WriteTexts(Utf8JsonWriter json, IEnumerable<KeyValuePair<string, string>> texts)
    {
        foreach (var (name, text) in texts)
            json.Put(name, text);
    }
}
