using System.Collections.Immutable;
using Commission.Practice.Draws;
using Commission.Practice.Operators;

namespace Commission.Practice.Populations;

/// <summary>A kind of drive in a population of home-built machines. Scale in ppm as the file has it.</summary>
public sealed record PopulationDrive
{
    /// <summary>Id, for example <c>screw-7</c>.</summary>
    public required string Id { get; init; }

    /// <summary>Share of machines.</summary>
    public required double Share { get; init; }

    /// <summary>Grade the owner knows; null where none.</summary>
    public required int? KnownGrade { get; init; }

    /// <summary>Scale error, ppm.</summary>
    public required Law ScaleErrorPpm { get; init; }

    /// <summary>Deviation of the scale of one measured window from that of the axis, ppm.</summary>
    public required Law WindowScatterPpm { get; init; }

    /// <summary>Lost motion, mm, positive.</summary>
    public required Law LostMotionMm { get; init; }

    /// <summary>Amplitude of the periodic error, mm.</summary>
    public required Law PeriodicAmplitudeMm { get; init; }

    /// <summary>Its period, mm.</summary>
    public required double PeriodMm { get; init; }

    /// <summary>Expansion, ppm per kelvin.</summary>
    public required double ExpansionPpmPerK { get; init; }

    /// <summary>Beyond this relative error the nominal is wrong and no calibration is made.</summary>
    public required double WrongNominalLimit { get; init; }

    /// <summary>Standard deviation of scale that is plausible for what the owner knows, ppm.</summary>
    public required double PlausibleSdPpm { get; init; }
}

/// <summary>A population of machines, hands and instruments, read from its file. Mostly invented: the file marks what has a source.</summary>
public sealed record Population
{
    /// <summary>Drives with their shares.</summary>
    public required ImmutableArray<PopulationDrive> Drives { get; init; }

    /// <summary>Hands with their shares.</summary>
    public required ImmutableArray<(double Share, Hand Hand)> Hands { get; init; }

    /// <summary>Slips.</summary>
    public required SlipHabits Slips { get; init; }

    /// <summary>Share of machines whose ratio is wrong by a common mistake.</summary>
    public required double WrongNominalShare { get; init; }

    /// <summary>Share of those in which both axes have the mistake.</summary>
    public required double WrongNominalBothAxes { get; init; }

    /// <summary>Factors of the mistake.</summary>
    public required ImmutableArray<(double Weight, double Factor)> WrongNominalFactors { get; init; }

    /// <summary>Squareness as built, mrad.</summary>
    public required Law SquarenessMrad { get; init; }

    /// <summary>Drive warmer than caliper, K.</summary>
    public required Law DriveWarmerK { get; init; }

    /// <summary>Scatter of one drilled mark, mm.</summary>
    public required Law MarkScatterMm { get; init; }

    /// <summary>Hole diameter over the drill's, mm.</summary>
    public required Law HoleExcessMm { get; init; }

    /// <summary>Drill, mm.</summary>
    public required double HoleNominalMm { get; init; }

    /// <summary>Standard deviation between holes, mm.</summary>
    public required double HoleScatterMm { get; init; }

    /// <summary>Caliper ranges with their shares.</summary>
    public required ImmutableArray<(double Share, double RangeMm)> CaliperRanges { get; init; }

    /// <summary>Limit of error of the calipers, mm.</summary>
    public required double CaliperLimitMm { get; init; }

    /// <summary>Last digit of the calipers, mm.</summary>
    public required double CaliperResolutionMm { get; init; }

    /// <summary>Largest error of a caliper in its limits.</summary>
    public required Law CaliperErrorInLimits { get; init; }

    /// <summary>Offset of the inside jaws, mm.</summary>
    public required Law InsideJawOffsetMm { get; init; }

    /// <summary>Scatter of the caliper alone, mm.</summary>
    public required double CaliperLocalSdMm { get; init; }

    /// <summary>Scale of the tape, half width, ppm.</summary>
    public required double TapeScaleHalfWidthPpm { get; init; }

    /// <summary>Hook of the tape, half width, mm.</summary>
    public required double TapeHookHalfWidthMm { get; init; }

    /// <summary>Work area, mm.</summary>
    public required (double X, double Y) WorkAreaMm { get; init; }
}
