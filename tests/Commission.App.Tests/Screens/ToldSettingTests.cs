using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>A setting that was told by hand: asked for where a change is a number, and taken back like every other entry.</summary>
public sealed class ToldSettingTests : KnownScreens
{
    private static EntryBody.SettingWritten Told(double before, double after) => new() { Machine = "Heron", Name = "stepsPerMm", Axis = "X", Before = before, After = after, Stage = "told" };

    private double Ratio => Ledger.Machines["Heron"].Description.X.StepsPerMm!.Value;

    // Found in use: a slip told for a setting was corrected nowhere, and the log kept it as the truth.
    [Fact]
    public void E_on_the_log_takes_a_told_setting_back_with_its_reason()
    {
        var before = Ratio;
        Journal.Append(Told(before, 10 * before)).Require();
        using var window = Open();
        window.Type("l");
        Assert.Contains("E take back", window.Rows[23], StringComparison.Ordinal);
        window.Type("e");
        Assert.Contains("Why is this entry taken back?", window.Text, StringComparison.Ordinal);
        window.Type("a comma slipped\n");
        Assert.Contains("Taken back: setting steps per mm", window.Said, StringComparison.Ordinal);
        Assert.Equal(before, Ratio);
        window.Type("m");
        Assert.DoesNotContain("3200", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void U_undoes_the_setting_that_was_told_last()
    {
        var before = Ratio;
        Journal.Append(Told(before, 10 * before)).Require();
        using var window = Open();
        window.Type("lu");
        Assert.Contains("Undone: setting steps per mm", window.Said, StringComparison.Ordinal);
        Assert.Equal(before, Ratio);
    }

    [Fact]
    public void What_was_written_over_the_link_is_not_taken_back_by_words()
    {
        Journal.Append(Told(320, 319) with { Stage = "read-back", ReadBack = 319 }).Require();
        using var window = Open();
        window.Type("l");
        Assert.DoesNotContain("E take back", window.Rows[23], StringComparison.Ordinal);
        window.Type("u");
        Assert.Contains("cannot be undone", window.Said, StringComparison.Ordinal);
    }

    [Fact]
    public void A_description_that_was_entered_after_it_and_has_its_number_is_named()
    {
        Journal.Append(Told(320, 3200)).Require();
        Journal.Append(new EntryBody.MachineDescribed(Ledger.Machines["Heron"].Description, Retired: false) { Machine = "Heron" }).Require();
        using var window = Open();
        window.Type("l");
        window.Press(Key.CursorDown);
        window.Type("ewrong\n");
        Assert.Contains("Heron is still described with 3200 steps per mm on X.", window.Said, StringComparison.Ordinal);
    }

    // Found in use: "Steps per millimetre changed" asked for words only, and the number stayed the old one.
    [Fact]
    public void A_change_of_the_steps_asks_for_the_number_of_its_axis()
    {
        using var window = Open();
        window.Type("la\n");
        Assert.Contains("Of which axis? Left and Right choose it", window.Said, StringComparison.Ordinal);
        window.Press(Key.CursorRight);
        Assert.Contains("NEXT >> Steps per millimetre changed X. Enter asks for the number.", window.Text, StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.Contains("320.000 is known. What holds now, in steps/mm?", window.Text, StringComparison.Ordinal);
        window.Type("3196\n");
        Assert.Contains("3196 is far from 320.000, which is known. A slip?", window.Text, StringComparison.Ordinal);
        window.Erase();
        window.Type("319,6\nset by hand\n");
        Assert.Contains("319.6 steps/mm is in the log, told by you.", window.Said, StringComparison.Ordinal);
        var written = Ledger.SettingsWritten.Single();
        Assert.Equal((320, 319.6, "told"), (written.Body.Before, written.Body.After, written.Body.Stage));
        Assert.Equal("set by hand", Ledger.Notes[^1].Body.Text);
        Assert.Equal(written.Sequence, Ledger.Notes[^1].Body.About);
        Assert.Equal(319.6, Ratio);
    }

    [Fact]
    public void Who_does_not_know_the_number_leaves_it_empty_and_tells_the_change_in_words()
    {
        using var window = Open();
        window.Type("la");
        window.Press(Key.CursorRight, Key.Enter);
        window.Type("0\n");
        Assert.Contains("0 is not above zero.", window.Said, StringComparison.Ordinal);
        window.Erase();
        window.Type("\nsomebody set it\n");
        Assert.Equal(("steps-changed", "X", "somebody set it"), Ledger.Changes.Select(change => (change.Told.Body.Change, change.Told.Body.Axis!, change.Told.Body.Text)).Single());
        Assert.Empty(Ledger.SettingsWritten);
    }

    // A second Enter without an axis means all of them.
    [Fact]
    public void A_change_of_the_steps_of_all_axes_is_told_in_words()
    {
        using var window = Open();
        window.Type("la\n\nnew settings\n");
        Assert.Null(Ledger.Changes.Single().Told.Body.Axis);
    }
}
