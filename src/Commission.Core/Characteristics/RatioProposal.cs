using Commission.Core.Machines;
using Commission.Core.Quantities;

namespace Commission.Core.Characteristics;

/// <summary>Puts a corrected ratio into the form in which the controller states it.</summary>
internal static class RatioProposal
{
    private const int UsualDecimals = 3;
    private const int UsualDecimalsOfMmPerStep = 6;

    /// <summary>The setting that removes a scale error.</summary>
    /// <param name="error">Scale error to remove; the axis travels too far where it is positive.</param>
    /// <param name="uncertainty">Its standard uncertainty.</param>
    /// <param name="options">Ratio now, the form of the setting, its decimals.</param>
    /// <returns>The setting; null where the ratio now is not known.</returns>
    public static ProposedSetting? For(double error, double uncertainty, FitOptions options)
    {
        if (options.StepsPerMm is not { } now) return null;
        var (name, unit, current) = ControllerRatio.Stated(now, options.Setting, options.TravelPerTurnMm);
        var inverse = options.Setting == RatioSetting.MmPerStep;
        var proposed = inverse ? current * (1 + error) : current / (1 + error);
        var asStored = Rounded(proposed, options.SettingDecimals ?? (inverse ? UsualDecimalsOfMmPerStep : UsualDecimals));

        // As a scale error left on the axis: more steps for a millimetre travel farther.
        var rounding = inverse ? (proposed / asStored) - 1 : (asStored / proposed) - 1;
        return new ProposedSetting
        {
            Name = name,
            Axis = options.Axis?.ToString(),
            ExpressedAs = unit,
            Current = current,
            Proposed = proposed,
            AsStored = asStored,
            RoundingError = rounding,
            StandardUncertainty = proposed * uncertainty / (1 + error),
        };
    }

    /// <summary>A ratio as the controller of an axis states and keeps it.</summary>
    /// <param name="stepsPerMm">The ratio, steps for one millimetre.</param>
    /// <param name="axis">The axis.</param>
    /// <returns>Value, the decimals kept, unit.</returns>
    public static (double Value, int Decimals, string Unit) AsKept(double stepsPerMm, AxisDescription axis)
    {
        var (_, unit, value) = ControllerRatio.Stated(stepsPerMm, axis.Setting, axis.TravelPerTurnMm);
        var decimals = Math.Clamp(axis.SettingDecimals ?? (axis.Setting == RatioSetting.MmPerStep ? UsualDecimalsOfMmPerStep : UsualDecimals), 0, 15);
        return (Rounded(value, decimals), decimals, unit);
    }

    private static double Rounded(double value, int decimals) => Math.Round(value, Math.Clamp(decimals, 0, 15), MidpointRounding.AwayFromZero);
}
