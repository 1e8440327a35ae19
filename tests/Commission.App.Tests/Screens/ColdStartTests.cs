using Commission.Workshop.Screens.Pages;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>From a cold start: the known port is opened by S, after its hazard, never by starting the program; the homing box follows by itself.</summary>
public sealed class ColdStartTests : KnownScreens
{
    private const string Port = "practice controller";

    private readonly RememberedPorts _ports = new();

    public ColdStartTests() => KnownMachine.Pass(Journal, KnownMachine.ReadyChecks);

    [Fact]
    public void Starting_the_program_opens_nothing_and_neither_does_the_route_card_nor_Enter()
    {
        _ports.Keep("Heron", new(Port, "numbered-settings", null));
        var desk = Desk();
        using var window = new Headless(desk);
        window.Advance(500);
        window.Type("\n");
        Assert.Contains("//// HAZARD  S opens the known port: the controller may restart", window.Text, StringComparison.Ordinal);
        Assert.Contains("Spindle unplugged? No job running? Z supported?", window.Text, StringComparison.Ordinal);
        window.Type("\n");
        Assert.False(desk.Link!.IsOpen || desk.Link.Opening);
        Assert.Empty(Ledger.SettingsSaved);
    }

    /// <summary>From the cold start of a known machine to its first accepted reading: six presses besides the reading, and every motion by its own box.</summary>
    [Fact]
    public void S_opens_the_known_port_the_homing_box_follows_and_the_first_reading_takes_six_presses()
    {
        _ports.Keep("Heron", new(Port, "numbered-settings", null));
        using var window = new Headless(Desk());
        var presses = "";
        void Press(string key, params string[] shown)
        {
            presses += key;
            window.Type(key);
            Until(window, shown);
        }

        Press("\n", "HAZARD  S opens the known port");
        Press("s", "THE MACHINE WILL MOVE");
        Assert.DoesNotContain(Journal.Entries(), entry => entry.Body is EntryBody.Moved);
        presses += "h";
        Confirm(window, "h", "Do it. S means");
        // Blocks and their statement are one sheet; the way in to the first place is one move, which comes from its side.
        Press("s", "THE CARRIAGE WILL MOVE");
        Assert.Contains("axis X   to the right   138.000 mm", window.Text, StringComparison.Ordinal);
        presses += "x";
        Confirm(window, "x", "reading 1 of 10 .");
        var reading = Story.Look(window);
        window.Type(reading);
        Press("\n", "reading 2 of 10 .", "move to reading 2 of 10");
        Assert.Equal("\nshsx\n", presses);
        Assert.Single(Ledger.Readings);
        Assert.Equal(reading, Ledger.Readings.Values.Single().Taken.Body.Typed);
        Assert.All(Journal.Entries(), entry => Assert.DoesNotContain(Port, entry.Body.ToString(), StringComparison.Ordinal));
    }

    [Fact]
    public void A_port_is_remembered_when_it_was_opened_on_C_and_forgotten_there()
    {
        using var window = new Headless(Desk());
        window.Type("\n");
        Assert.DoesNotContain("S opens the known port", window.Text, StringComparison.Ordinal);
        Link(window);
        Until(window, "Home. Enter draws its box");
        Assert.Equal(new KnownPort(Port, "numbered-settings", null), _ports.Of("Heron"));
        window.Type("e");
        Assert.Null(_ports.Of("Heron"));
    }

    /// <summary>For boards that restart by them: told on C, remembered beside the port, and kept by S on the route card.</summary>
    [Fact]
    public void Whether_control_lines_are_raised_is_chosen_on_C_and_remembered_beside_the_port()
    {
        var desk = Desk();
        using var window = new Headless(desk);
        window.Type("c");
        Assert.Contains("Control lines: raised on opening", window.Text, StringComparison.Ordinal);
        window.Type("o");
        Assert.Contains("Control lines: left down on opening", window.Text, StringComparison.Ordinal);
        window.Type("s");
        Until(window, "23 settings read");
        Assert.Equal(new KnownPort(Port, "numbered-settings", null) { ControlLines = false }, _ports.Of("Heron"));
        Assert.False(desk.Link!.Known!.ControlLines);
        Assert.False(desk.Link.Address!.ControlLines);
    }

    private Desk Desk() => DeskOf(KnownMachine.Linked(Journal) with { KnownPorts = _ports });
}
