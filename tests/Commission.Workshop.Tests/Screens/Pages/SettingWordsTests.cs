using Commission.Workshop.Screens.Pages;
using Microsoft.Extensions.Time.Testing;

namespace Commission.Workshop.Tests.Screens.Pages;

/// <summary>What is known of a controller's settings: as first saved, then as written or told.</summary>
public sealed class SettingWordsTests : IDisposable
{
    private readonly MemoryJournal _journal = new(StoreNature.Real, "abc", "test", new FakeTimeProvider());

    public void Dispose() => _journal.Dispose();

    [Fact]
    public void What_was_found_later_is_not_known_until_it_was_decided()
    {
        Saved(("121", 200));
        Saved(("121", 400), ("122", 100));
        Assert.Equal([("121", 200.0), ("122", 100.0)], Known());
        Wrote("121", 400, "told");
        Assert.Equal([("121", 400.0), ("122", 100.0)], Known());
    }

    [Fact]
    public void What_this_program_wrote_and_read_back_is_known_and_what_it_only_meant_to_write_is_not()
    {
        Saved(("101", 320));
        Wrote("101", 319.606, "intended");
        Assert.Equal([("101", 320.0)], Known());
        Wrote("101", 319.606, "read-back");
        Assert.Equal([("101", 319.606)], Known());
    }

    // Found in review: where the finding that proposed it had been replaced, it was shown without a unit.
    [Theory]
    [InlineData("homeOffset", null, " mm")]
    [InlineData("compensationMm", null, " mm")]
    [InlineData("mmPerStep", null, " mm/step")]
    [InlineData("stepsPerMm", "unread", " steps/mm")]
    [InlineData("unknown", null, "")]
    public void What_was_told_has_its_unit_by_its_name(string name, string? key, string unit) =>
        Assert.Equal(unit, SettingWords.UnitOf(Ledger.From(_journal.Entries()), new EntryBody.SettingWritten { Name = name, Axis = "X", Key = key, Before = 12.3, After = 12.5, ReadBack = null, Stage = "told" }));

    [Fact]
    public void What_was_told_without_a_key_is_known_by_name_and_axis()
    {
        var settings = ShippedDialects.Find("numbered-settings")!.Settings;
        Saved(("100", 320), ("101", 320));
        _journal.Append(new EntryBody.SettingWritten { Machine = "Heron", Name = "stepsPerMm", Axis = "Y", After = 319.6, Stage = "told" }).Require();
        var known = SettingWords.Known(Ledger.From(_journal.Entries()), "Heron", "numbered-settings", settings);
        Assert.Equal([("100", 320.0), ("101", 319.6)], known.Select(one => (one.Key, one.Value!.Value)));
    }

    [Fact]
    public void A_number_in_the_log_has_the_unit_of_the_setting_as_it_was_read()
    {
        _journal.Append(new EntryBody.SettingsSaved("numbered-settings", [new("121", "acceleration", "mm/s2", "200.000", 200)]) { Machine = "Heron" }).Require();
        Wrote("121", 400, "read-back");
        var ledger = Ledger.From(_journal.Entries());
        Assert.Equal("setting acceleration: 400 mm/s2 (written and read back)", LogWords.Of(ledger.SettingsWritten[^1].Body, ledger: ledger));
    }

    [Fact]
    public void Another_machine_and_another_dialect_say_nothing_about_this_one()
    {
        Saved(("101", 320));
        _journal.Append(new EntryBody.SettingsSaved("letter-words", [new("M92 X", null, null, "80", 80)]) { Machine = "Heron" }).Require();
        _journal.Append(new EntryBody.SettingsSaved("numbered-settings", [new("101", null, null, "80", 80)]) { Machine = "Egret" }).Require();
        Assert.Equal([("101", 320.0)], Known());
    }

    private List<(string, double)> Known() =>
        [.. SettingWords.Known(Ledger.From(_journal.Entries()), "Heron", "numbered-settings").Select(one => (one.Key, one.Value!.Value))];

    private void Saved(params (string Key, double Value)[] settings) => _journal.Append(
        new EntryBody.SettingsSaved("numbered-settings", [.. settings.Select(one => new SavedSetting(one.Key, null, null, FormattableString.Invariant($"{one.Value:F3}"), one.Value))]) { Machine = "Heron" }).Require();

    private void Wrote(string key, double value, string stage) => _journal.Append(
        new EntryBody.SettingWritten { Machine = "Heron", Key = key, Name = "acceleration", After = value, ReadBack = stage == "intended" ? null : value, Stage = stage }).Require();
}
