using System.Globalization;
using System.Text.RegularExpressions;
using Commission.App.Tests.Attended;
using Commission.App.Tests.CommandLine;

namespace Commission.App.Tests.Plain;

/// <summary>Each request by question and answer to what it is made for: the store, the file or the controller is as it was asked to be.</summary>
public sealed partial class PlainResultsTests : TypedRequests
{
    private string store = "store";

    [Fact]
    public async Task A_machine_is_described_corrected_and_put_out_of_use()
    {
        await Prepare();
        await Done("machine|new|name=Wren|travel-mm=300,300,60|steps-per-mm=800");
        await Done("machine|edit|name=Wren|fact=travel|axis=Y|value=310");
        Assert.Contains("Travel of Y is 310 mm.", await Done("machine|show|name=Wren"), StringComparison.Ordinal);
        await Done("machine|retire|name=Wren");
        Assert.Matches(@"Wren.*(out of use|retired)", await Done("machine|list"));
    }

    // Without options it is asked for question by question, in the same session.
    [Fact]
    public async Task A_machine_is_described_question_by_question()
    {
        var told = await Done("machine|new|name=Wren|travel-mm=300,300,60|steps-per-mm=800|class=wood");
        Assert.Contains("ask text travel-mm: ", told, StringComparison.Ordinal);
        Assert.Contains("Travel of Z is 60 mm.", await Done("machine|show|name=Wren"), StringComparison.Ordinal);
    }

    // 125.014 on a block of 125: the arithmetic has its own tests.
    [Fact]
    public async Task An_instrument_is_entered_checked_against_a_block_and_put_out_of_use()
    {
        await Prepare();
        await Done("instrument|add|name=mine|like=caliper-150");
        Assert.Contains("Its error there is +0.0140 +/- 0.0079 mm (k=2.06, 95 %).", await Done("instrument|check|name=mine|block=125|readings=125.01 125.02 125.01 125.01 125.02|block-limit=0.0012"), StringComparison.Ordinal);
        Assert.Contains("limit of error 0.022 mm", await Done("instrument|show|name=mine"), StringComparison.Ordinal);
        await Done("instrument|retire|name=mine");
        Assert.Matches(@"mine.*(out of use|retired)", await Done("instrument|list"));
    }

    [Fact]
    public async Task A_limit_of_error_that_can_hardly_be_is_asked_about_before_it_is_kept()
    {
        await Prepare();
        var told = await Done("instrument|add|name=mine|kind=caliper-digital|limit-mm=0.3|resolution-mm=0.01|limit-mm=r|limit-mm=0.3|limit-mm=o");
        Assert.Contains("ask choose limit-mm: a limit of error of 0.3 mm is far above that of its like: 0.03 to 0.05 mm. A slip? R answers anew. A takes 0.03 mm. O stores 0.3 mm. Empty for R.", told, StringComparison.Ordinal);
        Assert.Contains("limit of error 0.3 mm", await Done("instrument|show|name=mine"), StringComparison.Ordinal);
        await Done("instrument|add|name=yours|kind=caliper-digital|limit-mm=0.3|resolution-mm=0.1|limit-mm=a|resolution-mm=a");
        Assert.Contains("limit of error 0.03 mm, last digit 0.01 mm", await Done("instrument|show|name=yours"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_finding_is_kept_shown_in_its_trend_computed_again_and_withdrawn()
    {
        await Prepare();
        await Done("fit|axis-scale|file=@/good.csv|instrument=caliper-150|axis=X|keep=yes");
        var number = await NumberOf("finding");
        // No columns and no drawing: a sentence a line.
        var trend = (await Done("history|trend|what=axis-scale|axis=X")).Split('\n').SkipWhile(line => !line.StartsWith("Trend of scale X, machine Heron.", StringComparison.Ordinal)).TakeWhile(line => !line.StartsWith("ask ", StringComparison.Ordinal)).ToArray();
        Assert.Matches(@"^\d+ \w+ \d+: [-+]\d+ \+/- \d+ ppm \(k=.*\)\.$", trend[1]);
        Assert.All(trend, line => Assert.Matches(@"[.?]$", line));
        Assert.Contains("axis", await Done($"history|show|number={number}"), StringComparison.Ordinal);
        Assert.Contains(number, await Done("history|recompute"), StringComparison.Ordinal);
        await Done($"history|withdraw|number={number}|reason=wrong caliper");
        Assert.Contains("wrong caliper", await Done($"history|show|number={number}"), StringComparison.Ordinal);
        Assert.NotEqual("", (await Run("history|trend|what=axis-scale|axis=X")).Error);
    }

    [Fact]
    public async Task A_reading_of_a_run_is_left_out_with_its_reason_and_the_run_goes_on()
    {
        await Prepare();
        await Done("procedure|run|id=axis-scale|axis=X|instrument=caliper-150|scale/1=8.49|scale/2=q");
        var number = await NumberOf("reading");
        await Done($"history|exclude|number={number}|reason=slipped");
        Assert.Contains("slipped", await Done($"history|show|number={number}"), StringComparison.Ordinal);
        Assert.Contains("Taken up again", (await Run("procedure|run|id=axis-scale|axis=X|instrument=caliper-150|scale/2=q|scale/1=q")).Out, StringComparison.Ordinal);
    }

    // Found by use: who left the options empty was told to begin again with --axis.
    [Fact]
    public async Task The_axis_of_a_procedure_for_one_axis_is_asked_for_where_none_was_named()
    {
        await Prepare();
        var told = await Done("procedure|run|id=axis-scale|axis=Y|hazards=no");
        Assert.Contains("ask choose axis: For which axis? One of: X, Y, Z.", told, StringComparison.Ordinal);
        Assert.Contains("Procedure Axis scale with a caliper, axis Y, machine Heron.", told, StringComparison.Ordinal);
        Assert.Contains("\"W\" is no axis", (await Run("procedure|run|id=axis-scale|axis=W|axis=q")).Error, StringComparison.Ordinal);
        // Found in review: without a terminal it goes question by question too, and was not asked for.
        Assert.Contains("ask choose axis: For which axis?", (await Typed.RunWith("Z\nno\n", "procedure", "run", "axis-scale", "--anew", "--store", At(store))).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_happened_is_told_noted_and_marks_what_rests_on_it()
    {
        await Prepare();
        await Done("fit|axis-scale|file=@/good.csv|instrument=caliper-150|axis=X|keep=yes");
        await Done("history|change|word=crash|text=a block fell");
        await Done("history|note|text=tidied");
        var list = await Done("history|list");
        Assert.Contains("a block fell", list, StringComparison.Ordinal);
        Assert.Contains("tidied", list, StringComparison.Ordinal);
        Assert.Matches(@"Scale X: suspect, .* ppm .*\.", await Done("history|next"));
    }

    [Fact]
    public async Task A_handle_that_is_a_number_is_asked_about()
    {
        await Prepare();
        var told = await Done("history|note|text=tidied|operator=8.5|operator=r|operator=MB");
        Assert.Contains("ask choose operator: 8.5 is a number, and whoever measures is named by letters. A slip? R answers anew. O stores what was typed.", told, StringComparison.Ordinal);
        await Done("history|export|out=@/out.jsonl");
        var log = await File.ReadAllTextAsync(At("out.jsonl"), TestContext.Current.CancellationToken);
        Assert.Contains("\"operator\":\"MB\"", log, StringComparison.Ordinal);
        Assert.DoesNotContain("\"operator\":\"8.5\"", log, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_history_is_exported_read_in_elsewhere_verified_and_copied_and_a_lost_one_adopted()
    {
        await Prepare();
        await Done("history|note|text=tidied");
        await Done("history|export|out=@/out.jsonl");
        await Done("history|backup|to=@/stick");
        Assert.NotEmpty(Directory.GetFiles(At("stick"), "*", SearchOption.AllDirectories));
        store = "other";
        await Done("machine|new|name=Heron|travel-mm=420,580,90|steps-per-mm=320");
        await Done("history|import|file=@/out.jsonl");
        var chain = Chain().Match(await Done("history|list")).Groups[1].Value;
        Assert.Contains("tidied", await Done($"history|list|all=yes|chain={chain}"), StringComparison.Ordinal);
        await Done("history|check");
        await Done("history|adopt|kind=axis-scale|axis=X|value=120ppm");
        Assert.Contains("adopted", await Done("history|list"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Report_and_card_are_written()
    {
        await Prepare();
        await Done("report|out=@/r.md");
        await Done("report|card=yes|out=@/card.html");
        Assert.Contains("Heron", await File.ReadAllTextAsync(At("r.md"), TestContext.Current.CancellationToken), StringComparison.Ordinal);
        Assert.Contains("Heron", await File.ReadAllTextAsync(At("card.html"), TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_procedure_is_rehearsed_by_the_simulated_operator() =>
        Assert.Contains("ended: completed", await Done("rehearse|walk=ratio-check"), StringComparison.Ordinal);

    [Fact]
    public async Task A_controller_is_watched_its_settings_saved_written_compared_and_put_back()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there is no pseudo-terminal here");
        await Prepare();
        using var board = new Board();
        var port = string.Join('|', board.Options.Chunk(2).Select(pair => $"{pair[0][2..]}={pair[1]}"));
        var before = board.Controller.Setting("100");
        Assert.Contains("X ", await Done($"controller|watch|for=0.3|{port}"), StringComparison.Ordinal);
        await Done($"controller|settings|save|out=@/s.json|{port}");
        await Done($"controller|settings|write|axis=X|steps-per-mm=319.5|{port}");
        Assert.Equal(319.5, double.Parse(board.Controller.Setting("100"), CultureInfo.InvariantCulture), 3);
        var compared = await Run($"controller|settings|compare|file=@/s.json|{port}");
        Assert.Equal(1, compared.Code);
        Assert.Contains("319.5", compared.Out, StringComparison.Ordinal);
        await Done($"controller|settings|restore|file=@/s.json|{port}");
        Assert.Equal(double.Parse(before, CultureInfo.InvariantCulture), double.Parse(board.Controller.Setting("100"), CultureInfo.InvariantCulture), 3);
    }

    private async Task Prepare()
    {
        await File.WriteAllTextAsync(
            At("good.csv"), "commanded_mm,measured_mm,direction\n10,10.0,+\n10,10.02,-\n70,70.01,+\n70,70.02,-\n130,130.0,+\n130,130.02,-\n", TestContext.Current.CancellationToken);
        await Done("machine|new|name=Heron|travel-mm=420,580,90|steps-per-mm=320|lead-mm=5");
    }

    private async Task<string> Done(string answers)
    {
        var ending = await Run(answers);
        Assert.True(ending.Code == 0, $"{answers}: {ending.Code}\n{ending.Error}\n{ending.Out}");
        return ending.Out;
    }

    private Task<Typed.Ending> Run(string answers) => Answered(answers + "|quit", store);

    // The number of the newest entry of a sort, as the list shows it.
    private async Task<string> NumberOf(string sort) =>
        (await Done("history|list|all=yes")).Split('\n').Select(line => Entry().Match(line)).Last(match => match.Success && match.Groups[2].Value.Contains(sort, StringComparison.Ordinal)).Groups[1].Value;

    [GeneratedRegex(@"see --chain (\S+)")]
    private static partial Regex Chain();

    [GeneratedRegex(@"^ *(\d+) +(.*)$")]
    private static partial Regex Entry();
}
