using Commission.Core;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>Where a controller is and how it speaks.</summary>
/// <param name="Port">Name or path of the port.</param>
/// <param name="Dialect">Name of a shipped dialect, or a file ending in <c>.yaml</c>.</param>
/// <param name="Baud">Speed; null for that of the dialect.</param>
/// <param name="Record">File that takes the dialogue; null for none.</param>
public sealed record ControllerAddress(string Port, string Dialect, int? Baud = null, string? Record = null)
{
    /// <summary>Whether the control lines of the port are raised on opening.</summary>
    public bool ControlLines { get; init; } = true;
}

/// <summary>Opens the link to a controller. Opening acts on the machine: ask <see cref="Warning"/> before the first time in a session.</summary>
/// <param name="ports">Opens ports.</param>
/// <param name="files">Text files of a person: a dialect of their own, the record of a dialogue.</param>
/// <param name="time">The clock.</param>
/// <param name="told">Takes what goes wrong beside the link and does not end it: a record that cannot be written.</param>
public sealed class ConnectController(IPortOpener ports, ITextFiles files, TimeProvider time, Action<Problem>? told = null)
{
    /// <summary>What is said and asked before the first opening.</summary>
    public const string Warning =
        "Opening a port can restart the controller; outputs may switch, drives may let go. Is the spindle unplugged, no job running, and Z supported?";

    /// <summary>Facts of no machine: nothing has passed, so nothing moves; reading and settings do not need more.</summary>
    public static MotionFacts NoMachine { get; } = new() { TravelMm = default, StepMm = default };

    /// <summary>A dialect by name or file.</summary>
    public Outcome<Dialect> Dialect(string name)
    {
        if (name.EndsWith(".yaml", StringComparison.OrdinalIgnoreCase) || name.EndsWith(".yml", StringComparison.OrdinalIgnoreCase))
            return files.Read(name).Then(text => DialectReader.Read(name, text));
        return ShippedDialects.Find(name) is { } shipped ? shipped
            : new Problem($"there is no dialect \"{PlainText.Of(name)}\"", "Use one of " + string.Join(", ", ShippedDialects.Names) + ", or a file ending in .yaml");
    }

    /// <summary>Connects.</summary>
    /// <param name="address">The controller.</param>
    /// <param name="facts">Facts of the machine; null where none is known.</param>
    /// <param name="cancellation">Ends the attempt.</param>
    public async Task<Outcome<ControllerLink>> RunAsync(ControllerAddress address, MotionFacts? facts, CancellationToken cancellation)
    {
        switch (Dialect(address.Dialect).Then(dialect => ports.Open(address.Port, address.Baud ?? dialect.Baud, address.ControlLines).Then<(Dialect, ITransport)>(bytes => (dialect, bytes))))
        {
            case Outcome<(Dialect, ITransport)>.Good { Value: var (dialect, bytes) }:
                var recorded = address.Record is { } file && Kept(file, RecordingTransport.Head) ? new RecordingTransport(bytes, script => Kept(file, script)) : bytes;
                return await ControllerLink.OpenAsync(recorded, dialect, facts ?? NoMachine, time, cancellation).ConfigureAwait(false);
            case Outcome<(Dialect, ITransport)>.Bad bad:
                return new Outcome<ControllerLink>.Bad(bad.Problems);
            default:
                throw new System.Diagnostics.UnreachableException();
        }
    }

    /// <summary>Writes the record: its head before the dialogue begins, so that a name that cannot be written is told then, and all of it at the end.</summary>
    private bool Kept(string file, string script)
    {
        if (files.Write(file, script) is not Outcome<string>.Bad bad)
            return true;
        foreach (var problem in bad.Problems)
            told?.Invoke(problem with { What = "the dialogue is not recorded: " + problem.What });
        return false;
    }
}
