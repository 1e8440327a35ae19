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

    /// <summary>A ratio as the controller of an axis states it; as steps for one millimetre where that is not known.</summary>
    /// <param name="stepsPerMm">Steps for one millimetre.</param>
    /// <param name="form">How the controller states its setting.</param>
    /// <param name="travelPerTurnMm">Travel for one turn of the drive, mm; null where it is not known.</param>
    /// <returns>Name of the setting, its unit, its value.</returns>
    public static (string Name, string Unit, double Value) Stated(double stepsPerMm, RatioSetting? form, double? travelPerTurnMm) => form switch
    {
        RatioSetting.StepsPerInch => (PerInch, "steps/in", stepsPerMm * Inch.Mm),
        RatioSetting.MmPerStep => (MmPerStep, "mm/step", 1 / stepsPerMm),
        RatioSetting.StepsPerTurnAndLead when travelPerTurnMm is { } lead => (PerTurn, "steps/turn", stepsPerMm * lead),
        _ => (PerMm, "steps/mm", stepsPerMm),
    };
}
