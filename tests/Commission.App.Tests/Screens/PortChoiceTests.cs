using Commission.Core;
using Commission.Practice.Machines;
using Commission.Workshop.Controllers;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Pages;
using Terminal.Gui.Input;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>Opening a port acts on the machine: the one that is marked is opened, or none.</summary>
public sealed class PortChoiceTests : MemoryScreens, IPortOpener
{
    private readonly List<string> _opened = [];
    private string[] _ports = ["port-a", "port-b"];

    public PortChoiceTests()
        : base(StoreNature.Real) => Journal.Append(new EntryBody.MachineDescribed(HeronMachine.Description, Retired: false) { Machine = "Heron" }).Require();

    public Outcome<ITransport> Open(string name, int baud)
    {
        lock (_opened)
            _opened.Add(name);
        return new Problem("it is a port for tests", "Use another one");
    }

    [Fact]
    public void The_marked_port_is_opened_from_the_key_card_too()
    {
        using var window = AtTheSecondPort();
        window.Press(Key.F2);
        window.Press(Key.CursorRight);
        Assert.Contains(">S      open", window.Text, StringComparison.Ordinal);
        window.Press(Key.Enter);
        Until(window, "It is a port for tests");
        Assert.Equal(["port-b"], _opened);
    }

    [Fact]
    public void A_port_that_appears_before_the_marked_one_is_not_opened_in_its_place()
    {
        using var window = AtTheSecondPort();
        _ports = ["port-0", "port-a", "port-b"];
        window.Type("s");
        Until(window, "It is a port for tests");
        Assert.Equal(["port-b"], _opened);
    }

    [Fact]
    public void A_marked_port_that_has_gone_opens_none_in_its_place()
    {
        using var window = AtTheSecondPort();
        _ports = ["port-a"];
        window.Type("s");
        Assert.Contains("port-b is not there any more. Nothing was opened", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(">>   port-a", window.Text, StringComparison.Ordinal);
        window.Press(Key.CursorDown);
        Assert.Contains(">>   port-a", window.Text, StringComparison.Ordinal);
        Assert.Empty(_opened);
    }

    [Fact]
    public void A_port_that_was_named_is_the_marked_one_and_one_that_is_not_there_moves_no_mark()
    {
        using var window = AtTheSecondPort();
        window.Type("p");
        window.Type("nowhere\n");
        Assert.Contains("There is no port nowhere", window.Text, StringComparison.Ordinal);
        window.Press(Key.Esc);
        Assert.Contains(">>   port-b", window.Text, StringComparison.Ordinal);
        window.Type("p");
        window.Type("port-n\n");
        Assert.Contains(">>   port-n", window.Text, StringComparison.Ordinal);
    }

    /// <summary>Where ports are no files, a known port whose plug is out is none: S on a route card would offer to open it.</summary>
    [Fact]
    public void Where_ports_are_no_files_one_is_there_when_it_is_listed()
    {
        PortName[] listed = [new("COM3", "COM3", Stable: false)];
        Assert.True(ScreenVerbs.IsThere("com3", listed));
        Assert.False(ScreenVerbs.IsThere("COM4", listed));
        Assert.False(ScreenVerbs.IsThere("COM4", null));
    }

    private Headless AtTheSecondPort()
    {
        var means = StoryBoard.Means(this, () => [.. _ports.Select(port => new ControllerAddress(port, "numbered-settings"))], TimeProvider.System) with
        {
            Named = name => name == "port-n" ? [new ControllerAddress(name, "numbered-settings")] : [],
        };
        var window = On(PracticeStore.Options(Journal, 1) with { Link = means, LinkClock = new PatientTime() });
        window.Type("c");
        window.Press(Key.CursorDown);
        Assert.Contains(">>   port-b", window.Text, StringComparison.Ordinal);
        return window;
    }
}
