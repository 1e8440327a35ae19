using Commission.Core;
using Commission.Workshop.Ports;

namespace Commission.Adapters.Serial;

/// <summary>Opens the serial ports of this computer.</summary>
/// <param name="controlLines">Whether control lines are raised on opening.</param>
public sealed class SerialPorts(bool controlLines = true) : IPortOpener
{
    /// <inheritdoc/>
    public Outcome<ITransport> Open(string name, int baud) => SerialTransport.Open(name, baud, controlLines);
}
