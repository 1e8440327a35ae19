using System.Collections.Immutable;

namespace Commission.Core.Machines;

/// <summary>What turns a motor's turn into travel.</summary>
public enum DriveKind
{
    /// <summary>Not known yet.</summary>
    Unknown,

    /// <summary>Ball, trapezoidal or other screw.</summary>
    Screw,

    /// <summary>Toothed belt and pulley.</summary>
    Belt,

    /// <summary>Rack and pinion.</summary>
    Rack,
}

/// <summary>Yes, no, or a question still open.</summary>
public enum Known
{
    /// <summary>Not known yet.</summary>
    Unknown,

    /// <summary>It is so.</summary>
    Yes,

    /// <summary>It is not so.</summary>
    No,
}

/// <summary>Whether the two motors of one axis have one setting or one each.</summary>
public enum PairSetting
{
    /// <summary>Not known yet.</summary>
    Unknown,

    /// <summary>Both motors follow one setting.</summary>
    One,

    /// <summary>Each motor has a setting of its own; the two are written together or not at all.</summary>
    Two,
}

/// <summary>The switches an axis has.</summary>
public enum Switches
{
    /// <summary>Not known yet.</summary>
    Unknown,

    /// <summary>No switch.</summary>
    None,

    /// <summary>One switch at the home end.</summary>
    Home,

    /// <summary>A switch at each end.</summary>
    BothEnds,
}

/// <summary>The end of the axis at which its home switch stands.</summary>
public enum HomeEnd
{
    /// <summary>Not known yet.</summary>
    Unknown,

    /// <summary>At the end of smallest position.</summary>
    Low,

    /// <summary>At the end of largest position.</summary>
    High,
}

/// <summary>How the controller takes up lost motion, if it can.</summary>
public enum Compensation
{
    /// <summary>Not known yet.</summary>
    Unknown,

    /// <summary>The controller cannot.</summary>
    None,

    /// <summary>A setting in millimetres.</summary>
    Millimetres,

    /// <summary>A setting in motor steps.</summary>
    Steps,
}

/// <summary>How the controller states the ratio of an axis.</summary>
public enum RatioSetting
{
    /// <summary>Not known yet.</summary>
    Unknown,

    /// <summary>Steps for one millimetre.</summary>
    StepsPerMm,

    /// <summary>Steps for one inch.</summary>
    StepsPerInch,

    /// <summary>Millimetres for one step.</summary>
    MmPerStep,

    /// <summary>Steps for one turn, with the lead in a setting of its own.</summary>
    StepsPerTurnAndLead,
}

/// <summary>The class of work that sets the limits (default tables of acceptance).</summary>
public enum WorkClass
{
    /// <summary>Not chosen; treated as wood where a limit is needed, and said so.</summary>
    Unknown,

    /// <summary>Signs and furniture in wood and fibreboard.</summary>
    Wood,

    /// <summary>Plastics and joinery fits.</summary>
    Plastics,

    /// <summary>Light work in aluminium.</summary>
    Aluminium,
}

/// <summary>Unit in which the owner reads and types lengths.</summary>
public enum LengthUnit
{
    /// <summary>Millimetres.</summary>
    Millimetre,

    /// <summary>Inches, decimal or as fractions.</summary>
    Inch,
}

/// <summary>What turns the cutter.</summary>
public enum SpindleKind
{
    /// <summary>Not known yet.</summary>
    Unknown,

    /// <summary>A hand router with a dial instead of a stated speed.</summary>
    RouterWithDial,

    /// <summary>A spindle with a stated speed.</summary>
    Spindle,

    /// <summary>No spindle is mounted.</summary>
    None,
}

/// <summary>One axis as its owner describes it. Everything may be unknown.</summary>
public sealed record AxisDescription
{
    /// <summary>What turns a motor's turn into travel.</summary>
    public DriveKind Drive { get; init; }

    /// <summary>Travel for one turn of the driven screw, pulley or pinion, mm; null where unknown.</summary>
    public double? TravelPerTurnMm { get; init; }

    /// <summary>Travel variation grade of the screw (0, 1, 3, 5, 7, 9, 10); null where unknown.</summary>
    public int? Grade { get; init; }

    /// <summary>Motor turns for one turn of the output, 1 where direct; null where unknown.</summary>
    public double? Gearing { get; init; }

    /// <summary>Full step of the motor, degrees; null where unknown.</summary>
    public double? StepAngleDeg { get; init; }

    /// <summary>Microsteps for one full step; null where unknown.</summary>
    public int? Microsteps { get; init; }

    /// <summary>The ratio in the controller now, steps for one millimetre; null where unknown.</summary>
    public double? StepsPerMm { get; init; }

    /// <summary>Motors on this axis, 1 or 2; null where unknown.</summary>
    public int? Motors { get; init; }

    /// <summary>Whether two motors share one setting.</summary>
    public PairSetting PairSetting { get; init; }

    /// <summary>The switches of the axis.</summary>
    public Switches Switches { get; init; }

    /// <summary>Where the home switch stands.</summary>
    public HomeEnd HomeAt { get; init; }

    /// <summary>Whether the axis stays where it is when the power goes.</summary>
    public Known HoldsUnpowered { get; init; }

    /// <summary>How the controller takes up lost motion.</summary>
    public Compensation Compensation { get; init; }

    /// <summary>How the controller states the ratio.</summary>
    public RatioSetting Setting { get; init; }

    /// <summary>Decimals the controller keeps of the ratio; null where unknown.</summary>
    public int? SettingDecimals { get; init; }
}

/// <summary>A machine as its owner describes it. Only name and travel are required.</summary>
public sealed record Machine
{
    /// <summary>The owner's name for it.</summary>
    public required string Name { get; init; }

    /// <summary>Travel of X, Y, Z, mm, in this order; all positive.</summary>
    public required ImmutableArray<double> TravelMm { get; init; }

    /// <summary>Unit for what is read and typed.</summary>
    public LengthUnit Units { get; init; }

    /// <summary>The axis along which the gantry beam lies moves as a whole: the axis the gantry travels on; null where unknown.</summary>
    public AxisName? GantryAxis { get; init; }

    /// <summary>Distance between the two drives of the gantry, mm (lever arm of racking); null where unknown.</summary>
    public double? DriveWidthMm { get; init; }

    /// <summary>The class of work that sets the limits.</summary>
    public WorkClass Class { get; init; }

    /// <summary>What turns the cutter.</summary>
    public SpindleKind Spindle { get; init; }

    /// <summary>The X axis.</summary>
    public AxisDescription X { get; init; } = new();

    /// <summary>The Y axis.</summary>
    public AxisDescription Y { get; init; } = new();

    /// <summary>The Z axis.</summary>
    public AxisDescription Z { get; init; } = new();

    /// <summary>The description of an axis.</summary>
    public AxisDescription this[AxisName axis] => axis switch
    {
        AxisName.X => X,
        AxisName.Y => Y,
        AxisName.Z => Z,
        _ => throw new ArgumentOutOfRangeException(nameof(axis)),
    };

    /// <summary>The machine with another description of an axis.</summary>
    public Machine With(AxisName axis, AxisDescription description) => axis switch
    {
        AxisName.X => this with { X = description },
        AxisName.Y => this with { Y = description },
        AxisName.Z => this with { Z = description },
        _ => throw new ArgumentOutOfRangeException(nameof(axis)),
    };

    /// <summary>Travel of an axis, mm.</summary>
    public double Travel(AxisName axis) => TravelMm[(int)axis];
}
