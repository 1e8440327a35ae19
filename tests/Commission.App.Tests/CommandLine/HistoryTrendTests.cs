using System.Text.Json;

namespace Commission.App.Tests.CommandLine;

/// <summary>How a result moved, by the command line and in the report.</summary>
public sealed class HistoryTrendTests : TypedRequests
{
    // Endings of an evaluation that was made: 0 done, 1 outside, 3 undecided. 2 would be none.
    private static readonly int[] Given = [0, 1, 3];

    private async Task Measured(string text)
    {
        var readings = At("r.csv");
        await File.WriteAllTextAsync(readings, "commanded_mm,measured_mm\n" + text, TestContext.Current.CancellationToken);
        Assert.Contains((await Run("fit", "axis-scale", readings, "--axis", "X", "--instrument-limit-mm", "0.03", "--resolution-mm", "0.01", "--tolerance", "500ppm", "--keep")).Code, Given);
    }

    [Fact]
    public async Task A_machine_whose_journal_was_brought_in_has_its_trend_its_order_of_work_and_its_report()
    {
        string[] there = ["--store", At("there")];
        Assert.Equal(0, (await Typed.Run(["machine", "new", "Tern", "--travel-mm", "300,300,80", "--steps-per-mm", "320", "--lead-mm", "5", .. there])).Code);
        var readings = At("t.csv");
        await File.WriteAllTextAsync(readings, "commanded_mm,measured_mm\n10,10.01\n50,50.02\n100,100.05\n150,150.06\n", TestContext.Current.CancellationToken);
        Assert.Contains((await Typed.Run(["fit", "axis-scale", readings, "--axis", "X", "--instrument-limit-mm", "0.03", "--resolution-mm", "0.01", "--tolerance", "500ppm", "--keep", .. there])).Code, Given);
        var export = At("there.jsonl");
        Assert.Equal(0, (await Typed.Run(["history", "export", "--out", export, .. there])).Code);

        Assert.Equal(0, (await Run("machine", "new", "Heron", "--travel-mm", "420,580,90", "--steps-per-mm", "320", "--lead-mm", "5")).Code);
        Assert.Equal(0, (await Run("history", "import", export)).Code);
        var trend = await Run("history", "trend", "axis-scale", "--machine", "Tern");
        Assert.Equal(0, trend.Code);
        Assert.StartsWith("Tern / trend", trend.Lines[0], StringComparison.Ordinal);
        Assert.Equal(trend.Out, (await Typed.Run(["history", "trend", "axis-scale", .. there])).Out);
        Assert.Contains("axis-scale        X  fresh", (await Run("history", "next", "--machine", "Tern")).Lines);
        Assert.Equal((await Typed.Run(["report", .. there])).Out, (await Run("report", "--machine", "Tern")).Out);
        Assert.Equal(2, (await Run("history", "trend", "axis-scale", "--machine", "Tern", "--chain", "none")).Code);
        Assert.Equal(2, (await Run("history", "trend", "axis-scale", "--machine", "Wren")).Code);

        // Out again: the chain that was brought in stands in it byte for byte.
        Assert.Equal(0, (await Run("history", "export", "--out", At("both.jsonl"))).Code);
        Assert.EndsWith(await File.ReadAllTextAsync(export, TestContext.Current.CancellationToken), await File.ReadAllTextAsync(At("both.jsonl"), TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_owner_who_works_in_inches_sees_inches_everywhere_without_asking()
    {
        var file = At("m.yaml");
        await File.WriteAllTextAsync(file, "format: commission.machine/1\nname: Heron\ntravelMm: [420, 580, 90]\nunits: in\naxes: {X: {stepsPerMm: 320}}\n", TestContext.Current.CancellationToken);
        Assert.Equal(0, (await Run("machine", "new", "Heron", "--file", file)).Code);
        var readings = At("b.csv");
        await File.WriteAllTextAsync(readings, "place_mm,direction,reading_mm\n10,+,0.00\n10,-,-0.05\n10,+,0.01\n10,-,-0.04\n90,+,0.00\n90,-,-0.05\n90,+,0.01\n90,-,-0.05\n", TestContext.Current.CancellationToken);
        var fit = await Run("fit", "backlash", readings, "--axis", "X", "--machine", "Heron", "--instrument", "caliper-150", "--tolerance", "0.1mm", "--keep");
        Assert.Contains(fit.Lines, line => line.TrimStart().StartsWith("reversal: +0.0021", StringComparison.Ordinal) && line.Contains(" in (k=", StringComparison.Ordinal));
        Assert.StartsWith(" in", (await Run("history", "trend", "backlash", "--axis", "X")).Lines[1], StringComparison.Ordinal);
        var report = (await Run("report")).Out;
        Assert.Contains("Mean reversal value +0.002", report, StringComparison.Ordinal);

        // Limits of instruments and slopes too; the machine's file keeps its own words.
        Assert.DoesNotMatch(@"[0-9] (mm|um)\b", report.Split("## The machine as described")[0]);
        Assert.Contains("Mean reversal value +0.053 mm over 2 places", (await Run("report", "--units", "mm")).Out, StringComparison.Ordinal);
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
        Assert.Contains(page.Lines, line => line.StartsWith("Change: No change since the first result", StringComparison.Ordinal));
        Assert.True(page.Lines.Length <= 24);
        using var json = JsonDocument.Parse((await Run("history", "trend", "axis-scale", "--axis", "X", "--json")).Out);
        Assert.Equal(2, json.RootElement.GetProperty("results").GetArrayLength());
        Assert.Equal(1, json.RootElement.GetProperty("results")[1].GetProperty("baseline").GetInt32());
        Assert.Contains("# How results moved", (await Run("report")).Out, StringComparison.Ordinal);
        Assert.Equal(2, (await Run("history", "trend", "axis-scale", "--axis", "Y")).Code);
        Assert.Equal(2, (await Run("history", "trend", "dream")).Code);
    }
}
