using System.Text.RegularExpressions;
using Commission.Tests;

namespace Commission.App.Tests.Screens;

public sealed partial class ReadmeTests
{
    [Fact]
    public void The_screen_in_the_readme_is_the_finding_as_it_is_drawn()
    {
        var kept = Repository.Text("tests", "Commission.App.Tests", "Golden", "finding-80x24.txt").TrimEnd('\n');
        Assert.Contains("```text\n" + kept + "\n```", Repository.Text("README.md"), StringComparison.Ordinal);
    }

    [Fact]
    public void The_pictures_in_the_readme_are_those_of_the_three_stories_in_a_terminal()
    {
        var shown = Picture().Matches(Repository.Text("README.md")).Select(match => match.Groups[1].Value).Order(StringComparer.Ordinal);
        Assert.Equal(TerminalStoriesTests.Pictures.Order(StringComparer.Ordinal).Select(name => $"shared/screens/{name}.svg"), shown);
        Assert.All(TerminalStoriesTests.Pictures, name => Assert.NotEmpty(Repository.Text("shared", "screens", name + ".svg")));
    }

    [Fact]
    public void The_developers_map_names_every_folder()
    {
        var (root, map) = (Repository.Root, Repository.Text("DEVELOPERS.md").Split("## What holds everywhere")[0]);
        var projects = Directory.GetDirectories(Path.Combine(root, "src"));
        Assert.NotEmpty(projects);
        foreach (var place in projects.Append(Path.Combine(root, "shared")))
        {
            var row = Assert.Single(map.Split('\n'), line => line.StartsWith($"| `{Path.GetRelativePath(root, place).Replace('\\', '/')}` |", StringComparison.Ordinal));
            Assert.All(
                Directory.GetDirectories(place).Select(folder => Path.GetFileName(folder)!).Where(name => name is not ("bin" or "obj")),
                name => Assert.Matches($@"\b{name}\b", row.Split('|')[2]));
        }
    }

    [GeneratedRegex(@"!\[[^\]]+\]\(([^)]+)\)")]
    private static partial Regex Picture();
}
