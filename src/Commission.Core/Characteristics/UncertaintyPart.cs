namespace Commission.Core.Characteristics;

/// <summary>One contribution to the standard uncertainty of a value.</summary>
/// <param name="Source">Where it comes from, in words.</param>
/// <param name="Uncertainty">Its standard uncertainty in the unit of the value.</param>
/// <param name="DegreesOfFreedom">How well that standard uncertainty is known; infinite where it is taken as exact.</param>
internal sealed record UncertaintyPart(string Source, double Uncertainty, double DegreesOfFreedom = double.PositiveInfinity)
{
    /// <summary>Whether it is the limit of a rectangular distribution.</summary>
    public bool Rectangular { get; init; }

    /// <summary>Whether the same draw stands in other results too.</summary>
    public bool Shared { get; init; }

    /// <summary>Whether more readings make it smaller.</summary>
    public bool RepeatingHelps { get; init; }
}
