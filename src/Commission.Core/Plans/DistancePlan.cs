using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Instruments;
using Commission.Core.Machines;

namespace Commission.Core.Plans;

/// <summary>Plans for squareness from distances between nine marks: long diagonals first, they hold most of what can be known (own numerical work).</summary>
internal sealed class DistancePlan : PlanKind
{
    private const double NearFraction = 0.03;
    private static readonly ImmutableArray<string> Letters = ["A", "B", "C", "D", "E", "F", "G", "H", "J"];

    public override string Id => "squareness";

    public override string UsualInstrument => "tape-class-2-1m";

    public override Outcome<PlanDesign> Design(PlanQuestion question, PlanTool tool)
    {
        var marks = Marks(question);
        var longest = tool.Instrument.RangeMm ?? double.PositiveInfinity;
        var pairs = (from i in Enumerable.Range(0, 9) from j in Enumerable.Range(i + 1, 8 - i) select Reading(marks, i, j)).Where(r => r.ScaleLength <= longest).ToImmutableArray();
        if (pairs.IsEmpty)
            return new Problem("no distance between the marks is short enough for the instrument", "Take a tape, or a plate of marks for the caliper");
        PlanReading Pair(int i, int j) => Reading(marks, i, j);
        PlanReading[] diagonals = [Pair(0, 8), Pair(2, 6)], sides = [Pair(0, 2), Pair(0, 6)], all = [.. diagonals, .. sides, Pair(6, 8), Pair(2, 8)];
        PlanTemplate[] templates =
        [
            new(Usual, Repeated([.. diagonals, .. sides], 2)),
            new("two long diagonals, four times", Repeated(diagonals, 4)),
            new("four sides and two diagonals, twice", Repeated(all, 2)),
            new("two long diagonals, eight times", Repeated(diagonals, 8)),
            new("four sides and two diagonals, four times", Repeated(all, 4)),
            new("nine marks, all distances", [.. pairs]),
        ];
        return new PlanDesign
        {
            Model = Model(tool),
            Templates = [.. templates.Where(template => template.Readings.All(reading => reading.ScaleLength <= longest))],
            Usual = Usual,
            Reads = Reading,
            Pool = pairs,
            Minutes = readings => 4 + (0.4 * PlanPoints.Marks(readings)) + (0.75 * readings.Count),
            Order = readings => PlanPoints.ThereAndBack(readings, reading => pairs.IndexOf(pairs.First(pair => pair.Cell.Place == reading.Cell.Place))),
            Naive = Naive(question, tool, marks),
            Others = Others(question, tool),
        };
    }

    private const string Usual = "two diagonals and two sides, twice";

    /// <summary>What distances tell: squareness and both scales; where only diagonals are measured the scales stand on what machines usually have.</summary>
    internal static PlanModel Model(PlanTool tool) => new()
    {
        Columns = ["squareness", "the scale error of X", "the scale error of Y"],
        Targets = [new("squareness", "rad", [1, 0, 0]), new("scaleErrorX", "1", [0, 1, 0]), new("scaleErrorY", "1", [0, 0, 1])],
        ScatterMm = tool.ScatterMm, HandFreedom = tool.Freedom, ResolutionMm = tool.Instrument.ResolutionMm, LimitMm = tool.LimitMm,
        WhereOpen =
        [
            new PlanPrior([0, 1, 0], 1e-2, "scale error of X not measured", Shared: false),
            new PlanPrior([0, 0, 1], 1e-2, "scale error of Y not measured", Shared: false),
        ],
    };

    /// <summary>A distance between two marks: its row at the nominal.</summary>
    internal static PlanReading Reading(IReadOnlyList<(string Name, double X, double Y)> marks, int from, int to)
    {
        var (a, b) = (marks[from], marks[to]);
        return Reading(new PlanCell
        {
            Place = $"mark {a.Name} to mark {b.Name}",
            Given = ImmutableSortedDictionary<string, double>.Empty.Add("x1_mm", a.X).Add("y1_mm", a.Y).Add("x2_mm", b.X).Add("y2_mm", b.Y),
        });
    }

    private static PlanReading Reading(PlanCell cell)
    {
        var (dx, dy) = (cell.Given["x2_mm"] - cell.Given["x1_mm"], cell.Given["y2_mm"] - cell.Given["y1_mm"]);
        var length = Math.Sqrt((dx * dx) + (dy * dy));
        return new PlanReading(cell, [dx * dy / length, dx * dx / length, dy * dy / length], length);
    }

    private static (string Name, double X, double Y)[] Marks(PlanQuestion question) =>
        [.. Letters.Select((letter, k) => (letter, At(question, AxisName.X, k % 3), At(question, AxisName.Y, k / 3)))];

    private static double At(PlanQuestion question, AxisName axis, int third) =>
        question.Commandable(axis, AxisPlan.OverTravel(question.Machine.Travel(axis), third == 1 ? 0.5 : third == 0 ? NearFraction : 1 - NearFraction));

    // There and back through the list: the first distance comes last again.
    private static ImmutableArray<PlanReading> Repeated(PlanReading[] once, int times) =>
        [.. Enumerable.Range(0, times).SelectMany(round => round % 2 == 0 ? once : Enumerable.Reverse(once))];

    private static ImmutableArray<PlanWay> Naive(PlanQuestion question, PlanTool tool, (string Name, double X, double Y)[] marks)
    {
        var known = question.Hand is null ? tool with { Freedom = double.PositiveInfinity } : tool;
        return
        [
            Way(question, known, "usual practice: two diagonals, once", [Reading(marks, 0, 8), Reading(marks, 2, 6)], 8),
            Way(question, known, "two sides and one diagonal (3-4-5), once", [Reading(marks, 0, 2), Reading(marks, 0, 6), Reading(marks, 2, 6)], 8),
        ];
    }

    private static PlanWay Way(PlanQuestion question, PlanTool tool, string name, PlanReading[] readings, double minutes)
    {
        var model = Model(tool);
        ImmutableArray<PlannedParameter> told = model.Foretell(readings) is { } spreads ? [Planner.Told(question, model.Targets[0], spreads[0])] : [];
        return new PlanWay
        {
            Name = name, Readings = readings.Length, Minutes = minutes, Predicted = told,
            Reaches = question.Reached(told.IsEmpty ? null : told[0].ExpandedUncertainty),
        };
    }

    private static ImmutableArray<PlanOther> Others(PlanQuestion question, PlanTool tool) => tool.Instrument.Kind is InstrumentKind.Tape or InstrumentKind.Rule
        ?
        [
            new PlanOther("a stick with two pins, measured afterwards", "a stick with a fixed and a sliding point", 10,
                tool.Instrument with { Name = "stick with pins", Kind = InstrumentKind.Other, ResolutionMm = null }, 0.05),
            .. question.Owned.Where(mine => mine.Kind == InstrumentKind.CaliperDigital && mine.LimitMm is > 0 && mine.RangeMm >= 300)
                .Select(mine => new PlanOther(mine.Name, null, 0, mine, UsualHand.ScatterMm(mine.Kind))),
        ]
        : [];
}
