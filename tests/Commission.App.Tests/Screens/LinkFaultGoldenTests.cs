using System.Text.RegularExpressions;
using Commission.Practice.Controller;
using Commission.Practice.Machines;
using Commission.Tests;
using Terminal.Gui.Input;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>What a controller can do that nobody asked it for, as a person meets it, at both sizes: it falls silent, pauses, restarts, moves, or says what cannot be understood.</summary>
public sealed partial class LinkFaultGoldenTests : BoardScreens
{
    public LinkFaultGoldenTests()
        : base(HeronMachine.Description)
    {
        Journal.Append(new EntryBody.InstrumentDescribed(Invented.Caliper, Retired: false)).Require();
        KnownMachine.Pass(Journal, KnownMachine.ReadyChecks);
    }

    [Fact]
    public void A_second_STOP_is_sent_like_the_first_whose_time_and_reason_stay()
    {
        using var window = Linked();
        window.Press(Key.F9);
        Until(window, "Also            the controller restarted");
        Until(window, "link locked");
        Clock.Advance(TimeSpan.FromSeconds(7));
        window.Press(Key.F9);
        Until(window, "link locked");
        Answered(window);
        Assert.Contains("/ STOP", window.Rows[0], StringComparison.Ordinal);
        Assert.EndsWith("09:00:00 . pressed: STOP", window.Rows[0], StringComparison.Ordinal);
        Assert.EndsWith("immediate stop sent      09:00:07.00", window.Rows[2], StringComparison.Ordinal);
        Keep(window, "stop-again");
    }

    // Found by it: with a full disk no answer led away from the sheet, and the program could not be left.
    [Fact]
    public void A_disk_that_is_full_when_a_STOP_is_answered()
    {
        var full = new FaultyJournal(Journal);
        using var window = On(PracticeStore.Options(full, 1) with { Procedures = PracticeStore.Shipped("axis-scale", "readiness"), Link = Board.Means(), LinkClock = new PatientTime() });
        Link(window);
        window.Press(Key.F9);
        Until(window, "Also            the controller restarted");
        Until(window, "link locked");
        full.Left = 0;
        window.Type("s");
        Assert.Contains("Make room; C and Enter ask again.", window.Said, StringComparison.Ordinal);
        Keep(window, "stop-disk-full");
        window.Type("c");
        Keep(window, "stop-disk-full-controller");
        Assert.Empty(Ledger.Stops);
        full.Left = null;
        window.Type("\n");
        Assert.Contains("/ STOP", window.Rows[0], StringComparison.Ordinal);
        window.Type("a");
        Assert.Single(Ledger.Stops);
        full.Left = 0;
        window.Press(Key.Esc);
        window.Type("q");
        Assert.True(window.Desk.Left);
    }

    [Fact]
    public void A_state_that_this_program_does_not_know()
    {
        using var window = Homed();
        Board.Answers = said => said.Replace("<Idle", "<Nook", StringComparison.Ordinal);
        Until(window, "told a state that this program does not know");
        Until(window, "link unknown");
        Keep(window, "unknown");
        window.Type("s");
        Keep(window, "unknown-read");
        window.Press(Key.Esc);
        Keep(window, "unknown-later");
    }

    [Fact]
    public void A_controller_that_falls_silent_at_rest()
    {
        using var window = Linked();
        Board.Happens(ControllerFault.Silence);
        Until(window, "link silent");
        Keep(window, "silent", Silence);
        window.Press(Key.Enter);
        Keep(window, "silent-asked", Silence);
        window.Press(Key.F9);
        Keep(window, "silent-stop", Silence);
    }

    [Fact]
    public void A_controller_that_falls_silent_while_it_moves()
    {
        using var window = AtTheFirstBox();
        Board.Scale = 0.2;
        Confirm(window, "x", "EVERY KEY STOPS");
        Board.Happens(ControllerFault.Silence);
        Until(window, "no answer for more than 1 s while moving");
        Keep(window, "silent-moving", Silence);
    }

    [Fact]
    public void A_controller_that_pauses_a_move()
    {
        using var window = AtTheFirstBox();
        Board.Scale = 0.2;
        Confirm(window, "x", "EVERY KEY STOPS");
        Board.Answers = said => Moves().Replace(said, "<Hold|");
        Until(window, "Also            the controller restarted");
        Answered(window);
        Assert.Contains("the controller paused the move", window.Rows[0], StringComparison.Ordinal);
        Keep(window, "held", Strip);
    }

    [Theory]
    [InlineData(ControllerFault.Restart, "The controller restarted", "restart")]
    [InlineData(ControllerFault.StrangeMove, "The machine moves, and no move was confirmed", "strange-move")]
    [InlineData(ControllerFault.PositionJump, "The shown position changed, and no move was confirmed", "position-jump")]
    public void What_happens_at_rest_and_nobody_asked_for(ControllerFault fault, string shown, string name)
    {
        using var window = Homed();
        // Slow enough that a move is met while it lasts: afterwards only its end would be seen.
        Board.Scale = 1;
        Board.Happens(fault);
        Until(window, shown);
        Board.Scale = 40;
        Until(window, "link rest", "link locked");
        Keep(window, name);
    }

    [Fact]
    public void A_cable_that_comes_out_while_it_moves()
    {
        using var window = AtTheFirstBox();
        Board.Scale = 0.2;
        Confirm(window, "x", "EVERY KEY STOPS");
        // Whether reading or writing meets it first is a matter of milliseconds: here it is reading.
        Board.Tamper = _ => "";
        Board.Unplug();
        Until(window, "link lost");
        Keep(window, "lost-moving");
        window.Type("o");
        Keep(window, "lost-moving-told");
    }

    [Fact]
    public void A_cable_that_comes_out_while_a_reading_is_typed()
    {
        using var window = AtTheFirstBox();
        Confirm(window, "x", "reading 1 of 10 .");
        window.Type("12.3");
        Board.Tamper = _ => "";
        Board.Unplug();
        Until(window, "link lost");
        Keep(window, "lost-reading");
        window.Type("\n");
        Keep(window, "lost-reading-entered");
        Assert.Empty(Ledger.Readings);
    }

    [Fact]
    public void A_reading_that_is_typed_while_the_controller_is_silent()
    {
        using var window = AtTheFirstBox();
        Confirm(window, "x", "reading 1 of 10 .");
        Board.Happens(ControllerFault.Silence);
        Until(window, "link silent");
        window.Type("12.34\n");
        Assert.Contains("the controller has not told its state for more than 1 s", window.Said, StringComparison.Ordinal);
        Keep(window, "silent-reading", Silence);
        Assert.Empty(Ledger.Readings);
    }

    [Fact]
    public void No_port_and_a_name_that_is_none()
    {
        var means = Board.Means() with { Addresses = () => [], Named = _ => [] };
        using var window = On(PracticeStore.Options(Journal, 1) with { Procedures = PracticeStore.Shipped("axis-scale"), Link = means, LinkClock = new PatientTime() });
        window.Type("c");
        Keep(window, "no-port");
        window.Type("s");
        Keep(window, "no-port-opened");
        window.Type("pusb-7\n");
        Keep(window, "no-port-named");
    }

    [Fact]
    public void A_job_that_is_not_ours()
    {
        Board.Answers = said => said.Replace("<Alarm", "<Run", StringComparison.Ordinal).Replace("<Idle", "<Run", StringComparison.Ordinal);
        using var window = Linked();
        Until(window, "link moving");
        Keep(window, "job");
        window.Press(Key.Enter);
        window.Type("w\ns");
        window.Type("s");
        Keep(window, "job-move");
    }

    [Fact]
    public void Settings_that_are_never_listed()
    {
        using var window = Open();
        Board.Tamper = line => line.StartsWith("$$", StringComparison.Ordinal) ? "\n" : line;
        window.Type("cs");
        Until(window, "could not be read");
        Keep(window, "no-settings");
        Board.Tamper = line => line;
        window.Press(Key.Enter);
        Until(window, "it was not asked for");
        Keep(window, "no-settings-owed");
    }

    [Fact]
    public void An_unlocking_that_does_not_show()
    {
        Journal.Append(new EntryBody.MachineDescribed(KnownMachine.WithoutSwitches(HeronMachine.Description), Retired: false) { Machine = "Heron" }).Require();
        KnownMachine.Pass(Journal, "P05", "P06", "P07", "P08", "P30");
        using var window = Linked();
        Until(window, "Put each axis on its reference place.");
        Board.Answers = said => said.Replace("<Idle", "<Alarm", StringComparison.Ordinal);
        window.Type("\n");
        Until(window, "Press U");
        Confirm(window, "u", "stays locked");
        Keep(window, "stays-locked");
    }

    private static void Keep(Headless window, string name, Func<string, string>? kept = null) => Golden.Both("fault-" + name, window, kept);

    // How long it has been silent is another number each time.
    private static string Silence(string text) => Seconds().Replace(text, "silent N s");

    private static string Strip(string text) => LiveRow().Replace(text, " link (it moves: other numbers each time)");

    [GeneratedRegex("silent [0-9]+ s")]
    private static partial Regex Seconds();

    [GeneratedRegex("<(Run|Jog|Home)[|]")]
    private static partial Regex Moves();

    [GeneratedRegex(@"^ link .*$", RegexOptions.Multiline)]
    private static partial Regex LiveRow();

    private Headless Open() => new(Desk("axis-scale", "readiness"));

    private Headless Linked()
    {
        var window = Open();
        Link(window);
        return window;
    }

    private Headless Homed()
    {
        var window = Linked();
        Homing(window);
        Until(window, "position trusted");
        return window;
    }

    // Homed, with the box of the first move drawn.
    private Headless AtTheFirstBox()
    {
        var window = Linked();
        Until(window, "Home. Enter draws its box");
        window.Type("w\ns\ns");
        Confirm(window, "h", "THE CARRIAGE WILL MOVE");
        return window;
    }
}
