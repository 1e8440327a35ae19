using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;

namespace Commission.App.Screens;

/// <summary>A procedure that was asked for by name: the screens open on its route card.</summary>
/// <param name="Procedure">The procedure.</param>
/// <param name="Axis">The axis; null for a procedure of the whole machine.</param>
public sealed record ScreenStart(Procedure Procedure, AxisName? Axis)
{
    /// <summary>Name of the instrument that was asked for; null for that of the kit.</summary>
    public string? Instrument { get; init; }

    /// <summary>Handle of the person who measures; null where nobody was named.</summary>
    public string? Operator { get; init; }

    /// <summary>The limit that was asked for; null for that of the machine's class of work.</summary>
    public Tolerance? Tolerance { get; init; }

    /// <summary>Whether a new run begins even where one was left.</summary>
    public bool Anew { get; init; }

    /// <summary>The controller that was named: S on the card opens it, and no other is offered; null where none was.</summary>
    public ControllerAddress? Controller { get; init; }
}

/// <summary>The port that was named on the command line, in place of the one that is remembered.</summary>
/// <param name="address">The controller.</param>
/// <param name="kept">Where ports are remembered; null where nothing is.</param>
internal sealed class NamedPort(ControllerAddress address, IKnownPorts? kept) : IKnownPorts
{
    /// <inheritdoc/>
    public KnownPort? Of(string machine) => new(address.Port, address.Dialect, address.Baud) { ControlLines = address.ControlLines };

    /// <inheritdoc/>
    public void Keep(string machine, KnownPort port) => kept?.Keep(machine, port);

    /// <inheritdoc/>
    public void Forget(string machine) => kept?.Forget(machine);
}
