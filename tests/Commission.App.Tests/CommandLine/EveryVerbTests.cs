using System.Text.Json;
using Commission.Tests;

namespace Commission.App.Tests.CommandLine;

/// <summary>The exit codes and the form of problems, verb by verb.</summary>
public sealed class EveryVerbTests : TypedRequests
{
    /// <summary>Requests that find what they need: the code, then the request. <c>@</c> stands for the folder of the test.</summary>
    public static TheoryData<int, string> Good => new()
    {
        { 0, "machine list" },
        { 0, "machine show" },
        { 0, "machine show Heron" },
        { 0, "machine edit Heron --travel-mm 420,580,95 --steps-per-mm 320" },
        { 0, "machine new Wren --travel-mm 300,300,60 --steps-per-mm 800" },
        { 0, "machine retire Heron" },
        { 0, "instrument add rule --kind tape" },
        { 0, "instrument list" },
        { 0, "instrument list --catalogue" },
        { 0, "instrument show caliper-150" },
        { 0, "procedure list" },
        { 0, "procedure show axis-scale" },
        { 0, "procedure show axis-scale --sheet --axis X" },
        { 0, "procedure show axis-scale --sheet --axis X --json" },
        { 0, "fit axis-scale @/good.csv --instrument caliper-150" },
        { 0, "fit axis-scale @/good.csv --instrument caliper-150 --tolerance 0.5mm --travel-mm 130" },
        { 1, "fit axis-scale @/far.csv --instrument caliper-150 --tolerance 0.5mm --travel-mm 130" },
        { 3, "fit axis-scale @/good.csv --instrument caliper-150 --tolerance 0.03mm --travel-mm 130" },
        { 0, "fit axis-scale @/good.csv --keep --axis X" },
        { 0, "history list" },
        { 0, "history list --all --units in" },
        { 0, "history show 1" },
        { 0, "history change crash --text block" },
        { 0, "history next" },
        { 0, "history note tidied" },
        { 0, "plan axis-scale --axis X" },
        { 0, "plan axis-scale --axis X --units in" },
        { 0, "controller ports" },
        { 0, "completions fish" },
        { 0, "manual" },
        { 0, "history recompute" },
        { 0, "history export --out @/out.jsonl" },
        { 0, "history check" },
        { 0, "history backup --to @/stick" },
        { 0, "report" },
        { 0, "report --out @/r.html" },
        { 0, "report --out @/r.md --as-of 2999-01-01" },
        { 0, "report --units in" },
        { 0, "--help" },
    };

    /// <summary>Requests that are bad, with a word of the problem.</summary>
    public static TheoryData<string, string> Bad => new()
    {
        { "machine", "new, list, show" },
        { "machine new Heron --travel-mm 1,2,3 --steps-per-mm 320", "Heron" },
        { "machine new Other --travel-mm four --steps-per-mm 320", "travel-mm" },
        { "machine new Other --file @/none.yaml", "none.yaml" },
        { "machine show Wren", "Heron" },
        { "machine retire Wren", "Heron" },
        { "instrument show nothing", "nothing" },
        { "instrument add rule --kind spoon", "spoon" },
        { "instrument check nothing 125 125.01 125.02 125.01", "nothing" },
        { "procedure show nothing", "nothing" },
        { "procedure show axis-scale --sheet", "axis" },
        { "procedure show axis-scale --sheet --axis W", "W" },
        { "procedure check @/none.yaml", "none.yaml" },
        { "procedure run nothing", "nothing" },
        { "procedure run axis-scale --axis Q", "Q" },
        { "fit axis-scale @/none.csv", "none.csv" },
        { "fit axis-scale @/good.csv --tolerance 5", "unit" },
        { "fit axis-scale @/good.csv --instrument nothing", "nothing" },
        { "fit axis-scale @/good.csv --machine Wren --keep", "Wren" },
        { "fit tram @/good.csv", "--radius-mm" },
        { "fit tram @/good.csv --radius-mm 100", "angle_deg" },
        { "history show 999", "999" },
        { "history show first", "first" },
        { "history change earthquake", "earthquake" },
        { "history withdraw 999 --reason because", "999" },
        { "history import @/none.jsonl", "none.jsonl" },
        { "history trend nothing", "nothing" },
        { "history trend axis-scale --axis X", "axis scale of X" },
        { "history exclude 999 --reason slipped", "999" },
        { "history adopt", "history adopt" },
        { "plan nothing", "nothing" },
        { "controller watch", "--port" },
        { "controller settings save --port @/none --dialect nothing --out @/s.json", "numbered-settings" },
        { "completions korn", "powershell" },
        { "report --session first", "first" },
        { "report --session 1 --card", "one of them" },
        { "history export", "--out" },
        { "report --out @/r.doc", "doc" },
        { "report --as-of yesterday", "yesterday" },
        { "report --machine Wren", "Wren" },
        { "report --units furlong", "furlong" },
        { "rehearse --seed x", "x" },
        { "rehearse --walk nothing", "nothing" },
        { "nothing", "nothing" },
    };

    /// <summary>Requests that need a store and find none.</summary>
    public static TheoryData<string> Storeless =>
    [
        "machine list", "machine show", "instrument list", "procedure run axis-scale --axis X", "history list", "history show 1", "history next", "history recompute",
        "history export --out x.jsonl", "history check", "report", "procedure show axis-scale --sheet --axis X",
    ];

    [Theory]
    [MemberData(nameof(Good))]
    public async Task A_request_that_finds_what_it_needs_ends_with_the_code_of_its_answer(int code, string request)
    {
        await Prepare();
        var ending = await Run(request);
        Assert.Equal("", ending.Error);
        Assert.Equal(code, ending.Code);
        Assert.NotEqual("", ending.Out);
    }

    [Theory]
    [MemberData(nameof(Bad))]
    public async Task A_bad_request_ends_with_2_names_what_is_wrong_and_writes_nothing_else(string request, string named)
    {
        await Prepare();
        var plain = await Run(request);
        Assert.Equal(2, plain.Code);
        Assert.Equal("", plain.Out);
        Assert.Contains(named, plain.Error, StringComparison.Ordinal);

        var json = await Run(request + " --json");
        Assert.Equal(2, json.Code);
        Assert.Equal("", json.Out);
        using var told = JsonDocument.Parse(json.Error);
        Assert.Equal("commission.problems/1", told.RootElement.GetProperty("format").GetString());
        Assert.All(told.RootElement.GetProperty("problems").EnumerateArray(), problem =>
        {
            Assert.Equal(["file", "line", "column", "what", "remedy"], problem.EnumerateObject().Select(member => member.Name));
            Assert.NotEqual("", problem.GetProperty("remedy").GetString());
        });
    }

    [Theory]
    [MemberData(nameof(Storeless))]
    public async Task Without_a_store_the_request_is_bad_and_none_is_made(string request)
    {
        var ending = await Run(request);
        Assert.Equal(2, ending.Code);
        Assert.Contains("there is no store", ending.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Store));
    }

    [Fact]
    public async Task Without_a_usable_terminal_the_bench_is_refused_and_the_plain_way_named()
    {
        var ending = await Run("");
        Assert.Equal(2, ending.Code);
        Assert.Contains("--plain", ending.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Store));
    }

    [Fact]
    public async Task Lengths_are_shown_in_inches_and_JSON_stays_canonical()
    {
        await Prepare();
        var request = "fit axis-scale @/good.csv --instrument caliper-150";
        var (metric, inch) = (await Run(request), await Run(request + " --units in"));
        Assert.Contains(metric.Lines, line => line.Contains("reversal", StringComparison.Ordinal) && line.Contains(" mm ", StringComparison.Ordinal));
        Assert.Contains(inch.Lines, line => line.Contains("reversal", StringComparison.Ordinal) && line.Contains(" in ", StringComparison.Ordinal));
        Assert.Equal((await Run(request + " --json")).Out, (await Run(request + " --json --units in")).Out);
    }

    [Fact]
    public async Task The_shipped_procedures_pass_their_own_check_and_lie_beside_the_program()
    {
        var files = Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "procedures"), "*.yaml");
        Assert.Equal(Directory.GetFiles(Repository.At("procedures"), "*.yaml").Length, files.Length);
        var ending = await Typed.Run(["procedure", "check", .. files]);
        Assert.Equal("", ending.Error);
        Assert.Equal(0, ending.Code);
    }

    private async Task Prepare()
    {
        await File.WriteAllTextAsync(At("good.csv"), Readings(1), TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(At("far.csv"), Readings(1.02), TestContext.Current.CancellationToken);
        Assert.Equal(0, (await Run("machine new Heron --travel-mm 420,580,90 --steps-per-mm 320 --lead-mm 5 --screw-grade 7")).Code);
    }

    private static string Readings(double scale) => "commanded_mm,measured_mm,direction\n" + string.Concat(
        from place in new[] { 10, 70, 130 }
        from side in new[] { "+", "-" }
        from turn in new[] { 0, 1 }
        select FormattableString.Invariant($"{place},{(place * scale) + (side == "+" ? 0.01 : -0.01) + (0.02 * turn):0.000},{side}\n"));

    private Task<Typed.Ending> Run(string request) => Run([.. request.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(word => word.Replace("@", Folder, StringComparison.Ordinal))]);
}
