using System.Globalization;
using Commission.Core;
using Commission.Workshop.Screens;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>A run on a machine that is kept in inches, and what is said of digits that an instrument does not have.</summary>
public sealed class InchStoryTests : KnownScreens
{
    [Fact]
    public void A_run_in_inch_finds_the_same_scale()
    {
        KnownMachine.InInches(Journal);
        using var window = Open();
        window.Type("\ns\ns");
        Assert.Contains("] in", window.Text, StringComparison.Ordinal);
        Story.ReadAsShown(window, 10);
        window.Type("s");
        KnownMachine.FoundInsideU(Ledger, AxisName.X);
        Assert.All(Ledger.Readings.Values, reading => Assert.Equal(double.Parse(reading.Taken.Body.Typed, CultureInfo.InvariantCulture) * 25.4, reading.Taken.Body.Value, 9));
    }

    [Fact]
    public void Fractions_are_understood_in_inch_and_a_digit_that_the_caliper_does_not_have_is_questioned()
    {
        Assert.Equal(3.125 * 25.4, TypedEntry.Reading("3 1/8", "mm", LengthUnit.Inch).Require(), 9);
        Assert.Equal(8.49, TypedEntry.Reading("8,49", "mm", LengthUnit.Millimetre).Require(), 9);
    }

    [Fact]
    public void A_mouse_chooses_a_row_and_a_key_and_a_change_told_on_the_log_shows_on_the_bench()
    {
        using var window = Open();
        window.Click(5, 7);
        Assert.Contains("lost motion Z: Enter opens", window.Text, StringComparison.Ordinal);
        window.Click(13, 23);
        Assert.Contains("Heron / work", window.Rows[0], StringComparison.Ordinal);
        window.Type("l");
        window.Type("a");
        window.Press(Key.CursorDown, Key.CursorDown, Key.CursorDown, Key.CursorDown, Key.CursorDown, Key.CursorDown, Key.Enter, Key.Enter);
        Assert.Equal("belt-tensioned", Ledger.Changes.Single().Told.Body.Change);
        window.Type("b");
        Assert.Contains("lost motion X     done       .  0.150 mm   [          |        [xx] stale", window.Text, StringComparison.Ordinal);
    }
}
