using Commission.Core.Machines;

namespace Commission.Core.Characteristics;

/// <summary>From where on a scale error is a wrong number in the machine's arithmetic.</summary>
public static class WrongNominal
{
    /// <summary>Beyond this a ratio is a wrong nominal and not a calibration (common practice, our choice).</summary>
    /// <param name="drive">What drives the axis: teeth are miscounted more easily than a lead is misread.</param>
    /// <returns>The scale error, without unit, positive.</returns>
    public static double Of(DriveKind drive) => drive is DriveKind.Belt or DriveKind.Rack ? .01 : .005;
}
