using System.Globalization;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Practice.Operators;

namespace Commission.App.Rehearsal;

/// <summary>The simulated operator at a procedure: knows which test each reading belongs to, and types what the instruments show.</summary>
internal sealed class SimulatedPerson(PracticeBench bench, Procedure procedure, AxisName? chosen)
{
    private readonly Dictionary<string, string> _kinds = KindsOfGroups(procedure);
    private double _lastReading;
    private double _largestSinceVerdict;

    /// <summary>What is typed as the reading of a cell.</summary>
    public string Reading(Need.TakeReading need)
    {
        var axis = need.Cell.GoTo.IsDefaultOrEmpty ? chosen : need.Cell.GoTo[^1].Axis;
        var cell = new Cell(_kinds.GetValueOrDefault(need.Group, ""), axis, need.Cell.Given, need.Cell.Words);
        var typed = bench.Knows(cell.Characteristic) ? bench.Read(cell) : NothingToSee();
        _lastReading = double.Parse(typed, CultureInfo.InvariantCulture);
        _largestSinceVerdict = Math.Max(_largestSinceVerdict, Math.Abs(_lastReading));
        return typed;
    }

    /// <summary>The word chosen: what passes, and on a ladder whether the axis came back to its mark.</summary>
    public string Choice(Need.Choose need)
    {
        if (StepOf(need.Step) is Step.Ladder or null && need.Check is null && IsYesNo(need))
        {
            var clean = _largestSinceVerdict < bench.Machine.State[chosen ?? AxisName.X].LossQuantumMm / 2;
            _largestSinceVerdict = 0;
            return clean ? "yes" : "no";
        }

        if (StepOf(need.Step) is Step.Check { Answer: CheckAnswer.Word { Passes: [var passing, ..] } })
            return passing;
        return need.Options.FirstOrDefault(option => option.Word == "yes")?.Word ?? need.Default ?? need.Options[0].Word;
    }

    /// <summary>The number of a check: well inside its limits, as on a machine with nothing wrong.</summary>
    public string Number(Need.Number need, Func<string, double?> named)
    {
        var limits = StepOf(need.Step) is Step.Check check ? check.Limits : [];
        foreach (var limit in limits)
        {
            var value = limit switch
            {
                Limit.Between between => (between.Low + between.High) / 2,
                Limit.AtMost { Most: var most } => 0.5 * most.Fraction * (most.Number ?? named(most.Name!) ?? 1),
                Limit.AtLeast { Least: var least } => 1.5 * least.Fraction * (least.Number ?? named(least.Name!) ?? 1),
                Limit.Relative relative => named(relative.To) ?? 1,
                _ => 1,
            };
            return value.ToString("0.######", CultureInfo.InvariantCulture);
        }

        return "1";
    }

    /// <summary>The value of a proposed setting as the controller keeps it, set on the practice machine; null where it was no setting.</summary>
    public double? Apply(Need.Change need)
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
                break;
            case "compensationMm":
                bench.Set(settings.WithCompensation(name, setting.AsStored));
                break;
            default:
                return null;
        }

        return setting.AsStored;
    }

    /// <summary>What is typed where nothing is known of the quantity: a small scatter about nothing.</summary>
    private string NothingToSee() =>
        PracticeOperator.Typed(PracticeOperator.Rounded(0.01 * bench.Operator.Source.NextNormal(), 0.01), 0.01);

    private static bool IsYesNo(Need.Choose need) =>
        need.Options.Length == 2 && need.Options.Any(option => option.Word == "yes") && need.Options.Any(option => option.Word == "no");

    // Steps inside repeats and ladders carry their round in the name; the last part is the name in the file.
    private Step? StepOf(string name) =>
        procedure.AllSteps.FirstOrDefault(step => step.Name == name) ?? procedure.AllSteps.FirstOrDefault(step => step.Name == name.Split('/')[^1]);

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
