using System.Collections.Immutable;
using Commission.Core.History;
using Commission.Core.Instruments;

namespace Commission.Core.Tests.History;

/// <summary>One entry of each type with every property filled, so that a property the journal forgets is seen.</summary>
internal static class EveryEntry
{
    internal static readonly Instrument Caliper = new("caliper \"150\"", InstrumentKind.CaliperDigital, 0.03, 0.01, 150, "sheet");

    private static readonly AxisDescription Axis = new()
    {
        Drive = DriveKind.Screw, TravelPerTurnMm = 5, Grade = 7, Gearing = 1.5, StepAngleDeg = 1.8, Microsteps = 8, StepsPerMm = 320.00000000000006, Motors = 2,
        PairSetting = PairSetting.Two, Switches = Switches.BothEnds, HomeAt = HomeEnd.High, HoldsUnpowered = Known.No, Compensation = Compensation.Steps,
        Setting = RatioSetting.StepsPerInch, SettingDecimals = 3,
    };

    internal static readonly Machine Heron = new()
    {
        Name = "Heron", TravelMm = [420, 580, 90], Units = LengthUnit.Inch, GantryAxis = AxisName.Y, DriveWidthMm = 800.5, Class = WorkClass.Plastics,
        Spindle = SpindleKind.RouterWithDial, X = Axis, Y = Axis with { Drive = DriveKind.Belt }, Z = Axis with { Motors = 1 },
    };

    private static readonly FitOptions Options = new()
    {
        Axis = AxisName.Z, StepsPerMm = 320, Setting = RatioSetting.MmPerStep, SettingDecimals = 4, Drive = DriveKind.Rack, TravelPerTurnMm = 5, ScrewGrade = 7,
        PriorStandardUncertainty = 1e-4, Instrument = Caliper, Hand = new HandStudy("kit", "caliper", 0.01, double.PositiveInfinity), TravelMm = 400,
        Tolerance = new Tolerance(3e-4, "1", "300ppm") { From = LimitFrom.Request }, Coverage = 0.9, TemperaturesC = (18.5, 20),
        Others = [new IndependentResult(0.0011, 6e-5, "setting rod")],
        Numbers = ImmutableDictionary<string, double>.Empty.Add("radius-mm", 100).Add("tip-mm", 20), Words = ImmutableDictionary<string, string>.Empty.Add("line", "sweep"),
    };

    private static readonly Finding Finding = new()
    {
        Kind = "axis-scale", Method = "axis-scale/1", Rows = 10, Used = 9,
        Parameters = [new FittedParameter { Name = "scaleError", Unit = "1", Value = -1.25e-4, StandardUncertainty = 5e-5, FreshUncertainty = 4e-5, SharedUncertainty = 3e-5, DegreesOfFreedom = 7.5, CoverageFactor = 2.1, ExpandedUncertainty = 1e-4, WhyNoUncertainty = "none", Interval = new Interval(-2e-4, -5e-5) }],
        Covariance = [[1e-9, -2e-10], [-2e-10, 3e-9]], ResidualStandardDeviation = 0.012, Residuals = [0.01, -0.01], Budget = [new BudgetLine("instrument", 0.4, true)],
        Suspects = [new Suspect(3, "ten times too long", "20.01") { Called = "2 (far)" }], Remarks = ["no remark"], Limit = 3e-4, LimitOverMm = 400, Verdict = Verdict.Undecided,
        Advice = new Advice
        {
            Action = AdviceAction.MeasureMore, Because = "the interval is wide", Next = "six more",
            Setting = new ProposedSetting { Name = "stepsPerMm", Axis = "X", ExpressedAs = "steps/mm", Current = 320, Proposed = 320.04, AsStored = 320.04, RoundingError = 1e-9, StandardUncertainty = 0.02 },
        },
    };

    internal static ImmutableArray<EntryBody> Bodies { get; } =
    [
        new EntryBody.StoreBorn(StoreNature.Real, "abc123", "0.1.0"),
        new EntryBody.MachineDescribed(Heron, true),
        new EntryBody.InstrumentDescribed(Caliper with { TypesByCable = true }, true),
        new EntryBody.OperatorEntered("kit"),
        new EntryBody.StudyMade(new HandStudy("kit", "caliper", 0.011, 9)),
        new EntryBody.RunStarted { Procedure = "axis-scale", ProcedureHash = "ff", Axis = "X", Instrument = "caliper", Seed = -7, Options = ImmutableSortedDictionary<string, string>.Empty.Add("windows", "2") },
        new EntryBody.Confirmed("warm-up", "yes"),
        new EntryBody.Checked { Step = "supply", Check = "P05", Typed = "24,1", Value = 24.1, Unit = "V", Limit = "24 V within 5 %", Source = "common practice", Passed = true },
        new EntryBody.Skipped("supply", "P12", "no meter"),
        new EntryBody.ReadingTaken
        {
            Recorded = 3, Step = "readings", Cell = 2, Place = "Gr\u00f6\u00dfe \u2212 far", Typed = "20,01\t\"", Value = 20.01, Unit = "mm",
            Given = ImmutableSortedDictionary<string, double>.Empty.Add("commanded_mm", 0.1 + 0.2), Words = ImmutableSortedDictionary<string, string>.Empty.Add("direction", "+"), Instrument = "caliper",
        },
        new EntryBody.Superseded(10, 11, "typed twice"),
        new EntryBody.Excluded(10, "jaw tilted"),
        new EntryBody.Noted(10, EntryBody.Noted.MoveBegun + "homing"),
        new EntryBody.FindingMade { Characteristic = "axis-scale", Axis = "X", Place = "middle", Readings = [10, 11], Instrument = "caliper", Configuration = "c0ffee", Finding = Finding, Options = Options },
        new EntryBody.Withdrawn(14, "wrong caliper"),
        new EntryBody.ChangeTold("crash", "Y", "hit the clamp"),
        new EntryBody.SettingsSaved("numbered-settings", [new SavedSetting("$100", "stepsPerMm", "steps/mm", "320.000", 320)]),
        new EntryBody.SettingWritten { Key = "$100", Name = "stepsPerMm", Axis = "X", Before = 320, After = 320.04, ReadBack = 320.04, Stage = "read-back" },
        new EntryBody.Moved("far", "X+25"),
        new EntryBody.Stopped("an answer was late", "nothing was touched"),
        new EntryBody.RunEnded("put-aside", "lunch"),
    ];

    /// <summary>The same, with machine, operator and run.</summary>
    internal static IEnumerable<EntryBody> Filled => Bodies.Select(body => body with { Machine = "Heron", Operator = "kit", Run = 6 });
}
