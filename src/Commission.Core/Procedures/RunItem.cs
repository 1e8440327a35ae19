using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Machines;

namespace Commission.Core.Procedures;

/// <summary>One step of a run with its rounds written out.</summary>
/// <param name="Step">The step; never a repeat.</param>
/// <param name="Scope">What the rounds round it have fixed.</param>
/// <param name="Ladder">The rung it belongs to; null outside ladders.</param>
public sealed record RunItem(Step Step, Scope Scope, Rung? Ladder)
{
    /// <summary>Name of the step in the run, unique.</summary>
    public string Name => Scope.Path + Step.Name;

    /// <summary>Conditions of the step and of all rounds round it.</summary>
    public ImmutableArray<Condition> When { get; init; } = [];
}

/// <summary>A rung of a ladder.</summary>
/// <param name="Ladder">Name of the ladder in the run.</param>
/// <param name="Value">Value of the rung.</param>
public sealed record Rung(string Ladder, double Value);

/// <summary>Writes the rounds of a procedure out.</summary>
public static class RunItems
{
    /// <summary>No procedure is longer than this; a longer one is refused by the checker.</summary>
    public const int Most = 5000;

    /// <summary>Rungs of one ladder; a ladder that would need more ends there.</summary>
    public const int MostRungs = 60;

    /// <summary>The items in order. Ladders that start at a named value are written out when the value is known: see <paramref name="values"/>.</summary>
    /// <param name="procedure">The procedure.</param>
    /// <param name="axis">The axis chosen; null where there is none.</param>
    /// <param name="values">Gives the number of a term; null where it is not known.</param>
    public static ImmutableArray<RunItem> Of(Procedure procedure, AxisName? axis, Func<Term, double?> values)
    {
        var scope = new Scope { Axis = axis };
        if (axis is { } chosen) scope = scope with { Texts = scope.Texts.SetItem("axis", MachineWords.Of(MachineWords.Axes, chosen)) };
        return [.. procedure.Steps.SelectMany(step => Of(step, scope, null, [], values)).Take(Most)];
    }

    private static IEnumerable<RunItem> Of(Step step, Scope scope, Rung? rung, ImmutableArray<Condition> outer, Func<Term, double?> values)
    {
        ImmutableArray<Condition> when = [.. outer, .. step.When];
        return step switch
        {
            Step.Repeat repeat => RoundsOf(repeat, scope).SelectMany(round => repeat.Steps.SelectMany(inner => Of(inner, round, rung, when, values))),
            Step.Ladder ladder => Rungs(ladder, scope, when, values),
            _ => [new RunItem(step, scope, rung) { When = when }],
        };
    }

    private static IEnumerable<Scope> RoundsOf(Step.Repeat repeat, Scope scope)
    {
        var name = repeat.Name;
        return repeat.Rounds switch
        {
            Rounds.Count count => Enumerable.Range(1, count.Times).Select(i => scope.Round($"{name}/{Text(i)}", "round", Text(i))),
            Rounds.OverAxes over => over.Axes.Select(axis => AxisRound(scope, name, axis)),
            Rounds.OverPlaces over => over.Places.Select(place => scope.Round($"{name}/{place}", "place", place)),
            Rounds.OverForces over => over.Forces.Select(force => scope.Round($"{name}/{Scope.Shown(force)}", "force", Scope.Shown(force)).Carrying("force_n", "force", force)),
            Rounds.OverHeights over => over.Heights.Select(height => scope.Round($"{name}/{Scope.Shown(height)}", "height", Scope.Shown(height)).Carrying("height_mm", "height", height)),
            _ => throw new System.Diagnostics.UnreachableException(),
        };
    }

    private static Scope AxisRound(Scope scope, string name, AxisName axis)
    {
        var word = MachineWords.Of(MachineWords.Axes, axis);
        return scope.Round($"{name}/{word}", "axis", word) with { Axis = axis };
    }

    private static IEnumerable<RunItem> Rungs(Step.Ladder ladder, Scope scope, ImmutableArray<Condition> when, Func<Term, double?> values)
    {
        if (values(ladder.Start) is not { } value || values(ladder.End) is not { } end || !(value > 0) || !(end > 0)) yield break;
        var name = scope.Path + ladder.Name;
        for (var i = 1; i <= MostRungs && (ladder.Factor > 1 ? value <= end * 1.000001 : value >= end * 0.999999); i++, value *= ladder.Factor)
        {
            var round = scope.Round($"{ladder.Name}/{Text(i)}", "rung", Scope.Shown(Math.Round(value, 3))).Carrying(ladder.Column, "rung", Math.Round(value, 3));
            foreach (var item in ladder.Steps.SelectMany(step => Of(step, round, new Rung(name, value), when, values))) yield return item;
            yield return new RunItem(ladder, round, new Rung(name, Math.Round(value, 3))) { When = when };
        }
    }

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);
}
