using System.Globalization;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Practice.Operators;

namespace Commission.App.Rehearsal;

/// <summary>The simulated operator at a procedure: knows which test each reading belongs to, and types what the instruments show.</summary>
internal sealed class SimulatedPerson(PracticeBench bench, Procedure procedure)
{
    private readonly Dictionary<string, string> _kinds = KindsOfGroups(procedure);
    private readonly HashSet<string> _prepared = [];
    private double _largestSinceVerdict;

    /// <summary>What is typed as the reading of a cell.</summary>
    public string Reading(Need.TakeReading need, ProcedureRun run)
    {
        Cell CellOf(Core.Plans.PlanCell cell) => new(
            _kinds.GetValueOrDefault(need.Group, ""), cell.GoTo.IsDefaultOrEmpty ? run.Current?.Scope.Axis : cell.GoTo[^1].Axis, cell.Given, cell.Words);
        if (_prepared.Add(need.Step))
            bench.Prepare([.. run.Cells.Select(CellOf)]);
        var asked = CellOf(need.Cell);
        var typed = bench.Knows(asked.Characteristic) ? bench.Read(asked) : NothingToSee();
        _largestSinceVerdict = Math.Max(_largestSinceVerdict, Math.Abs(double.Parse(typed, CultureInfo.InvariantCulture)));
        return typed;
    }

    /// <summary>The word chosen: what passes; on a ladder whether the axis came back to its mark; otherwise what is usual.</summary>
    public string Choice(Need.Choose need, ProcedureRun run)
    {
        switch (run.Current?.Step)
        {
            case Step.Ladder:
                var clean = _largestSinceVerdict < bench.Machine.State[run.Current.Scope.Axis ?? AxisName.X].LossQuantumMm / 2;
                _largestSinceVerdict = 0;
                return clean ? "yes" : "no";
            case Step.Check { Answer: CheckAnswer.Word { Passes: [var passing, ..] } }:
                return passing;
            case Step.Set set when FactOf(set, run) is { } known && need.Options.Any(option => option.Word == known):
                return known;
            default:
                return need.Default ?? need.Options[0].Word;
        }
    }

    /// <summary>The number of a check: well inside its limits, as on a machine with nothing wrong; of a fact: what the description has.</summary>
    public static string Number(ProcedureRun run)
    {
        if (run.Current?.Step is Step.Set set && FactOf(set, run) is { } known && known != "unknown")
            return known;
        double? Named(string? name) => name is null ? null : run.Values.GetValueOrDefault(name)?.Number;
        var value = run.Current?.Step switch
        {
            Step.Check { Limits: [Limit.Between between, ..] } => (between.Low + between.High) / 2,
            Step.Check { Limits: [Limit.AtMost { Most: var most }, ..] } => 0.5 * most.Fraction * (most.Number ?? Named(most.Name) ?? 1),
            Step.Check { Limits: [Limit.AtLeast { Least: var least }, ..] } => 1.5 * least.Fraction * (least.Number ?? Named(least.Name) ?? 1),
            Step.Check { Limits: [Limit.Relative relative, ..] } => Named(relative.To) ?? 1,
            _ => 1,
        };
        return value.ToString("0.######", CultureInfo.InvariantCulture);
    }

    /// <summary>Sets a proposed setting on the practice machine.</summary>
    /// <returns>The value as the controller keeps it; null where nothing could be set.</returns>
    public double? Apply(Need.Change need, AxisName? chosen)
    {
        if (need.Finding.Advice.Setting is not { } setting)
            return null;
        var axis = setting.Axis switch { "X" => AxisName.X, "Y" => AxisName.Y, "Z" => AxisName.Z, _ => chosen };
        if (axis is not { } name)
            return null;
        var settings = bench.Machine.Settings;
        switch (setting.Name)
        {
            case "stepsPerMm":
                bench.Set(settings.WithSteps(name, settings.StepsPerMm[(int)name] * setting.AsStored / setting.Current));
                return setting.AsStored;
            case "compensationMm":
                bench.Set(settings.WithCompensation(name, setting.AsStored));
                return setting.AsStored;
            default:
                return null;
        }
    }

    private static string? FactOf(Step.Set set, ProcedureRun run) => MachineFacts.All.TryGetValue(set.Fact, out var fact)
        ? fact.Get(run.Machine, set.Axis?.Fixed ?? run.Current?.Scope.Axis ?? AxisName.X)
        : null;

    /// <summary>What is typed where the practice machine has nothing of the kind: a small scatter about nothing.</summary>
    private string NothingToSee() =>
        PracticeOperator.Typed(PracticeOperator.Rounded(0.01 * bench.Operator.Source.NextNormal(), 0.01), 0.01);

    private static Dictionary<string, string> KindsOfGroups(Procedure procedure)
    {
        var kinds = new Dictionary<string, string>();
        foreach (var evaluate in procedure.AllSteps.OfType<Step.Evaluate>())
        {
            foreach (var group in evaluate.Groups)
                kinds.TryAdd(group, evaluate.Kind);
        }

        return kinds;
    }
}
