namespace Commission.Workshop.Ports;

/// <summary>A serial port that exists.</summary>
/// <param name="Name">Name to use.</param>
/// <param name="Device">The device behind it.</param>
/// <param name="Stable">Whether the name stays the same when the plug is put in again.</param>
public sealed record PortName(string Name, string Device, bool Stable);

/// <summary>Lists ports. Opens none.</summary>
public interface IPortNames
{
    /// <summary>The ports there are now.</summary>
    IReadOnlyList<PortName> List();
}
