using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Machines;

namespace Commission.Core.Plans;

/// <summary>The plate of eight drilled marks, for the caliper at hand (our own design, found by a search over places and approaches): scales, squareness and lost motion together.</summary>
internal sealed class PlatePlan : PlanKind
{
    private const double HoleMm = 8;
    private const double JawsUncertaintyMm = 0.0125;
    private const double DesignLengthMm = 140;
    private const double CaliperReserveMm = 10;

    private static readonly ImmutableArray<PlateMark> Eight =
    [
        new(18, 29, 1, 1), new(36, 8, -1, 1), new(142, 16, -1, -1), new(172, 33, 1, -1),
        new(188, 142, 1, 1), new(98, 119, -1, 1), new(75, 125, -1, -1), new(9, 142, 1, -1),
    ];

    private static readonly ImmutableArray<PlateMark> Four = [new(0, 0, 1, 1), new(99, 0, -1, -1), new(99, 99, 1, 1), new(0, 99, -1, -1)];

    private static readonly ImmutableArray<(int, int)> AllPairs =
        [(1, 3), (1, 7), (1, 8), (2, 4), (2, 6), (2, 8), (3, 5), (3, 7), (4, 5), (4, 6), (5, 7), (6, 8)];

    private static readonly ImmutableArray<(int, int)> ShortPairs = [(1, 3), (1, 7), (2, 4), (2, 6), (2, 8), (3, 5), (3, 7), (4, 6)];

    private static readonly ImmutableArray<(int, int)> FourPairs = [(9, 10), (10, 11), (12, 11), (9, 12), (9, 11), (10, 12)];

    public override string Id => "plate";

    public override string UsualInstrument => "caliper-150";

    public override Outcome<PlanDesign> Design(PlanQuestion question, PlanTool tool)
    {
        if (tool.Instrument.RangeMm is not { } range || range <= CaliperReserveMm)
            return new Problem("the plate is laid out for a caliper, and the range of the instrument is not known", "Name a caliper with its range");
        var factor = (range - CaliperReserveMm) / DesignLengthMm;
        var (width, depth) = (200 * factor, 150 * factor);
        if (width > question.Machine.Travel(AxisName.X) || depth > question.Machine.Travel(AxisName.Y))
        {
            return new Problem(
                string.Create(CultureInfo.InvariantCulture, $"the sheet for this caliper is {width:0} x {depth:0} mm and the machine does not reach over it"),
                "Take a shorter caliper");
        }

        PlateMark[] marks = [.. Placed(question, Eight, factor), .. Placed(question, Four, factor)];
        return new PlanDesign
        {
            Model = Model(question, tool, marks),
            Templates =
            [
                new("four marks of a square, each pair outside and inside", Readings(marks, FourPairs)),
                new("eight marks, eight pairs outside and inside", Readings(marks, ShortPairs)),
                new(Usual, Readings(marks, AllPairs)),
            ],
            Usual = Usual,
            Minutes = readings => 4 + (0.4 * PlanPoints.Marks(readings)) + (0.5 * readings.Count),
            Naive = Separate(question),
            Others = Others(question, tool),
            Assumed = [string.Create(CultureInfo.InvariantCulture, $"Sheet {width:0} x {depth:0} mm, holes of {HoleMm:0} mm plunged, not interpolated; every mark approached over {AxisPlan.OverrunMm:0} mm.")],
        };
    }

    private const string Usual = "eight marks, twelve pairs outside and inside";

    private static PlateMark[] Placed(PlanQuestion question, ImmutableArray<PlateMark> design, double factor) =>
        [.. design.Select(mark => mark with { X = question.Commandable(AxisName.X, mark.X * factor), Y = question.Commandable(AxisName.Y, mark.Y * factor) })];

    // Outer and inner of all pairs outward, and back for the inner ones: the first pair comes last again.
    private static ImmutableArray<PlanReading> Readings(PlateMark[] marks, ImmutableArray<(int, int)> pairs)
    {
        var plate = new PlateModel(marks, []);
        PlanReading Of((int From, int To) pair, int edge) => Reading(plate, pair.From - 1, pair.To - 1, edge);
        return [.. pairs.Select(pair => Of(pair, 1)), .. pairs.Reverse().Select(pair => Of(pair, -1))];
    }

    // A row names the marks and the edge; what readings share through a mark is the plate's own affair.
    private static PlanReading Reading(PlateModel plate, int from, int to, int edge)
    {
        var (a, b) = (plate.Marks[from], plate.Marks[to]);
        var first = from >= Eight.Length ? Eight.Length : 0;
        return new PlanReading(
            new PlanCell
            {
                Place = string.Create(CultureInfo.InvariantCulture, $"mark {from + 1 - first} to mark {to + 1 - first}, {(edge > 0 ? "outer walls" : "inner walls")}"),
                Given = ImmutableSortedDictionary<string, double>.Empty.Add("x1_mm", a.X).Add("y1_mm", a.Y).Add("x2_mm", b.X).Add("y2_mm", b.Y),
                Words = ImmutableSortedDictionary<string, string>.Empty.Add("approach1", Approach(a)).Add("approach2", Approach(b)).Add("edges", edge > 0 ? "outer" : "inner"),
            },
            [from, to, edge],
            plate.At(new PlateReading(null!, from, to, edge, 0), Nominal).Value);
    }

    private static double[] Nominal => [0, 0, 0, 0, 0, HoleMm, 0, 0];

    private static string Approach(PlateMark mark) => (mark.P > 0 ? "+" : "-") + (mark.Q > 0 ? "+" : "-");

    private static PlanModel Model(PlanQuestion question, PlanTool tool, PlateMark[] marks)
    {
        var (mark, hole) = (question.Numbers.GetValueOrDefault("mark-sd-mm", 0.015), question.Numbers.GetValueOrDefault("hole-sd-mm", 0.010));
        (string Name, string Unit)[] told =
            [("squareness", "rad"), ("scaleErrorX", "1"), ("scaleErrorY", "1"), ("reversalX", "mm"), ("reversalY", "mm"), ("holeDiameter", "mm")];
        return new PlanModel
        {
            Columns = [.. PlateModel.Names],
            Targets = [.. told.Select((t, k) => new PlanTarget(t.Name, t.Unit, [.. Enumerable.Range(0, told.Length).Select(j => j == k ? 1.0 : 0)]))],
            ScatterMm = tool.ScatterMm,

            // The fit averages over what the scatter may be and reports about k = 2: 60 degrees of freedom, our choice.
            HandFreedom = Math.Max(tool.Freedom, 60),
            LimitMm = tool.LimitMm,
            Own = (model, readings) => Foretell(model, readings, marks, mark, hole),
        };
    }

    private static ImmutableArray<Spread>? Foretell(PlanModel model, IReadOnlyList<PlanReading> readings, PlateMark[] marks, double mark, double hole)
    {
        var scale = model.LimitMm / (Math.Sqrt(3) * readings.Max(reading => reading.ScaleLength));
        var plate = new PlateModel(marks, [.. readings.Select(reading => new PlateReading(null!, (int)reading.Row[0], (int)reading.Row[1], (int)reading.Row[2], 0))]);
        PlatePrior[] priors = [new(6, 0, Math.Max(scale, 1e-9)), new(7, 0, JawsUncertaintyMm)];
        if (PlateSolution.Of(plate.About(Nominal), Nominal, new PlateScatter(model.ScatterMm, mark, hole), priors) is not { } solution) return null;
        return ImmutableArray.CreateRange(Enumerable.Range(0, model.Targets.Length).Select(i =>
        {
            var (limit, jaws) = (PlateFit.ScaleEffect(solution, i), PlateFit.JawsEffect(solution, i));
            var fresh = Math.Sqrt(Math.Max(0, solution.Covariance[i, i] - (limit * limit) - (jaws * jaws)));
            return new Spread(
            [
                new UncertaintyPart("scatter of readings, marks and holes", fresh, model.HandFreedom) { RepeatingHelps = true },
                new UncertaintyPart("limit of error of the instrument", Math.Abs(limit)) { Shared = true, Rectangular = true },
                new UncertaintyPart("inside jaws against outside jaws", Math.Abs(jaws)) { Shared = true, Rectangular = true },
            ]);
        }));
    }

    // The same numbers from three tests: ten readings on each axis and two diagonals by tape, twice.
    private static ImmutableArray<PlanWay> Separate(PlanQuestion question)
    {
        var bare = question with { Limit = null, Wanted = null, Obstacles = [] };
        if (Planner.Usual(bare with { Kind = "axis-scale", Axis = AxisName.X }) is not { } x || Planner.Usual(bare with { Kind = "axis-scale", Axis = AxisName.Y }) is not { } y
            || Planner.Usual(bare with { Kind = "squareness", Instrument = null, Hand = null }) is not { } tape) return [];
        PlannedParameter Renamed(PlanWay way, int at, string name) => way.Predicted[at] with { Name = name };
        return
        [
            new PlanWay
            {
                Name = "separate tests: scale of X, scale of Y, squareness by tape",
                Readings = x.Readings + y.Readings + tape.Readings,
                Minutes = x.Minutes + y.Minutes + tape.Minutes,
                Predicted =
                [
                    tape.Predicted[0], Renamed(x, 0, "scaleErrorX"), Renamed(y, 0, "scaleErrorY"), Renamed(x, 1, "reversalX"), Renamed(y, 1, "reversalY"),
                ],
                Reaches = question.Reached(tape.Expanded),
            },
        ];
    }

    private static ImmutableArray<PlanOther> Others(PlanQuestion question, PlanTool tool)
    {
        var others = ImmutableArray.CreateBuilder<PlanOther>();
        if (tool.LimitMm > PlanTool.CheckedLimitMm)
            others.Add(tool.CheckedOnce);
        var longer = InstrumentCatalogue.All.First(row => row.Id == "caliper-300");
        if (tool.Instrument.RangeMm < 300)
            others.Add(new PlanOther(longer.Title, question.Owned.Any(mine => mine.Kind == InstrumentKind.CaliperDigital && mine.RangeMm >= 300) ? null : "a caliper of 300 mm", 0, longer.Instrument, tool.ScatterMm));
        return others.ToImmutable();
    }
}
