using Commission.Tests;

namespace Commission.App.Tests.CommandLine;

/// <summary>A folder of procedures of the owner's own, beside the shipped ones.</summary>
public sealed class OwnProceduresTests : OwnFolder
{
    private const string Mine = """
        format: commission.procedure/1
        id: my-check
        title: My check
        purpose: Says in a sentence what it is for.
        minutes: 5
        hazards:
          - what: What may happen.
            do: What is done before the first step.
        steps:
          - confirm: The cutter is out.
        evaluation: [What the result means, and what to do.]
        abort: [When to end it early.]
        goodData: [What good readings look like.]
        slips: [The commonest mistake.]
        """;

    [Fact]
    public async Task The_smallest_file_of_the_guide_is_listed_as_ones_own_shown_and_checked()
    {
        Directory.CreateDirectory(Path.Combine(Folder, "procedures"));
        var file = Path.Combine(Folder, "procedures", "my-check.yaml");
        File.WriteAllText(file, Mine);
        var store = Path.Combine(Folder, "store");

        var list = await Typed.RunIn(store, "", "procedure", "list");
        Assert.Equal(0, list.Code);
        Assert.Contains("my-check", list.Out, StringComparison.Ordinal);
        Assert.Contains("(your own)", list.Out, StringComparison.Ordinal);
        Assert.Contains("axis-scale", list.Out, StringComparison.Ordinal);
        Assert.Contains("The cutter is out.", (await Typed.RunIn(store, "", "procedure", "show", "my-check")).Out, StringComparison.Ordinal);
        Assert.Equal(0, (await Typed.RunIn(store, "", "procedure", "check", file)).Code);
    }

    [Fact]
    public void The_guide_begins_with_just_that_file()
    {
        var guide = Repository.Text("shared", "handbook", "authoring-procedures.md");
        Assert.Equal(Mine.ReplaceLineEndings("\n"), guide[(guide.IndexOf("```yaml\n", StringComparison.Ordinal) + 8)..].Split("\n```")[0]);
    }

    [Fact]
    public async Task An_id_that_is_taken_is_refused_with_the_file_that_has_it()
    {
        Directory.CreateDirectory(Path.Combine(Folder, "procedures"));
        File.WriteAllText(Path.Combine(Folder, "procedures", "mine.yaml"), Mine.Replace("id: my-check", "id: axis-scale", StringComparison.Ordinal));
        var list = await Typed.RunIn(Path.Combine(Folder, "store"), "", "procedure", "list");
        Assert.Equal(0, list.Code);
        Assert.Contains("mine.yaml:1:1: the id \"axis-scale\" is taken by", list.Error, StringComparison.Ordinal);
        Assert.DoesNotContain("(your own)", list.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("minutes: 5", "minutes: five", "broken.yaml:5:10: 'minutes' is 'five', not a number. Write a number with a decimal point")]
    [InlineData("  - confirm: The cutter is out.", "  - confirm: The {cuter} is out.", "broken.yaml:10:5: the text names '{cuter}', which no earlier step gives. Use one of")]
    [InlineData("steps:", "steps: [", "broken.yaml:")]
    public async Task One_broken_file_is_told_with_its_place_and_stops_no_other_procedure(string right, string wrong, string told)
    {
        var (own, store) = (Path.Combine(Folder, "procedures"), Path.Combine(Folder, "store"));
        Directory.CreateDirectory(own);
        File.WriteAllText(Path.Combine(own, "my-check.yaml"), Mine);
        File.WriteAllText(Path.Combine(own, "broken.yaml"), Mine.Replace("id: my-check", "id: my-other", StringComparison.Ordinal).Replace(right, wrong, StringComparison.Ordinal));

        var list = await Typed.RunIn(store, "", "procedure", "list");
        Assert.Equal(0, list.Code);
        Assert.Contains("my-check", list.Out, StringComparison.Ordinal);
        Assert.Contains("axis-scale", list.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("my-other", list.Out, StringComparison.Ordinal);
        Assert.Contains(told, list.Error, StringComparison.Ordinal);

        foreach (var name in new[] { "my-other", "broken" })
        {
            var asked = await Typed.RunIn(store, "", "procedure", "show", name);
            Assert.Equal(2, asked.Code);
            Assert.Contains(told, asked.Error, StringComparison.Ordinal);
        }

        foreach (var name in new[] { "my-check", "axis-scale" })
        {
            var other = await Typed.RunIn(store, "", "procedure", "show", name);
            Assert.Equal((0, ""), (other.Code, other.Error));
        }
    }
}
