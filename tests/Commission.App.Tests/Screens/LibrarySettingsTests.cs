using Commission.Tests;

namespace Commission.App.Tests.Screens;

/// <summary>The terminal library knows settings files of its own, in the home and in the working folder. What lies there must not change a colour, a letter or a key of ours.</summary>
public sealed class LibrarySettingsTests : OwnFolder
{
    [Theory]
    [InlineData("""{ "Driver": { "Force16Colors": true } }""")]
    [InlineData("""{ "Application": { "ForceDriver": "none such" } }""")]
    [InlineData("""{ "Theme": "Green Phosphor", "Glyphs": { "HLine": "=", "VLine": "|" } }""")]
    [InlineData("""{ "Theme": no settings at all""")]
    public void Settings_of_the_library_change_nothing_that_is_seen_and_no_key(string settings)
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there is no such terminal here");
        var bare = Seen(Home("bare"));
        var home = Home("set");
        Directory.CreateDirectory(Path.Combine(home, ".tui"));
        foreach (var file in (string[])["config.json", "commission.config.json"])
            File.WriteAllText(Path.Combine(home, ".tui", file), settings);
        Assert.Equal(bare, Seen(home));
    }

    private string Home(string name) => Directory.CreateDirectory(Path.Combine(Folder, name)).FullName;

    // Bench, work and the way back, with all colours; the folder is the home and the working folder.
    private static List<string> Seen(string home)
    {
        using var terminal = new Tmux(80, 24, $"cd '{home}' && env -u NO_COLOR -u COLORFGBG -u COMMISSION_LOOK 'HOME={home}' TERM=xterm-256color COLORTERM=truecolor LANG=C.UTF-8 {Tmux.Program} rehearse; echo ended $?; cat");
        var seen = new List<string>();
        foreach (var (key, shown) in new[] { ("", "Q leave"), ("w", "Heron / work"), ("b", "Heron / bench") })
        {
            if (key.Length > 0)
                terminal.Press(key, shown);
            terminal.Until(screen => screen.Contains(shown, StringComparison.Ordinal), shown);
            terminal.Quiet();
            seen.Add(terminal.Coloured);
        }

        terminal.Press("q", "ended 0");
        seen.Add(terminal.Quiet());
        return seen;
    }
}
