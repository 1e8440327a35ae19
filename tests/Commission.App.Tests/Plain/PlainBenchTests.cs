using System.Text.RegularExpressions;
using Commission.App.CommandLine;
using Commission.App.Manual;
using Commission.App.Tests.CommandLine;

namespace Commission.App.Tests.Plain;

/// <summary>Every request by question and answer, from the choice of its first word to its answer; the same as typed at once.</summary>
public sealed partial class PlainBenchTests : TypedRequests
{
    /// <summary>Words to choose and answers by the names of their questions; parted by a bar. <c>@</c> stands for the folder of the test.</summary>
    public static TheoryData<int, string> Requests => new()
    {
        { 0, "machine|new|name=Wren|travel-mm=300,300,60|steps-per-mm=800" }, { 0, "machine|list" }, { 0, "machine|show|name=Heron" }, { 0, "machine|edit|name=Heron|fact=travel|axis=Z|value=95" }, { 0, "machine|retire|name=Heron" },
        { 0, "instrument|add|name=rule|kind=tape" }, { 0, "instrument|list" }, { 0, "instrument|show|name=caliper-150" }, { 2, "instrument|check|name=rule|block=125|readings=125.01 125.02 125.01" }, { 2, "instrument|retire|name=rule" },
        { 0, "procedure|list" }, { 0, "procedure|show|id=axis-scale|sheet=yes|axis=X" }, { 0, "procedure|check|file=@/p.yaml" },
        { 0, "fit|axis-scale|file=@/good.csv|instrument=caliper-150" }, { 1, "fit|axis-scale|file=@/far.csv|instrument=caliper-150|tolerance=0.5mm|travel-mm=130" }, { 2, "fit|axis-scale|file=@/none.csv" },
        { 0, "plan|axis-scale|axis=X" }, { 0, "history|list" }, { 0, "history|show|number=1" }, { 0, "history|change|word=crash|text=a block fell" }, { 0, "history|next" }, { 0, "history|note|text=- tidied" }, { 0, "history|recompute" },
        { 0, "history|export|out=@/out.jsonl" }, { 0, "history|check" }, { 0, "history|backup|to=@/stick" }, { 0, "history|adopt|kind=axis-scale|axis=X|value=120ppm" },
        { 2, "history|trend|what=axis-scale|axis=X" }, { 2, "history|withdraw|number=1|reason=wrong" }, { 2, "history|exclude|number=1|reason=slipped" }, { 2, "history|import|file=@/none.jsonl" },
        { 0, "report|out=@/r.md" }, { 0, "prove" }, { 0, "controller|ports" }, { 0, "completions|shell=fish" }, { 0, "manual" },
    };

    [Theory]
    [MemberData(nameof(Requests))]
    public async Task A_request_is_chosen_asked_for_and_carried_out(int code, string answers)
    {
        await Prepare();
        var ending = await Answered(answers);
        Assert.Equal(code, ending.Code);
        Assert.Equal(code == 2, ending.Error.Length > 0);
        // Who leaves by quit was told what was refused; nothing was done by it, and nothing failed.
        if (code == 2)
            Assert.Equal(0, (await Answered(answers + "|quit")).Code);
        Assert.All(ending.Lines.Where(line => line.StartsWith("ask ", StringComparison.Ordinal)), prompt => Assert.Matches(Form(), prompt));
        Assert.StartsWith("ask choose request: What is to be done?", ending.Lines.Last(line => line.StartsWith("ask ", StringComparison.Ordinal)), StringComparison.Ordinal);
        // What is carried out answers as it does when it is typed at once.
        Assert.DoesNotContain("a defect in the program", ending.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_procedure_is_carried_out_question_by_question_from_the_same_session()
    {
        await Prepare();
        var ending = await Answered("procedure|run|id=axis-scale|axis=X|instrument=caliper-150|blocks=no");
        Assert.Contains(ending.Lines, line => line.StartsWith("ask confirm hazards: ", StringComparison.Ordinal));
        Assert.Contains(ending.Lines, line => line.StartsWith("The run was put aside", StringComparison.Ordinal));
        Assert.Equal(0, ending.Code);
    }

    // Found in review: a request whose last question met the end of the input was carried out all the same.
    [Fact]
    public async Task Where_the_input_ends_before_the_last_question_nothing_is_done()
    {
        await Prepare();
        var ending = await Typed.RunWith("history\nnote\ntidied\n", "--plain", "--store", Store);
        Assert.Contains(ending.Lines, line => line.StartsWith("ask number about: ", StringComparison.Ordinal));
        Assert.DoesNotContain("tidied", (await Answered("history|list")).Out, StringComparison.Ordinal);
        await Answered("history|note|text=tidied");
        Assert.Contains("tidied", (await Answered("history|list")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Answers_are_json_where_the_bench_was_opened_with_it()
    {
        await Prepare();
        var ending = await Typed.RunWith("machine\nlist\n", "--plain", "--json", "--store", Store);
        Assert.Contains(ending.Lines, line => line.StartsWith("[{\"name\":\"Heron\"", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Every_word_of_the_command_line_is_offered_and_a_wrong_one_is_asked_again()
    {
        var ending = await Typed.RunWith("furniture\nfit\n\nquit\n", "--plain", "--store", Store);
        var root = Composition.Compose(new Surroundings { In = TextReader.Null, Out = TextWriter.Null, Error = TextWriter.Null, DefaultStore = Folder }).Root();
        foreach (var (word, _) in CommandTree.Of(root)[0].Verbs)
            Assert.Contains(ending.Lines, line => line.StartsWith($"  {word}: ", StringComparison.Ordinal));
        Assert.Contains("'furniture' is no answer here", ending.Error, StringComparison.Ordinal);
        Assert.Equal(0, ending.Code);
        Assert.False(Directory.Exists(Store));
    }

    // Kinds of fit and plan differ in their columns alone; what needs a cable or the simulated person stands in PlainResultsTests.
    [Fact]
    public void Every_request_has_its_session_here()
    {
        var root = Composition.Compose(new Surroundings { In = TextReader.Null, Out = TextWriter.Null, Error = TextWriter.Null, DefaultStore = Folder }).Root();
        var carried = Requests.Select(row => string.Join(' ', row.Data.Item2.Split('|').TakeWhile(word => !word.Contains('=', StringComparison.Ordinal)))).Append("procedure run").ToList();
        var missing = CommandTree.Of(root).Where(node => node.Verbs.IsEmpty && node.Trail.Length > 0 && !node.Trail.StartsWith("fit ", StringComparison.Ordinal) && !node.Trail.StartsWith("plan ", StringComparison.Ordinal)
            && node.Trail is not ("rehearse" or "controller watch") && !node.Trail.StartsWith("controller settings", StringComparison.Ordinal)
            && !carried.Exists(done => done == node.Trail || done.StartsWith(node.Trail + " ", StringComparison.Ordinal))).Select(node => node.Trail);
        Assert.Empty(missing);
    }

    [Fact]
    public async Task What_the_words_mean_is_told_once_and_again_after_an_empty_line()
    {
        await Prepare();
        int Told(Typed.Ending ending) => ending.Lines.Count(line => line.StartsWith("  machine: ", StringComparison.Ordinal));
        Assert.Equal(1, Told(await Answered("machine|list|machine|list|quit")));
        Assert.Equal(2, Told(await Typed.RunWith("machine\nlist\n\nquit\n", "--plain", "--store", Store)));
        // Found in review: only those of the first level came again.
        Assert.Equal(2, (await Typed.RunWith("procedure\n\nprocedure\nquit\n", "--plain", "--store", Store)).Lines.Count(line => line.StartsWith("  check: ", StringComparison.Ordinal)));
    }

    private async Task Prepare()
    {
        var far = "commanded_mm,measured_mm,direction\n10,10.2,+\n10,10.2,-\n70,71.4,+\n70,71.42,-\n130,132.6,+\n130,132.62,-\n";
        await File.WriteAllTextAsync(At("far.csv"), far, TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(At("good.csv"), far.Replace("71.4", "70.0", StringComparison.Ordinal).Replace("132.6", "130.0", StringComparison.Ordinal).Replace("10.2", "10.0", StringComparison.Ordinal), TestContext.Current.CancellationToken);
        File.Copy(Path.Combine(AppContext.BaseDirectory, "procedures", "axis-scale.yaml"), At("p.yaml"), overwrite: true);
        Assert.Equal(0, (await Typed.RunWith("", ["machine", "new", "Heron", "--travel-mm", "420,580,90", "--steps-per-mm", "320", "--lead-mm", "5", "--store", Store])).Code);
    }

    [GeneratedRegex("^ask (confirm|choose|number|text|motion) [a-z0-9/-]+: .+$")]
    private static partial Regex Form();
}
