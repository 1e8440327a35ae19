using Xunit;

namespace Commission.App.Tests.CommandLine;

/// <summary>Changes, withdrawals, recomputation and whole journals by the command line.</summary>
public sealed class HistoryChangesTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("commission-history-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private Task<Typed.Ending> Run(string store, params string[] arguments) => Typed.Run([.. arguments, "--store", Path.Combine(folder, store)]);

    private async Task Begin() => Assert.Equal(0, (await Run("a", "machine", "new", "Heron", "--travel-mm", "420,580,90", "--steps-per-mm", "320", "--lead-mm", "5")).Code);

    [Fact]
    public async Task A_change_is_entered_shown_and_taken_back()
    {
        await Begin();
        Assert.Equal(0, (await Run("a", "history", "change", "crash", "--axis", "x", "--text", "hit the clamp")).Code);
        Assert.Equal(0, (await Run("a", "history", "withdraw", "3", "--reason", "other machine")).Code);
        Assert.Equal(2, (await Run("a", "history", "withdraw", "3", "--reason", "again")).Code);
        var refused = await Run("a", "history", "change", "dream");
        Assert.Equal(2, refused.Code);
        Assert.Contains("spindle-remounted", refused.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_next_is_told_with_minutes_and_reason()
    {
        await Begin();
        var next = await Run("a", "history", "next");
        Assert.Equal(0, next.Code);
        Assert.Contains("next: first-power-up, 60 min: there is no result yet", next.Lines);
    }

    [Fact]
    public async Task Recompute_of_kept_findings_agrees_with_what_was_shown()
    {
        await Begin();
        var readings = Path.Combine(folder, "readings.csv");
        await File.WriteAllTextAsync(readings, "commanded_mm,measured_mm\n10,10.01\n50,50.02\n100,100.05\n150,150.06\n", TestContext.Current.CancellationToken);
        Assert.InRange((await Run("a", "fit", "axis-scale", readings, "--axis", "X", "--instrument-limit-mm", "0.03", "--resolution-mm", "0.01", "--keep")).Code, 0, 3);
        var again = await Run("a", "history", "recompute");
        Assert.Contains("axis-scale X: the same", Assert.Single(again.Lines), StringComparison.Ordinal);
        Assert.Equal(0, again.Code);
    }

    [Fact]
    public async Task Export_import_export_gives_the_same_bytes()
    {
        await Begin();
        var (first, second) = (Path.Combine(folder, "1.jsonl"), Path.Combine(folder, "2.jsonl"));
        Assert.Equal(0, (await Run("a", "history", "export", "--out", first)).Code);
        Assert.Equal(0, (await Run("b", "history", "import", first)).Code);
        Assert.Equal(0, (await Run("b", "history", "export", "--out", second)).Code);
        var token = TestContext.Current.CancellationToken;
        Assert.Equal(await File.ReadAllBytesAsync(first, token), await File.ReadAllBytesAsync(second, token));
        Assert.Equal(0, (await Run("b", "history", "check")).Code);
    }
}
