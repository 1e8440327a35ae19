using System.Collections.Immutable;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Plans;

namespace Commission.Core.Procedures;

/// <summary>What is fixed when a run starts. With the procedure it makes the same plan again, so a run can be taken up after years.</summary>
public sealed record RunSetting
{
    /// <summary>The machine as it was described at the start.</summary>
    public required Machine Machine { get; init; }

    /// <summary>The axis chosen for the run; null for a procedure of the whole machine.</summary>
    public AxisName? Axis { get; init; }

    /// <summary>The instrument the readings are taken with; null where none is named.</summary>
    public Instrument? Instrument { get; init; }

    /// <summary>Standard deviation of one reading by the operator's hand with that instrument, mm; null where no study was made.</summary>
    public double? HandSdMm { get; init; }

    /// <summary>Kinds of instrument the owner has.</summary>
    public ImmutableHashSet<InstrumentKind> Owned { get; init; } = [];

    /// <summary>Whether moves go over the link; otherwise the steps say where to go.</summary>
    public bool Link { get; init; }

    /// <summary>Greatest speed of a move of each axis, mm/min, where a speed ladder found one: no move of a run is faster.</summary>
    public ImmutableDictionary<AxisName, double> GreatestFeeds { get; init; } = ImmutableDictionary<AxisName, double>.Empty;

    /// <summary>A plan that was taken in place of the procedure's own places; empty where the procedure's own are read.</summary>
    public ImmutableArray<PlanCell> Plan { get; init; } = [];
}
