using System.Collections.Immutable;
using Commission.Core.Machines;
using static System.FormattableString;

namespace Commission.Core.Procedures.Aids;

/// <summary>What the data plates of an axis say together, before anything moves: ratio, resolution, and what limits the speed. Each with its uncertainty, or the reason why it cannot be given.</summary>
internal static class DriveNumbers
{
    // The formulas leave out iron losses and dead times (own derivation, our choice of the share).
    private const string Estimate = "an estimate, to be expected within 30 percent";

    // Common practice, no source: screws at most at 80 % of their whirl; supplies at most at 90 % of what the driver stands.
    private const double WhirlShare = 0.8;
    private const double SupplyShare = 0.9;

    public static ImmutableArray<DataParameter> Parameters { get; } =
    [
        new("volts", "supply of the drivers, V; 0 where unknown"), new("driver-volts", "highest supply of the driver, V; 0 where unknown"),
        new("ohms", "resistance of a coil, ohm; 0 where unknown"), new("millihenries", "inductance of a coil, mH; 0 where unknown"),
        new("motor-amps", "rated current of a coil, A; 0 where unknown"), new("driver-amps", "peak current set at the driver, A; 0 where unknown"),
        new("torque", "holding torque, N m; 0 where unknown"), new("steps-per-second", "most step pulses in a second; 0 where unknown"),
        new("root-mm", "root diameter of the screw, mm; 0 where unknown"), new("screw-mm", "length of the screw between its bearings, mm; 0 where unknown"),
    ];

    public static Outcome<ImmutableArray<WorkData>> Make(DataRequest request)
    {
        if (request.Axis is not { } axis) return new Problem("the numbers are those of one axis", "Put the step into 'repeat: {axes: …}', or let it name {axis}");
        var drive = request.Machine[axis];
        double? Told(string name) => request.Number(name) is > 0 and var value ? value : null;
        string[] lines = [.. Ratio(axis, drive), .. Speeds(axis, drive, Told), .. Supply(Told)];
        return ImmutableArray.Create(new WorkData($"drive-numbers-{axis}.txt", $"What the data plates of {axis} say together.", [.. lines]));
    }

    private static IEnumerable<string> Ratio(AxisName axis, AxisDescription drive)
    {
        if (drive is not { StepAngleDeg: { } angle, Microsteps: { } micro, TravelPerTurnMm: { } travel })
        {
            yield return $"Steps per mm of {axis}: not known, because step angle, microsteps or travel per turn is missing.";
            yield break;
        }

        var ratio = DriveArithmetic.StepsPerMm(angle, micro, drive.Gearing ?? 1, travel);
        yield return Invariant($"Steps per mm of {axis} by arithmetic: {ratio:0.####}, exact for the numbers given{(drive.Gearing is null ? " and a direct drive" : "")}.");
        yield return Invariant($"One step is {1000 / ratio:0.##} um. A microstep holds only {100 * StepperArithmetic.MicrostepTorque(micro):0.#} percent of the motor's torque, so friction may leave the axis {1000 * 2 * StepperArithmetic.FrictionLag(travel / (drive.Gearing ?? 1), 0.2, angle < 1.2 ? 100 : 50):0.#} um behind at a reversal with nothing loose ({Estimate}, for a friction of one fifth).");
        if (drive.StepsPerMm is not { } now)
        {
            yield return "What the controller has is not known, so nothing is compared.";
            yield break;
        }

        var off = (now / ratio) - 1;
        var rounding = Math.Max(DriveArithmetic.RoundingOfRatio(ratio, drive.SettingDecimals ?? 3), 1e-9);
        yield return Math.Abs(off) <= rounding
            ? Invariant($"The controller has {now:0.####}: the same, within its decimals.")
            : Invariant($"The controller has {now:0.####}, {off * 100:+0.###;-0.###} percent away from the arithmetic. One of the numbers is wrong: microstep switches first, then the lead.");
    }

    private static IEnumerable<string> Speeds(AxisName axis, AxisDescription drive, Func<string, double?> told)
    {
        if ((drive.StepsPerMm ?? Nominal(drive)) is { } ratio && told("steps-per-second") is { } pulses)
            yield return Invariant($"Step pulses allow {axis} up to {DriveArithmetic.FastestFeed(ratio, pulses):0} mm/min, exact for the rate given.");
        else
            yield return "Limit by step pulses: not known, because the greatest rate of driver and controller is missing.";
        yield return Corner(axis, drive, told);
        if (drive.Drive != DriveKind.Screw) yield break;
        yield return drive.TravelPerTurnMm is { } lead && told("root-mm") is { } root && told("screw-mm") is { } length
            ? Invariant($"The screw begins to whip at {StepperArithmetic.WhirlSpeed(root, length, ScrewEnds.SimpleSimple):0} turns a minute if both ends are only supported; use at most {WhirlShare * lead * StepperArithmetic.WhirlSpeed(root, length, ScrewEnds.SimpleSimple):0} mm/min ({Estimate}; more where an end is clamped).")
            : "Speed at which the screw whips: not known, because root diameter or length is missing.";
    }

    private static string Corner(AxisName axis, AxisDescription drive, Func<string, double?> told)
    {
        if (drive.TravelPerTurnMm is not { } travel || told("volts") is not { } volts || told("ohms") is not { } ohms || told("millihenries") is not { } inductance
            || (told("driver-amps") ?? told("motor-amps")) is not { } amps || told("torque") is not { } torque)
        {
            return "Corner speed, from which on the motor grows weak: not known, because supply, coil or torque is missing.";
        }

        var turns = StepperArithmetic.CornerSpeed(volts, ohms, inductance / 1000, amps, torque, drive.StepAngleDeg is < 1.2 ? 100 : 50);
        return Invariant($"Corner speed, from which on the motor grows weak: {turns:0} turns a minute, {turns * travel / (drive.Gearing ?? 1):0} mm/min on {axis} ({Estimate}). Test no faster than half as much again.");
    }

    private static IEnumerable<string> Supply(Func<string, double?> told)
    {
        if (told("volts") is { } volts)
        {
            if (told("driver-volts") is { } most)
            {
                yield return volts <= SupplyShare * most
                    ? Invariant($"Supply {volts:0.#} V is at most nine tenths of the driver's {most:0.#} V (common practice, no source).")
                    : Invariant($"Supply {volts:0.#} V is more than nine tenths of the driver's {most:0.#} V: a braking axis pumps it higher. Lower it, or take another driver (common practice, no source).");
            }

            if (told("millihenries") is { } inductance)
                yield return Invariant($"For this coil more than about {32 * Math.Sqrt(inductance):0} V only heats the motor (common practice, no source, a rough rule).");
        }

        if (told("motor-amps") is { } rated && told("driver-amps") is { } set)
        {
            yield return set <= 1.4143 * rated
                ? Invariant($"The driver's peak of {set:0.##} A is at most 1.414 times the motor's {rated:0.##} A: within its rating if that is an effective value; if it is a peak, set {rated:0.##} A.")
                : Invariant($"The driver's peak of {set:0.##} A is more than 1.414 times the motor's {rated:0.##} A: it burns the motor. Lower it with the power off.");
            yield return Invariant($"A supply for this motor alone should give about {2.0 / 3 * 2 * rated:0.#} A (two thirds of both coils; common practice, no source).");
        }
    }

    private static double? Nominal(AxisDescription drive) => drive is { StepAngleDeg: { } angle, Microsteps: { } micro, TravelPerTurnMm: { } travel }
        ? DriveArithmetic.StepsPerMm(angle, micro, drive.Gearing ?? 1, travel)
        : null;
}
