using Commission.Core.Machines;
using Commission.Practice.Draws;
using Commission.Practice.Machines;
using Commission.Practice.Operators;

namespace Commission.Practice.Bench;

/// <summary>Marks made by the machine; each keeps its own small error as long as the sheet lies there.</summary>
internal sealed class MarkedSheet(double scatterMm)
{
    private readonly Dictionary<(double, double), (RealPoint Point, double Hole)> _marks = [];

    public (RealPoint Point, double Hole) Mark(Surroundings around, double x, double y, int fromX, int fromY)
    {
        if (_marks.TryGetValue((x, y), out var known))
            return known;
        var point = around.Machine.Point(new Target(x, y, 0, fromX, fromY));
        var (dx, dy) = (scatterMm * around.Chance.NextNormal(), scatterMm * around.Chance.NextNormal());
        var mark = (new RealPoint(point.X + dx, point.Y + dy, 0), 0.008 * around.Chance.NextNormal());
        _marks[(x, y)] = mark;
        return mark;
    }
}

/// <summary>Tape from mark to mark, all marks reached the same way.</summary>
internal sealed class SquarenessTest : PracticeTest
{
    private readonly MarkedSheet _sheet = new(0.015);

    public override string Characteristic => "squareness";

    protected override string Take(Surroundings around, Cell cell)
    {
        var from = _sheet.Mark(around, cell["x1_mm"], cell["y1_mm"], 1, 1).Point;
        var to = _sheet.Mark(around, cell["x2_mm"], cell["y2_mm"], 1, 1).Point;
        return PracticeOperator.Typed(around.Operator.Tape(around.Tape, from.DistanceTo(to)), around.Tape.ResolutionMm);
    }

    public override double? Truth(Surroundings around, AxisName? axis, string parameter) => Plane.Truth(around, parameter);
}

/// <summary>Eight drilled holes, read with a caliper between far walls and near walls.</summary>
internal sealed class PlateTest : PracticeTest
{
    private const double HoleMm = 8.04;
    private readonly MarkedSheet _sheet = new(0.012);

    public override string Characteristic => "plate";

    protected override string Take(Surroundings around, Cell cell)
    {
        var first = Drill(around, cell, "1");
        var second = Drill(around, cell, "2");
        var hole = HoleMm + ((first.Hole + second.Hole) / 2);
        var distance = first.Point.DistanceTo(second.Point);
        var (length, faces) = cell.WordOr("edges", "centre") switch
        {
            "outer" => (distance + hole, Faces.Outer),
            "inner" => (distance - hole, Faces.Inner),
            _ => (distance, Faces.Lines),
        };
        return PracticeOperator.Typed(around.Operator.Caliper(around.Caliper, length, faces), around.Caliper.ResolutionMm);
    }

    public override double? Truth(Surroundings around, AxisName? axis, string parameter) => parameter switch
    {
        "reversalX" => MeanReversal(around, AxisName.X, "x"),
        "reversalY" => MeanReversal(around, AxisName.Y, "y"),
        "holeDiameter" => HoleMm,
        _ => Plane.Truth(around, parameter),
    };

    private (RealPoint Point, double Hole) Drill(Surroundings around, Cell cell, string end)
    {
        var approach = cell.WordOr("approach" + end, "++");
        return _sheet.Mark(around, cell[$"x{end}_mm"], cell[$"y{end}_mm"], approach[0] == '-' ? -1 : 1, approach[1] == '-' ? -1 : 1);
    }

    private double? MeanReversal(Surroundings around, AxisName axis, string letter)
    {
        double[] places = [.. Cells.SelectMany(cell => new[] { cell[letter + "1_mm"], cell[letter + "2_mm"] }).Distinct()];
        return places.Length == 0 ? null : places.Average(place => around.Machine.Reversal(axis, place));
    }
}

/// <summary>A square and an indicator, the square turned over between two runs.</summary>
internal sealed class SquareReversalTest : PracticeTest
{
    private double? _artefact;

    public override string Characteristic => "square-reversal";

    protected override string Take(Surroundings around, Cell cell)
    {
        var own = Artefact(around);
        // The blade moves to +X by h (a - g) in the first set-up and by -h (a + g) in the second.
        var slope = cell.Label("setup") == "1" ? own - around.Machine.SquarenessXY : -own - around.Machine.SquarenessXY;
        var reading = around.Operator.Indicator(around.Indicator, cell["travel_mm"] * slope);
        return PracticeOperator.Typed(reading, around.Indicator.ResolutionMm);
    }

    public override double? Truth(Surroundings around, AxisName? axis, string parameter) => parameter switch
    {
        "artefactError" => Artefact(around),
        _ => Plane.Truth(around, parameter),
    };

    private double Artefact(Surroundings around) => _artefact ??= new Law.Normal(0, 1.3e-4).Draw(around.Chance);
}

/// <summary>A square that stands on the bed, and an indicator that Z carries along its blade; the square turned round between two runs.</summary>
internal sealed class ZSquareTest(AxisName across) : PracticeTest
{
    private double? _artefact;

    public override string Characteristic => across == AxisName.Y ? "z-square-y" : "z-square-x";

    protected override string Take(Surroundings around, Cell cell)
    {
        var own = cell.Label("setup") == "1" ? Artefact(around) : -Artefact(around);
        var reading = around.Operator.Indicator(around.Indicator, cell["travel_mm"] * (own - around.Machine.SquarenessToBed(across)));
        return PracticeOperator.Typed(reading, around.Indicator.ResolutionMm);
    }

    public override double? Truth(Surroundings around, AxisName? axis, string parameter) => parameter switch
    {
        "squareness" => around.Machine.SquarenessToBed(across),
        "artefactError" => Artefact(around),
        _ => null,
    };

    private double Artefact(Surroundings around) => _artefact ??= new Law.Normal(0, 1.3e-4).Draw(around.Chance);
}

/// <summary>The gap between the rails against a stick of fixed length, at shares of the way from the near to the far end.</summary>
internal sealed class RailWidthTest : PracticeTest
{
    private const double StickMm = 0.2; // how much shorter the stick is, taken up by the dial

    public override string Characteristic => "rails";

    protected override string Take(Surroundings around, Cell cell)
    {
        var gap = StickMm + (around.Machine.State.Frame.RailSpreadMm * cell["share"]);
        return PracticeOperator.Typed(around.Operator.Indicator(around.Indicator, gap), around.Indicator.ResolutionMm);
    }

    public override double? Truth(Surroundings around, AxisName? axis, string parameter) =>
        parameter == "spread" ? around.Machine.State.Frame.RailSpreadMm : null;
}

/// <summary>A square cut outside and inside, and read with a caliper.</summary>
internal sealed class TestCutTest : PracticeTest
{
    public override string Characteristic => "test-cut";

    protected override string Take(Surroundings around, Cell cell)
    {
        var axis = cell.WordOr("axis", "X") is "Y" or "y" ? AxisName.Y : AxisName.X;
        var side = cell.WordOr("side", "centre");
        var sense = side == "inside" ? 1 : side == "outside" ? -1 : 0;
        var size = ((1 + around.Machine.ScaleError(axis)) * cell["nominal_mm"]) + (2 * sense * around.Machine.State.CutterRadiusErrorMm);
        var faces = side == "inside" ? Faces.Outer : Faces.Inner;
        return PracticeOperator.Typed(around.Operator.Caliper(around.Caliper, size, faces), around.Caliper.ResolutionMm);
    }

    public override double? Truth(Surroundings around, AxisName? axis, string parameter) => parameter switch
    {
        "cutterRadiusError" => around.Machine.State.CutterRadiusErrorMm,
        _ => Plane.Truth(around, parameter),
    };
}

/// <summary>Circles cut both ways round, and read across at four angles.</summary>
internal sealed class TestCircleTest : PracticeTest
{
    public override string Characteristic => "test-circle";

    protected override string Take(Surroundings around, Cell cell)
    {
        var angle = cell["angle_deg"] * Math.PI / 180;
        var (cos, sin) = (PortableMath.Cos(angle), PortableMath.Sin(angle));
        var machine = around.Machine;
        var stretch = (machine.ScaleError(AxisName.X) * cos * cos) + (machine.ScaleError(AxisName.Y) * sin * sin)
            + (machine.SquarenessXY * sin * cos);
        // What compensation leaves of the lost motion shifts the quarter arcs: D45 - D135 gains sqrt(2) (Bx - By) counter-clockwise, the opposite clockwise.
        var turning = cell.WordOr("turning", "ccw") == "cw" ? -1 : 1;
        var play = machine.Reversal(AxisName.Y, 100) - machine.Reversal(AxisName.X, 100);
        var diameter = (cell.Or("nominal_mm", 120) * (1 + stretch)) + (turning * play * 2 * sin * cos / Math.Sqrt(2));
        return PracticeOperator.Typed(around.Operator.Caliper(around.Caliper, diameter), around.Caliper.ResolutionMm);
    }

    public override double? Truth(Surroundings around, AxisName? axis, string parameter) => Plane.Truth(around, parameter);
}

/// <summary>True values of the plane that several tests look for.</summary>
internal static class Plane
{
    public static double? Truth(Surroundings around, string parameter) => parameter switch
    {
        "squareness" => around.Machine.SquarenessXY,
        "scaleErrorX" => around.Machine.ScaleError(AxisName.X),
        "scaleErrorY" => around.Machine.ScaleError(AxisName.Y),
        "scaleDifference" => around.Machine.ScaleError(AxisName.X) - around.Machine.ScaleError(AxisName.Y),
        _ => null,
    };
}
