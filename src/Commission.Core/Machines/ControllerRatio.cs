using Commission.Core.Quantities;

namespace Commission.Core.Machines;

/// <summary>The ratio of an axis as a controller's setting states it, in one form: steps for one millimetre.</summary>
public static class ControllerRatio
{
    /// <summary>Names of settings that are a ratio.</summary>
    public const string PerMm = "stepsPerMm", PerInch = "stepsPerInch", MmPerStep = "mmPerStep", PerTurn = "stepsPerTurn";

    /// <summary>Steps for one millimetre.</summary>
    /// <param name="setting">Name of the setting.</param>
    /// <param name="value">Its value, in its own unit.</param>
    /// <param name="unit">Its unit where it was read from a controller; null where the name says it.</param>
    /// <param name="axis">The axis: the travel per turn is read from it.</param>
    /// <returns>The ratio; null where the setting is none, or its value cannot be one.</returns>
    public static double? StepsPerMm(string setting, double value, string? unit, AxisDescription axis) => !(value > 0) ? null : setting switch
    {
        PerMm => unit == "steps/in" ? value / Inch.Mm : value,
        PerInch => value / Inch.Mm,
        MmPerStep => 1 / value,
        PerTurn when axis.TravelPerTurnMm is > 0 and var lead => value / lead,
        _ => null,
    };
}
