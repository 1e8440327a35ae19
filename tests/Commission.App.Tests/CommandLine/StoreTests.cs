using System.Text.Json;

namespace Commission.App.Tests.CommandLine;

/// <summary>Machines, instruments, kept findings, history and reports in a store of their own.</summary>
public sealed class StoreTests : TypedRequests
{
    [Fact]
    public async Task A_machine_by_short_options_is_shown_again_as_its_file()
    {
        var made = await Run("machine", "new", "Heron", "--travel-mm", "420,580,90", "--steps-per-mm", "320,320,400", "--lead-mm", "5", "--screw-grade", "7", "--class", "wood");
        Assert.Equal("", made.Error);
        Assert.Equal(0, made.Code);
        var shown = await Run("machine", "show");
        Assert.Contains("travelMm: [420, 580, 90]", shown.Lines);
        var file = At("heron.yaml");
        await File.WriteAllTextAsync(file, shown.Out, TestContext.Current.CancellationToken);
        var again = await Run("machine", "new", "Second", "--file", file);
        Assert.Equal(0, again.Code);
        Assert.Equal(shown.Out.Replace("Heron", "Second", StringComparison.Ordinal), again.Out);
    }

    [Fact]
    public async Task With_several_machines_the_request_is_refused_with_the_list()
    {
        await Machine("Heron");
        await Machine("Wren");
        var ending = await Run("machine", "show");
        Assert.Equal(2, ending.Code);
        Assert.Contains("Heron, Wren", ending.Error, StringComparison.Ordinal);
        Assert.Equal(0, (await Run("machine", "show", "--machine", "Wren")).Code);
        Assert.Equal(0, (await Run("machine", "retire", "Heron")).Code);
        Assert.Equal(0, (await Run("machine", "show")).Code);
    }

    // contracts: a machine that is not named is the only one of the store; with several the list, and nothing is guessed.
    [Fact]
    public async Task A_fit_of_a_file_means_the_only_machine_of_the_store_and_is_refused_where_there_are_several()
    {
        var file = At("x.csv");
        await File.WriteAllTextAsync(file, "commanded_mm,measured_mm\n20,20.01\n80,80.03\n140,140.06\n20,20.02\n80,80.04\n140,140.05\n", TestContext.Current.CancellationToken);
        string[] asked = ["fit", "axis-scale", file, "--axis", "X", "--instrument-limit-mm", "0.03", "--resolution-mm", "0.01"];
        Assert.DoesNotContain("scaleErrorGivenGrade", (await Run(asked)).Out, StringComparison.Ordinal);
        await Run("machine", "new", "Heron", "--travel-mm", "420,580,90", "--steps-per-mm", "320", "--lead-mm", "5", "--screw-grade", "7");
        var only = await Run(asked);
        Assert.Contains("scaleErrorGivenGrade", only.Out, StringComparison.Ordinal);
        Assert.Equal((await Run([.. asked, "--machine", "Heron"])).Out, only.Out);
        await Machine("Wren");
        var several = await Run(asked);
        Assert.Equal((2, ""), (several.Code, several.Out));
        Assert.Contains("Heron, Wren", several.Error, StringComparison.Ordinal);
        // What belongs to no machine is not asked about one.
        Assert.Equal(0, (await Run("fit", "columns", file, "--response", "measured_mm", "--predictors", "commanded_mm")).Code);
    }

    [Fact]
    public async Task A_machine_is_described_question_by_question()
    {
        var ending = await Typed.RunWith("420,580,90\n320\n\n\nhome\nwood\n", "machine", "new", "Heron", "--store", Store);
        Assert.Equal(0, ending.Code);
        Assert.StartsWith("ask text travel-mm: ", ending.Out, StringComparison.Ordinal);
        Assert.Contains("    switches: home", ending.Out, StringComparison.Ordinal);
    }

    // 16 1/2 in are 419.1 mm, 22 3/4 are 577.85, 3.5 are 88.9; 8128 steps for one inch are 320 for one mm; a fifth of an inch is 5.08 mm.
    [Fact]
    public async Task An_owner_in_inches_is_asked_in_inches_and_the_file_stays_in_millimetres()
    {
        var ending = await Typed.RunWith("16 1/2, 22 3/4, 3.5\n8128\n1/5\n\nhome\nwood\n", "machine", "new", "Heron", "--units", "in", "--store", Store);
        Assert.Equal(0, ending.Code);
        Assert.StartsWith("ask text travel-mm: How far do X, Y and Z travel, in inches", ending.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("ask text steps-per-mm", ending.Out, StringComparison.Ordinal);
        Assert.Contains("travelMm: [419.1, 577.85, 88.9]", ending.Out, StringComparison.Ordinal);
        Assert.Contains("units: in", ending.Out, StringComparison.Ordinal);
        Assert.Contains("    travelPerTurnMm: 5.08", ending.Out, StringComparison.Ordinal);
        Assert.Contains("    stepsPerMm: 320", ending.Out, StringComparison.Ordinal);
        Assert.Contains("    setting: steps-per-inch", ending.Out, StringComparison.Ordinal);
        Assert.Contains("Heron: travel 16.5 x 22.75 x 3.5 in", (await Run("machine", "list")).Out, StringComparison.Ordinal);
        Assert.Contains("limit of error 0.0012 in", (await Run("instrument", "add", "my caliper", "--like", "caliper-150")).Out, StringComparison.Ordinal);
        var both = await Run("machine", "new", "Wren", "--travel-mm", "420,580,90", "--steps-per-mm", "320", "--steps-per-inch", "8128");
        Assert.Equal(2, both.Code);
        Assert.Contains("both tell the ratio", both.Error, StringComparison.Ordinal);
    }

    // Contracts 3a: unknown is always legal, for everything but the travel.
    [Fact]
    public async Task Unknown_is_an_answer_to_every_option_but_the_travel()
    {
        var ending = await Run("machine", "new", "Wren", "--travel-mm", "420,580,90", "--steps-per-mm", "unknown", "--lead-mm", "unknown", "--screw-grade", "unknown", "--switches", "unknown", "--class", "unknown");
        Assert.Equal((0, ""), (ending.Code, ending.Error));
        Assert.Contains("    grade: unknown", ending.Out, StringComparison.Ordinal);
        Assert.Equal(2, (await Run("machine", "new", "Crane", "--travel-mm", "unknown")).Code);
    }

    [Fact]
    public async Task A_limit_of_error_that_can_hardly_be_is_remarked_where_nobody_is_asked()
    {
        var ending = await Run("instrument", "add", "my caliper", "--like", "caliper-150", "--limit-mm", "0.3");
        Assert.Equal(0, ending.Code);
        Assert.StartsWith("Remark: a limit of error of 0.3 mm is far above that of its like: 0.03 mm.\n", ending.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("Remark", (await Run("instrument", "add", "other", "--like", "caliper-150", "--limit-mm", "0.02")).Out, StringComparison.Ordinal);
    }

    // The owner knows that nothing is known of it: the catalogue does not know better.
    [Fact]
    public async Task An_unknown_limit_is_unknown_also_where_the_instrument_is_like_one_of_the_catalogue()
    {
        Assert.Equal(0, (await Run("instrument", "add", "flea market", "--like", "caliper-150", "--limit-mm", "unknown")).Code);
        Assert.Contains("flea market: caliper-digital, limit of error not known, last digit 0.01 mm", (await Run("instrument", "list")).Out, StringComparison.Ordinal);
        Assert.Contains("last digit 0.0004 in", (await Run("instrument", "list", "--units", "in")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_instrument_from_the_catalogue_keeps_the_source_of_its_limit()
    {
        Assert.Equal(0, (await Run("instrument", "add", "my caliper", "--like", "caliper-150")).Code);
        var list = await Run("instrument", "list");
        Assert.Contains("limit of error 0.03 mm", list.Out, StringComparison.Ordinal);
        Assert.Contains("DIN 862", list.Out, StringComparison.Ordinal);
        Assert.Equal(2, (await Run("instrument", "add", "my caliper", "--limit-mm", "0.02")).Code);
        Assert.Equal(0, (await Run("instrument", "retire", "my caliper")).Code);
    }

    [Fact]
    public async Task No_store_is_made_by_asking()
    {
        var ending = await Run("history", "list");
        Assert.Equal(2, ending.Code);
        Assert.False(Directory.Exists(Store));
    }

    [Fact]
    public async Task A_kept_finding_stands_in_history_and_report_with_its_readings()
    {
        await Keep();
        var history = await Run("history", "list");
        Assert.Contains(history.Lines, line => line.Contains("finding axis-scale X", StringComparison.Ordinal));
        var report = await Run("report");
        Assert.Contains("| axis scale | X |", report.Out, StringComparison.Ordinal);
        Assert.Contains("excluded: slipped", report.Out, StringComparison.Ordinal);
        Assert.Contains("hash of the last one", report.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("r.html")]
    [InlineData("r.md")]
    [InlineData("r.csv")]
    public async Task The_same_store_gives_the_same_bytes(string name)
    {
        await Keep();
        var (first, second) = (Path.Combine(Folder, "1" + name), Path.Combine(Folder, "2" + name));
        Assert.Equal(0, (await Run("report", "--out", first)).Code);
        Assert.Equal(0, (await Run("report", "--out", second)).Code);
        Assert.Equal(await Bytes(first), await Bytes(second));
    }

    [Fact]
    public async Task What_was_exported_comes_back_byte_for_byte()
    {
        await Keep();
        var (first, second) = (At("1.jsonl"), At("2.jsonl"));
        Assert.Equal(0, (await Run("history", "export", "--out", first)).Code);
        Assert.Equal(0, (await Run("history", "export", "--out", second)).Code);
        Assert.Equal(await Bytes(first), await Bytes(second));
        using var line = JsonDocument.Parse((await File.ReadAllLinesAsync(first, TestContext.Current.CancellationToken))[0]);
        Assert.Equal("store-born", line.RootElement.GetProperty("type").GetString());
        Assert.Equal(0, (await Run("history", "check")).Code);
    }

    [Fact]
    public async Task The_shipped_procedures_are_listed_and_shown()
    {
        Assert.Contains("axis-scale", (await Run("procedure", "list")).Out, StringComparison.Ordinal);
        Assert.Contains("Hazards", (await Run("procedure", "show", "axis-scale")).Lines);
    }

    [Fact]
    public async Task A_procedure_with_a_fault_is_refused_with_its_place()
    {
        var file = At("bad.yaml");
        await File.WriteAllTextAsync(file, "format: commission.procedure/1\nid: bad\ncolour: red\n", TestContext.Current.CancellationToken);
        var check = await Run("procedure", "check", file);
        Assert.Equal(2, check.Code);
        Assert.Contains(file + ":3:1: ", check.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_published_cases_agree()
    {
        var ending = await Run("prove");
        Assert.DoesNotContain("DIFFERS", ending.Out, StringComparison.Ordinal);
        Assert.Equal(0, ending.Code);
    }

    private async Task Keep()
    {
        await Machine("Heron");
        var file = At("readings.csv");
        await File.WriteAllTextAsync(
            file,
            "commanded_mm,measured_mm,direction,excluded\n10,10.01,+,\n70,70.00,+,\n130,130.02,+,\n10,10.00,-,\n70,70.01,-,\n130,130.01,-,\n10,10.02,+,\n130,130.00,-,\n70,75.00,+,slipped\n",
            TestContext.Current.CancellationToken);
        var ending = await Run("fit", "axis-scale", file, "--keep", "--axis", "X", "--instrument", "caliper-150", "--tolerance", "0.2mm");
        Assert.Equal("", ending.Error);
        Assert.InRange(ending.Code, 0, 3);
    }

    private async Task Machine(string name)
    {
        var ending = await Run("machine", "new", name, "--travel-mm", "420,580,90", "--steps-per-mm", "320", "--lead-mm", "5", "--screw-grade", "7");
        Assert.Equal("", ending.Error);
    }

    private static Task<byte[]> Bytes(string file) => File.ReadAllBytesAsync(file, TestContext.Current.CancellationToken);
}
