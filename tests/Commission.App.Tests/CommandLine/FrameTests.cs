using System.Text.Json;

namespace Commission.App.Tests.CommandLine;

/// <summary>What holds for every verb.</summary>
public sealed class FrameTests
{
    [Fact]
    public async Task The_version_names_the_commit()
    {
        var ending = await Typed.Run("--version");
        Assert.Equal(0, ending.Code);
        Assert.Matches(@"^commission [0-9]+\.[0-9]+\.[0-9]+ \(.+\)$", ending.Out.TrimEnd());
    }

    [Theory]
    [InlineData("no-such-verb")]
    [InlineData("fit")]
    [InlineData("--no-such-option")]
    [InlineData("fit", "no-such-kind", "x.csv")]
    public async Task A_request_that_is_not_understood_ends_with_2_and_leaves_standard_output_alone(params string[] arguments)
    {
        var ending = await Typed.Run(arguments);
        Assert.Equal(2, ending.Code);
        Assert.Equal("", ending.Out);
        Assert.NotEqual("", ending.Error);
    }

    [Theory]
    [InlineData("bed-map", "FLATNESS OF THE BED")]
    [InlineData("test-circle", "TEST CIRCLES")]
    public async Task A_page_of_the_handbook_is_shown_for_a_procedure_and_for_a_kind(string id, string title)
    {
        var ending = await Typed.Run("procedure", "show", id, "--handbook");
        Assert.Equal((0, title), (ending.Code, ending.Lines[0]));
        Assert.Equal(2, (await Typed.Run("procedure", "show", "no-such-thing", "--handbook")).Code);
    }

    [Fact]
    public async Task Problems_in_JSON_have_the_form_of_the_contract()
    {
        var ending = await Typed.Run("--json", "no-such-verb");
        using var json = JsonDocument.Parse(ending.Error);
        Assert.Equal("commission.problems/1", json.RootElement.GetProperty("format").GetString());
        var problem = json.RootElement.GetProperty("problems")[0];
        Assert.Equal(["file", "line", "column", "what", "remedy"], problem.EnumerateObject().Select(p => p.Name));
    }

    [Fact]
    public async Task Help_goes_to_standard_output_and_ends_with_0()
    {
        var ending = await Typed.Run("--help");
        Assert.Equal(0, ending.Code);
        Assert.Contains("--machine", ending.Out, StringComparison.Ordinal);
    }

    // Found by use: each line of the list was as long as all the words that an argument may be.
    [Theory]
    [InlineData("history")]
    [InlineData("procedure")]
    [InlineData("instrument")]
    [InlineData("machine")]
    [InlineData("controller")]
    public async Task Help_has_no_lines_of_hundreds_of_columns(string verb) =>
        Assert.All((await Typed.Run(verb, "--help")).Lines, line => Assert.True(line.Length < 160, line));
}
