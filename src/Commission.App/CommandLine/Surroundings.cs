using Commission.Adapters.Serial;
using Commission.App.Attended;
using Commission.App.Rehearsal;
using Commission.Workshop.Ports;

namespace Commission.App.CommandLine;

/// <summary>What a verb may touch of the world: tests hand in their own.</summary>
internal sealed record Surroundings
{
    // One for the whole program, its practice too.
    private readonly Keyboard keyboard = new();

    /// <summary>Standard input. Once lines are read as they are typed they are taken from there.</summary>
    public required TextReader In { get => keyboard.Typed ?? field; init; }

    /// <summary>Standard input, read as it is typed: one reader for the whole program, for two would take each other's lines.</summary>
    public TypedLines Typed => keyboard.Typed ??= new TypedLines(In);

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

    /// <summary>The practice machine that all requests are about; null where they are about a real one.</summary>
    public PracticeRoom? Practice { get; init; }

    /// <summary>Seconds of the practice controller for one of the clock.</summary>
    public double PracticeScale { get; init; } = 1;

    /// <summary>Whether the bench of question and answer is open: whoever opened it answers, terminal or not.</summary>
    public bool IsAnswered { get; set; }

    /// <summary>Why a port cannot be opened by a name: there is none of it. Null where there is; nothing is opened by asking.</summary>
    public Core.Problem? NoPort(string name)
    {
        var listed = PortNames.List();
        return listed.Any(port => port.Name.Equals(name, StringComparison.OrdinalIgnoreCase)) || (Practice is null && !OperatingSystem.IsWindows() && File.Exists(name)) ? null
            : new Core.Problem($"there is no port '{Core.PlainText.Of(name)}'", listed.Count == 0 ? "Plug the cable in, or name the path of the device" : "Name it as 'controller ports' lists it, or by the path of the device");
    }

    private sealed class Keyboard
    {
        public TypedLines? Typed { get; set; }
    }
}
