using System.Collections.Immutable;
using System.Text.Json;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Reports;

namespace Commission.Workshop.Controllers;

/// <summary>All settings of a controller at an instant, as received.</summary>
/// <param name="Dialect">Name of the dialect.</param>
/// <param name="Settings">The settings in the controller's order.</param>
public sealed record SettingsSnapshot(string Dialect, ImmutableArray<SavedSetting> Settings);

/// <summary>Settings on disk: <c>commission.settings/1</c>.</summary>
public static class SettingsFile
{
    private const string Format = "commission.settings/1";

    /// <summary>The text of a file.</summary>
    public static string Write(SettingsSnapshot snapshot) => JsonText.Of(json =>
    {
        json.Document(Format, () =>
        {
            json.WriteString("dialect", snapshot.Dialect);
            json.Objects("settings", snapshot.Settings, setting =>
            {
                json.WriteString("key", setting.Key);
                json.WriteString("name", setting.Name);
                json.WriteString("unit", setting.Unit);
                json.WriteString("text", setting.Text);
                json.Number("value", setting.Value);
            });
        });
    }) + "\n";

    /// <summary>Reads a file.</summary>
    public static Outcome<SettingsSnapshot> Read(string file, string text)
    {
        try
        {
            using var json = JsonDocument.Parse(text);
            var root = json.RootElement;
            if (root.ValueKind != JsonValueKind.Object || Word(root, "format") != Format)
                return NoSettings(file, "this is no file of saved settings");
            if (Word(root, "dialect") is not { } dialect || !root.TryGetProperty("settings", out var list) || list.ValueKind != JsonValueKind.Array)
                return NoSettings(file, "dialect or settings are missing");
            var settings = list.EnumerateArray().Select(Setting).ToImmutableArray();
            return settings.Any(one => one is null)
                ? NoSettings(file, "a setting has no key or no text")
                : new SettingsSnapshot(dialect, [.. settings.OfType<SavedSetting>()]);
        }
        catch (JsonException broken)
        {
            return NoSettings(file, "this is not readable as JSON") with
            {
                Line = broken.LineNumber + 1,
                Column = broken.BytePositionInLine + 1,
            };
        }
    }

    private static SavedSetting? Setting(JsonElement one)
    {
        if (one.ValueKind != JsonValueKind.Object || Word(one, "key") is not { } key || Word(one, "text") is not { } text)
            return null;
        // A setting is one word on the wire: nothing that would make it two lines passes.
        if (key.Concat(text).Any(char.IsControl))
            return null;
        var value = one.TryGetProperty("value", out var number) && number.ValueKind == JsonValueKind.Number ? number.GetDouble() : (double?)null;
        return new(key, Word(one, "name"), Word(one, "unit"), text, value);
    }

    private static string? Word(JsonElement from, string name) =>
        from.TryGetProperty(name, out var word) && word.ValueKind == JsonValueKind.String ? word.GetString() : null;

    private static Problem NoSettings(string file, string what) =>
        new(what, "Use a file written by 'controller settings save'") { File = file, Line = 1, Column = 1 };
}
