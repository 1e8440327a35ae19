using Commission.Core.Characteristics;

namespace Commission.App.Tests.Screens;

/// <summary>No move of a run is faster than a speed ladder found that the axis can run.</summary>
public sealed class FoundSpeedTests : KnownScreens
{
    // Found in use: steps were lost at 575 mm/min, and the next run moved the axis at 600.
    [Fact]
    public void Route_card_and_lines_to_copy_keep_to_seven_tenths_of_what_ran_clean()
    {
        using (var before = Open())
        {
            before.Type("\n");
            Assert.Contains("at most 600 mm/min", before.Text, StringComparison.Ordinal);
        }

        Journal.Append(new EntryBody.FindingMade
        {
            Machine = "Heron", Characteristic = "speed-ladder", Axis = "X", Options = new FitOptions(),
            Finding = new Finding
            {
                Kind = "speed-ladder", Method = "speed-ladder/1", Rows = 3, Used = 3, Verdict = Verdict.None, Parameters = [new FittedParameter { Name = "limit", Unit = "mm/min", Value = 500, WhyNoUncertainty = "a ladder gives a rung" }],
                Advice = new Advice { Action = AdviceAction.Change, Because = "500 mm/min ran clean and the next rung did not" },
            },
        }).Require();
        using var window = Open();
        window.Type("w\n");
        Assert.Contains("at most 350 mm/min", window.Text, StringComparison.Ordinal);
        window.Type("s\ns");
        Assert.Matches("to copy +G21 G90 G1 X[0-9.]+ F350   then", window.Text);
        Assert.DoesNotContain("F600", window.Text, StringComparison.Ordinal);
    }
}
