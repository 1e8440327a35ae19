namespace Commission.Core.Machines;

/// <summary>What a stepper motor and its screw can do, by idealised formulas: estimates for orientation, to be expected within 30 %.</summary>
public static class StepperArithmetic
{
    /// <summary>Torque that holds one microstep, as a share of the holding torque (sinusoidal torque law; own derivation).</summary>
    /// <param name="microsteps">Microsteps for one full step.</param>
    public static double MicrostepTorque(int microsteps) => Math.Sin(Math.PI / 2 / microsteps);

    /// <summary>How far friction may hold the carriage off its place, mm, either way: reversal error without any mechanical play (own derivation).</summary>
    /// <param name="travelPerTurnMm">Travel for one turn of the motor, mm.</param>
    /// <param name="frictionShare">Friction torque over holding torque at the current set, 0 to 1.</param>
    /// <param name="rotorTeeth">50 for motors of 1.8 degrees, 100 for 0.9; 90 over the angle of a full step.</param>
    public static double FrictionLag(double travelPerTurnMm, double frictionShare, double rotorTeeth = 50) =>
        travelPerTurnMm / (2 * Math.PI * rotorTeeth) * Math.Asin(frictionShare);

    /// <summary>Speed beyond which the driver can no longer force the rated current, turns per minute (idealised sinusoidal drive, own derivation).</summary>
    /// <param name="volts">Supply, V.</param>
    /// <param name="ohms">Resistance of a phase, ohm.</param>
    /// <param name="henries">Inductance of a phase, H.</param>
    /// <param name="amperes">Peak current of a phase, A.</param>
    /// <param name="holdingTorque">Holding torque with both phases at that current, N m.</param>
    /// <param name="rotorTeeth">50 for motors of 1.8 degrees, 100 for 0.9.</param>
    /// <returns>The speed; 0 where the supply cannot force the current even at rest.</returns>
    public static double CornerSpeed(double volts, double ohms, double henries, double amperes, double holdingTorque, int rotorTeeth = 50)
    {
        var constant = holdingTorque / (Math.Sqrt(2) * amperes);
        var a = (constant * constant) + Math.Pow(rotorTeeth * henries * amperes, 2);
        var b = 2 * ohms * amperes * constant;
        var c = Math.Pow(ohms * amperes, 2) - (volts * volts);
        return c >= 0 ? 0 : (-b + Math.Sqrt((b * b) - (4 * a * c))) / (2 * a) * 30 / Math.PI;
    }

    /// <summary>Speed at which a steel screw begins to whirl, turns per minute (Euler and Bernoulli's beam, E 206 GPa, 7850 kg/m3).</summary>
    /// <param name="rootDiameterMm">Root diameter, mm.</param>
    /// <param name="lengthMm">Length between bearings, mm.</param>
    /// <param name="ends">How the ends are held.</param>
    public static double WhirlSpeed(double rootDiameterMm, double lengthMm, ScrewEnds ends)
    {
        var factor = ends switch
        {
            ScrewEnds.FixedFree => 1.8751041,
            ScrewEnds.SimpleSimple => Math.PI,
            ScrewEnds.FixedSimple => 3.9266023,
            ScrewEnds.FixedFixed => 4.7300407,
            _ => throw new ArgumentOutOfRangeException(nameof(ends)),
        };
        double d = rootDiameterMm * 1e-3, l = lengthMm * 1e-3;
        return factor * factor / (l * l) * (d / 4) * Math.Sqrt(206e9 / 7850) * 30 / Math.PI;
    }
}

/// <summary>How the ends of a screw are held.</summary>
public enum ScrewEnds
{
    /// <summary>One end clamped, one free.</summary>
    FixedFree,

    /// <summary>Both ends supported.</summary>
    SimpleSimple,

    /// <summary>One end clamped, one supported.</summary>
    FixedSimple,

    /// <summary>Both ends clamped.</summary>
    FixedFixed,
}
