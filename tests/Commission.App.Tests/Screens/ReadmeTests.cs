using System.Runtime.CompilerServices;
using Xunit;

namespace Commission.App.Tests.Screens;

public sealed class ReadmeTests
{
    [Fact]
    public void The_screen_in_the_readme_is_the_finding_as_it_is_drawn()
    {
        var kept = Text("Golden", "finding-80x24.txt").TrimEnd('\n');
        Assert.Contains("```text\n" + kept + "\n```", Text("..", "..", "README.md"), StringComparison.Ordinal);
    }

    private static string Text(params string[] path) => File.ReadAllText(Path.Combine([Here(), .. path])).ReplaceLineEndings("\n");

    private static string Here([CallerFilePath] string here = "") => Path.Combine(Path.GetDirectoryName(here)!, "..");
}
