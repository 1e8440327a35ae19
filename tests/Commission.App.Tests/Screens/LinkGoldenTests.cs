using System.Text.RegularExpressions;
using Commission.Tests;
using Commission.Practice.Controller;
using Commission.Practice.Machines;
using Terminal.Gui.Input;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>Every screen of an open link and what goes wrong on it, at both sizes: the boxes, what moves, STOP, a lost cable, an alarm.</summary>
public sealed partial class LinkGoldenTests : BoardScreens
{
    public LinkGoldenTests()
        : base(HeronMachine.Description) => Journal.Append(new EntryBody.InstrumentDescribed(Invented.Caliper, Retired: false)).Require();

    [Fact]
    public void Opening_homing_and_STOP()
    {
        KnownMachine.Pass(Journal, KnownMachine.ReadyChecks);
        using var window = Open();
        window.Type("c");
        Keep(window, "closed");
        Link(window);
        Until(window, "Home. Enter draws its box");
        Keep(window, "open");
        window.Type("d");
        Keep(window, "wire-text");
        window.Press(Key.Esc);
        window.Type("v");
        Keep(window, "older-sets");
        window.Press(Key.Esc);
        window.Type("\n");
        Until(window, "THE MACHINE WILL MOVE");
        Keep(window, "box-home");
        Rest(window);
        window.Type("x");
        Keep(window, "box-waits");
        window.Press(Key.Tab);
        Keep(window, "box-button");
        window.Press(Key.Tab);
        Board.Scale = 1;
        Confirm(window, "h", "EVERY KEY STOPS");
        Assert.Contains("NOT TRUSTED: not homed", window.Rows[22], StringComparison.Ordinal);
        Keep(window, "homing", moving: true);
        window.Type("7");
        Until(window, "Also            the controller restarted");
        Until(window, "link locked");
        Answered(window);
        Keep(window, "stop");
        window.Press(Key.Enter);
        Keep(window, "stop-enter-does-nothing");
        window.Type("a");
        Keep(window, "after-stop");
    }

    [Fact]
    public void A_move_the_reading_it_leads_to_an_alarm_and_a_lost_cable()
    {
        using var window = AtTheFirstBox();
        Keep(window, "box-move");
        Board.Scale = 0.2;
        Confirm(window, "x", "EVERY KEY STOPS");
        Keep(window, "moving", moving: true);
        Board.Scale = 40;
        Until(window, "reading 1 of 10 .");
        Keep(window, "reading");
        Board.Happens(ControllerFault.Alarm);
        Until(window, "A limit switch was hit");
        Until(window, "link locked");
        Keep(window, "alarm");
        window.Press(Key.Enter);
        Keep(window, "alarm-enter-does-nothing");
        window.Type("s");
        Keep(window, "alarm-read");
        window.Press(Key.Enter);
        Until(window, "Press ");
        Keep(window, "alarm-box");
        window.Press(Key.Esc);
        Keep(window, "box-put-away");
        Board.Unplug();
        Until(window, "The link is lost: the device is gone");
        Keep(window, "lost");
        window.Press(Key.F9);
        Keep(window, "lost-nothing-to-stop");
        window.Type("c");
        Keep(window, "lost-controller");
        window.Press(Key.Enter);
        Until(window, "The link is closed.");
        Assert.Contains("S opens the chosen one", window.Text, StringComparison.Ordinal);
    }

    // screens.md 3.3: only where the kit says that a caliper types through a cable, and only one whole number of it.
    [Fact]
    public void A_number_that_the_caliper_types_while_something_moves_is_held_back_and_a_digit_typed_by_hand_stops()
    {
        Journal.Append(new EntryBody.InstrumentDescribed(Invented.Caliper with { TypesByCable = true }, Retired: false)).Require();
        using var window = AtTheFirstBox();
        Board.Scale = 0.2;
        Confirm(window, "x", "EVERY KEY STOPS");
        window.Type("146.45\n", gapMs: 3);
        Assert.Contains("146.45 was held back: still moving. It was not recorded.", window.Said, StringComparison.Ordinal);
        Assert.Contains("EVERY KEY STOPS", window.Text, StringComparison.Ordinal);
        Keep(window, "held-back", moving: true);
        window.Type("7");
        window.Advance(60);
        Until(window, "/ STOP");
        Assert.Empty(Ledger.Readings);
    }

    // What the controller says to it stands in the log only; on the sheet it has a sentence of our own.
    [Fact]
    public void A_move_that_the_controller_refuses_moved_nothing()
    {
        using var window = AtTheFirstBox();
        Board.Tamper = line => line.Replace("$J=", "$999=", StringComparison.Ordinal);
        Confirm(window, "x", "Stopped by");
        Until(window, "Also            the controller restarted");
        Until(window, "link rest");
        Answered(window);
        Keep(window, "move-refused");
    }

    [Fact]
    public void A_machine_without_switches_is_unlocked_and_placed()
    {
        Journal.Append(new EntryBody.MachineDescribed(KnownMachine.WithoutSwitches(HeronMachine.Description), Retired: false) { Machine = "Heron" }).Require();
        KnownMachine.Pass(Journal, "P05", "P06", "P07", "P08", "P30");
        using var window = Open();
        Link(window);
        Until(window, "Put each axis on its reference place. Enter draws the first box.");
        Keep(window, "open-without-switches");
        window.Type("\n");
        Until(window, "Press U");
        Keep(window, "box-unlock");
        Confirm(window, "u", "Z STANDS ON ITS REFERENCE PLACE");
        Keep(window, "box-placed");
    }

    [Fact]
    public void With_the_readiness_list_open()
    {
        using var window = Open();
        Link(window);
        Until(window, "are open. Enter opens their list.");
        Keep(window, "readiness-open");
        window.Type("\n");
        Keep(window, "readiness-card");
        window.Type("s");
        Keep(window, "readiness-list");
    }

    [Fact]
    public void A_port_that_cannot_be_opened_and_one_that_is_another_machine()
    {
        KnownMachine.Pass(Journal, KnownMachine.ReadyChecks);
        using (var before = Open())
        {
            Link(before);
            Unlink(before);
            Keep(before, "closed-again");
        }

        Clock.Advance(TimeSpan.FromHours(1));
        foreach (var (key, text) in (ReadOnlySpan<(string, string)>)[("100", "160.000"), ("101", "160.000"), ("130", "900.000"), ("131", "900.000")])
            Board.ChangedElsewhere(key, text);
        using var window = Open();
        Link(window);
        Until(window, "S: it is this machine");
        Keep(window, "which-machine");
        window.Type("o");
        Until(window, "The link is closed.");
        Board.Refuses = true;
        window.Type("s");
        Until(window, "It is a port for tests");
        Keep(window, "refused");
    }

    // A machine that moves shows other numbers each time, and another state while it is still being told.
    private static void Keep(Headless window, string name, bool moving = false) =>
        Golden.Both("link-" + name, window, moving ? text => Strip().Replace(text, " link (it moves: other numbers each time)") : null);

    private Headless Open() => new(Desk("axis-scale", "readiness"));

    [GeneratedRegex(@"^ link .*$", RegexOptions.Multiline)]
    private static partial Regex Strip();

    // Homed, with the box of the first move drawn.
    private Headless AtTheFirstBox()
    {
        KnownMachine.Pass(Journal, KnownMachine.ReadyChecks);
        var window = Open();
        Link(window);
        Until(window, "Home. Enter draws its box");
        window.Type("w\ns\ns");
        Confirm(window, "h", "THE CARRIAGE WILL MOVE");
        return window;
    }
}
