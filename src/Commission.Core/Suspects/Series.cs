using Commission.Core.Instruments;
using Commission.Core.Readings;

namespace Commission.Core.Suspects;

/// <summary>The readings of one fit as the checks for mistakes look at them. Lists run over the used rows, in the order they were taken.</summary>
internal sealed record Series
{
    /// <summary>The readings.</summary>
    public required ReadingTable Readings { get; init; }

    /// <summary>Column that the instrument was read for.</summary>
    public required string Column { get; init; }

    /// <summary>Coefficients of the unknowns.</summary>
    public required IReadOnlyList<double[]> Design { get; init; }

    /// <summary>What the design explains, mm.</summary>
    public required IReadOnlyList<double> Values { get; init; }

    /// <summary>Observed less fitted, mm.</summary>
    public required IReadOnlyList<double> Residuals { get; init; }

    /// <summary>Leverages, 0 to 1.</summary>
    public required IReadOnlyList<double> Leverages { get; init; }

    /// <summary>Number of unknowns fitted.</summary>
    public required int Unknowns { get; init; }

    /// <summary>Last digit of the instrument, mm; null where it is not known.</summary>
    public double? Resolution { get; init; }

    /// <summary>The operator's study; null without one.</summary>
    public HandStudy? Study { get; init; }

    /// <summary>Column of commanded positions that the readings follow one to one; null where they follow none.</summary>
    public string? Commanded { get; init; }

    /// <summary>Commanded and read lengths, where the readings should follow lengths known beforehand; else null.</summary>
    public IReadOnlyList<AxisPoint>? Lengths { get; init; }

    /// <summary>Whether the rows stand in the order of time and the model leaves nothing but scatter; false for maps, whose form would look like drift.</summary>
    public bool InTime { get; init; } = true;

    /// <summary>Whether all positions should have been approached from one side, without the directions being told.</summary>
    public bool OneSided { get; init; }

    /// <summary>Whether repeats may agree to the last digit: a coarse instrument hides what they scatter.</summary>
    public bool MayAgree { get; init; }

    /// <summary>The reversal value found, mm; null where none is in the model.</summary>
    public double? Reversal { get; init; }

    /// <summary>Standard deviation of the residuals, mm; 0 without degrees of freedom.</summary>
    public double Scatter => Residuals.Count > Unknowns ? Math.Sqrt(Residuals.Sum(r => r * r) / (Residuals.Count - Unknowns)) : 0;
}
