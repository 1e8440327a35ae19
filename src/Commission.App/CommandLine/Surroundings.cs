using Commission.Adapters.Serial;
using Commission.App.Attended;
using Commission.Workshop.Ports;

namespace Commission.App.CommandLine;

/// <summary>What a verb may touch of the world: tests hand in their own.</summary>
internal sealed record Surroundings
{
    /// <summary>Standard input.</summary>
    public required TextReader In { get; init; }

    /// <summary>Standard output.</summary>
    public required TextWriter Out { get; init; }

    /// <summary>Standard error.</summary>
    public required TextWriter Error { get; init; }

    /// <summary>Whether a person types.</summary>
    public bool InputIsTerminal { get; init; }

    /// <summary>Whether a person reads, on a terminal that can show screens.</summary>
    public bool OutputIsTerminal { get; init; }

    /// <summary>The clock.</summary>
    public TimeProvider Clock { get; init; } = TimeProvider.System;

    /// <summary>The folder of the store where none is named.</summary>
    public required string DefaultStore { get; init; }

    /// <summary>Lists ports.</summary>
    public IPortNames PortNames { get; init; } = new PortNames();

    /// <summary>Opens ports.</summary>
    public IPortOpener Ports { get; init; } = new SerialPorts();

    /// <summary>The link that is open.</summary>
    public OpenLink Link { get; } = new();
}
