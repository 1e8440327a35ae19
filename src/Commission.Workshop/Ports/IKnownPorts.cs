namespace Commission.Workshop.Ports;

/// <summary>How a machine was linked the last time.</summary>
/// <param name="Port">Name or path of the port.</param>
/// <param name="Dialect">Name of the dialect.</param>
/// <param name="Baud">Speed; null for that of the dialect.</param>
public sealed record KnownPort(string Port, string Dialect, int? Baud)
{
    /// <summary>Whether the control lines of the port are raised on opening.</summary>
    public bool ControlLines { get; init; } = true;
}

/// <summary>The port of each machine, remembered on this computer beside the journal and never in it: the name of a port is no fact of the machine.</summary>
public interface IKnownPorts
{
    /// <summary>The port of a machine; null where none is remembered.</summary>
    KnownPort? Of(string machine);

    /// <summary>Remembers the port of a machine in place of the one before. Where that cannot be written nothing is lost but a choice on C.</summary>
    void Keep(string machine, KnownPort port);

    /// <summary>Forgets the port of a machine.</summary>
    void Forget(string machine);
}
