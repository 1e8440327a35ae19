using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Workshop.Ports;
using Commission.Workshop.Screens.Pages;

namespace Commission.App.Screens;

/// <summary>What the screens are opened with.</summary>
public sealed record ScreenOptions
{
    /// <summary>The journal; for practice that is not kept one in memory.</summary>
    public required IJournal Journal { get; init; }

    /// <summary>The procedures in the order of the work.</summary>
    public required IReadOnlyList<Procedure> Procedures { get; init; }

    /// <summary>Hash of a procedure's text by id, so that a run that is taken up again knows it is the same.</summary>
    public required Func<Procedure, string> Hash { get; init; }

    /// <summary>The shipped procedure of an id whose text has a hash, for reports; null where no texts are at hand.</summary>
    public Func<string, string, Procedure?>? Shipped { get; init; }

    /// <summary>Seed of the practice machine; a real one has none.</summary>
    public ulong Seed { get; init; }

    /// <summary>The procedure whose route card is shown first; null for the bench.</summary>
    public ScreenStart? Start { get; init; }

    /// <summary>Name of the machine; null for the one last used.</summary>
    public string? Machine { get; init; }

    /// <summary>Unit in which lengths are shown and typed; null for that of the machine.</summary>
    public LengthUnit? Units { get; init; }

    /// <summary>Handle of the person at the keys.</summary>
    public string? Operator { get; init; }

    /// <summary>Clock of the link; null takes that of the screens.</summary>
    public TimeProvider? LinkClock { get; init; }

    /// <summary>Seconds of the practice controller for one of the clock.</summary>
    public double PracticeScale { get; init; } = 1;

    /// <summary>Begins practice; null where that cannot be.</summary>
    public Action? StartPractice { get; init; }

    /// <summary>Ends the practice that was begun from the screens; null where leaving leaves the program.</summary>
    public Action? EndPractice { get; init; }

    /// <summary>Whether the keyboard is not at this computer.</summary>
    public bool Elsewhere { get; init; }

    /// <summary>The ports of machines as they are remembered; null where nothing is.</summary>
    public IKnownPorts? KnownPorts { get; init; }

    /// <summary>Files that the person names; null where none are read or written.</summary>
    public ITextFiles? Files { get; init; }

    /// <summary>Whether pictures may be made of lines and Braille dots.</summary>
    public bool FineGlyphs { get; init; }

    /// <summary>What is needed for a link to a real controller; null where none can be made. Practice has its own.</summary>
    public LinkMeans? Link { get; init; }
}
