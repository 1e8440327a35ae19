using Commission.Adapters.Serial;
using Commission.Tests;

namespace Commission.Adapters.Tests.Serial;

/// <summary>Names of ports, with a folder of links standing for the one in which the system keeps names that survive replugging.</summary>
public sealed class PortNamesTests : OwnFolder
{
    private string Stable => Path.Combine(Folder, "by-id");

    private string Device(string name)
    {
        var path = Path.Combine(Folder, name);
        File.WriteAllText(path, "");
        return path;
    }

    [Fact]
    public void A_name_that_survives_replugging_comes_first_with_its_device_and_the_device_is_not_told_again()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there is no such folder here");
        var (first, second, other) = (Device("tty0"), Device("tty1"), Device("tty2"));
        Directory.CreateDirectory(Stable);
        // As the system makes them: relative to their own folder.
        File.CreateSymbolicLink(Path.Combine(Stable, "usb-b"), "../tty0");
        File.CreateSymbolicLink(Path.Combine(Stable, "usb-a"), "../tty1");
        PortName[] expected =
        [
            new(Path.Combine(Stable, "usb-a"), second, Stable: true),
            new(Path.Combine(Stable, "usb-b"), first, Stable: true),
            new(other, other, Stable: false),
        ];
        Assert.Equal(expected, new PortNames(Stable, () => [first, second, other]).List());
    }

    [Fact]
    public void After_replugging_the_same_name_leads_to_the_new_device()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there is no such folder here");
        var (before, after) = (Device("tty0"), Device("tty1"));
        Directory.CreateDirectory(Stable);
        var link = Path.Combine(Stable, "usb-a");
        File.CreateSymbolicLink(link, "../tty0");
        var names = new PortNames(Stable, () => []);
        Assert.Equal([new(link, before, Stable: true)], names.List());
        File.Delete(link);
        File.CreateSymbolicLink(link, "../tty1");
        Assert.Equal([new(link, after, Stable: true)], names.List());
    }

    [Fact]
    public void Without_the_folder_the_ports_are_told_by_the_names_of_the_system() =>
        Assert.Equal([new("/dev/tty9", "/dev/tty9", Stable: false)], new PortNames(Stable, () => ["/dev/tty9"]).List());
}
