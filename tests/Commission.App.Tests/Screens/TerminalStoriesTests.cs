using System.Text.RegularExpressions;
using Commission.Workshop.Screens;

namespace Commission.App.Tests.Screens;

/// <summary>Stories told by keys in a real terminal at 80 by 24, on stores in folders: from cold metal to the first motion, from a finding to the written setting, a year of re-checks to its trend.</summary>
public sealed partial class TerminalStoriesTests : TerminalScreens
{
    // The middle of 5 to 120 V, near that of 0.1 to 200 ohm, and twice that of 0.01 to 1000 us.
    private static readonly (string Name, string Value)[] Before = [("within 5 %", "62.5"), ("within 10 %", "100.1"), ("2 times", "1100")];

    private const string FirstMotion = "first-motion", Written = "written", Trend = "trend";

    /// <summary>The pictures that the stories make, one each.</summary>
    public static IReadOnlyList<string> Pictures => [FirstMotion, Written, Trend];

    [Fact]
    public void From_the_first_power_up_to_the_first_motion()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there is no such terminal here");
        using (var terminal = Open("; echo ended $?; cat"))
        {
            terminal.Until(screen => screen.Contains("NEXT >> First power-up", StringComparison.Ordinal), "the bench of a new machine");
            Press(terminal, "c", "//// HAZARD  Opening a port");
            Press(terminal, "s", "settings read");
            Press(terminal, "b", "NEXT >> First power-up");
            var screen = terminal.Keys("Enter");
            Assert.Contains("//// HAZARD", screen, StringComparison.Ordinal);
            screen = terminal.Keys("s");
            for (var steps = 0; !screen.Contains("It moved to the right", StringComparison.Ordinal); steps++)
            {
                Assert.True(steps < 1000, screen);
                Assert.False(screen.Contains(" is OUT ", StringComparison.Ordinal), screen);
                if (screen.Contains("Press X to move", StringComparison.Ordinal))
                    Picture(terminal, FirstMotion);
                screen = Box().Match(screen) is { Success: true } box ? Confirm(terminal, box.Groups[1].Value) : Answer(terminal, screen);
            }

            terminal.Keys("Escape");
            terminal.Keys("q");
            terminal.Until(text => text.Contains("ended 0", StringComparison.Ordinal), "the end");
        }

        Assert.Contains(Entries(StoreNature.Practice), entry => entry.Body is EntryBody.Moved);
        Assert.Contains(Entries(StoreNature.Practice), entry => entry.Body is EntryBody.Checked { Check: "P24", Step: "p24-x", Passed: true });
        Assert.DoesNotContain(Entries(StoreNature.Practice), entry => entry.Body is EntryBody.Checked { Passed: false });
    }

    [Fact]
    public void From_the_finding_of_axis_scale_over_the_link_to_the_written_setting()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there is no such terminal here");
        StoredPractice.Make(Store, StoredPractice.ScaleToChange);
        using (var terminal = Open())
        {
            terminal.Until(screen => screen.Contains("PRACTICE  Heron / bench", StringComparison.Ordinal), "the bench");
            Press(terminal, "c", "//// HAZARD  Opening a port");
            Press(terminal, "s", "settings read");
            Press(terminal, "f", "Heron / findings");
            Press(terminal, "Enter", "Enter difference");
            Press(terminal, "Enter", "Press Y to write");
            for (var screen = terminal.Screen; screen.Contains("Press Y to write", StringComparison.Ordinal);)
                screen = Confirm(terminal, "Y");
            terminal.Until(screen => screen.Contains("agrees", StringComparison.Ordinal), "what was read back");
            Picture(terminal, Written);
        }

        var written = Entries(StoreNature.Practice).Select(entry => entry.Body).OfType<EntryBody.SettingWritten>().Last();
        Assert.Equal(("Y", "read-back"), (written.Axis, written.Stage));
        Assert.Equal(written.After, written.ReadBack!.Value, 3);
    }

    [Fact]
    public void A_year_of_rechecks_to_the_trend()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there is no such terminal here");
        StoredPractice.Make(Store, StoredPractice.YearOfRechecks);
        using var terminal = Open();
        terminal.Until(screen => screen.Contains("PRACTICE  Heron / bench", StringComparison.Ordinal), "the bench");
        Press(terminal, "t", "Heron / trend");
        Press(terminal, "Enter", "Heron / trend / ");
        Picture(terminal, Trend);
    }

    private Tmux Open(string then = "") => new(
        80, 24, $"env -u NO_COLOR -u COLORFGBG -u COMMISSION_LOOK LC_ALL=C TERM=screen-256color COLORTERM=truecolor {Tmux.Program} rehearse --keep --store {Store}{then}");

    // The picture is what stands on this terminal; the same one stands in the README.
    private static void Picture(Tmux terminal, string name)
    {
        terminal.Quiet();
        ScreenPictureTests.Same(name, Captured.Timeless(Captured.Rows(terminal.Coloured, Look.Lamp)), Look.Lamp);
    }

    private static void Press(Tmux terminal, string key, string shown)
    {
        terminal.Press(key, shown);
        terminal.Quiet();
    }

    private static string Confirm(Tmux terminal, string letter)
    {
        terminal.Confirm(terminal.Quiet(), letter);
        terminal.Until(screen => !screen.Contains("EVERY KEY STOPS", StringComparison.Ordinal), "the end of the move");
        return terminal.Quiet();
    }

    // What a person does with whatever the screen asks for.
    private static string Answer(Tmux terminal, string screen)
    {
        if (screen.Contains("Type the number in", StringComparison.Ordinal))
            terminal.Literally(Within(Limit().Match(screen).Groups[1].Value));
        return terminal.Keys(KeyFor(screen));
    }

    // Where the limit names an answer given before, that one.
    private static string Within(string limit) =>
        Before.FirstOrDefault(answer => limit.Contains(answer.Name, StringComparison.Ordinal)) is { Value: { } before } ? before : Story.Within(limit);

    [GeneratedRegex(@"Limit: (.+)")]
    private static partial Regex Limit();
}
