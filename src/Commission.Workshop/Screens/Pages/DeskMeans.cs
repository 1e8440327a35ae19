using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Plans;
using Commission.Core.Procedures;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Screens.Pages;

/// <summary>What the desk works with.</summary>
public sealed record DeskMeans
{
    /// <summary>The journal; what is shown comes from it.</summary>
    public required IJournal Journal { get; init; }

    /// <summary>The procedures in the order of the work.</summary>
    public required ImmutableArray<Procedure> Procedures { get; init; }

    /// <summary>The clock.</summary>
    public required TimeProvider Clock { get; init; }

    /// <summary>Begins a run of a procedure with a plan that was taken, or its own where that is empty; the answer is a session that writes before it shows.</summary>
    public required Func<Procedure, AxisName?, Machine, ImmutableArray<PlanCell>, Outcome<IWorkSession>> Begin { get; init; }

    /// <summary>Takes up a run that was left open; null where that is not possible.</summary>
    public Func<RunRecord, Outcome<IWorkSession>>? TakeUp { get; init; }

    /// <summary>Handle of the person at the keys.</summary>
    public string? Operator { get; init; }

    /// <summary>Name of the machine asked for; null for the one last used.</summary>
    public string? Machine { get; init; }

    /// <summary>Unit in which lengths are shown and typed; null for that of the machine.</summary>
    public LengthUnit? Units { get; init; }

    /// <summary>On the practice machine: what the simulated caliper shows at a place. Null where somebody looks at a real one.</summary>
    public Func<IWorkSession, Need.TakeReading, string>? Look { get; init; }

    /// <summary>Begins practice in a store that is thrown away; null where that cannot be, or practice it is already.</summary>
    public Action? StartPractice { get; init; }

    /// <summary>Ends the practice that was begun from the screens and goes back to them; null where leaving leaves the program.</summary>
    public Action? EndPractice { get; init; }

    /// <summary>The store as a folder; null where the journal is in memory only.</summary>
    public IStoreFolder? Folder { get; init; }

    /// <summary>Files that the person names; null where none are read or written, as in practice that is not kept.</summary>
    public ITextFiles? Files { get; init; }

    /// <summary>Version of the program, for reports.</summary>
    public string Program { get; init; } = "";

    /// <summary>The shipped procedure of an id whose text has a hash, for reports; null where no texts are at hand.</summary>
    public Func<string, string, Procedure?>? Shipped { get; init; }

    /// <summary>Whether the terminal has lines and Braille dots.</summary>
    public bool FineGlyphs { get; init; }

    /// <summary>Whether the keyboard is not at this computer, so that STOP may come late.</summary>
    public bool Elsewhere { get; init; }

    /// <summary>The ports of machines as they are remembered; null where nothing is.</summary>
    public IKnownPorts? KnownPorts { get; init; }

    /// <summary>What is needed for a link; null where none can be made.</summary>
    public LinkMeans? Link { get; init; }
}

/// <summary>A run under way: every event is on the medium before it is shown.</summary>
public interface IWorkSession : Sessions.ITripRecord
{
    /// <summary>The run as it stands.</summary>
    ProcedureRun Run { get; }

    /// <summary>The finding that the run made last, as entered; null before the first.</summary>
    Entered<EntryBody.FindingMade>? Finding { get; }

    /// <summary>Lets something happen to the run.</summary>
    /// <returns>What to say about it, or why it was refused; nothing is lost.</returns>
    Outcome<string?> Happen(RunEvent happened);

    /// <summary>Accepts a reading as typed.</summary>
    /// <returns>What to say about it, or why it could not be taken; it then stays in the cell.</returns>
    Outcome<string?> Read(string typed);

    /// <summary>What was done last and can be taken back: an answer, a reading, or what was done to one; where none can, why not.</summary>
    Outcome<JournalEntry> LastDone { get; }

    /// <summary>Goes one step back: what was done last stays in the log, taken back, and is asked again.</summary>
    /// <returns>What was taken back.</returns>
    Outcome<JournalEntry> TakeBack();

    /// <summary>The moves asked for were made over the link.</summary>
    /// <param name="words">The moves as they were made.</param>
    Outcome<string?> MovesMade(string words);

    /// <summary>Makes evaluations that wait; a no-op where none does.</summary>
    /// <returns>What to say, or why it could not be evaluated.</returns>
    Outcome<string?> Evaluate();
}
