using System.Globalization;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Practice.Operators;

namespace Commission.App.Rehearsal;

/// <summary>What the simulated operator types where a check or a fact asks for a number: what this machine shows, else well inside the limits.</summary>
internal sealed class PersonAnswers
{
    private readonly PracticeBench bench;
    private readonly Notebook notebook;
    private readonly Dictionary<string, Func<ProcedureRun, AxisName, double?>> _known;

    public PersonAnswers(PracticeBench bench, Notebook notebook)
    {
        (this.bench, this.notebook) = (bench, notebook);
        _known = Answers();
    }

    /// <summary>The number; null where it goes into a result and the simulated operator does not know it.</summary>
    public string? For(ProcedureRun run)
    {
        switch (run.Current?.Step)
        {
            case Step.Set set:
                return FactOf(set, run) is { } known && known != "unknown" ? known : "1";
            case Step.Check check:
                if (Known(run, check) is { } value)
                    return Shown(value);
                return Feeds(run.Procedure, check.Name) ? null : Shown(Inside(check, run));
            default:
                return "1";
        }
    }

    /// <summary>A fact of the machine as it is described; null where there is none of that name.</summary>
    public static string? FactOf(Step.Set set, ProcedureRun run) => MachineFacts.All.TryGetValue(set.Fact, out var fact)
        ? fact.Get(run.Machine, set.Axis?.Fixed ?? run.Current?.Scope.Axis ?? AxisName.X)
        : null;

    /// <summary>The two beams that carry the bed, a third of the travel from each side, as they are typed.</summary>
    public static string Beams(Machine machine)
    {
        var (x, y) = (machine.Travel(AxisName.X), machine.Travel(AxisName.Y));
        string Beam(double middle) => string.Create(CultureInfo.InvariantCulture, $"{Math.Round(middle - 20)} 0 {Math.Round(middle + 20)} {y:0.###}");
        return $"{Beam(x / 3)}; {Beam(2 * x / 3)}";
    }

    private double? Known(ProcedureRun run, Step.Check check) =>
        _known.TryGetValue(run.Procedure.Id + "/" + check.Id, out var answer) ? answer(run, run.Current?.Scope.Axis ?? AxisName.X) : null;

    // What a builder of this machine finds, by procedure and check; the truth comes from the practice machine.
    private Dictionary<string, Func<ProcedureRun, AxisName, double?>> Answers()
    {
        double Named(ProcedureRun run, string name) => run.Values.TryGetValue(name, out var value) ? value.Number ?? 0 : 0;
        double Twist() => PracticeOperator.Rounded(bench.Machine.State.Frame.TwistMm / 2, 0.1);
        return new()
        {
            ["periodic-error/turn"] = (run, axis) => run.Machine[axis].TravelPerTurnMm,
            ["speed-ladder/start-speed"] = (_, _) => 1000,
            ["speed-ladder/end-speed"] = (_, _) => 8000,
            ["speed-under-load/overstress"] = (_, axis) => Math.Round(bench.Machine.Settings.MaxRateMmMin[(int)axis] / 0.7),
            ["speed-under-load/back-at-mark"] = (run, axis) => Math.Abs(Dial("speed-ladder", axis, ("speed_mm_min", Named(run, "setting")))),
            ["backlash/present"] = (_, axis) => bench.Machine.Settings.CompensationMm[(int)axis],
            ["noise/hours"] = (_, _) => 2,
            ["noise/trips"] = (run, _) => Dial("event-rate", null, ("hours", Named(run, "clean-time"))),
            ["tram/radius"] = (_, _) => 100,
            ["tram/closure"] = (run, _) => PracticeOperator.Rounded((run.FirstOf("heights") ?? 0) + Math.Abs(bench.Operator.Indicator(bench.Indicator, 0)), 0.001),
            ["home-offset/angle"] = (_, _) => PracticeOperator.Rounded((notebook.Squareness ?? 0) * 1e3, 0.01),
            ["home-offset/angle-u"] = (_, _) => PracticeOperator.Rounded((notebook.SquarenessUncertainty ?? 0.2e-3) * 1e3, 0.01),
            ["nominal-steps/volts"] = (_, _) => 36,
            ["nominal-steps/driver-volts"] = (_, _) => 50,
            ["nominal-steps/motor-amps"] = (_, _) => 2.8,
            ["nominal-steps/driver-amps"] = (_, _) => 2.8,
            ["nominal-steps/ohms"] = (_, _) => 1.1,
            ["nominal-steps/millihenries"] = (_, _) => 3.5,
            ["nominal-steps/torque"] = (_, _) => 1.9,
            ["nominal-steps/pulses"] = (_, _) => 100_000,
            ["nominal-steps/root"] = (_, _) => 13,
            ["nominal-steps/length"] = (run, axis) => run.Machine.Travel(axis) + 100,
            ["rails/width-change"] = (run, _) => notebook.RailsSet ? Math.Abs(bench.Machine.State.Frame.RailSpreadMm) : Span(run, "width"),
            ["frame-twist/gap"] = (_, _) => Twist(),
            ["frame-twist/gap-swapped"] = (_, _) => -Twist(),
            ["frame-twist/gap-after"] = (_, _) => Twist(),
            ["frame-twist/twist"] = (_, _) => -Twist(),
            ["surfacing/cutter"] = (_, _) => 25,
            ["surfacing/depth"] = (_, _) => (notebook["flatness", "rawRange"] ?? 0.5) + 0.2,
            // The step between neighbouring lines, ten millimetres apart, of a spindle that leans across them.
            ["surfacing/ridge"] = (_, _) => PracticeOperator.Rounded(10 * Math.Abs(bench.Machine.State.Spindle.TiltY), 0.01),
            ["insert-grid/cutter"] = (_, _) => 22,
            ["insert-grid/hole"] = (_, _) => 8,
            ["test-cut/cutter"] = (_, _) => 6,
            ["insert-grid/pitch"] = (_, _) => 75,
            ["insert-grid/pitch-found"] = (_, _) => bench.Operator.Caliper(bench.Caliper, 75 * (1 + bench.Machine.ScaleError(AxisName.X))),
            ["z-axis/z-sinks"] = (run, _) => run.Machine.Z.HoldsUnpowered == Core.Machines.Known.Yes ? 0 : null,
        };
    }

    private double Dial(string test, AxisName? axis, (string Name, double Value) given) => double.Parse(
        bench.Read(new Cell(test, axis, new Dictionary<string, double> { [given.Name] = given.Value }, new Dictionary<string, string>())),
        CultureInfo.InvariantCulture);

    private static double Span(ProcedureRun run, string group)
    {
        double[] values = [.. run.Readings.Where(reading => reading.Stands && reading.Group == group).Select(reading => reading.Value)];
        return values.Length == 0 ? 0 : values.Max() - values.Min();
    }

    // Whether a result or a plan is made from it: then it must not be invented here.
    private static bool Feeds(Procedure procedure, string name) =>
        procedure.AllSteps.OfType<Step.Evaluate>().Any(e => e.Row.ContainsValue(name) || e.Options.ContainsValue(name))
        || procedure.AllSteps.OfType<Step.Ladder>().Any(ladder => ladder.Start.Name == name || ladder.End.Name == name);

    private static double Inside(Step.Check check, ProcedureRun run)
    {
        double? Named(string? name) => name is null ? null : run.Values.GetValueOrDefault(name)?.Number;
        double Of(Term term) => term.Fraction * (term.Number ?? Named(term.Name) ?? 1);
        double Middle(Limit limit) => limit switch
        {
            Limit.Between between => (between.Low + between.High) / 2,
            Limit.AtMost { Most: var most } => 0.5 * Of(most),
            Limit.AtLeast { Least: var least } => 1.5 * Of(least),
            Limit.Relative relative => Named(relative.To) ?? 1,
            Limit.Near near => run.FirstOf(near.To) ?? Named(near.To) ?? 0,
            _ => 1,
        };
        bool Holds(Limit limit, double value) => limit switch
        {
            Limit.Between between => value >= between.Low && value <= between.High,
            Limit.AtMost { Most: var most } => value <= Of(most),
            Limit.AtLeast { Least: var least } => value >= Of(least),
            Limit.Relative relative => Named(relative.To) is not { } to || Math.Abs(value - to) <= relative.Within * Math.Abs(to),
            _ => true,
        };
        double[] candidates = [.. check.Limits.Select(Middle)];
        return candidates.Length == 0 ? 1 : candidates.FirstOrDefault(value => check.Limits.All(limit => Holds(limit, value)), candidates[0]);
    }

    private static string Shown(double value) => value.ToString("0.######", CultureInfo.InvariantCulture);
}
