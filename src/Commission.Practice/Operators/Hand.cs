using System.Collections.Immutable;

namespace Commission.Practice.Operators;

/// <summary>How a person measures: habits as numbers.</summary>
public sealed record Hand
{
    /// <summary>Short name, for example <c>usual</c>.</summary>
    public required string Name { get; init; }

    /// <summary>Standard deviation of one placing of caliper jaws, mm, rounding excluded.</summary>
    public required double ReadingSdMm { get; init; }

    /// <summary>Share of readings with a slip.</summary>
    public required double SlipRate { get; init; }

    /// <summary>Probability of taking up lost motion without being told.</summary>
    public double TakesUpLostMotion { get; init; } = 1;

    /// <summary>Standard deviation of the jaws' tilt in each of two planes, degrees.</summary>
    public double JawTiltDeg { get; init; }

    /// <summary>Standard deviation of one tape reading, mm.</summary>
    public double TapeSdMm { get; init; } = 0.2;

    /// <summary>Standard deviation of one indicator reading, mm.</summary>
    public double IndicatorSdMm { get; init; } = 0.003;

    /// <summary>A careful hand that makes no slips: what the walks use. Invented.</summary>
    public static Hand Steady { get; } = new() { Name = "steady", ReadingSdMm = 0.015, SlipRate = 0, JawTiltDeg = 0.3, TapeSdMm = 0.15 };
}

/// <summary>A way of getting a reading wrong.</summary>
public abstract record Slip
{
    private Slip()
    {
    }

    /// <summary>A whole number of divisions too much or too little.</summary>
    /// <param name="Mm">How much, mm; the sign is drawn.</param>
    public sealed record Miscount(double Mm) : Slip;

    /// <summary>The two digits after the point change places.</summary>
    public sealed record SwapsDigits : Slip;
}

/// <summary>The slips of a population with their weights.</summary>
/// <param name="Kinds">Slips and weights.</param>
/// <param name="NoticedBeyondMm">A deviation larger than this may be noticed without help, mm.</param>
/// <param name="NoticedProbability">The probability of noticing.</param>
public sealed record SlipHabits(ImmutableArray<(double Weight, Slip Slip)> Kinds, double NoticedBeyondMm, double NoticedProbability)
{
    /// <summary>The habits of the invented population.</summary>
    public static SlipHabits Usual { get; } = new(
        [(0.30, new Slip.Miscount(1)), (0.25, new Slip.Miscount(0.1)), (0.10, new Slip.Miscount(0.5)), (0.05, new Slip.Miscount(10)),
            (0.30, new Slip.SwapsDigits())],
        0.8, 0.8);
}
