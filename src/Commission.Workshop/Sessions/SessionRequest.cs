using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Plans;
using Commission.Core.Procedures;

namespace Commission.Workshop.Sessions;

/// <summary>What a session is opened with.</summary>
public sealed record SessionRequest
{
    /// <summary>The procedure.</summary>
    public required Procedure Procedure { get; init; }

    /// <summary>Hash of the procedure's text.</summary>
    public required string ProcedureHash { get; init; }

    /// <summary>The machine.</summary>
    public required Machine Machine { get; init; }

    /// <summary>The axis; null for a procedure of the whole machine.</summary>
    public AxisName? Axis { get; init; }

    /// <summary>The instrument of the readings; null where none is named.</summary>
    public Instrument? Instrument { get; init; }

    /// <summary>All instruments of the owner: a step may name another kind than the run's.</summary>
    public ImmutableArray<Instrument> Instruments { get; init; } = [];

    /// <summary>The operator's hand study with the instrument; null where there is none.</summary>
    public HandStudy? Hand { get; init; }

    /// <summary>Kinds of instrument the owner has.</summary>
    public ImmutableHashSet<InstrumentKind> Owned { get; init; } = [];

    /// <summary>Handle of the operator; null where none is named.</summary>
    public string? Operator { get; init; }

    /// <summary>The limit for the headline; null takes that of the machine's class of work, where there is one.</summary>
    public Tolerance? Tolerance { get; init; }

    /// <summary>Seed of the practice machine whose readings a new run keeps; 0 for a real machine. It is recorded and nothing is drawn from it: places and order of a plan are fixed.</summary>
    public long Seed { get; init; }

    /// <summary>A plan taken in place of the procedure's own places; empty for those. A run that is taken up again keeps the one it began with.</summary>
    public ImmutableArray<PlanCell> Plan { get; init; } = [];

    /// <summary>What carries out moves; null without a link.</summary>
    public IMotion? Motion { get; init; }

    /// <summary>Unit in which lengths are said and typed; null takes the machine's own. A run that is taken up again keeps the one it began with.</summary>
    public LengthUnit? Shown { get; init; }

    /// <summary>The link where somebody else drives the moves and tells them with <see cref="ProcedureSession.MovesMade"/>; null where nobody does.</summary>
    public IPositionWatch? Watch { get; init; }

    /// <summary>Whether an unfinished run of the same procedure, machine and axis is taken up again.</summary>
    public bool Resume { get; init; } = true;
}
