using Commission.Core.Characteristics;
using Commission.Workshop.Screens.Pages;
using Terminal.Gui.Input;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>A setting that is set by hand though a link is open says why it is not written.</summary>
public sealed class ToldByHandTests : KnownScreens
{
    [Theory]
    [InlineData(Backlash.CompensationSetting, "mm", "the dialect names no such setting")]
    [InlineData("acceleration", "mm/s2", "only steps per mm are written")]
    [InlineData("stepsPerMm", "steps/mm", null)]
    public void The_reason_is_the_dialect_s_or_the_program_s_own(string name, string unit, string? why)
    {
        using var window = On(KnownMachine.Linked(Journal));
        var setting = new ProposedSetting { Name = name, Axis = "X", ExpressedAs = unit, Current = 1, Proposed = 0.35, AsStored = 0.35, RoundingError = 0 };
        var desk = (Desk)window.Desk;
        Assert.Null(SettingDeeds.WhyByHand(desk, setting));
        Link(window);
        Assert.Equal(why, SettingDeeds.WhyByHand(desk, setting));
        if (why is null)
            return;
        SettingDeeds.Difference(desk, setting, "Heron / set");
        window.Press(Key.CursorUp);
        Assert.Contains($"Not written over the link: {why}. Set it at the machine", string.Join(' ', window.Rows.Select(row => row.Trim())), StringComparison.Ordinal);
    }
}
