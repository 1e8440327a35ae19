using System.Globalization;
using System.IO.Ports;
using Commission.Workshop.Ports;

namespace Commission.Adapters.Serial;

/// <summary>Lists ports without opening any. Names that survive replugging come first, where the system has them.</summary>
public sealed class PortNames : IPortNames
{
    private readonly string stable;
    private readonly Func<IEnumerable<string>> all;

    /// <summary>The ports of this system.</summary>
    public PortNames()
        : this("/dev/serial/by-id", SystemNames)
    {
    }

    /// <param name="stable">Folder of links, one for each device, whose names survive replugging.</param>
    /// <param name="all">Names of all ports as the system gives them.</param>
    internal PortNames(string stable, Func<IEnumerable<string>> all) => (this.stable, this.all) = (stable, all);

    /// <inheritdoc/>
    public IReadOnlyList<PortName> List()
    {
        var ports = new List<PortName>();
        if (Directory.Exists(stable))
        {
            foreach (var link in Directory.GetFiles(stable).Order(StringComparer.Ordinal))
                ports.Add(new(link, File.ResolveLinkTarget(link, returnFinalTarget: true)?.FullName ?? link, Stable: true));
        }
        foreach (var name in all())
        {
            if (!ports.Any(port => port.Device == name))
                ports.Add(new(name, name, Stable: false));
        }
        return ports;
    }

    private static IEnumerable<string> SystemNames()
    {
        var names = SerialPort.GetPortNames();
        if (OperatingSystem.IsMacOS())
            return names.Where(name => name.StartsWith("/dev/cu.", StringComparison.Ordinal)).Order(StringComparer.Ordinal);
        return OperatingSystem.IsWindows() ? WindowsNames(names) : names.Order(StringComparer.Ordinal);
    }

    /// <summary>Some drivers write garbage behind the name: COM and its number is all that counts. Sorted by number.</summary>
    internal static IEnumerable<string> WindowsNames(IEnumerable<string> names) =>
        names.Where(name => name.StartsWith("COM", StringComparison.Ordinal) && name.Length > 3 && char.IsAsciiDigit(name[3]))
            .Select(name => int.Parse(string.Concat(name.Skip(3).TakeWhile(char.IsAsciiDigit).Take(6)), CultureInfo.InvariantCulture))
            .Distinct().Order().Select(number => string.Create(CultureInfo.InvariantCulture, $"COM{number}"));
}
