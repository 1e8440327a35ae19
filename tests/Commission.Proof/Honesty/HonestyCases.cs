using System.Collections.Immutable;
using Commission.Core.Instruments;
using Commission.Practice.Bench;

namespace Commission.Proof.Honesty;

/// <summary>The tests of Table B: places as the shipped plans have them.</summary>
internal static class HonestyCases
{
    public static IReadOnlyList<HonestyCase> All { get; } =
    [
        AxisScale(), Backlash(), Squareness(), SquareReversal(), Plate(), Tram(), Runout(), Stiffness(), TestCut(), TestCircle(), Periodic(),
    ];

    public static HonestyCase AxisScale() => Caliper("axis-scale", "measured_mm") with
    {
        // Quarter turns of a 5 mm lead at both ends of a caliper's window, two readings half a turn apart in the middle.
        Cells = [.. new[] { 4.0, 142.25, 5.25, 143.5, 75, 77.5, 144.75, 6.5, 146, 7.75 }.Select((place, i) =>
            Cell("axis-scale", AxisName.X, [("commanded_mm", place)], ("direction", i % 4 is 0 or 3 ? "+" : "-")))],
        Parameters = ["scaleError", "reversal"],
        Options = new FitOptions { Axis = AxisName.X, StepsPerMm = 320, Drive = DriveKind.Screw, TravelPerTurnMm = 5 },
        // Without a grade the owner's drive is unknown: scale errors as wide as ungraded screws have them.
        Changed = (state, source) => state with
        {
            X = state.X with { TrueStepsPerMm = 320 / (1 + (400e-6 * source.NextNormal())), PeriodicAmplitudeMm = 0 },
        },
    };

    private static HonestyCase Backlash() => Indicator("backlash", "reading_mm") with
    {
        Cells = [.. from place in new[] { 40.0, 210.0, 380.0 }
                    from sign in new[] { "+", "-", "-", "+", "+", "-", "-", "+", "+", "-" }
                    select Cell("backlash", AxisName.X, [("place_mm", place)], ("direction", sign))],
        Parameters = ["reversal"],
        Options = new FitOptions { Axis = AxisName.X },
    };

    public static HonestyCase Squareness() => new()
    {
        Kind = "squareness",
        Column = "distance_mm",
        // Two diagonals and four sides, each four times.
        Cells = [.. from _ in Enumerable.Range(0, 4)
                    from p in new[] { (0, 0, 400, 500), (400, 0, 0, 500), (0, 0, 400, 0), (0, 500, 400, 500), (0, 0, 0, 500), (400, 0, 400, 500) }
                    select Cell("squareness", null, [("x1_mm", p.Item1), ("y1_mm", p.Item2), ("x2_mm", p.Item3), ("y2_mm", p.Item4)])],
        Parameters = ["squareness", "scaleErrorX", "scaleErrorY"],
        Instrument = bench => bench.Tape,
        InstrumentKind = InstrumentKind.Tape,
        HandSd = hand => hand.TapeSdMm,
    };

    private static HonestyCase SquareReversal() => Indicator("square-reversal", "reading_mm") with
    {
        Cells = [.. from setup in new[] { "1", "2" }
                    from travel in new[] { 0.0, 150, 150, 0, 0, 150 }
                    select Cell("square-reversal", null, [("travel_mm", travel)], ("setup", setup))],
        Parameters = ["squareness", "artefactError"],
    };

    private static HonestyCase Plate() => Caliper("plate", "distance_mm") with
    {
        Cells = PlatePlan.Cells(1),
        Parameters = ["squareness", "scaleErrorX", "scaleErrorY", "reversalX", "reversalY"],
        Changed = (state, _) => state with
        {
            X = state.X with { PeriodicAmplitudeMm = 0 },
            Y = state.Y with { PeriodicAmplitudeMm = 0 },
        },
    };

    private static HonestyCase Tram() => Indicator("tram", "reading_mm") with
    {
        Cells =
        [
            .. from angle in Enumerable.Range(0, 8)
               select Cell("tram", null, [("angle_deg", 45 * angle), ("position_mm", 0)], ("line", "sweep")),
            .. from place in new[] { -100.0, -50, 50, 100 }
               select Cell("tram", null, [("angle_deg", 0), ("position_mm", place)], ("line", "alongX")),
            .. from place in new[] { -100.0, -50, 50, 100 }
               select Cell("tram", null, [("angle_deg", 0), ("position_mm", place)], ("line", "alongY")),
        ],
        Parameters = ["tiltX", "tiltY"],
        Options = new FitOptions { Numbers = ImmutableDictionary<string, double>.Empty.Add("radius-mm", 100) },
    };

    private static HonestyCase Runout() => Indicator("runout", "reading_mm") with
    {
        Cells = [.. from height in new[] { 10.0, 40 }
                    from angle in Enumerable.Range(0, 12)
                    select Cell("runout", null, [("angle_deg", 30 * angle), ("height_mm", height)])],
        Parameters = ["tir[10]", "tir[40]"],
    };

    private static HonestyCase Stiffness() => Indicator("stiffness", "reading_mm") with
    {
        Cells = [.. from force in new[] { 0.0, 20, 40 }
                    from sign in new[] { "+", "-", "-", "+", "+", "-" }
                    select Cell("stiffness", AxisName.X, [("force_n", force), ("place_mm", 200)], ("direction", sign))],
        Parameters = ["clearance"],
        Options = new FitOptions { Axis = AxisName.X },
    };

    public static HonestyCase TestCut() => Caliper("test-cut", "measured_mm") with
    {
        Cells = [.. from axis in new[] { "X", "Y" }
                    from side in new[] { "outside", "inside" }
                    from nominal in new[] { 40.0, 100, 100 }
                    select Cell("test-cut", null, [("nominal_mm", nominal)], ("axis", axis), ("side", side))],
        Parameters = ["scaleErrorX", "scaleErrorY", "cutterRadiusError"],
    };

    private static HonestyCase TestCircle() => Caliper("test-circle", "diameter_mm") with
    {
        Cells = [.. from turning in new[] { "ccw", "cw" }
                    from angle in new[] { 0.0, 45, 90, 135, 0, 45, 90, 135 }
                    select Cell("test-circle", null, [("angle_deg", angle)], ("turning", turning))],
        Parameters = ["squareness", "scaleDifference"],
        Options = new FitOptions { Numbers = ImmutableDictionary<string, double>.Empty.Add("nominal-mm", 120) },
    };

    private static HonestyCase Periodic() => Indicator("periodic", "measured_mm") with
    {
        Cells = [.. from step in Enumerable.Range(0, 24) select Cell("periodic", AxisName.X, [("commanded_mm", 100 + (step * 5 / 12.0))])],
        Parameters = ["amplitude"],
        Options = new FitOptions { Axis = AxisName.X, Numbers = ImmutableDictionary<string, double>.Empty.Add("period-mm", 5) },
    };

    private static HonestyCase Caliper(string kind, string column) => new()
    {
        Kind = kind,
        Column = column,
        Cells = [],
        Parameters = [],
        Instrument = bench => bench.Caliper,
        InstrumentKind = InstrumentKind.CaliperDigital,
        HandSd = hand => hand.ReadingSdMm,
    };

    private static HonestyCase Indicator(string kind, string column) => Caliper(kind, column) with
    {
        Instrument = bench => bench.Indicator,
        InstrumentKind = InstrumentKind.Indicator,
        HandSd = hand => hand.IndicatorSdMm,
    };

    private static Cell Cell(string kind, AxisName? axis, (string Name, double Value)[] given, params (string Name, string Value)[] words) =>
        new(kind, axis, given.ToDictionary(g => g.Name, g => g.Value), words.ToDictionary(w => w.Name, w => w.Value));
}
