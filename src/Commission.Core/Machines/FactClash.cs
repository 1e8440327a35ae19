using System.Collections.Immutable;
using static System.FormattableString;

namespace Commission.Core.Machines;

/// <summary>Facts of a machine that cannot all be so.</summary>
/// <param name="Axis">The axis they belong to.</param>
/// <param name="Reason">What contradicts what, a clause that begins with the axis.</param>
/// <param name="Fact">Name of the fact that another value would settle; empty where none is named.</param>
/// <param name="Suggestion">That value; null where none is near.</param>
public sealed record FactClash(AxisName Axis, string Reason, string Fact = "", double? Suggestion = null)
{
    /// <summary>The facts that make a ratio of steps, and the ratio.</summary>
    public static ImmutableArray<string> RatioFacts { get; } = ["travelPerTurnMm", "stepAngleDeg", "microsteps", "gearing", "stepsPerMm"];

    // A written correction moves a ratio by less; a wrong microstep or lead by far more (our choice).
    private const double SameRatio = 0.02;

    // Travels, mm, and one travel to another, beyond which a slip is likelier than the machine (our choice).
    private const double LeastTravelMm = 20, MostTravelMm = 5000, MostTravels = 20;

    // What a rounded angle leaves over of a whole number of steps.
    private const double WholeSteps = 0.01;

    /// <summary>All contradictions of a description, axis by axis.</summary>
    public static ImmutableArray<FactClash> Among(Machine machine) => [.. Enum.GetValues<AxisName>().SelectMany(axis => Of(axis, machine[axis], machine.Travel(axis)))];

    /// <summary>The first contradiction that a change of the description brings in; null where it brings none.</summary>
    /// <param name="before">The description before.</param>
    /// <param name="after">The description after.</param>
    public static FactClash? New(Machine before, Machine after)
    {
        var known = Among(before);
        return Among(after).FirstOrDefault(clash => !known.Contains(clash)) ?? Enum.GetValues<AxisName>().Where(axis => after.Travel(axis) != before.Travel(axis)).Select(axis => Travel(axis, after)).FirstOrDefault(clash => clash is not null);
    }

    // What a travel can hardly be: a point or a digit too many, more likely.
    private static FactClash? Travel(AxisName axis, Machine machine)
    {
        var mm = machine.Travel(axis);
        if (mm is > 0 and < LeastTravelMm or > MostTravelMm)
            return new(axis, Invariant($"{axis}: a travel of {mm:0.###} mm is {(mm < LeastTravelMm ? "shorter" : "longer")} than that of nearly all routers"));
        foreach (var other in Enum.GetValues<AxisName>().Where(other => other != axis && machine.Travel(other) > 0 && mm > 0))
        {
            var (longer, shorter) = mm > machine.Travel(other) ? (axis, other) : (other, axis);
            if (machine.Travel(longer) / machine.Travel(shorter) is > MostTravels and var ratio)
                return new(axis, Invariant($"{axis}: with {mm:0.###} mm the travel of {longer} is {ratio:0} times that of {shorter}"));
        }

        // The tool goes up and down over the work, not across it: most likely a digit too many (our choice).
        var (narrow, least) = machine.Travel(AxisName.X) <= machine.Travel(AxisName.Y) ? (AxisName.X, machine.Travel(AxisName.X)) : (AxisName.Y, machine.Travel(AxisName.Y));
        return least > 0 && machine.Travel(AxisName.Z) is var up && up > least
            ? new(axis, Invariant($"{axis}: with {mm:0.###} mm the travel of Z, {up:0.###} mm, is longer than that of {narrow}, {least:0.###} mm")) : null;
    }

    /// <summary>The first travel of a description that can hardly be: what is remarked of one that was told whole. Null where all can be.</summary>
    /// <param name="machine">The description.</param>
    public static FactClash? OddTravel(Machine machine) => New(machine with { TravelMm = [0, 0, 0] }, machine) is { } clash && !Among(machine).Contains(clash) ? clash : null;

    private static IEnumerable<FactClash> Of(AxisName axis, AxisDescription drive, double travelMm)
    {
        if (drive.TravelPerTurnMm is { } turn && turn > travelMm && travelMm > 0)
            yield return new(axis, Invariant($"{axis}: {turn:0.###} mm in one turn is more than its whole travel, {travelMm:0.#} mm"));
        if (drive.StepAngleDeg is { } angle && Math.Abs((360 / angle) - Math.Round(360 / angle)) > WholeSteps)
            yield return new(axis, Invariant($"{axis}: a step of {angle:0.####} deg makes {360 / angle:0.##} full steps a turn, and a motor has whole ones"));
        if (drive is { Grade: { } grade, Drive: DriveKind.Belt or DriveKind.Rack })
            yield return new(axis, Invariant($"{axis}: grade {grade} is that of a screw, and a {(drive.Drive == DriveKind.Belt ? "belt" : "rack")} has none"));
        if (drive is { Motors: 1, PairSetting: PairSetting.Two })
            yield return new(axis, Invariant($"{axis}: one motor has no pair of settings"));
        if (drive is not { StepAngleDeg: { } step, Microsteps: { } micro, TravelPerTurnMm: { } travel, StepsPerMm: { } told })
            yield break;
        var ratio = DriveArithmetic.StepsPerMm(step, micro, drive.Gearing ?? 1, travel);
        if (Math.Abs((told / ratio) - 1) > SameRatio)
            yield return new(axis, Invariant($"{axis}: {step:0.###} deg, {micro} microsteps and {travel:0.00#} mm a turn make {ratio:0.###} steps per mm, and {told:0.###} are told"), "stepsPerMm", Math.Round(ratio, 6));
    }
}
