using Commission.App.Manual;
using Commission.App.Tests.CommandLine;

namespace Commission.App.Tests.Manual;

/// <summary>Completions and manual follow the declaration of the verbs.</summary>
public sealed class ManualTests
{
    public static TheoryData<string> Shells => [.. CompletionScripts.Shells];

    [Theory]
    [MemberData(nameof(Shells))]
    public async Task Completions_of_every_shell_hold_every_verb_option_and_closed_value(string shell)
    {
        var ending = await Typed.Run("completions", shell);
        Assert.Equal(0, ending.Code);
        foreach (var word in (string[])["procedure", "axis-scale", "radius-mm", "recompute", "as-of", "units", "mm", "in", "completions"])
            Assert.Contains(word, ending.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Another_shell_is_refused_with_those_there_are()
    {
        var ending = await Typed.Run("completions", "korn");
        Assert.Equal(2, ending.Code);
        Assert.Contains("powershell", ending.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_manual_page_names_every_verb_with_its_options_and_the_exit_codes()
    {
        var page = (await Typed.Run("manual")).Out;
        Assert.StartsWith(".TH COMMISSION 1", page, StringComparison.Ordinal);
        foreach (var part in (string[])[".SS fit axis\\-scale FILE", ".SS history withdraw NUMBER", ".B \\-\\-as\\-of \\fIDATE\\fR", ".B \\-\\-units \\fImm|in\\fR", ".SH EXIT STATUS", ".B 130"])
            Assert.Contains(part, page, StringComparison.Ordinal);
        Assert.DoesNotContain(page.Split('\n'), line => line.StartsWith('\''));
    }
}
