using Commission.Core;

namespace Commission.Workshop.Ports;

/// <summary>Opens ports by name.</summary>
public interface IPortOpener
{
    /// <summary>Opens a port. This acts on the machine: the board may restart, outputs may switch, drives may let go.</summary>
    /// <param name="name">Name or path.</param>
    /// <param name="baud">Speed, bits per second.</param>
    /// <returns>The bytes, or why not.</returns>
    Outcome<ITransport> Open(string name, int baud);

    /// <summary>The same, with what is done to the control lines of the port.</summary>
    /// <param name="name">Name or path.</param>
    /// <param name="baud">Speed, bits per second.</param>
    /// <param name="controlLines">Whether they are raised, which restarts many boards and is what some wait for; a port that has none ignores it.</param>
    Outcome<ITransport> Open(string name, int baud, bool controlLines) => Open(name, baud);
}
