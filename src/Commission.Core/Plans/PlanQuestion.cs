using System.Collections.Immutable;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Quantities;

namespace Commission.Core.Plans;

/// <summary>A range that cannot be reached: a clamp, a motor, a column.</summary>
/// <param name="Along"><c>X Y Z</c> for a position in mm, <c>angle</c> for degrees.</param>
/// <param name="From">Its lower end.</param>
/// <param name="To">Its upper end.</param>
public sealed record PlanObstacle(string Along, double From, double To);

/// <summary>What a plan is asked for.</summary>
public sealed record PlanQuestion
{
    /// <summary>Id of the kind of characteristic.</summary>
    public required string Kind { get; init; }

    /// <summary>The machine; only its travel must be known.</summary>
    public required Machine Machine { get; init; }

    /// <summary>The axis, for kinds that look at one; X where not told.</summary>
    public AxisName? Axis { get; init; }

    /// <summary>The instrument; null takes the usual one for the kind, and the answer says so.</summary>
    public Instrument? Instrument { get; init; }

    /// <summary>The operator's hand with it; null takes a usual hand, and the answer says so.</summary>
    public HandStudy? Hand { get; init; }

    /// <summary>Other instruments the owner has.</summary>
    public ImmutableArray<Instrument> Owned { get; init; } = [];

    /// <summary>The limit the result will be held against, in the unit of the headline; null without one.</summary>
    public double? Limit { get; init; }

    /// <summary>The expanded uncertainty wished for, in the same unit; null takes half the limit (common practice, no source: half is the most that is usable).</summary>
    public double? Wanted { get; init; }

    /// <summary>Coverage probability of U.</summary>
    public double Coverage { get; init; } = 0.95;

    /// <summary>A coverage factor that is agreed; null takes that of the distribution the parts have.</summary>
    public double? CoverageFactor { get; init; }

    /// <summary>Part of the travel to look at.</summary>
    public AxisWindow Window { get; init; }

    /// <summary>Distance kept from both ends of the travel beyond the overrun, mm.</summary>
    public double EndMarginMm { get; init; } = AxisPlan.EndMarginMm;

    /// <summary>Lost motion that is known of the axis, mm, positive; null where it is not.</summary>
    public double? LostMotionMm { get; init; }

    /// <summary>Minutes of the work around the readings that a plan of the readings alone does not count: warming up, cleaning.</summary>
    public double AroundMinutes { get; init; }

    /// <summary>Ranges that cannot be reached; a point is out where it lies in every range of one group.</summary>
    public ImmutableArray<ImmutableArray<PlanObstacle>> Obstacles { get; init; } = [];

    /// <summary>Whether positions can only be commanded as fractions of an inch with this denominator; null for decimals.</summary>
    public int? InchFraction { get; init; }

    /// <summary>Numbers of single kinds by name: <c>radius-mm</c>, <c>tip-mm</c>, <c>mark-sd-mm</c>, <c>hole-sd-mm</c>, <c>expected-sd-mm</c>.</summary>
    public ImmutableDictionary<string, double> Numbers { get; init; } = ImmutableDictionary<string, double>.Empty;

    /// <summary>The expanded uncertainty that counts as reached; null where nothing was asked.</summary>
    public double? Goal => Wanted ?? Limit / 2;

    /// <summary>Whether an expanded uncertainty reaches the goal; null where nothing was asked, or nothing is told.</summary>
    internal bool? Reached(double? expanded) => Goal is { } goal && expanded is { } u ? u <= goal * (1 + 1e-9) : null;

    /// <summary>A position that the owner can command: a fraction of an inch, or what can be typed and lies on a whole step.</summary>
    internal double Commandable(AxisName axis, double mm) => InchFraction is { } parts
        ? Math.Round(mm / Inch.Mm * parts) / parts * Inch.Mm
        : AxisPlan.Commandable(Machine, axis, mm);

    /// <summary>Whether a point can be reached.</summary>
    internal bool Reaches(params ReadOnlySpan<(string Along, double At)> point)
    {
        foreach (var group in Obstacles)
        {
            var inside = true;
            foreach (var obstacle in group)
            {
                var hit = false;
                foreach (var (along, at) in point)
                    hit |= along == obstacle.Along && at >= obstacle.From && at <= obstacle.To;
                inside &= hit;
            }

            if (inside) return false;
        }

        return true;
    }
}
