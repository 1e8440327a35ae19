using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;
using Commission.Tests;

namespace Commission.App.Tests.Plain;

/// <summary>The main job as a script: ten caliper readings, the process killed after six, the same command again, a finding and a report.</summary>
public sealed partial class KilledAndResumedTests : OwnFolder
{
    // Hundredths of a mm beside the position: a hand as steady as most.
    private static readonly double[] Scatter = [0.01, 0, -0.01, 0.01, 0, 0, 0.01, -0.01, 0, 0.01];

    // How far the axis really goes for a commanded millimetre.
    private double stretch = 1;

    private string Store => Path.Combine(Folder, "store");

    [Fact]
    public async Task Six_readings_survive_a_kill_and_the_run_ends_with_advice_and_a_report()
    {
        await Run("machine", "new", "Heron", "--travel-mm", "420,580,90", "--steps-per-mm", "320", "--lead-mm", "5", "--screw-grade", "7", "--class", "wood");

        var first = await Measure(killAfter: 6);
        Assert.Equal(["recorded 1", "recorded 2", "recorded 3", "recorded 4", "recorded 5", "recorded 6"], Recorded(first));

        var second = await Measure(killAfter: null);
        Assert.Equal(["recorded 7", "recorded 8", "recorded 9", "recorded 10"], Recorded(second));
        Assert.Matches("^finding (within|outside|undecided) (leave|change)$", second.Last(line => line.StartsWith("finding ", StringComparison.Ordinal)));
        Assert.Contains(second, line => line.Contains("because", StringComparison.OrdinalIgnoreCase));

        var report = Path.Combine(Folder, "report.md");
        await Run("report", "--out", report);
        var text = await File.ReadAllTextAsync(report, TestContext.Current.CancellationToken);
        Assert.Equal(10, text.Split('\n').Count(line => line.Contains("| caliper-150 |", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task A_screw_of_known_grade_that_is_a_little_off_is_left_alone()
    {
        await Run("machine", "new", "Heron", "--travel-mm", "420,580,90", "--steps-per-mm", "320", "--lead-mm", "5", "--screw-grade", "7", "--class", "wood");
        stretch = 1 + 150e-6;
        await Measure(killAfter: 6);
        Assert.EndsWith(" leave", (await Measure(killAfter: null)).Last(line => line.StartsWith("finding ", StringComparison.Ordinal)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_drive_nothing_is_known_of_that_is_1600_ppm_off_is_changed_and_the_report_says_so()
    {
        await Run("machine", "new", "Heron", "--travel-mm", "420,580,90", "--steps-per-mm", "320", "--class", "plastics");
        stretch = 1 + 1600e-6;
        await Measure(killAfter: 6);
        var lines = await Measure(killAfter: null);
        Assert.EndsWith(" change", lines.Last(line => line.StartsWith("finding ", StringComparison.Ordinal)), StringComparison.Ordinal);

        // 320 / 1.0016 is 319.489; the prior for a drive nothing is known of takes a twentieth of the change back.
        var proposed = double.Parse(Proposed().Match(lines.First(line => Proposed().IsMatch(line))).Groups[1].Value, CultureInfo.InvariantCulture);
        Assert.InRange(proposed, 319.45, 319.60);
        var report = Path.Combine(Folder, "x.md");
        await Run("report", "--out", report);
        Assert.Contains("319.", await File.ReadAllTextAsync(report, TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    private static string[] Recorded(IEnumerable<string> lines) => [.. lines.Where(line => line.StartsWith("recorded ", StringComparison.Ordinal))];

    // Answers every question; a reading is the position asked for, less the offset of the blocks, with a hand's scatter.
    private async Task<List<string>> Measure(int? killAfter)
    {
        using var process = Start("procedure", "run", "axis-scale", "--axis", "X", "--instrument", "caliper-150", "--plain");
        var lines = new List<string>();
        while (await process.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken) is { } line)
        {
            lines.Add(line);
            if (line == $"recorded {killAfter}")
            {
                process.Kill(entireProcessTree: true);
                break;
            }

            if (line.StartsWith("ask number", StringComparison.Ordinal))
                await Answer(process, Caliper(line));
            else if (line.StartsWith("ask text", StringComparison.Ordinal))
                await Answer(process, "319.512");
            else if (line.StartsWith("ask ", StringComparison.Ordinal))
                await Answer(process, "yes");
        }

        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        return lines;
    }

    private static async Task Answer(Process process, string answer)
    {
        await process.StandardInput.WriteLineAsync(answer);
        await process.StandardInput.FlushAsync();
    }

    private string Caliper(string prompt)
    {
        var number = int.Parse(Count().Match(prompt).Groups[1].Value, CultureInfo.InvariantCulture);
        var position = double.Parse(Position().Matches(prompt)[^1].Groups[1].Value, CultureInfo.InvariantCulture);
        return ((position * stretch) - 135 + Scatter[number - 1]).ToString("0.00", CultureInfo.InvariantCulture);
    }

    private async Task Run(params string[] arguments)
    {
        using var process = Start(arguments);
        await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.Equal(0, process.ExitCode);
    }

    private Process Start(params string[] arguments)
    {
        var start = new ProcessStartInfo("dotnet") { RedirectStandardInput = true, RedirectStandardOutput = true, UseShellExecute = false };
        foreach (var argument in (string[])[Path.Combine(AppContext.BaseDirectory, "commission.dll"), .. arguments, "--store", Store])
            start.ArgumentList.Add(argument);
        return Process.Start(start)!;
    }

    [GeneratedRegex(@"Reading (\d+) of")]
    private static partial Regex Count();

    [GeneratedRegex(@"(319\.\d+)")]
    private static partial Regex Proposed();

    [GeneratedRegex(@"to X (\d+\.\d+)")]
    private static partial Regex Position();
}
