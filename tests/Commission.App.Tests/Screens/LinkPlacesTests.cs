using Commission.Practice.Machines;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>A machine without switches over the link on the screens: no homing, every axis is put on its reference place by hand and confirmed there.</summary>
public sealed class LinkPlacesTests : KnownScreens
{
    public LinkPlacesTests()
    {
        Journal.Append(new EntryBody.MachineDescribed(KnownMachine.WithoutSwitches(HeronMachine.Description), Retired: false) { Machine = "Heron" }).Require();
        KnownMachine.Pass(Journal, "P05", "P06", "P07", "P08", "P30");
    }

    /// <summary>S on the route card: the board stands locked after its restart; then Z, X and Y, each said by its own letter; the first move follows at half the step's speed.</summary>
    [Fact]
    public void From_a_cold_start_every_axis_is_placed_by_its_own_box_and_only_then_a_target_is_moved_to()
    {
        var ports = new RememberedPorts();
        ports.Keep("Heron", new("practice controller", "numbered-settings", null));
        using var window = Open(ports);
        window.Type("\ns");
        Until(window, "THE CONTROLLER WILL BE UNLOCKED");
        Confirm(window, "u", "Z STANDS ON ITS REFERENCE PLACE");
        Placed(window, "Do it. S means");
        Assert.DoesNotContain(Journal.Entries(), entry => entry.Body is EntryBody.Moved { Step: not null });
        window.Type("\ns");
        Until(window, "Press X");
        Assert.Contains("300 mm/min", window.Text, StringComparison.Ordinal);
    }

    /// <summary>Opened on C instead: the same boxes follow one another there.</summary>
    [Fact]
    public void On_the_controller_page_every_axis_is_placed_by_its_own_box()
    {
        using var window = Open(new RememberedPorts());
        Link(window);
        Until(window, "Put each axis on its reference place. Enter draws the first box.");
        window.Type("\n");
        Confirm(window, "u", "Z STANDS ON ITS REFERENCE PLACE");
        Placed(window, "Enter goes back to the bench.");
    }

    // The letters of other axes and digits say nothing: the box stays, and no axis is placed by them.
    private static void Placed(Headless window, string then)
    {
        Rest(window);
        foreach (var other in "xyu1")
        {
            window.Type(other.ToString());
            Assert.Contains("The box waits for Z", window.Text, StringComparison.Ordinal);
            Assert.Contains("Z STANDS ON ITS REFERENCE PLACE", window.Text, StringComparison.Ordinal);
        }

        Confirm(window, "z", "X STANDS ON ITS REFERENCE PLACE");
        Assert.Contains("NOT TRUSTED", window.Rows[22], StringComparison.Ordinal);
        Confirm(window, "x", "Y STANDS ON ITS REFERENCE PLACE");
        Assert.Contains("NOT TRUSTED", window.Rows[22], StringComparison.Ordinal);
        Confirm(window, "y", then);
        Assert.DoesNotContain("NOT TRUSTED", window.Rows[22], StringComparison.Ordinal);
    }

    private Headless Open(RememberedPorts ports) => On(KnownMachine.Linked(Journal) with { KnownPorts = ports });
}
