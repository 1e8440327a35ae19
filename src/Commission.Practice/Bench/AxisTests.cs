using Commission.Core.Machines;
using Commission.Practice.Operators;

namespace Commission.Practice.Bench;

/// <summary>Caliper between a block on the frame and one on the carriage; or a rule from a mark; or an indicator over blocks.</summary>
internal sealed class AxisScaleTest : PracticeTest
{
    private readonly Dictionary<AxisName, double> _gap = [];

    public override string Characteristic => "axis-scale";

    // The blocks are clamped so that the middle of the plan reads about half the range; they never stand exactly.
    public override void Prepare(Surroundings around, IReadOnlyList<Cell> cells)
    {
        var axis = cells[0].Axis ?? AxisName.X;
        var middle = (cells.Min(cell => cell["commanded_mm"]) + cells.Max(cell => cell["commanded_mm"])) / 2;
        _gap[axis] = (around.Caliper.RangeMm / 2) - middle + around.Chance.NextUniform(-0.3, 0.3);
    }

    protected override string Take(Surroundings around, Cell cell)
    {
        var (axis, commanded) = (cell.Axis ?? AxisName.X, cell["commanded_mm"]);
        switch (cell.WordOr("instrument", "caliper"))
        {
            case "tape": // from a mark, always the same way: its own lost motion falls out
                var moved = around.Stand(axis, commanded, 1) - around.Stand(axis, 0, 1);
                return PracticeOperator.Typed(around.Operator.Tape(around.Tape, moved), around.Tape.ResolutionMm);
            case "indicator": // blocks are taken as true; the dial shows what is left
                var rest = around.Stand(axis, commanded, 1) - around.Machine.AxisPosition(axis, 0, 1) - commanded;
                return PracticeOperator.Typed(commanded + around.Operator.Indicator(around.Indicator, rest), around.Indicator.ResolutionMm);
        }

        if (!_gap.TryGetValue(axis, out var gap))
            _gap[axis] = gap = around.Chance.NextUniform(-0.3, 0.3);
        var length = gap + around.Stand(axis, commanded, cell.Sign());
        return PracticeOperator.Typed(around.Operator.Caliper(around.Caliper, length), around.Caliper.ResolutionMm);
    }

    public override double? Truth(Surroundings around, AxisName? axis, string parameter)
    {
        var name = axis ?? AxisName.X;
        var places = Cells.Where(cell => (cell.Axis ?? AxisName.X) == name).Select(cell => cell["commanded_mm"]).ToArray();
        if (places.Length == 0)
            return null;
        return parameter switch
        {
            "scaleError" or "scaleErrorGivenGrade" => around.Machine.ScaleErrorBetween(name, places.Min(), places.Max()),
            "reversal" => places.Average(place => around.Machine.Reversal(name, place)),
            _ => null,
        };
    }
}

/// <summary>Indicator along the axis, each place reached from both sides.</summary>
internal sealed class BacklashTest : PracticeTest
{
    private readonly Dictionary<(AxisName, double), double> _zero = [];

    public override string Characteristic => "backlash";

    protected override string Take(Surroundings around, Cell cell)
    {
        var axis = cell.Axis ?? AxisName.X;
        var place = cell["place_mm"];
        var stand = around.Stand(axis, place, cell.Sign());
        if (!_zero.TryGetValue((axis, place), out var zero))
            _zero[(axis, place)] = zero = stand; // zeroed at the first approach
        return PracticeOperator.Typed(around.Operator.Indicator(around.Indicator, stand - zero), around.Indicator.ResolutionMm);
    }

    public override double? Truth(Surroundings around, AxisName? axis, string parameter)
    {
        var name = axis ?? AxisName.X;
        double[] reversals = [.. Cells.Where(cell => (cell.Axis ?? AxisName.X) == name).Select(cell => cell["place_mm"]).Distinct()
            .Select(place => around.Machine.Reversal(name, place))];
        if (reversals.Length == 0)
            return null;
        return parameter switch
        {
            "reversal" => reversals.Average(),
            "reversalLargest" => reversals.MaxBy(Math.Abs),
            _ when Bracket(parameter, "reversal") is { } place => around.Machine.Reversal(name, place),
            _ => null,
        };
    }
}

/// <summary>Indicator along the axis over one turn of the drive, reached from one side.</summary>
internal sealed class PeriodicTest : PracticeTest
{
    private double? _zero;

    public override string Characteristic => "periodic";

    protected override string Take(Surroundings around, Cell cell)
    {
        var axis = cell.Axis ?? AxisName.X;
        var commanded = cell["commanded_mm"];
        var stand = around.Stand(axis, commanded, 1);
        _zero ??= stand - commanded;
        // Read as a small deviation from a spacer of the commanded length; the spacer itself is taken as true.
        var deviation = around.Operator.Indicator(around.Indicator, stand - commanded - _zero.Value);
        return PracticeOperator.Typed(commanded + deviation, around.Indicator.ResolutionMm);
    }

    public override double? Truth(Surroundings around, AxisName? axis, string parameter) => parameter switch
    {
        "amplitude" => around.Machine.State[axis ?? AxisName.X].PeriodicAmplitudeMm,
        _ => null,
    };
}

/// <summary>Indicator along the axis while a spring balance pulls.</summary>
internal sealed class StiffnessTest : PracticeTest
{
    public override string Characteristic => "stiffness";

    protected override string Take(Surroundings around, Cell cell)
    {
        var axis = cell.Axis ?? AxisName.X;
        var place = cell.Or("place_mm", 0);
        var half = around.Machine.Reversal(axis, place, cell["force_n"]) / 2;
        var stand = (cell.Sign() * half) + (around.Machine.State[axis].RepeatabilityMm * around.Chance.NextNormal());
        return PracticeOperator.Typed(around.Operator.Indicator(around.Indicator, stand), around.Indicator.ResolutionMm);
    }

    public override double? Truth(Surroundings around, AxisName? axis, string parameter)
    {
        var name = axis ?? AxisName.X;
        var places = Cells.Where(cell => (cell.Axis ?? AxisName.X) == name).Select(cell => cell.Or("place_mm", 0)).Distinct().ToArray();
        return parameter switch
        {
            "clearance" when places.Length > 0 => places.Average(place => -around.Machine.Reversal(name, place)),
            "stiffness" => around.Machine.State[name].StiffnessNPerMm,
            _ => null,
        };
    }
}

/// <summary>A rising ladder of speeds with a return to the mark after each rung.</summary>
internal sealed class SpeedLadderTest : PracticeTest
{
    public override string Characteristic => "speed-ladder";

    protected override string Take(Surroundings around, Cell cell)
    {
        var state = around.Machine.State[cell.Axis ?? AxisName.X];
        var lost = cell["speed_mm_min"] > state.LosesStepsAboveMmMin ? 1 + around.Chance.NextIndex(4) : 0;
        var stand = (lost * state.LossQuantumMm) + (state.RepeatabilityMm * around.Chance.NextNormal());
        return PracticeOperator.Typed(around.Operator.Indicator(around.Indicator, stand), around.Indicator.ResolutionMm);
    }

    public override double? Truth(Surroundings around, AxisName? axis, string parameter) => parameter switch
    {
        "quantum" => around.Machine.State[axis ?? AxisName.X].LossQuantumMm,
        _ => null,
    };
}

/// <summary>Homing again and again onto an indicator, or one place reached again and again.</summary>
internal sealed class RepeatabilityTest : PracticeTest
{
    public override string Characteristic => "repeatability";

    protected override string Take(Surroundings around, Cell cell)
    {
        var stand = around.Machine.ReturnScatterMm(cell.Axis ?? AxisName.X) * around.Chance.NextNormal();
        return PracticeOperator.Typed(around.Operator.Indicator(around.Indicator, stand), around.Indicator.ResolutionMm);
    }

    public override double? Truth(Surroundings around, AxisName? axis, string parameter)
    {
        if (parameter != "standardDeviation")
            return null;
        var machine = around.Machine.ReturnScatterMm(axis ?? AxisName.X);
        var (hand, own) = (around.Operator.Hand.IndicatorSdMm, around.Indicator.OwnScatterMm);
        return Math.Sqrt((machine * machine) + (hand * hand) + (own * own));
    }
}
