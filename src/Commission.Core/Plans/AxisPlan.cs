using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Machines;
using Commission.Core.Quantities;

namespace Commission.Core.Plans;

/// <summary>What a plan for the scale of an axis has to respect.</summary>
public sealed record AxisPlanRequest
{
    /// <summary>The axis.</summary>
    public required AxisName Axis { get; init; }

    /// <summary>Its travel, mm.</summary>
    public required double TravelMm { get; init; }

    /// <summary>Dominant period of the drive, mm (lead, pulley or pinion circumference); null where unknown.</summary>
    public double? PeriodMm { get; init; }

    /// <summary>Steps for one millimetre; null where unknown.</summary>
    public double? StepsPerMm { get; init; }

    /// <summary>Longest length the instrument reads, mm; null where it does not limit.</summary>
    public double? InstrumentRangeMm { get; init; }

    /// <summary>Unit in which the owner commands.</summary>
    public LengthUnit Units { get; init; }

    /// <summary>Distance kept from both ends of the travel beyond the overrun, mm: switches and bumpers stand there.</summary>
    public double EndMarginMm { get; init; } = AxisPlan.EndMarginMm;

    /// <summary>Part of the travel to look at.</summary>
    public AxisWindow Window { get; init; }
}

/// <summary>Where to read the scale of an axis: four positions at each end a quarter period apart, two in the middle half a period apart,
/// directions alternating, order ABBA. The four quarter steps cancel the drive's periodic error, two of each direction do so within the direction.</summary>
public static class AxisPlan
{
    /// <summary>How far beyond its target a move goes to come in from the other side, mm.</summary>
    public const double OverrunMm = 5;

    /// <summary>Distance that plans keep from both ends of the travel beyond the overrun, mm: switches and bumpers stand there.</summary>
    public const double EndMarginMm = 1;

    // The first and last millimetres of an instrument are its worst and hardest to reach.
    internal const double InstrumentMarginMm = 4;

    // A drive of unknown period is treated as the commonest screw: better than positions that are all alike.
    internal const double AssumedPeriodMm = 5;

    // Group (0 near, 1 middle, 2 far), quarter or half period within it. Every group is read in balanced order, the last reading is back near the first.
    private static readonly ImmutableArray<(int Group, int Quarter)> Order =
        [(0, 0), (2, 0), (1, 0), (2, 1), (0, 1), (0, 3), (2, 3), (1, 2), (2, 2), (0, 2)];

    /// <summary>The cells in the order they are read.</summary>
    /// <returns>Ten cells, or the problem that the travel is too short for a plan.</returns>
    public static Outcome<ImmutableArray<PlanCell>> For(AxisPlanRequest request)
    {
        var period = request.PeriodMm ?? AssumedPeriodMm;
        var (reserve, free) = Reach(request.TravelMm, request.EndMarginMm);
        var span = Math.Min(free, request.InstrumentRangeMm is { } range ? range - (2 * InstrumentMarginMm) : double.PositiveInfinity);
        if (span < 2 * period)
        {
            return new Problem(
                string.Create(CultureInfo.InvariantCulture, $"{span:F1} mm of {request.Axis} can be used, and the plan needs twice the period of the drive, {2 * period:F1} mm"),
                "Take a longer instrument, or judge the axis by a test cut");
        }

        var low = request.Window switch
        {
            AxisWindow.Low => reserve,
            AxisWindow.High => reserve + free - span,
            _ => reserve + ((free - span) / 2),
        };
        return Cells(request, low, span, period);
    }

    private static ImmutableArray<PlanCell> Cells(AxisPlanRequest request, double low, double span, double period)
    {
        double[] starts = [low, low + (span / 2) - (period / 4), low + span - (0.75 * period)];
        string[] places = ["near", "middle", "far"];
        return [.. Order.Select(cell => Cell(request, places[cell.Group], starts[cell.Group] + (cell.Quarter * period / 4), IsIncreasing(cell)))];
    }

    // Near and far: quarters 0 and 2 from below, 1 and 3 from above. Middle: 0 from below, 2 from above.
    private static bool IsIncreasing((int Group, int Quarter) cell) => cell.Group == 1 ? cell.Quarter == 0 : cell.Quarter % 2 == 0;

    private static PlanCell Cell(AxisPlanRequest request, string place, double mm, bool increasing) =>
        PlanPoints.OnAxis(request.Axis, place, "commanded_mm", Commandable(mm, request.StepsPerMm, request.Units), increasing, at => Commandable(at, request.StepsPerMm, request.Units));

    /// <summary>What of a travel can be come to from both sides: where it begins, and its length, which is negative where the travel is too short.</summary>
    /// <param name="travelMm">The travel, mm.</param>
    /// <param name="endMarginMm">Distance kept from both ends beyond the overrun, mm.</param>
    internal static (double From, double Length) Reach(double travelMm, double endMarginMm) =>
        (OverrunMm + endMarginMm, travelMm - (2 * (OverrunMm + endMarginMm)));

    /// <summary>A place at a fraction of what can be come to from both sides, mm; in the middle of a travel that is too short for that.</summary>
    /// <param name="travelMm">The travel, mm.</param>
    /// <param name="fraction">From 0 at the low end to 1 at the high end.</param>
    internal static double OverTravel(double travelMm, double fraction)
    {
        var (from, length) = Reach(travelMm, EndMarginMm);
        return Math.Min(from, travelMm / 2) + (Math.Max(0, length) * fraction);
    }

    /// <summary>The nearest position of an axis that can be typed and lies on a whole motor step.</summary>
    public static double Commandable(Machine machine, AxisName axis, double mm) => Commandable(mm, machine[axis].StepsPerMm, machine.Units);

    /// <summary>The nearest position that can be typed (0.001 mm, or 0.0001 in) and lies on a whole motor step.</summary>
    /// <param name="mm">The position wished for, mm.</param>
    /// <param name="stepsPerMm">Steps for one millimetre; null where unknown.</param>
    /// <param name="units">Unit in which it is typed.</param>
    public static double Commandable(double mm, double? stepsPerMm, LengthUnit units)
    {
        var onStep = stepsPerMm is { } steps ? Math.Round(mm * steps) / steps : mm;
        return units == LengthUnit.Inch
            ? Math.Round(Math.Round(onStep / Inch.Mm, 4) * Inch.Mm, 6)
            : Math.Round(onStep, 3);
    }
}
