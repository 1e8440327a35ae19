using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Plans;
using Commission.Core.Quantities;

namespace Commission.Core.Procedures;

/// <summary>Turns the grid of a reading step into cells for this machine.</summary>
public static class GridPlan
{
    /// <summary>Range of the caliper most owners have, mm: plans are made for it where no instrument is named, or its range is not known.</summary>
    public const double AssumedCaliperMm = 150;

    /// <summary>Range that a plan for distances has to respect, mm; null where the instrument does not limit.</summary>
    /// <param name="instrument">The instrument; null where none is named.</param>
    public static double? RangeOf(Instrument? instrument) => instrument switch
    {
        null => AssumedCaliperMm,
        { RangeMm: null, Kind: InstrumentKind.CaliperDigital or InstrumentKind.CaliperVernier } => AssumedCaliperMm,
        _ => instrument.RangeMm,
    };

    // Over the link the gate keeps 5 mm from both ends, and twice that where the position was only placed by hand.
    private const double LinkMarginMm = 10;

    /// <summary>Distance that plans keep from both ends of the travel beyond the overrun, mm.</summary>
    /// <param name="linked">Whether moves go over the link.</param>
    public static double Margin(bool linked) => linked ? LinkMarginMm : AxisPlan.EndMarginMm;

    private static double EndMargin(RunSetting setting) => Margin(setting.Link);

    /// <summary>Columns that a grid fills before a reading is taken.</summary>
    public static ImmutableArray<string> GivenColumns(Grid grid) => grid switch
    {
        Grid.AlongAxis or Grid.Phases => ["commanded_mm", "direction"],
        Grid.Places => ["place_mm", "direction"],
        Grid.Distances distances =>
        [
            "x1_mm", "y1_mm", "x2_mm", "y2_mm",
            .. distances.Marks.All(mark => mark.Approach is not null) ? new[] { "approach1", "approach2" } : [],
            .. distances.Edges.IsEmpty ? Array.Empty<string>() : ["edges"],
        ],
        Grid.Angles => ["angle_deg"],
        Grid.Points => ["x_mm", "y_mm"],
        Grid.Circle => ["angle_deg", "turning"],
        Grid.Objects objects => ["object", "trial", .. objects.Things.SelectMany(thing => thing.Given.Keys).Distinct()],
        _ => throw new UnreachableException(),
    };

    /// <summary>Column that a grid's reading goes into where the step names none.</summary>
    public static string ReadingColumn(Grid grid) => grid switch
    {
        Grid.AlongAxis or Grid.Phases => "measured_mm",
        Grid.Distances => "distance_mm",
        Grid.Points => "z_mm",
        Grid.Circle => "diameter_mm",
        _ => "reading_mm",
    };

    /// <summary>The cells of a step.</summary>
    /// <param name="read">The step.</param>
    /// <param name="scope">What rounds round it have fixed.</param>
    /// <param name="machine">The machine as it is known now.</param>
    /// <param name="setting">Instrument and the rest.</param>
    /// <param name="values">Gives the number of an earlier value; null knows none.</param>
    /// <returns>The cells in the order they are read, or why there is no plan.</returns>
    public static Outcome<ImmutableArray<PlanCell>> Cells(Step.Read read, Scope scope, Machine machine, RunSetting setting, Func<Term, double?>? values = null)
    {
        var axis = read.Grid.Axis is { } choice ? choice.Fixed ?? scope.Axis : scope.Axis;
        if (read.Grid.Axis is not null && axis is null)
            return new Problem($"step '{read.Name}' reads along an axis and none was chosen", "Name one with --axis X, Y or Z");
        var cells = !setting.Plan.IsDefaultOrEmpty && TakesPlans(read.Grid) ? Planned(read.Grid, setting, machine) : read.Grid switch
        {
            Grid.AlongAxis along => Along(along, axis!.Value, machine, setting),
            Grid.Phases phases => Phases(phases, axis!.Value, machine, phases.Period is { } term ? term.Number ?? values?.Invoke(term) : null, EndMargin(setting)),
            Grid.Places places => Places(places, axis!.Value, machine, setting),
            Grid.Distances distances => MarkPlan.Cells(distances, machine, RangeOf(setting.Instrument)),
            Grid.Angles angles => new Outcome<ImmutableArray<PlanCell>>.Good([.. angles.Degrees.Select(Angle)]),
            Grid.Points points => Points(points, machine),
            Grid.Circle circle => new Outcome<ImmutableArray<PlanCell>>.Good(Circle(circle)),
            Grid.Objects objects => new Outcome<ImmutableArray<PlanCell>>.Good([.. Objects(objects).Select(cell => cell with { Place = At(machine, cell.Place) })]),
            _ => throw new UnreachableException(),
        };
        return cells.Then<ImmutableArray<PlanCell>>(plan => ImmutableArray.CreateRange(plan.Select(cell => Carrying(cell, read.Given, scope))));
    }

    /// <summary>Whether a grid's places can be those of another plan: they lie along one axis, and nothing was marked or set up for them.</summary>
    public static bool TakesPlans(Grid grid) => grid is Grid.AlongAxis or Grid.Places;

    // A plan that was made without the link may lie nearer to the ends than the gate allows.
    private static Outcome<ImmutableArray<PlanCell>> Planned(Grid grid, RunSetting setting, Machine machine)
    {
        var outside = setting.Plan.SelectMany(cell => cell.GoTo).Any(to => to.Mm < EndMargin(setting) || to.Mm > machine.Travel(to.Axis) - EndMargin(setting));
        return outside ? new Problem("the plan goes nearer to the ends of the travel than is allowed", "Take the plan anew, with the link as it is now") : grid is Grid.Places ? [.. setting.Plan.Select(cell => BesideDial(cell, setting.Instrument, machine))] : setting.Plan;
    }

    // A plan kept from before, or made for another dial, may go further into it than it lets.
    private static PlanCell BesideDial(PlanCell cell, Instrument? instrument, Machine machine) =>
        cell is { Approach: Approach.Decreasing, GoTo: [var turn, var at] } && turn.Mm - at.Mm > DialWay.Of(instrument).BeyondMm
            ? cell with { GoTo = [turn with { Mm = AxisPlan.Commandable(machine, turn.Axis, at.Mm + DialWay.Of(instrument).BeyondMm) }, at] }
            : cell;

    // What stands for the whole step and what the rounds fixed goes into every row.
    private static PlanCell Carrying(PlanCell cell, ImmutableSortedDictionary<string, string> given, Scope scope)
    {
        var whole = cell with { Given = scope.Given.SetItems(cell.Given), Words = scope.Words.SetItems(cell.Words) };
        return With(whole, given.Select(pair => pair.Value == "{axis}" && scope.Axis is { } axis ? new(pair.Key, MachineWords.Of(MachineWords.Axes, axis)) : pair));
    }

    // What a file gives is a number where it can be read as one.
    private static PlanCell With(PlanCell cell, IEnumerable<KeyValuePair<string, string>> given)
    {
        foreach (var (column, text) in given)
        {
            cell = YamlFields.TryNumber(text, out var number) ? cell with { Given = cell.Given.SetItem(column, number) } : cell with { Words = cell.Words.SetItem(column, text) };
        }

        return cell;
    }

    private static Outcome<ImmutableArray<PlanCell>> Along(Grid.AlongAxis along, AxisName axis, Machine machine, RunSetting setting) =>
        AxisPlan.For(new AxisPlanRequest
        {
            Axis = axis,
            TravelMm = machine.Travel(axis),
            PeriodMm = machine[axis].TravelPerTurnMm,
            StepsPerMm = machine[axis].StepsPerMm,
            InstrumentRangeMm = RangeOf(setting.Instrument),
            Units = machine.Units,
            Window = along.Window,
            EndMarginMm = EndMargin(setting),
        });

    // Where nothing is known yet a plan can still be shown: that of the commonest screw.
    private static Outcome<ImmutableArray<PlanCell>> Phases(Grid.Phases phases, AxisName axis, Machine machine, double? period, double endMarginMm)
    {
        var length = period ?? machine[axis].TravelPerTurnMm ?? AxisPlan.AssumedPeriodMm;
        var (from, reach) = AxisPlan.Reach(machine.Travel(axis), endMarginMm);
        var free = reach - length;
        if (free < 0) return TooShort(axis);
        var start = from + (free * phases.At);
        return ImmutableArray.CreateRange(Enumerable.Range(0, phases.Count + 1).Select(part => Phase(axis, start + (part % phases.Count * length / phases.Count), part, machine)));
    }

    private static PlanCell Phase(AxisName axis, double mm, int part, Machine machine) => PlanPoints.OnAxis(
        axis, string.Create(CultureInfo.InvariantCulture, $"part {part + 1}"), "commanded_mm", AxisPlan.Commandable(machine, axis, mm), increasing: true, at => AxisPlan.Commandable(machine, axis, at));

    private static Outcome<ImmutableArray<PlanCell>> Places(Grid.Places places, AxisName axis, Machine machine, RunSetting setting)
    {
        var (from, free) = AxisPlan.Reach(machine.Travel(axis), EndMargin(setting));
        var beyond = DialWay.Of(setting.Instrument).BeyondMm;
        if (free <= 0) return TooShort(axis);
        var cells = ImmutableArray.CreateBuilder<PlanCell>();
        foreach (var fraction in places.Fractions)
        {
            var mm = AxisPlan.Commandable(machine, axis, from + (free * fraction));
            for (var pair = 0; pair < places.Pairs; pair++)
            {
                // Balanced order: + - then - +, so that a steady drift falls out of the difference.
                var first = pair % 2 == 0;
                cells.Add(FromSide(axis, mm, first, machine, beyond));
                cells.Add(FromSide(axis, mm, !first, machine, beyond));
            }
        }

        return cells.ToImmutable();
    }

    private static PlanCell FromSide(AxisName axis, double mm, bool increasing, Machine machine, double beyondMm) => PlanPoints.OnAxis(
        axis, At(machine, $"{MachineWords.Of(MachineWords.Axes, axis)} {Scope.Shown(mm)} mm"), "place_mm", mm, increasing, at => AxisPlan.Commandable(machine, axis, at), beyondMm);

    // A place is said as it is commanded.
    private static string At(Machine machine, string place) => machine.Units == LengthUnit.Inch ? InchText.Commanded(place) : place;

    private static PlanCell Angle(double degrees) => new()
    {
        Place = Scope.Shown(degrees) + " degrees",
        Given = ImmutableSortedDictionary<string, double>.Empty.Add("angle_deg", degrees),
    };

    private static Outcome<ImmutableArray<PlanCell>> Points(Grid.Points points, Machine machine)
    {
        var (width, depth) = (machine.Travel(AxisName.X) - (2 * points.MarginMm), machine.Travel(AxisName.Y) - (2 * points.MarginMm));
        if (width <= 0) return TooShort(AxisName.X);
        if (depth <= 0) return TooShort(AxisName.Y);
        var cells = ImmutableArray.CreateBuilder<PlanCell>();
        for (var row = 0; row < points.Rows; row++)
        {
            for (var step = 0; step < points.Columns; step++)
            {
                var column = row % 2 == 0 ? step : points.Columns - 1 - step;
                cells.Add(Point(machine, points.MarginMm + (width * column / (points.Columns - 1)), points.MarginMm + (depth * row / (points.Rows - 1))));
            }
        }

        // The first point comes last again: what it then reads differently is drift, not bed.
        cells.Add(cells[0]);
        return cells.ToImmutable();
    }

    private static PlanCell Point(Machine machine, double x, double y)
    {
        var (commandX, commandY) = (AxisPlan.Commandable(machine, AxisName.X, x), AxisPlan.Commandable(machine, AxisName.Y, y));
        return new PlanCell
        {
            Place = At(machine, $"X {Scope.Shown(commandX)} mm, Y {Scope.Shown(commandY)} mm"),
            Given = ImmutableSortedDictionary<string, double>.Empty.Add("x_mm", commandX).Add("y_mm", commandY),
            GoTo = [new Position(AxisName.X, commandX), new Position(AxisName.Y, commandY)],
        };
    }

    private static ImmutableArray<PlanCell> Circle(Grid.Circle circle) =>
    [
        .. from turning in circle.Turnings
           from round in Enumerable.Range(0, circle.Repeats)
           from degrees in round % 2 == 0 ? circle.Degrees : [.. circle.Degrees.Reverse()]
           select new PlanCell
           {
               Place = $"diameter at {Scope.Shown(degrees)} degrees, circle cut {(turning == "cw" ? "clockwise" : "counter-clockwise")}",
               Given = ImmutableSortedDictionary<string, double>.Empty.Add("angle_deg", degrees),
               Words = ImmutableSortedDictionary<string, string>.Empty.Add("turning", turning),
           },
    ];

    private static ImmutableArray<PlanCell> Objects(Grid.Objects objects) =>
    [
        .. from trial in Enumerable.Range(1, objects.Trials)
           from thing in trial % 2 == 1 ? objects.Things : [.. objects.Things.Reverse()]
           select Thing(thing, trial, objects.Trials),
    ];

    private static PlanCell Thing(Thing thing, int trial, int trials)
    {
        var count = trials == 1 ? "" : string.Create(CultureInfo.InvariantCulture, $", trial {trial} of {trials}");
        return With(
            new PlanCell
            {
                Place = thing.Name + count,
                Given = ImmutableSortedDictionary<string, double>.Empty.Add("trial", trial),
                Words = ImmutableSortedDictionary<string, string>.Empty.Add("object", thing.Name),
            },
            thing.Given);
    }

    private static Problem TooShort(AxisName axis) =>
        new($"the travel of {MachineWords.Of(MachineWords.Axes, axis)} is too short for this plan", "Correct the travel with 'machine edit', or take readings by hand and use 'fit'");
}
