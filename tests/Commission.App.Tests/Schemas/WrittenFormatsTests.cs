using System.Runtime.Versioning;
using System.Text.Json;
using System.Text.RegularExpressions;
using Commission.App.Tests.Architecture;
using Commission.App.Tests.Attended;
using Commission.App.Tests.CommandLine;
using Commission.Core.Characteristics;
using Commission.Core.Reports;
using Commission.Tests;

namespace Commission.App.Tests.Schemas;

/// <summary>Real answers of the program fit the schemas that describe them, and the schemas name the same words as the declarations.</summary>
[UnsupportedOSPlatform("windows")]
public sealed partial class WrittenFormatsTests : OwnFolder
{
    // Endings of an evaluation that was made; 2 would be none.
    private static readonly int[] Given = [0, 1, 3];

    public static TheoryData<string> Pages { get; } = [.. HandbookPages.Names.Where(name => Example().IsMatch(HandbookPages.Text(name)))];

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task A_finding_fits_its_schema_and_holds_only_declared_parameters(string page)
    {
        var example = Example().Match(HandbookPages.Text(page));
        var readings = Path.Combine(Folder, "readings.csv");
        await File.WriteAllTextAsync(readings, example.Groups[1].Value, TestContext.Current.CancellationToken);
        var words = example.Groups[2].Value.Split(' ');

        var ending = await Typed.Run(["fit", words[0], readings, .. words[1..], "--json"]);

        Fits("finding", ending.Out);
        var declared = CharacteristicKinds.Find(words[0])!.Parameters.Select(p => p.Name).ToHashSet();
        if (words[0] != "columns")
        {
            Assert.All(JsonDocument.Parse(ending.Out).RootElement.GetProperty("parameters").EnumerateArray().Select(p => p.GetProperty("name").GetString()!),
                name => Assert.Contains(declared, one => one == name || (one.Contains('[', StringComparison.Ordinal) && name.StartsWith(one[..(one.IndexOf('[', StringComparison.Ordinal) + 1)], StringComparison.Ordinal))));
        }
    }

    [Fact]
    public async Task A_plan_fits_its_schema() => Fits("plan", (await Typed.Run("plan", "axis-scale", "--travel-mm", "420,580,90", "--lead-mm", "5", "--steps-per-mm", "320", "--axis", "X", "--instrument", "caliper-150", "--json")).Out);

    [Fact]
    public async Task Problems_fit_their_schema()
    {
        Fits("problems", (await Typed.Run("fit", "axis-scale", Path.Combine(Folder, "none.csv"), "--json")).Error);
        Fits("problems", (await Typed.Run("no-such-verb", "--json")).Error);
    }

    [Fact]
    public async Task The_proof_fits_its_schema() => Fits("proof", (await Typed.Run("prove", "--json")).Out);

    [Fact]
    public async Task A_walk_and_the_journal_it_leaves_fit_their_schemas()
    {
        var (store, export) = (Path.Combine(Folder, "store"), Path.Combine(Folder, "out.jsonl"));
        var walked = await Typed.Run("rehearse", "--seed", "2", "--walk", "axis-scale", "--keep", "--store", store, "--json");
        Fits("walk", walked.Lines[^1]);

        Assert.Equal(0, (await Typed.Run("history", "export", "--store", store, "--out", export)).Code);
        var lines = await File.ReadAllLinesAsync(export, TestContext.Current.CancellationToken);
        Assert.True(lines.Length > 10);
        Assert.All(lines, line => Fits("journal", line));
    }

    [Fact]
    public async Task A_report_holds_a_picture_of_each_sort_and_the_map_of_the_work_area()
    {
        string[] store = ["--store", Path.Combine(Folder, "pictures")];
        Assert.Equal(0, (await Typed.Run(["machine", "new", "Heron", "--travel-mm", "420,580,90", "--steps-per-mm", "320", "--lead-mm", "5", .. store])).Code);
        foreach (var (page, more) in ((string, string[])[])[("axis-scale", []), ("axis-scale", ["Y"]), ("backlash", []), ("squareness", []), ("tram", []), ("runout", []), ("flatness", [])])
        {
            var example = Example().Match(HandbookPages.Text(page + ".md"));
            var readings = Path.Combine(Folder, "picture.csv");
            await File.WriteAllTextAsync(readings, example.Groups[1].Value, TestContext.Current.CancellationToken);
            var words = example.Groups[2].Value.Split(' ').Select(word => word == "X" && more is [var axis] ? axis : word).ToArray();
            Assert.Contains((await Typed.Run(["fit", words[0], readings, .. words[1..], "--keep", .. store])).Code, Given);
        }

        var file = Path.Combine(Folder, "r.html");
        Assert.Equal(0, (await Typed.Run(["report", "--out", file, .. store])).Code);
        var html = await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken);
        Assert.All(
            (string[])["Residuals of the axis", "Reversal value by place", "Distances between marks", "Spindle sweep", "Runout", "Bed map", "Position error over the work area"],
            title => Assert.Contains(title, html, StringComparison.Ordinal));
        Assert.True(html.Split("<svg ").Length > 8);
        Assert.DoesNotContain("NaN", html, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_trend_fits_its_schema()
    {
        string[] store = ["--store", Path.Combine(Folder, "years")];
        Assert.Equal(0, (await Typed.Run(["machine", "new", "Heron", "--travel-mm", "420,580,90", "--steps-per-mm", "320", "--lead-mm", "5", .. store])).Code);
        var readings = Path.Combine(Folder, "r.csv");
        foreach (var end in (string[])["150.06", "150.07"])
        {
            await File.WriteAllTextAsync(readings, $"commanded_mm,measured_mm\n10,10.01\n50,50.02\n100,100.05\n150,{end}\n", TestContext.Current.CancellationToken);
            Assert.Contains((await Typed.Run(["fit", "axis-scale", readings, "--axis", "X", "--instrument-limit-mm", "0.03", "--resolution-mm", "0.01", "--tolerance", "500ppm", "--keep", .. store])).Code, Given);
            // What a change after it made stale foretells nothing.
            if (end == "150.06")
                Assert.Equal(0, (await Typed.Run(["history", "change", "crash", .. store])).Code);
        }

        var trend = await Typed.Run(["history", "trend", "axis-scale", "--axis", "X", "--json", .. store]);
        Fits("trend", trend.Out);
        Assert.Equal(2, JsonDocument.Parse(trend.Out).RootElement.GetProperty("results").GetArrayLength());
        Assert.NotEmpty(JsonDocument.Parse(trend.Out).RootElement.GetProperty("forecast").EnumerateArray());
        Assert.NotEmpty(JsonDocument.Parse(trend.Out).RootElement.GetProperty("changes").EnumerateArray());
    }

    [Fact]
    public async Task States_and_saved_settings_of_a_practice_board_fit_their_schemas()
    {
        using var board = new Board("numbered-settings");
        var watched = await Typed.RunWith("yes\n", ["controller", "watch", "--for", "0.1", "--json", .. board.Options]);
        Assert.NotEmpty(watched.Lines);
        Assert.All(watched.Lines, line => Fits("state", line));

        var saved = Path.Combine(Folder, "settings.json");
        Assert.Equal(0, (await Typed.RunWith("yes\n", ["controller", "settings", "save", "--out", saved, .. board.Options])).Code);
        Fits("settings", await File.ReadAllTextAsync(saved, TestContext.Current.CancellationToken));
    }

    [Fact]
    public void The_schemas_name_every_kind_and_every_type_of_entry()
    {
        static string[] Words(JsonElement schema, string property) => [.. schema.GetProperty("properties").GetProperty(property).GetProperty("enum").EnumerateArray().Select(one => one.GetString()!)];

        Assert.Equal(CharacteristicKinds.All.Select(kind => kind.Id), Words(Schema("finding"), "kind"));
        Assert.Empty(Words(Schema("plan"), "kind").Except(CharacteristicKinds.All.Select(kind => kind.Id)));
        Assert.Equal(JournalLine.Types.Order(StringComparer.Ordinal), Words(Schema("journal"), "type").Order(StringComparer.Ordinal));
    }

    [Theory]
    [InlineData("""{"format":"commission.walk/1","seed":2}""", "$ has no results")]
    [InlineData("""{"format":"commission.walk/2","seed":2,"results":[]}""", "$.format is")]
    [InlineData("""{"format":"commission.walk/1","seed":"2","results":[]}""", "$.seed is String")]
    [InlineData("""{"format":"commission.walk/1","seed":2,"results":[{}]}""", "$.results[0] has no characteristic")]
    [InlineData("""{"format":"commission.walk/1","seed":2,"results":[],"more":1}""", "$ has more")]
    public void A_document_that_does_not_fit_is_seen(string document, string difference) =>
        Assert.Contains(SchemaCheck.Differences(JsonDocument.Parse(document).RootElement, Schema("walk")), found => found.StartsWith(difference, StringComparison.Ordinal));

    private static void Fits(string schema, string document) =>
        Assert.Empty(SchemaCheck.Differences(JsonDocument.Parse(document).RootElement, Schema(schema)));

    private static JsonElement Schema(string name) =>
        JsonDocument.Parse(Repository.Text("shared", "schemas", name + ".schema.json")).RootElement;

    [GeneratedRegex(@"```readings\n(.*?)```\s+```fit\n(.*?)\n```", RegexOptions.Singleline)]
    private static partial Regex Example();
}
