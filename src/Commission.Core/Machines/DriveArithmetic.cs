namespace Commission.Core.Machines;

/// <summary>The arithmetic of a drive from its data plates: steps, travel, resolution, fastest feed. Everything later is judged against it.</summary>
/// <remarks>Elementary.</remarks>
public static class DriveArithmetic
{
    /// <summary>Travel for one turn of a screw, mm.</summary>
    /// <param name="pitchMm">Distance from thread to thread, mm.</param>
    /// <param name="starts">Number of threads side by side.</param>
    public static double ScrewTravel(double pitchMm, int starts = 1) => pitchMm * starts;

    /// <summary>Travel for one turn of a belt pulley, mm.</summary>
    /// <param name="pitchMm">Distance from tooth to tooth, mm.</param>
    /// <param name="teeth">Teeth of the pulley.</param>
    public static double BeltTravel(double pitchMm, int teeth) => pitchMm * teeth;

    /// <summary>Travel for one turn of a pinion on a rack, mm.</summary>
    /// <param name="moduleMm">Module (normal module where the teeth are oblique), mm.</param>
    /// <param name="teeth">Teeth of the pinion.</param>
    /// <param name="helixDegrees">Helix angle, degrees; 0 for straight teeth.</param>
    public static double RackTravel(double moduleMm, int teeth, double helixDegrees = 0) =>
        Math.PI * moduleMm * teeth / Math.Cos(helixDegrees * Math.PI / 180);

    /// <summary>Steps for one millimetre.</summary>
    /// <param name="stepAngleDegrees">Full step of the motor, degrees.</param>
    /// <param name="microsteps">Microsteps for one full step.</param>
    /// <param name="gearing">Motor turns for one turn of the output.</param>
    /// <param name="travelPerTurnMm">Travel for one turn of the output, mm.</param>
    public static double StepsPerMm(double stepAngleDegrees, int microsteps, double gearing, double travelPerTurnMm) =>
        360 / stepAngleDegrees * microsteps * gearing / travelPerTurnMm;

    /// <summary>Fastest feed that a rate of step pulses allows, mm/min.</summary>
    /// <param name="stepsPerMm">Steps for one millimetre.</param>
    /// <param name="stepsPerSecond">Most step pulses in a second, of driver and controller the smaller.</param>
    public static double FastestFeed(double stepsPerMm, double stepsPerSecond) => 60 * stepsPerSecond / stepsPerMm;

    /// <summary>Largest relative error that rounding of the stored ratio makes.</summary>
    /// <param name="stepsPerMm">The ratio.</param>
    /// <param name="decimals">Decimals that the controller keeps.</param>
    public static double RoundingOfRatio(double stepsPerMm, int decimals) => .5 * Math.Pow(10, -decimals) / stepsPerMm;
}
