using Commission.Adapters.Serial;
using Commission.App.Attended;
using Commission.Workshop.Ports;

namespace Commission.App.CommandLine;

/// <summary>What a verb may touch of the world: tests hand in their own.</summary>
internal sealed record Surroundings
{
    private TypedLines? typed;

    /// <summary>Standard input. Once lines are read as they are typed they are taken from there.</summary>
    public required TextReader In { get => typed ?? field; init; }

    /// <summary>Standard input, read as it is typed: one reader for the whole program, for two would take each other's lines.</summary>
    public TypedLines Typed => typed ??= new TypedLines(In);

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
