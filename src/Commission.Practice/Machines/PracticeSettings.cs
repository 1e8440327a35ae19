using System.Collections.Immutable;
using Commission.Core.Machines;

namespace Commission.Practice.Machines;

/// <summary>What is set in the controller of a practice machine, X, Y, Z in this order.</summary>
public sealed record PracticeSettings
{
    /// <summary>Steps for one commanded millimetre.</summary>
    public required ImmutableArray<double> StepsPerMm { get; init; }

    /// <summary>Compensation of lost motion, mm, 0 or positive.</summary>
    public ImmutableArray<double> CompensationMm { get; init; } = [0, 0, 0];

    /// <summary>Where the home place lies against the switch, mm.</summary>
    public ImmutableArray<double> HomeOffsetMm { get; init; } = [0, 0, 0];

    /// <summary>By how much the +X end of the gantry has been moved back (towards -Y) against the other, mm.</summary>
    public double GantryOffsetMm { get; init; }

    /// <summary>Highest speed of each axis, mm/min.</summary>
    public ImmutableArray<double> MaxRateMmMin { get; init; } = [1500, 1500, 1500];

    /// <summary>With another ratio on one axis.</summary>
    public PracticeSettings WithSteps(AxisName axis, double stepsPerMm) =>
        this with { StepsPerMm = StepsPerMm.SetItem((int)axis, stepsPerMm) };

    /// <summary>With another compensation on one axis.</summary>
    public PracticeSettings WithCompensation(AxisName axis, double millimetres) =>
        this with { CompensationMm = CompensationMm.SetItem((int)axis, millimetres) };
}
