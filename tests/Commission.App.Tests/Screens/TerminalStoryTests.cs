using System.Globalization;
using System.Text.RegularExpressions;
using Commission.Adapters.Storage;
using Commission.Practice.Bench;
using Commission.Practice.Machines;
using Commission.Tests;

namespace Commission.App.Tests.Screens;

/// <summary>The program itself in a real terminal at 80 by 24: a whole run of axis scale by keys, resized on the way, ended by Q and by a signal.</summary>
public sealed partial class TerminalStoryTests : TerminalScreens
{
    private const ulong Seed = 1;

    private static readonly TimeSpan Rest = TimeSpan.FromMilliseconds(500);

    private static string Rehearsal => $"{Tmux.Plainly} {Tmux.Program} rehearse --seed {Seed}";

    [Fact]
    public void A_whole_run_in_a_terminal_finds_the_seeded_truth_inside_U()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there is no such terminal here; the same run is tested in process");
        using var terminal = new Tmux(80, 24, Rehearsal + "; echo ended $?; cat");
        terminal.Until(screen => screen.Contains("PRACTICE  Heron / bench", StringComparison.Ordinal), "the bench");
        ToScaleOf(AxisName.Y, terminal);
        var screen = terminal.Keys("s");
        while (!Count().IsMatch(screen))
            screen = terminal.Keys(KeyFor(screen));
        terminal.Resize(50, 12);
        terminal.Until(text => text.Contains("Make the window at least 80 by 24", StringComparison.Ordinal), "the one line");
        terminal.Resize(80, 24);
        screen = terminal.Until(Count().IsMatch, "the readings");
        while (Count().IsMatch(screen))
        {
            // A terminal that grows shows old lines again before the program has drawn: a key typed then is not used, and it says so.
            while (!Instrument().IsMatch(screen))
                screen = terminal.Keys("v");
            terminal.Literally(Instrument().Match(screen).Groups[1].Value);
            screen = terminal.Keys("Enter");
            screen = screen.Contains("A slip?", StringComparison.Ordinal) ? terminal.Keys("o") : screen;
        }

        while (!screen.Contains("Enter bench", StringComparison.Ordinal))
            screen = terminal.Keys(screen.Contains("O leave as is", StringComparison.Ordinal) ? "o" : KeyFor(screen));
        var found = Value().Match(screen);
        Assert.True(found.Success, screen);
        double Number(int group) => double.Parse(found.Groups[group].Value, CultureInfo.InvariantCulture) * 1e-6;
        // Seen on the screen: rounded to U's second digit, so half of one more step is allowed for.
        Assert.InRange(Number(1) - PracticeBench.Heron(Seed).Machine.ScaleError(AxisName.Y), -Number(2) * 1.05, Number(2) * 1.05);
        terminal.Keys("Enter");
        terminal.Keys("q");
        terminal.Until(text => text.Contains("ended 0", StringComparison.Ordinal), "the end");
        Assert.Equal("0", terminal.Ask("#{alternate_on}"));
    }

    // Programs that read or magnify the screen look for the cursor.
    [Fact]
    public void The_cursor_stands_in_the_cell_that_is_typed_into_and_stays_there_at_rest_and_after_a_change_of_size()
    {
        using var terminal = new Tmux(80, 24, $"{Tmux.Plainly} {Tmux.Program} --store {Store}");
        terminal.Until(screen => screen.Contains("describe a new machine", StringComparison.Ordinal), "the first page");
        terminal.Press("Enter", "[ _ ");
        Stands(terminal, "6 4 1");
        terminal.Literally("abc");
        Stands(terminal, "9 4 1");
        terminal.Resize(120, 40);
        Stands(terminal, "9 4 1");
        terminal.ResizeAndBack(70, 20, 120, 40);
        Stands(terminal, "9 4 1");
    }

    // A frame in between, as of a size that was passed through, may stand for a while on a busy computer: what counts is where it comes to rest.
    private static void Stands(Tmux terminal, string cursor) =>
        terminal.Until(_ => terminal.Stands(Rest, _ => terminal.Ask("#{cursor_x} #{cursor_y} #{cursor_flag}") == cursor), $"the cursor at rest at {cursor}");

    // contracts.md: with the screens or, with --plain or without a terminal, question by question.
    [Theory]
    [InlineData("", "/ work / scale X ", "S start")]
    [InlineData(" --port nowhere --dialect numbered-settings", "/ work / scale X ", "S start")]
    [InlineData(" --plain", "Hazard 3 of 3.", "ask confirm hazards")]
    public void A_procedure_named_on_the_command_line_is_carried_out_on_the_screens_unless_plain_is_wanted(string options, string first, string second)
    {
        using (var store = new Stores("test", TimeProvider.System).Open(Store, StoreNature.Real, write: true).Require())
        {
            store.Append(new EntryBody.MachineDescribed(HeronMachine.Description, Retired: false) { Machine = "Heron" }).Require();
            store.Append(new EntryBody.InstrumentDescribed(Core.Instruments.InstrumentCatalogue.Find("caliper-150")!, Retired: false)).Require();
        }

        using var terminal = new Tmux(80, 24, $"{Tmux.Plainly} {Tmux.Program} procedure run axis-scale --axis X --store {Store}{options}; echo ended $?; cat");
        terminal.Until(screen => screen.Contains(first, StringComparison.Ordinal) && screen.Contains(second, StringComparison.Ordinal), first);
    }

    // What the terminal cut off is gone, though its size is as before when the program next looks at it.
    [Fact]
    public void A_window_that_becomes_smaller_and_at_once_as_large_as_before_shows_every_row_again()
    {
        using var terminal = new Tmux(80, 24, $"{Tmux.Plainly} {Tmux.Program} rehearse");
        terminal.Until(screen => screen.Contains("Q leave", StringComparison.Ordinal), "the bench");
        var before = terminal.Quiet();
        foreach (var (width, height) in new[] { (60, 12), (80, 12), (60, 24), (62, 21), (70, 5) })
        {
            terminal.ResizeAndBack(width, height, 80, 24);
            terminal.Until(screen => screen == before, $"the bench after {width}x{height}");
        }
    }

    [Fact]
    public void A_signal_gives_the_terminal_back()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there are no such signals here");
        using var terminal = new Tmux(80, 24, Rehearsal);
        terminal.Until(screen => screen.Contains("PRACTICE  Heron / bench", StringComparison.Ordinal), "the bench");
        System.Diagnostics.Process.Start("kill", ["-TERM", terminal.Ask("#{pane_pid}")]).WaitForExit();
        terminal.Until(_ => terminal.Ask("#{pane_dead}") == "1", "the end");
        Assert.Equal("0", terminal.Ask("#{alternate_on}"));
    }

    [GeneratedRegex(@"The simulated instrument shows (\S+) mm")]
    private static partial Regex Instrument();

    [GeneratedRegex(@"scale Y = ([+-][\d.]+) \+/- ([\d.]+) ppm")]
    private static partial Regex Value();
}
