using System.Collections.Immutable;
using Commission.Core.Machines;

namespace Commission.Core.Motion;

/// <summary>What is known of the machine, out of its description and its journal in the present epoch. The gate asks nobody else.</summary>
public sealed record MotionFacts
{
    /// <summary>Travel of each axis, mm.</summary>
    public required MachinePosition TravelMm { get; init; }

    /// <summary>One step of each axis, mm; the smallest difference that can count as unexpected.</summary>
    public required MachinePosition StepMm { get; init; }

    /// <summary>Checks passed in this epoch, by id (P05 …).</summary>
    public ImmutableHashSet<string> Passed { get; init; } = [];

    /// <summary>Checks skipped in this epoch with a typed reason, by id.</summary>
    public ImmutableHashSet<string> Skipped { get; init; } = [];

    /// <summary>Axes with a switch at the home end.</summary>
    public ImmutableHashSet<AxisName> Switched { get; init; } = [];

    /// <summary>Axes whose home switch stands at the end of largest position; the others home at the smallest.</summary>
    public ImmutableHashSet<AxisName> HomeHigh { get; init; } = [];

    /// <summary>Axes of which it is told at which end they home, or have their reference place; where it is not told no place is taken for granted.</summary>
    public ImmutableHashSet<AxisName> HomeNamed { get; init; } = [];

    /// <summary>Axes with a switch at both ends: which one is pressed is not told.</summary>
    public ImmutableHashSet<AxisName> BothEnds { get; init; } = [];

    /// <summary>Axes whose direction was checked in this epoch (P25).</summary>
    public ImmutableHashSet<AxisName> DirectionChecked { get; init; } = [];

    /// <summary>Axes that have moved over the link in this epoch.</summary>
    public ImmutableHashSet<AxisName> Moved { get; init; } = [];

    /// <summary>Whether the watched slow homing test has passed in this epoch (P27).</summary>
    public bool HomingTestPassed { get; init; }

    /// <summary>Whether the two motors of a pair have settings that differ.</summary>
    public bool PairDiffers { get; init; }

    /// <summary>Distance from the switch to where homing ends, mm, per axis.</summary>
    public MachinePosition PullOffMm { get; init; }

    /// <summary>The position the controller shows after homing, mm; null where it is not known yet.</summary>
    public MachinePosition? HomeShown { get; init; }

    /// <summary>Distance kept from both ends of the travel, mm; doubled where the position is only placed.</summary>
    public double MarginMm { get; init; } = 5;

    /// <summary>Greatest speed where the position is not trusted, mm/min (common practice, no source: 100 to 200).</summary>
    public double FirstMotionSpeedMmPerMin { get; init; } = 150;

    /// <summary>Whether every axis has a home switch.</summary>
    public bool HasSwitches => Switched.Count == 3;

    /// <summary>Checks of the readiness list that neither passed nor were skipped as far as they may be.</summary>
    public ImmutableArray<string> MissingChecks =>
        [.. Required().Where(id => !Passed.Contains(id) && !(Skipped.Contains(id) && !NeverSkipped.Contains(id)))];

    /// <summary>Emergency-stop checks that a link cannot do without.</summary>
    public static ImmutableHashSet<string> NeverSkipped { get; } = ["P05", "P06", "P07"];

    private IEnumerable<string> Required() =>
        Switched.IsEmpty ? ["P05", "P06", "P07", "P08", "P30"] : ["P05", "P06", "P07", "P08", "P22", "P30"];
}
