using Commission.Practice.Draws;

namespace Commission.Practice.Instruments;

/// <summary>What an instrument adds to a length, drawn once in its life: E(L) = A [(1 - w) L/R + w (sin(2 pi n L/R + p) - sin p)/2].</summary>
/// <param name="LargestMm">A: signed, the largest error over the range, mm.</param>
/// <param name="RangeMm">R: the range, mm.</param>
/// <param name="Waviness">w: share that is no slope, 0 to 1.</param>
/// <param name="Waves">n: waves over the range.</param>
/// <param name="PhaseRad">p.</param>
/// <remarks>The shape is invented and plausible; E(0) = 0 and |E| does not exceed |A|.</remarks>
public sealed record ErrorCurve(double LargestMm, double RangeMm, double Waviness = 0, int Waves = 1, double PhaseRad = 0)
{
    /// <summary>A pure scale error, drawn uniformly within the limit at the longest reading.</summary>
    public static ErrorCurve WithinLimit(DrawSource source, double limitMm, double longestMm) =>
        new(source.NextUniform(-limitMm, limitMm), longestMm);

    /// <summary>The error at a length, mm.</summary>
    public double At(double lengthMm)
    {
        var share = lengthMm / RangeMm;
        var slope = (1 - Waviness) * share;
        if (Waviness == 0)
            return LargestMm * slope;
        var wave = PortableMath.Sin((2 * Math.PI * Waves * share) + PhaseRad) - PortableMath.Sin(PhaseRad);
        return LargestMm * (slope + (Waviness * wave / 2));
    }
}
