using Commission.Core.Machines;
using Commission.Practice.Draws;

namespace Commission.Practice.Machines;

/// <summary>The demo machine <em>Heron</em> and the ordinary distribution it is drawn from. All of it is invented.</summary>
/// <remarks>
/// A bench router for string-instrument parts in a shared workshop: travel 420 x 580 x 90 mm, rolled ball screws of grade 7 with 5 mm
/// lead, 1.8 degree motors, 8 microsteps, 320 steps per mm, two motors on Y. Figures follow what the trade calls ordinary; the laws are
/// invented and plausible. The scale law is the grade's own: at most 52 um in 300 mm (ISO 3408-3, as listed in the published facts).
/// </remarks>
public static class HeronMachine
{
    /// <summary>Nominal steps for one millimetre.</summary>
    public const double NominalStepsPerMm = 320;

    private const double GradeSevenLimit = 0.052 / 300;

    /// <summary>Draws a Heron.</summary>
    public static PracticeMachine Draw(ulong seed)
    {
        var source = new DrawSource(seed).For("heron");
        var state = new MachineState
        {
            X = Axis(source.For("x"), 420, 8),
            Y = Axis(source.For("y"), 580, 8),
            Z = Axis(source.For("z"), 90, 12) with { ClearanceMm = 0.02 },
            Frame = Frame(source.For("frame")),
            Spindle = Spindle(source.For("spindle")),
            Bed = Bed(source.For("bed")),
            CutterRadiusErrorMm = new Law.Normal(0.03, 0.02).Draw(source.For("cutter")),
            FalseTripsPerHour = 0,
            DriveWarmerK = source.For("warm").NextUniform(-1, 2),
        };
        return new PracticeMachine(Description, state, AsBuilt);
    }

    /// <summary>Settings as the builder left them: the nominal ratio, nothing compensated, speeds that seemed slow enough.</summary>
    public static PracticeSettings AsBuilt { get; } = new()
    {
        StepsPerMm = [NominalStepsPerMm, NominalStepsPerMm, NominalStepsPerMm], MaxRateMmMin = [1500, 1500, 1500],
    };

    /// <summary>The machine as its owner describes it.</summary>
    public static Machine Description { get; } = new()
    {
        Name = "Heron",
        TravelMm = [420, 580, 90],
        GantryAxis = AxisName.Y,
        DriveWidthMm = 520,
        Class = WorkClass.Wood,
        Spindle = SpindleKind.Spindle,
        X = DescribedAxis(1, PairSetting.Unknown, HomeEnd.Low),
        Y = DescribedAxis(2, PairSetting.Two, HomeEnd.Low),
        Z = DescribedAxis(1, PairSetting.Unknown, HomeEnd.High),
    };

    private static AxisDescription DescribedAxis(int motors, PairSetting pair, HomeEnd home) => new()
    {
        Drive = DriveKind.Screw,
        TravelPerTurnMm = 5,
        Grade = 7,
        Gearing = 1,
        StepAngleDeg = 1.8,
        Microsteps = 8,
        StepsPerMm = NominalStepsPerMm,
        Motors = motors,
        PairSetting = pair,
        Switches = Switches.Home,
        HomeAt = home,
        HoldsUnpowered = Known.Yes,
        Compensation = Compensation.Millimetres,
        Setting = RatioSetting.StepsPerMm,
        SettingDecimals = 3,
    };

    private static AxisState Axis(DrawSource source, double travel, double scatterUm)
    {
        var scale = source.NextUniform(-GradeSevenLimit, GradeSevenLimit);
        return new AxisState
        {
            TravelMm = travel,
            TravelPerTurnMm = 5,
            TrueStepsPerMm = NominalStepsPerMm / (1 + scale),
            SlowWaveMm = 0.006 * Math.Min(1, travel / 300) * source.NextNormal(), // a short screw has no room for the whole wave
            PeriodicAmplitudeMm = new Law.LogNormal(0.004, 0.4).Draw(source),
            PeriodicPhaseRad = source.NextUniform(0, 2 * Math.PI),
            ClearanceMm = new Law.LogNormal(0.035, 0.4).Draw(source),
            WearShare = source.NextUniform(0, 0.2),
            FrictionLagMm = source.NextUniform(0.002, 0.006),
            StiffnessNPerMm = source.NextUniform(1800, 4000),
            RepeatabilityMm = scatterUm / 2000,
            ExpansionPerK = 11.5e-6,
            SwitchScatterMm = source.NextUniform(0.008, 0.02),
            LosesStepsAboveMmMin = source.NextUniform(3200, 5200),
            LossQuantumMm = 0.1,
        };
    }

    private static FrameState Frame(DrawSource source) => new(
        0.0008 * source.NextNormal(), 0.0005 * source.NextNormal(), 0.0005 * source.NextNormal(),
        0.1 * source.NextNormal(), source.NextUniform(0, 0.04))
    {
        RailSpreadMm = 0.03 * source.NextNormal(),
    };

    private static SpindleState Spindle(DrawSource source) => new(
        0.0004 * source.NextNormal(), 0.0004 * source.NextNormal(),
        source.NextUniform(0.003, 0.012), source.NextUniform(0, 2 * Math.PI),
        source.NextUniform(0, 0.0003), source.NextUniform(0, 2 * Math.PI));

    private static BedState Bed(DrawSource source) => new(
        0.0004 * source.NextNormal(), 0.0004 * source.NextNormal(), 0.05 * source.NextNormal(), 0.08 * source.NextNormal());
}
