using System.Collections.Immutable;
using Commission.Workshop.Requests;
using Commission.Workshop.Tests.Controllers;

namespace Commission.Workshop.Tests.Requests;

/// <summary>What is known of each setting where a write came to nothing: not more and not less.</summary>
public class WriteKnownTests
{
    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_line_that_was_refused_is_not_written()
    {
        await using var bench = await BenchAsync();
        var settings = new ControllerSettings(bench.Link);
        var planned = (await settings.PlanStepsAsync(AxisName.Y, 319.606, Cancellation)).Require();
        var told = await ToldAsync(settings, [planned[0] with { Setting = planned[0].Setting with { Key = "999" } }]);
        Assert.StartsWith("steps per mm, Y, to 319.606: sent and refused, not written", told[0], StringComparison.Ordinal);
    }

    [Fact]
    public async Task Of_a_pair_each_one_is_told_by_itself()
    {
        var dialect = ShippedDialects.Find("numbered-settings")!;
        var second = new DialectSetting { Key = "103", Name = "stepsPerMm", Axis = AxisName.Y, Unit = "steps/mm", Sample = "320.000" };
        var third = second with { Key = "104" };
        await using var bench = await LinkBench.OpenAsync(dialect with { Settings = dialect.Settings with { Known = dialect.Settings.Known.Add(second).Add(third) } });
        await bench.UntilAsync(now => now.State is ControllerState.Resting or ControllerState.Locked);
        var settings = new ControllerSettings(bench.Link);
        var planned = (await settings.PlanStepsAsync(AxisName.Y, 319.5, Cancellation)).Require();
        Assert.Equal(
            [
                "steps per mm, Y, to 319.500: written and read back as 319.500",
                "steps per mm, Y, to 319.50049: written, but it reads back as 319.500",
                "steps per mm, Y, to 319.500: not sent, nothing is written",
                "way back: steps per mm, Y, to 320.000: written and read back",
                "way back: steps per mm, Y, to 320.000: written and read back",
            ],
            await ToldAsync(settings, [planned[0], planned[1] with { Text = "319.50049" }, planned[2]]));
    }

    private static async Task<ImmutableArray<string>> ToldAsync(ControllerSettings settings, ImmutableArray<PlannedWrite> planned) =>
        [.. Assert.IsType<Outcome<ImmutableArray<SavedSetting>>.Bad>(await settings.WriteAsync(planned, Cancellation)).Problems.Select(problem => problem.What)];

    private static async Task<LinkBench> BenchAsync()
    {
        var bench = await LinkBench.OpenAsync("numbered-settings");
        await bench.UntilAsync(now => now.State is ControllerState.Resting or ControllerState.Locked);
        return bench;
    }
}
