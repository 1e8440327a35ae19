using Commission.Core.Quantities;

namespace Commission.Core.Instruments;

/// <summary>Kinds of instrument the catalogue knows.</summary>
public enum InstrumentKind
{
    /// <summary>Digital caliper.</summary>
    CaliperDigital,

    /// <summary>Vernier caliper.</summary>
    CaliperVernier,

    /// <summary>Dial or digital indicator.</summary>
    Indicator,

    /// <summary>Measuring tape.</summary>
    Tape,

    /// <summary>Steel rule.</summary>
    Rule,

    /// <summary>Gauge block, setting rod or other trusted length.</summary>
    LengthStandard,

    /// <summary>Engineer's square.</summary>
    Square,

    /// <summary>Spring balance.</summary>
    SpringBalance,

    /// <summary>Multimeter.</summary>
    Multimeter,

    /// <summary>Anything else, described by its limit and resolution.</summary>
    Other,
}

/// <summary>What a reading was taken with, and how good it is.</summary>
/// <param name="Name">The owner's name for it, unique in the store.</param>
/// <param name="Kind">What kind of instrument it is.</param>
/// <param name="LimitMm">Limit of error, mm, symmetric; null where the owner does not know it.</param>
/// <param name="ResolutionMm">Last digit, mm; null where unknown.</param>
/// <param name="RangeMm">Longest length it can read, mm; null where it does not apply.</param>
/// <param name="Source">Where limit and resolution come from.</param>
public sealed record Instrument(
    string Name,
    InstrumentKind Kind,
    double? LimitMm,
    double? ResolutionMm,
    double? RangeMm,
    string Source)
{
    // Calipers and tapes go on a little behind their last mark (common practice, no source).
    private const double Overrun = 1.03;

    /// <summary>Whether it types its readings through a cable, like a keyboard: a whole number of it is no hand on the keys.</summary>
    public bool TypesByCable { get; init; }

    /// <summary>Digits behind the point that its display has; null where its last digit is not known.</summary>
    /// <param name="unitMm">The unit it shows, mm.</param>
    public int? Decimals(double unitMm) => ResolutionMm is > 0 and var digit ? Math.Max(0, (int)Math.Ceiling(-Math.Log10(digit / unitMm) - 1e-9)) : null;

    /// <summary>Whether a length is more than it can read; false where its range is not known, or where it does not read whole lengths.</summary>
    /// <param name="lengthMm">The length read, mm.</param>
    public bool IsTooShortFor(double lengthMm) =>
        Kind is InstrumentKind.CaliperDigital or InstrumentKind.CaliperVernier or InstrumentKind.Tape or InstrumentKind.Rule or InstrumentKind.Other
        && RangeMm is > 0 and var range && Math.Abs(lengthMm) > range * Overrun;

    /// <summary>Whether a length lies behind the last mark of a caliper, where most still read a little: nobody vouches for it there.</summary>
    /// <param name="lengthMm">The length read, mm.</param>
    public bool IsBehindItsLastMark(double lengthMm) =>
        Kind is InstrumentKind.CaliperDigital or InstrumentKind.CaliperVernier && RangeMm is > 0 and var range && Math.Abs(lengthMm) > range + (ResolutionMm ?? 0);
}

/// <summary>What an operator's own hand adds, found by a gauge study with one instrument.</summary>
/// <param name="Operator">Handle of the operator.</param>
/// <param name="Instrument">Name of the instrument.</param>
/// <param name="StandardDeviationMm">Standard deviation of one reading, mm.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of that standard deviation.</param>
public sealed record HandStudy(string Operator, string Instrument, double StandardDeviationMm, double DegreesOfFreedom)
{
    /// <summary>The handle of whoever measured where nobody was named.</summary>
    public const string Unnamed = "owner";

    /// <summary>What is odd about a handle, a clause: a reading stands where a person is named. Null where nothing is.</summary>
    /// <param name="handle">The handle as typed.</param>
    public static string? OddHandle(string handle) => TypedNumber.Read(handle, "mm") is NumberReading.NotANumber ? null : $"{PlainText.Of(handle)} is a number, and whoever measures is named by letters";
}
