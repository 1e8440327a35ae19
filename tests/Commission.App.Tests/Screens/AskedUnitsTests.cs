using System.Globalization;
using Commission.Core;
using Commission.Core.Machines;
using Commission.Core.Quantities;
using Commission.Workshop.Screens.Pages;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary><c>--units</c> on the screens: lengths are shown and typed in the unit asked for, and what is kept stays as it was.</summary>
public sealed class AskedUnitsTests : KnownScreens
{
    [Fact]
    public void Inches_asked_for_on_a_machine_kept_in_millimetres()
    {
        using var window = On(KnownMachine.Options(Journal) with { Units = LengthUnit.Inch });
        Assert.Contains(" in ", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(" mm ", window.Text, StringComparison.Ordinal);
        window.Type("\ns\ns");
        Assert.Contains("] in", window.Text, StringComparison.Ordinal);
        Story.ReadAsShown(window, 10);
        Assert.All(Ledger.Readings.Values, reading => Assert.Equal(double.Parse(reading.Taken.Body.Typed, CultureInfo.InvariantCulture) * Inch.Mm, reading.Taken.Body.Value, 9));
        window.Type("s");
        KnownMachine.FoundInsideU(Ledger, AxisName.X);
        Assert.Equal(LengthUnit.Millimetre, Ledger.Machines["Heron"].Description.Units);
    }

    [Fact]
    public void Millimetres_asked_for_on_a_machine_kept_in_inches()
    {
        KnownMachine.InInches(Journal);
        using var window = On(KnownMachine.Options(Journal) with { Units = LengthUnit.Millimetre });
        Assert.Contains(" mm ", window.Text, StringComparison.Ordinal);
        window.Type("\ns\ns");
        Assert.Contains("] mm", window.Text, StringComparison.Ordinal);
        Story.ReadAsShown(window, 1);
        Assert.All(Ledger.Readings.Values, reading => Assert.Equal(double.Parse(reading.Taken.Body.Typed, CultureInfo.InvariantCulture), reading.Taken.Body.Value, 9));
    }

    /// <summary>A fact is typed as it is shown; the unit that the machine is kept in is only changed by its own name.</summary>
    [Fact]
    public void A_travel_is_corrected_in_the_unit_asked_for_and_the_machine_stays_kept_in_its_own()
    {
        using var window = On(KnownMachine.Options(Journal) with { Units = LengthUnit.Inch });
        window.Type("m");
        Assert.Contains(" travel, in ", window.Text, StringComparison.Ordinal);
        window.Type("a");
        window.Press(Key.Enter);
        window.Type("20");
        window.Press(Key.Enter);
        var kept = Ledger.Machines["Heron"].Description;
        Assert.Equal(20 * Inch.Mm, kept.TravelMm[0], 9);
        Assert.Equal(LengthUnit.Millimetre, kept.Units);
    }
}
