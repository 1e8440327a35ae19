using Commission.App.Screens;
using Commission.Core.History;
using Commission.Workshop.Ports;
using Commission.Workshop.Screens.Pages;
using Microsoft.Extensions.Time.Testing;
using Xunit;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>From a cold start: the known port is opened by S, after its hazard, never by starting the program; the homing box follows by itself.</summary>
public sealed class ColdStartTests : IDisposable
{
    private const string Port = "practice controller";

    private readonly FakeTimeProvider _clock = KnownMachine.Clock();
    private readonly MemoryJournal _journal;
    private readonly RememberedPorts _ports = new();

    public ColdStartTests()
    {
        _journal = KnownMachine.Journal(_clock);
        foreach (var check in (string[])["P05", "P06", "P07", "P08", "P22", "P27", "P30", "P25-x", "P25-y", "P25-z"])
        {
            _journal.Append(new EntryBody.Checked
            {
                Machine = "Heron", Operator = "M", Step = check.ToLowerInvariant(), Check = check.Split('-')[0], Typed = "yes", Limit = "yes", Passed = true,
            }).Require();
        }
    }

    public void Dispose() => _journal.Dispose();

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
        Assert.Empty(Ledger.From(_journal.Entries()).SettingsSaved);
    }

    [Fact]
    public void S_opens_the_known_port_and_the_homing_box_follows_by_itself()
    {
        _ports.Keep("Heron", new(Port, "numbered-settings", null));
        using var window = new Headless(Desk());
        window.Type("\ns");
        Until(window, "THE MACHINE WILL MOVE");
        Assert.DoesNotContain(_journal.Entries(), entry => entry.Body is EntryBody.Moved);
        Confirm(window, "h", "Do it. Enter when it is done.");
        window.Type("\ns");
        // Past the place and in again from its side: each move has its own box.
        Confirm(window, "x", "axis X   to the right   5.000 mm");
        Confirm(window, "x", "reading 1 of 10 .");
        window.Type(Story.Look(window) + "\n");
        Assert.Single(Ledger.From(_journal.Entries()).Readings);
        Assert.All(_journal.Entries(), entry => Assert.DoesNotContain(Port, entry.Body.ToString(), StringComparison.Ordinal));
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

    private Desk Desk() => ScreenProgram.DeskOf(KnownMachine.Options(_journal) with { LinkClock = TimeProvider.System, PracticeScale = 40, KnownPorts = _ports }, _clock);
}
