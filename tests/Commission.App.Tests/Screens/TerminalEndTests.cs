using System.Diagnostics;
using Commission.Tests;

namespace Commission.App.Tests.Screens;

/// <summary>Every kind of end, in a real terminal: its modes, its other screen, its cursor and its mouse reports are as before, and what moved was stopped first.</summary>
public sealed class TerminalEndTests : OwnFolder
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);

    [Theory]
    [InlineData("TERM")]
    [InlineData("INT")]
    [InlineData("HUP")]
    [InlineData("QUIT")]
    public void A_signal_in_mid_move_stops_first_ends_with_130_and_gives_the_terminal_back(string signal)
    {
        using var terminal = Stand();
        terminal.Press("m", "It moves.");
        Signal(signal);
        Given(terminal, 130);
        Assert.Equal(["stop: the program was told to end"], Noted());
    }

    [Fact]
    public void A_signal_ends_a_screen_that_is_blocked()
    {
        using var terminal = Stand();
        Block(terminal);
        Signal("TERM");
        Given(terminal, 130);
        Assert.Contains("stop: the program was told to end", Noted());
    }

    [Fact]
    public void A_key_stops_the_motion_though_the_screen_is_blocked()
    {
        using var terminal = Stand();
        Block(terminal);
        terminal.Send("j");
        Until(() => Noted().Contains("stop: a key was pressed while the screen did not answer"), "STOP past the screen");
        terminal.Send("F9");
        Until(() => Noted().Contains("stop: STOP was pressed while the screen did not answer"), "STOP by F9 past the screen");
        Signal("TERM");
        Given(terminal, 130);
    }

    // Letters nearer to each other than this are a device's and not a person's, and are dropped.
    private static readonly TimeSpan Apart = TimeSpan.FromMilliseconds(100);

    [Fact]
    public void An_exception_on_the_thread_of_the_screen_is_told_and_the_screens_go_on()
    {
        using var terminal = Stand();
        terminal.Press("u", "Told: the screen's thread broke");
        Assert.True(terminal.Stands(Apart, screen => screen.Contains("Told: the screen's thread broke", StringComparison.Ordinal)));
        terminal.Press("t", "Told: a task broke");
        Assert.True(terminal.Stands(Apart, screen => screen.Contains("Told: a task broke", StringComparison.Ordinal)));
        terminal.Send("q");
        Given(terminal, 0);
    }

    [Theory]
    [InlineData("o", "another thread broke")]
    [InlineData("d", "the drawing broke")]
    public void An_exception_that_nothing_can_go_on_after_ends_with_5_and_its_trace_stands_on_the_terminal_given_back(string key, string said)
    {
        using var terminal = Stand();
        terminal.Send(key);
        Assert.Contains(said, Given(terminal, 5), StringComparison.Ordinal);
    }

    [Fact]
    public void A_suspension_stops_gives_the_terminal_back_and_takes_it_again()
    {
        using var terminal = Stand();
        terminal.Press("m", "It moves.");
        var tty = terminal.Ask("#{pane_tty}");
        var raw = Modes(tty);
        Signal("TSTP");
        Until(() => terminal.Ask("#{alternate_on}") == "0" && Modes(tty) == Before(), "the terminal given back");
        Assert.Equal(["stop: the program was suspended"], Noted());
        Assert.Equal("0", terminal.Ask("#{mouse_any_flag}"));
        Signal("CONT");
        terminal.Until(screen => screen.Contains("NEXT >> It moves.", StringComparison.Ordinal), "the sheet again");
        Until(() => terminal.Ask("#{alternate_on}") == "1" && Modes(tty) == raw, "the terminal taken again");
        terminal.Send("j");
        Until(() => Noted().Contains("stop: J"), "keys again");
        Signal("TERM");
        Given(terminal, 130);
    }

    // The keys of the terminal are the program's own, so that Ctrl+Z is a key like any other: in mid-move it is STOP, and it suspends nothing.
    [Fact]
    public void Control_Z_is_a_key_and_stops_what_moves()
    {
        using var terminal = Stand();
        terminal.Press("m", "It moves.");
        terminal.Send("C-z");
        Until(() => Noted().Any(line => line.StartsWith("stop: ", StringComparison.Ordinal)), "STOP");
        Assert.Equal("1", terminal.Ask("#{alternate_on}"));
        Signal("TERM");
        Given(terminal, 130);
    }

    [Fact]
    public void A_shell_that_is_told_fg_brings_the_screens_back()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there are no such signals here");
        var program = Path.Combine(AppContext.BaseDirectory, "Commission.Proof");
        using var terminal = new Tmux(80, 24, "env PS1='shell ' ENV= LC_ALL=C TERM=screen-256color sh -i");
        terminal.Until(screen => screen.StartsWith("shell", StringComparison.Ordinal), "the shell");
        terminal.Send("-l", $"set -m; stty -g > {Folder}/before; '{program}' screen-stand {Folder}/log");
        terminal.Send("Enter");
        terminal.Until(screen => screen.Contains("It rests.", StringComparison.Ordinal), "the stand");
        Signal("TSTP");
        terminal.Until(screen => screen.Contains("Stopped", StringComparison.Ordinal), "the shell's word of it");
        Assert.Equal("0 0 1", terminal.Ask("#{alternate_on} #{mouse_any_flag} #{cursor_flag}"));
        terminal.Send("fg", "Enter");
        terminal.Until(screen => screen.Contains("It rests.", StringComparison.Ordinal), "the sheet again");
        terminal.Press("m", "It moves.");
        Signal("TERM");
        terminal.Until(screen => !screen.Contains("It moves.", StringComparison.Ordinal), "the shell again");
        // The prompt comes below what stood there, as after any other program.
        terminal.Until(screen => screen.TrimEnd().EndsWith("shell", StringComparison.Ordinal), "the prompt below");
        terminal.Send("-l", $"echo ended $?; stty -g > {Folder}/after");
        terminal.Send("Enter");
        Given(terminal, 130);
    }

    [Fact]
    public void A_terminal_that_goes_away_stops_the_motion_and_ends_the_program()
    {
        using var terminal = Stand();
        terminal.Press("m", "It moves.");
        var process = Process.GetProcessById(Number());
        terminal.Dispose();
        Until(() => process.HasExited, "the end");
        Assert.Equal("stop: the program was told to end", Noted()[0]);
    }

    [Theory]
    [InlineData("env TERM=dumb", 80, 24, "this terminal calls itself dumb")]
    [InlineData("env TERM=", 80, 24, "does not name the terminal")]
    [InlineData("env TERM=screen-256color", 59, 24, "the window is smaller than 60 by 20")]
    [InlineData("env TERM=screen-256color", 80, 19, "the window is smaller than 60 by 20")]
    public void Where_the_screens_cannot_be_shown_a_sentence_names_the_plain_way(string with, int width, int height, string said)
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there is no such terminal here");
        using var terminal = new Tmux(width, height, $"{with} {Tmux.Program} --store {Folder}/store; echo ended $?; cat");
        var screen = terminal.Until(text => text.Contains("ended 2", StringComparison.Ordinal), "the refusal").ReplaceLineEndings(" ");
        Assert.Contains(said.Replace(" ", "", StringComparison.Ordinal), screen.Replace(" ", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Contains("--plain", screen, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Path.Combine(Folder, "store")));
    }

    private Tmux Stand()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there are no such signals here");
        var program = Path.Combine(AppContext.BaseDirectory, "Commission.Proof");
        var terminal = new Tmux(80, 24, $"stty -g > {Folder}/before; {Tmux.Plainly} \"{program}\" screen-stand {Folder}/log; echo ended $?; stty -g > {Folder}/after; cat");
        terminal.Until(screen => screen.Contains("It rests.", StringComparison.Ordinal), "the stand");
        return terminal;
    }

    // The screen blocks at its next tick: from then on nothing changes what it shows.
    private void Block(Tmux terminal)
    {
        terminal.Send("b");
        Until(() => Noted().Contains("blocked"), "the block");
    }

    private string Given(Tmux terminal, int code)
    {
        var screen = terminal.Until(text => text.Contains($"ended {code}\n", StringComparison.Ordinal), $"the end with {code}");
        Until(() => File.Exists(Path.Combine(Folder, "after")) && File.ReadAllText(Path.Combine(Folder, "after")).Length > 0, "the modes afterwards");
        Assert.Equal(Before(), File.ReadAllText(Path.Combine(Folder, "after")).Trim());
        Assert.Equal("0 0 1", terminal.Ask("#{alternate_on} #{mouse_any_flag} #{cursor_flag}"));
        return screen;
    }

    private string Before() => File.ReadAllText(Path.Combine(Folder, "before")).Trim();

    private static string Modes(string tty) => Output("stty", OperatingSystem.IsMacOS() ? "-f" : "-F", tty, "-g");

    private int Number() => int.Parse(File.ReadAllLines(Path.Combine(Folder, "log"))[0]["process ".Length..], System.Globalization.CultureInfo.InvariantCulture);

    private string[] Noted() => File.Exists(Path.Combine(Folder, "log")) ? [.. File.ReadAllLines(Path.Combine(Folder, "log")).Skip(1)] : [];

    private void Signal(string signal) => Output("kill", "-" + signal, $"{Number()}");

    private static string Output(string program, params string[] words)
    {
        using var process = Process.Start(new ProcessStartInfo(program, words) { RedirectStandardOutput = true })!;
        var text = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return text.Trim();
    }

    private static void Until(Func<bool> holds, string what)
    {
        for (var watch = Stopwatch.StartNew(); !holds(); Thread.Sleep(20))
            Assert.True(watch.Elapsed < Patience, "Never came: " + what);
    }
}
