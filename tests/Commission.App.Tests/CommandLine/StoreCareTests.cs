namespace Commission.App.Tests.CommandLine;

/// <summary>What a request tells of the store it opened, and the names a report may show.</summary>
public sealed class StoreCareTests : TypedRequests
{
    private async Task Begin() => Assert.Equal(0, (await Run("machine", "new", "Heron", "--travel-mm", "420,580,90", "--steps-per-mm", "320", "--lead-mm", "5")).Code);

    [Fact]
    public async Task A_torn_line_is_told_in_words_and_the_request_goes_on()
    {
        await Begin();
        var segment = Path.Combine(Store, "journal", "000001.jsonl");
        await File.AppendAllTextAsync(segment, "{\"format\":\"commission.jour", TestContext.Current.CancellationToken);
        var told = await Run("history", "change", "crash");
        Assert.Equal(0, told.Code);
        Assert.Contains("000001.jsonl:4:1: the last line was not complete and is set aside", told.Error, StringComparison.Ordinal);
        Assert.Equal("", (await Run("history", "list")).Error);
    }

    [Fact]
    public async Task A_journal_shorter_than_the_last_report_takes_no_entry()
    {
        await Begin();
        Assert.Equal(0, (await Run("history", "change", "crash")).Code);
        Assert.Equal(0, (await Run("report")).Code);
        var segment = Path.Combine(Store, "journal", "000001.jsonl");
        await File.WriteAllTextAsync(segment, string.Join('\n', (await File.ReadAllTextAsync(segment, TestContext.Current.CancellationToken)).Split('\n')[..^2]) + "\n", TestContext.Current.CancellationToken);
        var refused = await Run("history", "change", "crash");
        Assert.Equal(4, refused.Code);
        Assert.Contains("entries are missing from its end", refused.Error, StringComparison.Ordinal);
        Assert.Equal(1, (await Run("history", "check")).Code);
    }

    [Fact]
    public async Task A_lost_store_is_begun_anew_from_card_and_settings_file()
    {
        await Begin();
        var settings = At("s.json");
        await File.WriteAllTextAsync(settings, """{"format":"commission.settings/1","dialect":"d","settings":[{"key":"1","name":"stepsPerMm","unit":"steps/mm","text":"320.1","value":320.1},{"key":"2","name":"stepsPerMm","unit":"steps/mm","text":"319.9","value":319.9},{"key":"3","name":"stepsPerMm","unit":"steps/mm","text":"400","value":400}]}""", TestContext.Current.CancellationToken);
        Assert.Equal(0, (await Run("history", "adopt", "--settings", settings)).Code);
        Assert.Contains("stepsPerMm: 319.9", (await Run("machine", "show")).Out, StringComparison.Ordinal);
        Assert.Equal(0, (await Run("history", "adopt", "squareness", "--value", "0.4mm/m")).Code);
        Assert.Equal(2, (await Run("history", "adopt", "squareness", "--value", "0.4")).Code);
        Assert.Equal(2, (await Run("history", "adopt")).Code);
        var next = await Run("history", "next");
        Assert.Contains(next.Lines, line => line.Trim() == "adopted, not measured");
        Assert.Contains(next.Lines, line => line.StartsWith("squareness", StringComparison.Ordinal) && line.EndsWith("due", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Names_stand_in_a_report_only_where_asked_for()
    {
        await Begin();
        var readings = At("r.csv");
        await File.WriteAllTextAsync(readings, "commanded_mm,measured_mm\n10,10.01\n50,50.02\n100,100.05\n150,150.06\n", TestContext.Current.CancellationToken);
        await Run("fit", "axis-scale", readings, "--axis", "X", "--keep");
        Assert.Equal(2, (await Run("report", "--names")).Code);
        await File.WriteAllTextAsync(Path.Combine(Store, "names.txt"), "em: Example Person\n", TestContext.Current.CancellationToken);
        Assert.Equal(0, (await Run("report", "--names")).Code);
        await File.WriteAllTextAsync(Path.Combine(Store, "names.txt"), "em Example Person\n", TestContext.Current.CancellationToken);
        var bad = await Run("report", "--names");
        Assert.Equal(2, bad.Code);
        Assert.Contains("names.txt:1:1: the line is no handle with its name", bad.Error, StringComparison.Ordinal);
    }
}
