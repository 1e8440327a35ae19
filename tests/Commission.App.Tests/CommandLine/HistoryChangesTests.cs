using System.Globalization;
using System.Text.RegularExpressions;
using Commission.App.CommandLine;
using Commission.App.Tests.Plain;
using Commission.Tests;

namespace Commission.App.Tests.CommandLine;

/// <summary>Changes, withdrawals, recomputation and whole journals by the command line.</summary>
public sealed partial class HistoryChangesTests : TypedRequests
{
    private Task<Typed.Ending> In(string store, params string[] arguments) => Typed.Run([.. arguments, "--store", At(store)]);

    private async Task Begin() => Assert.Equal(0, (await In("a", "machine", "new", "Heron", "--travel-mm", "420,580,90", "--steps-per-mm", "320", "--lead-mm", "5")).Code);

    [Fact]
    public async Task A_change_is_entered_shown_and_taken_back()
    {
        await Begin();
        Assert.Equal(0, (await In("a", "history", "change", "crash", "--axis", "x", "--text", "hit the clamp")).Code);
        Assert.Equal(0, (await In("a", "history", "withdraw", "3", "--reason", "other machine")).Code);
        Assert.Equal(2, (await In("a", "history", "withdraw", "3", "--reason", "again")).Code);
        var refused = await In("a", "history", "change", "dream");
        Assert.Equal(2, refused.Code);
        Assert.Contains("spindle-remounted", refused.Error, StringComparison.Ordinal);
    }

    // Found in use: the change was told, its number was not asked for, and a number told wrong stayed for good.
    [Fact]
    public async Task The_number_of_changed_steps_is_told_with_the_change_and_taken_back_like_it()
    {
        await Begin();
        Assert.Equal(2, (await In("a", "history", "change", "steps-changed", "--value", "319,6")).Code);
        Assert.Equal(2, (await In("a", "history", "change", "crash", "--axis", "X", "--value", "319,6")).Code);
        Assert.Equal(2, (await In("a", "history", "change", "steps-changed", "--axis", "X", "--value", "1,234")).Code);
        Assert.Equal(2, (await In("a", "history", "change", "steps-changed", "--axis", "X", "--value", "-3")).Code);
        Assert.Equal(0, (await In("a", "history", "change", "steps-changed", "--axis", "X", "--value", "3196", "--text", "set by hand")).Code);
        async Task<string> Steps() => (await In("a", "machine", "show", "Heron")).Out;
        Assert.Contains("stepsPerMm: 3196", await Steps(), StringComparison.Ordinal);
        Assert.Equal(0, (await In("a", "history", "withdraw", "3", "--reason", "a comma slipped")).Code);
        Assert.Contains("stepsPerMm: 320", await Steps(), StringComparison.Ordinal);
        Assert.Contains((await In("a", "history", "list")).Lines, line => line.EndsWith("[withdrawn by entry 5: a comma slipped]", StringComparison.Ordinal));
    }

    // Found in use: the only machine of a store, not named, was known without what had been told of it. A second correction began at the old number and undid most of the first.
    [Fact]
    public async Task The_only_machine_is_known_to_every_request_with_the_number_that_was_told_last()
    {
        Assert.Equal(0, (await In("a", "machine", "new", "Heron", "--travel-mm", "420,580,90", "--steps-per-mm", "320", "--lead-mm", "5", "--class", "aluminium")).Code);
        Assert.Equal(0, (await In("a", "instrument", "add", "cal", "--like", "caliper-150", "--limit-mm", "0.03", "--resolution-mm", "0.01")).Code);
        Assert.Equal(0, (await In("a", "history", "change", "steps-changed", "--axis", "X", "--value", "319.797")).Code);
        Assert.Contains("stepsPerMm: 319.797", (await In("a", "machine", "show")).Out, StringComparison.Ordinal);
        var asked = 0;
        var person = new AnsweringPerson(prompt => prompt.Split(' ')[1] switch
        {
            "number" => Shown(double.Parse(Place().Match(prompt).Groups[1].Value, CultureInfo.InvariantCulture), asked++),
            "text" => "319.6",
            _ => "yes",
        });
        var here = new Surroundings { In = person.Keyboard, Out = person, Error = person, DefaultStore = At("a") };
        Assert.Equal(1, await Composition.Compose(here).RunAsync(["procedure", "run", "axis-scale", "--axis", "X", "--plain"], CancellationToken.None));
        Assert.Contains(person.Lines, line => line.Contains("steps per mm of X from 319.797 to 319.", StringComparison.Ordinal));
        Assert.Equal(0, (await In("a", "history", "change", "steps-changed", "--axis", "X", "--value", "319.1")).Code);
        Assert.Equal(0, (await In("a", "history", "export", "--out", At("all.jsonl"))).Code);
        var log = await File.ReadAllTextAsync(At("all.jsonl"), TestContext.Current.CancellationToken);
        Assert.Contains("\"before\":319.797,\"after\":319.6,", log, StringComparison.Ordinal);
        Assert.Contains("\"before\":319.6,\"after\":319.1,", log, StringComparison.Ordinal);
    }

    // A caliper on an axis that goes 700 ppm too far, and a hand that scatters by its last digit.
    private static string Shown(double place, int reading) => ((place * 1.0007) - 135 + (reading % 3 * 0.01)).ToString("F2", CultureInfo.InvariantCulture);

    [GeneratedRegex("to X ([0-9.]+)\\. ")]
    private static partial Regex Place();

    [Fact]
    public async Task What_is_next_is_told_with_minutes_and_reason()
    {
        await Begin();
        var next = await In("a", "history", "next");
        Assert.Equal(0, next.Code);
        Assert.Contains("next: first-power-up, 180 min: there is no result yet", next.Lines);
    }

    [Fact]
    public async Task Recompute_of_kept_findings_agrees_with_what_was_shown()
    {
        await Begin();
        var readings = At("readings.csv");
        await File.WriteAllTextAsync(readings, "commanded_mm,measured_mm\n10,10.01\n50,50.02\n100,100.05\n150,150.06\n", TestContext.Current.CancellationToken);
        Assert.InRange((await In("a", "fit", "axis-scale", readings, "--axis", "X", "--instrument-limit-mm", "0.03", "--resolution-mm", "0.01", "--keep")).Code, 0, 3);
        var again = await In("a", "history", "recompute");
        Assert.Contains("axis-scale X: the same", Assert.Single(again.Lines), StringComparison.Ordinal);
        Assert.Equal(0, again.Code);
    }

    private async Task<string> Readings()
    {
        var readings = At("r.csv");
        await File.WriteAllTextAsync(readings, "commanded_mm,measured_mm\n10,10.01\n50,50.02\n100,100.05\n150,150.06\n", TestContext.Current.CancellationToken);
        return readings;
    }

    [Fact]
    public async Task An_entry_is_shown_with_all_that_explains_it()
    {
        await Begin();
        await In("a", "fit", "axis-scale", await Readings(), "--axis", "X", "--instrument-limit-mm", "0.03", "--resolution-mm", "0.01", "--tolerance", "300ppm", "--keep");
        Assert.Equal(0, (await In("a", "history", "exclude", "5", "--reason", "jaw tilted", "--operator", "em")).Code);
        Assert.Equal(2, (await In("a", "history", "exclude", "5", "--reason", "again")).Code);
        Assert.Equal(2, (await In("a", "history", "exclude", "2", "--reason", "no reading")).Code);
        Assert.Equal(0, (await In("a", "history", "note", "the lamp was hot", "--about", "5")).Code);
        Assert.Equal(2, (await In("a", "history", "note", " ")).Code);
        Assert.Equal(0, (await In("a", "history", "withdraw", "8", "--reason", "wrong caliper")).Code);
        var reading = await In("a", "history", "show", "5");
        foreach (var wanted in (string[])["typed \"50.02\", understood as 50.02", "commanded_mm 50", "left out by entry 10: jaw tilted", "note of entry 11: the lamp was hot", "in the run of entry 3: from-file", "machine: Heron, in its epoch 1"])
            Assert.Contains(wanted, reading.Out, StringComparison.Ordinal);
        var finding = await In("a", "history", "show", "8");
        foreach (var wanted in (string[])["method axis-scale/", "tolerance: 300ppm", "from 4 readings, entries 4 to 7", "withdrawn by entry 12: wrong caliper"])
            Assert.Contains(wanted, finding.Out, StringComparison.Ordinal);
        Assert.Contains("4 readings, 1 findings, carried out to its end", (await In("a", "history", "show", "3")).Out, StringComparison.Ordinal);
        Assert.Equal(0, (await In("a", "history", "change", "crash")).Code);
        var list = await In("a", "history", "list");
        Assert.Contains(list.Lines, line => line.Contains("finding axis-scale X", StringComparison.Ordinal) && line.EndsWith("[withdrawn by entry 12: wrong caliper]", StringComparison.Ordinal));
        Assert.Contains("        epoch 2 of Heron begins", list.Lines);
    }

    [Fact]
    public async Task A_foreign_journal_stands_beside_the_own_one_and_is_shown_apart()
    {
        await Begin();
        Assert.Equal(0, (await In("b", "machine", "new", "Wren", "--travel-mm", "300,300,80", "--steps-per-mm", "80")).Code);
        var export = At("b.jsonl");
        Assert.Equal(0, (await In("b", "history", "export", "--out", export)).Code);
        Assert.Equal(0, (await In("a", "history", "import", export)).Code);
        var own = await In("a", "history", "list");
        Assert.DoesNotContain("Wren", own.Out, StringComparison.Ordinal);
        var told = Assert.Single(own.Lines, line => line.StartsWith("beside it: the chain of store ", StringComparison.Ordinal));
        var store = told.Split(' ')[6].TrimEnd(',');
        Assert.Contains("machine Wren described", (await In("a", "history", "list", "--chain", store)).Out, StringComparison.Ordinal);
        Assert.Contains("entry " + store + ":2", (await In("a", "history", "show", "2", "--chain", store)).Out, StringComparison.Ordinal);
        Assert.Equal(2, (await In("a", "history", "list", "--chain", "dream")).Code);
        Assert.Equal(0, (await In("a", "history", "next")).Code);
    }

    [Fact]
    public async Task Zones_and_a_clock_set_back_are_told_in_words()
    {
        Directory.CreateDirectory(Path.Combine(Folder, "old", "journal"));
        File.Copy(Repository.At("tests", "OldJournals", "0.1", "journal", "000001.jsonl"), Path.Combine(Folder, "old", "journal", "000001.jsonl"));
        var list = await In("old", "history", "list", "--all");
        Assert.Equal(0, list.Code);
        Assert.Contains("        the clock was set back here; the order of the numbers holds", list.Lines);
        Assert.Contains("        local time is +01:00 from here on, +02:00 before", list.Lines);
        Assert.Contains("        local time is -04:00 from here on, +01:00 before", list.Lines);
    }

    [Fact]
    public async Task Export_import_export_gives_the_same_bytes()
    {
        await Begin();
        var (first, second) = (At("1.jsonl"), At("2.jsonl"));
        Assert.Equal(0, (await In("a", "history", "export", "--out", first)).Code);
        Assert.Equal(0, (await In("b", "history", "import", first)).Code);
        Assert.Equal(0, (await In("b", "history", "export", "--out", second)).Code);
        var token = TestContext.Current.CancellationToken;
        Assert.Equal(await File.ReadAllBytesAsync(first, token), await File.ReadAllBytesAsync(second, token));
        Assert.Equal(0, (await In("b", "history", "check")).Code);
    }
}
