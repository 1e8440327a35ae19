using Commission.Core.Characteristics;
using Terminal.Gui.Input;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>A machine that is set faster than its own finding allows shows it, where the setting stands and where the finding is read.</summary>
public sealed class FastestFeedTests : KnownScreens
{
    [Fact]
    public void Controller_and_finding_say_that_more_is_set_than_was_found_to_hold()
    {
        Journal.Append(new EntryBody.FindingMade
        {
            Machine = "Heron", Characteristic = "speed-ladder", Axis = "X", Options = new FitOptions(),
            Finding = new Finding
            {
                Kind = "speed-ladder", Method = "speed-ladder/1", Rows = 3, Used = 3, Verdict = Verdict.None, Parameters = [new FittedParameter { Name = "limit", Unit = "mm/min", Value = 3059, WhyNoUncertainty = "a ladder gives a rung" }],
                Advice = new Advice { Action = AdviceAction.Change, Because = "3059 mm/min ran clean and the next rung did not.", Next = "Set no more than 2141 mm/min, seven tenths of it." },
            },
        }).Require();
        using var window = Linked(out _);
        window.Type("bc");
        Until(window, "settings read and compared");
        Assert.Contains("max 2141", window.Text, StringComparison.Ordinal);
        Assert.Contains("Faster than the speed ladder allows: fastest feed X 3000, at most 2141", window.Text, StringComparison.Ordinal);

        window.Type("f");
        window.PressUntil(Key.CursorDown, "speed ladder X");
        for (var i = 0; i < 40 && !window.Rows.Any(row => row.StartsWith(">>", StringComparison.Ordinal) && row.Contains("speed ladder X", StringComparison.Ordinal)); i++)
            window.Press(Key.CursorDown);
        window.Press(Key.Enter);
        Assert.Contains("Set now", window.Text, StringComparison.Ordinal);
        Assert.Contains("more than that", window.Text, StringComparison.Ordinal);
        Assert.Contains("Enter shows what is set, at C.", string.Join(' ', window.Rows.TakeLast(5)), StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.Contains("Heron / controller", window.Rows[0], StringComparison.Ordinal);
    }
}
