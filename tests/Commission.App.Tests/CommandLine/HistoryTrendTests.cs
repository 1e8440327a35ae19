using System.Text.Json;
using Xunit;

namespace Commission.App.Tests.CommandLine;

/// <summary>How a result moved, by the command line and in the report.</summary>
public sealed class HistoryTrendTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("commission-trend-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private Task<Typed.Ending> Run(params string[] arguments) => Typed.Run([.. arguments, "--store", Path.Combine(folder, "store")]);

    private async Task Measured(string text)
    {
        var readings = Path.Combine(folder, "r.csv");
        await File.WriteAllTextAsync(readings, "commanded_mm,measured_mm\n" + text, TestContext.Current.CancellationToken);
        Assert.InRange((await Run("fit", "axis-scale", readings, "--axis", "X", "--instrument-limit-mm", "0.03", "--resolution-mm", "0.01", "--tolerance", "500ppm", "--keep")).Code, 0, 3);
    }

    [Fact]
    public async Task A_trend_is_told_as_a_page_as_json_and_in_the_report()
    {
        Assert.Equal(0, (await Run("machine", "new", "Heron", "--travel-mm", "420,580,90", "--steps-per-mm", "320", "--lead-mm", "5")).Code);
        Assert.Equal(2, (await Run("history", "trend", "axis-scale")).Code);
        await Measured("10,10.01\n50,50.02\n100,100.05\n150,150.06\n");
        await Measured("10,10.01\n50,50.03\n100,100.04\n150,150.07\n");
        var page = await Run("history", "trend", "axis-scale");
        Assert.Equal(0, page.Code);
        Assert.Contains(page.Lines, line => line.StartsWith("No change since the first result", StringComparison.Ordinal));
        Assert.True(page.Lines.Length <= 24);
        using var json = JsonDocument.Parse((await Run("history", "trend", "axis-scale", "--axis", "X", "--json")).Out);
        Assert.Equal(2, json.RootElement.GetProperty("results").GetArrayLength());
        Assert.Equal(1, json.RootElement.GetProperty("results")[1].GetProperty("baseline").GetInt32());
        Assert.Contains("# How results moved", (await Run("report")).Out, StringComparison.Ordinal);
        Assert.Equal(2, (await Run("history", "trend", "axis-scale", "--axis", "Y")).Code);
        Assert.Equal(2, (await Run("history", "trend", "dream")).Code);
    }
}
