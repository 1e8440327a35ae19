using Commission.Core;
using Commission.Workshop.Ports;

namespace Commission.Adapters.Serial;

/// <summary>Opens the serial ports of this computer.</summary>
public sealed class SerialPorts : IPortOpener
{
    /// <inheritdoc/>
    public Outcome<ITransport> Open(string name, int baud) => Open(name, baud, controlLines: true);

    /// <inheritdoc/>
    public Outcome<ITransport> Open(string name, int baud, bool controlLines) => SerialTransport.Open(name, baud, controlLines);
}
