using System.Diagnostics;
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

    // What bash would offer, asked of the script itself; no shell of another kind is on every machine that runs the tests.
    [Theory]
    [InlineData("completions", "", "fish")]
    [InlineData("procedure run", "ax", "axis-scale")]
    [InlineData("procedure show", "ru", "runout")]
    [InlineData("history change", "cr", "crash")]
    [InlineData("history trend", "ru", "runout")]
    [InlineData("machine new Egret --screw-grade", "", "7")]
    [InlineData("procedure run axis-scale --axis", "", "X")]
    [InlineData("controller watch --dialect", "num", "numbered-settings")]
    [InlineData("instrument add mine --like", "caliper-1", "caliper-150")]
    public async Task In_bash_the_words_that_can_follow_are_offered(string typed, string begun, string offered)
    {
        Assert.SkipUnless(File.Exists("/bin/bash"), "there is no bash here");
        Assert.Contains(offered, await OfferedBy("/bin/bash", typed, begun));
    }

    [Theory]
    [InlineData("report --out")]
    [InlineData("controller watch --port")]
    public async Task No_option_is_offered_where_the_value_of_one_is_due(string typed)
    {
        Assert.SkipUnless(File.Exists("/bin/bash"), "there is no bash here");
        Assert.DoesNotContain(await OfferedBy("/bin/bash", typed, ""), word => word.StartsWith('-'));
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
        foreach (var part in (string[])[".SS fit axis\\-scale FILE", ".SS history withdraw NUMBER", ".B \\-\\-as\\-of \\fIDATE\\fR", ".B \\-\\-units \\fImm|in\\fR", ".SH EXIT STATUS", ".B 130", ".SH FILES", ".I $XDG_DATA_HOME/commission/store"])
            Assert.Contains(part, page, StringComparison.Ordinal);
        Assert.DoesNotContain(page.Split('\n'), line => line.StartsWith('\''));
    }

    private static async Task<string[]> OfferedBy(string shell, string typed, string begun)
    {
        var words = $"commission {typed}".Split(' ');
        var asked = $"{(await Typed.Run("completions", "bash")).Out}\nCOMP_WORDS=({string.Join(' ', words)} \"{begun}\"); COMP_CWORD={words.Length}; _commission; printf '%s\\n' \"${{COMPREPLY[@]}}\"\n";
        using var ran = Process.Start(new ProcessStartInfo(shell, ["--norc", "-s"]) { RedirectStandardInput = true, RedirectStandardOutput = true, WorkingDirectory = Path.GetTempPath() })!;
        await ran.StandardInput.WriteAsync(asked);
        ran.StandardInput.Close();
        var said = await ran.StandardOutput.ReadToEndAsync();
        await ran.WaitForExitAsync();
        return said.Split('\n', StringSplitOptions.RemoveEmptyEntries);
    }
}
