using Commission.Core.Machines;
using Commission.Practice.Draws;
using Commission.Practice.Operators;

namespace Commission.Practice.Bench;

/// <summary>An indicator swung by the spindle over a flat plate, and moved along X and Y with the arm locked.</summary>
internal sealed class TramTest : PracticeTest
{
    private const double ReachMm = 100;

    public override string Characteristic => "tram";

    protected override string Take(Surroundings around, Cell cell)
    {
        var (bed, spindle) = (around.Machine.State.Bed, around.Machine.State.Spindle);
        var angle = cell.Or("angle_deg", 0) * Math.PI / 180;
        var height = cell.WordOr("line", "sweep") switch
        {
            "alongX" => bed.SlopeX * cell["position_mm"],
            "alongY" => bed.SlopeY * cell["position_mm"],
            _ => cell.Or("radius_mm", ReachMm)
                * (((spindle.TiltX + bed.SlopeX) * PortableMath.Cos(angle)) + ((spindle.TiltY + bed.SlopeY) * PortableMath.Sin(angle))),
        };
        return PracticeOperator.Typed(around.Operator.Indicator(around.Indicator, height), around.Indicator.ResolutionMm);
    }

    public override double? Truth(Surroundings around, AxisName? axis, string parameter)
    {
        var (bed, spindle) = (around.Machine.State.Bed, around.Machine.State.Spindle);
        // Without the two lines the board's slope cannot be told from the spindle's tilt: then the sum is what the sweep speaks of.
        var board = Cells.Any(cell => cell.WordOr("line", "sweep") != "sweep") ? 0 : 1;
        var (x, y) = (spindle.TiltX + (board * bed.SlopeX), spindle.TiltY + (board * bed.SlopeY));
        return parameter switch
        {
            "tilt" => Math.Sqrt((x * x) + (y * y)),
            "tiltX" => x,
            "tiltY" => y,
            _ => null,
        };
    }
}

/// <summary>The bed probed over a grid with the machine's own Z.</summary>
internal sealed class FlatnessTest : PracticeTest
{
    private const double ProbeSdMm = 0.006;

    public override string Characteristic => "flatness";

    protected override string Take(Surroundings around, Cell cell)
    {
        var height = around.Machine.BedHeight(cell["x_mm"], cell["y_mm"]) + (ProbeSdMm * around.Chance.NextNormal());
        return PracticeOperator.Typed(PracticeOperator.Rounded(height, 0.001), 0.001);
    }

    public override double? Truth(Surroundings around, AxisName? axis, string parameter)
    {
        if (parameter != "rawRange" || Cells.Count == 0)
            return null;
        var heights = Cells.Select(cell => around.Machine.BedHeight(cell["x_mm"], cell["y_mm"])).ToArray();
        return heights.Max() - heights.Min();
    }
}

/// <summary>A pin in the collet, turned by hand under an indicator at several heights.</summary>
internal sealed class RunoutTest : PracticeTest
{
    public override string Characteristic => "runout";

    protected override string Take(Surroundings around, Cell cell)
    {
        var angle = cell["angle_deg"] * Math.PI / 180;
        var (x, y) = Centre(around, cell["height_mm"]);
        var seen = (x * PortableMath.Cos(angle)) + (y * PortableMath.Sin(angle));
        return PracticeOperator.Typed(around.Operator.Indicator(around.Indicator, seen), around.Indicator.ResolutionMm);
    }

    public override double? Truth(Surroundings around, AxisName? axis, string parameter) => parameter switch
    {
        "tilt" => around.Machine.State.Spindle.RunoutTilt,
        _ when Bracket(parameter, "tir") is { } height => 2 * Length(Centre(around, height)),
        _ => null,
    };

    private static (double X, double Y) Centre(Surroundings around, double height)
    {
        var s = around.Machine.State.Spindle;
        return (
            (s.RunoutMm * PortableMath.Cos(s.RunoutAngleRad)) + (height * s.RunoutTilt * PortableMath.Cos(s.RunoutTiltAngleRad)),
            (s.RunoutMm * PortableMath.Sin(s.RunoutAngleRad)) + (height * s.RunoutTilt * PortableMath.Sin(s.RunoutTiltAngleRad)));
    }

    private static double Length((double X, double Y) v) => Math.Sqrt((v.X * v.X) + (v.Y * v.Y));
}

/// <summary>The same objects read again and again with the caliper.</summary>
internal sealed class GaugeStudyTest : PracticeTest
{
    private readonly Dictionary<string, double> _objects = [];

    public override string Characteristic => "gauge-study";

    protected override string Take(Surroundings around, Cell cell)
    {
        var number = cell.Label("object");
        if (!_objects.TryGetValue(number, out var length))
            _objects[number] = length = around.Chance.NextUniform(8, 140);
        return PracticeOperator.Typed(around.Operator.Caliper(around.Caliper, length), around.Caliper.ResolutionMm);
    }

    public override double? Truth(Surroundings around, AxisName? axis, string parameter)
    {
        if (parameter != "standardDeviation")
            return null;
        var (hand, own, digit) = (around.Operator.Hand.ReadingSdMm, around.Caliper.OwnScatterMm, around.Caliper.ResolutionMm);
        return Math.Sqrt((hand * hand) + (own * own) + (digit * digit / 12));
    }
}

/// <summary>Counting trips that nobody caused.</summary>
internal sealed class EventRateTest : PracticeTest
{
    public override string Characteristic => "event-rate";

    protected override string Take(Surroundings around, Cell cell)
    {
        var (expected, events) = (around.Machine.State.FalseTripsPerHour * cell.Or("hours", 1), 0);
        for (var left = expected; left > 0; events++)
        {
            left += PortableMath.Log(1 - around.Chance.NextUnit()); // exponential waiting times
            if (left <= 0)
                break;
        }

        return events.ToString(System.Globalization.CultureInfo.InvariantCulture);
    }

    public override double? Truth(Surroundings around, AxisName? axis, string parameter) =>
        parameter is "rate" or "upperRate" ? around.Machine.State.FalseTripsPerHour : null;
}
