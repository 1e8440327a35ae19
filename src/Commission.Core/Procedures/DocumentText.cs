using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Quantities;

namespace Commission.Core.Procedures;

/// <summary>A procedure as a document to read: no step is hidden, and only the axis is filled in.</summary>
public static partial class DocumentText
{
    /// <summary>The lines of the document.</summary>
    /// <param name="procedure">The procedure.</param>
    /// <param name="axis">The axis to name in the text; null says "the axis".</param>
    public static ImmutableArray<string> Lines(Procedure procedure, AxisName? axis = null) =>
        [.. Unfilled(procedure).Select(line => Filled(line, axis is { } name ? MachineWords.Of(MachineWords.Axes, name) : "the axis"))];

    // What a run would fill in stands in brackets, in words: {driveWidth} is [drive width].
    private static string Filled(string line, string axis) =>
        Placeholder().Replace(line.Replace("{axis}", axis, StringComparison.Ordinal), match => "[" + Capital().Replace(match.Groups[1].Value, found => " " + found.Value.ToLowerInvariant()) + "]");

    [GeneratedRegex("\\{([a-zA-Z][a-zA-Z0-9]*)\\}")]
    private static partial Regex Placeholder();

    [GeneratedRegex("[A-Z]")]
    private static partial Regex Capital();

    private static ImmutableArray<string> Unfilled(Procedure procedure)
    {
        var lines = ImmutableArray.CreateBuilder<string>();
        lines.Add($"{procedure.Title} ({procedure.Id})");
        lines.Add("");
        lines.Add("Purpose: " + Words.OneLine(procedure.Purpose));
        lines.Add(string.Create(CultureInfo.InvariantCulture, $"Takes about {procedure.Minutes:0} minutes. For {Conditions(procedure.When)}."));
        Section(lines, "Hazards", procedure.Hazards.Select(hazard => $"{Words.OneLine(hazard.What)} Do: {Words.OneLine(hazard.Do)}"));
        Section(lines, "Rests on", procedure.Needs.Select(need => $"{need.Procedure} ({(need.Must ? "needed" : "advised")}): {Words.OneLine(need.Because)}"));
        Section(lines, "Instruments", procedure.Instruments.Select(Instrument));
        Section(lines, "Steps", Steps(procedure.Steps, "").Select(step => step));
        Section(lines, "What the result means", procedure.Evaluation.Select(Words.OneLine));
        Section(lines, "End it early when", procedure.Abort.Select(Words.OneLine));
        Section(lines, "Good readings", procedure.GoodData.Select(Words.OneLine));
        Section(lines, "Common slips", procedure.Slips.Select(Words.OneLine));
        return lines.ToImmutable();
    }

    /// <summary>Conditions in words.</summary>
    public static string Conditions(ImmutableArray<Condition> conditions) => conditions.IsEmpty
        ? "every machine"
        : "machines where " + string.Join(" and ", conditions.Select(condition => $"{condition.Fact} is {string.Join(" or ", condition.Words)}"));

    private static void Section(ImmutableArray<string>.Builder lines, string title, IEnumerable<string> entries)
    {
        var all = entries.ToArray();
        if (all.Length == 0) return;
        lines.Add("");
        lines.Add(title);
        lines.AddRange(all.Select(entry => "  " + entry));
    }

    private static string Instrument(InstrumentNeed need)
    {
        var kinds = need.Kinds.Select(kind => InstrumentCatalogue.WordOf(kind));
        var way = need.WayMm is { } mm ? string.Create(CultureInfo.InvariantCulture, $" An indicator must give way by {mm:0.##} mm.") : "";
        return $"For {need.For}: {string.Join(", or ", kinds)}.{way} Otherwise: {Words.OneLine(need.OrElse)}";
    }

    private static IEnumerable<string> Steps(ImmutableArray<Step> steps, string prefix)
    {
        for (var i = 0; i < steps.Length; i++)
        {
            var number = prefix + (i + 1).ToString(CultureInfo.InvariantCulture);
            var only = steps[i].When.IsEmpty ? "" : $" [only where {string.Join(" and ", steps[i].When.Select(condition => $"{condition.Fact} is {string.Join(" or ", condition.Words)}"))}]";
            yield return $"{number}. {Step(steps[i])}{only}";
            if (steps[i] is Step.Instruct told)
                foreach (var line in Words.Lines(told.Text).Skip(1).Concat(Drawn(told.Drawing))) yield return "    " + line;
            foreach (var inner in Steps(steps[i].Inner, number + ".")) yield return "  " + inner;
        }
    }

    private static IEnumerable<string> Drawn(StepDrawing? drawing) => drawing is null ? [] : [.. drawing.Rows, "In words: " + Words.OneLine(drawing.Words)];

    private static string Step(Step step) => step switch
    {
        Step.Instruct instruct => Words.Lines(instruct.Text).FirstOrDefault("") + (instruct.Data is { } data ? $" Gives the lines '{data.Kind}'." : ""),
        Step.Confirm confirm => "Confirm: " + Words.OneLine(confirm.Text),
        Step.Check check => $"Check {check.Id}: {Words.OneLine(check.Ask)} Limit: {CheckLimits.Words(check)}. If out: {Words.OneLine(check.IfOut)}{(check.Who is { } who ? $" Who may do it: {who}." : "")}{(check.Counted is null ? "" : " With the link open it is counted while this step stands.")}",
        Step.MoveMachine move => $"Move: {Words.OneLine(move.Text)} {string.Join("; ", move.Moves.Select(Move))}.",
        Step.Read read => $"Read {Grid(read.Grid)}: {Words.OneLine(read.Ask)}",
        Step.Evaluate evaluate => $"Evaluate as {evaluate.Kind}.",
        Step.Change { Of: null } change => $"Change: {Words.OneLine(change.Text)}",
        Step.Change change => $"If the advice of '{change.Of}' is to change: {Words.OneLine(change.Text)}",
        Step.Wait wait => $"Wait{(wait.Seconds is { } seconds ? " " + Scope.Shown(seconds) + " s" : "")}: {Words.OneLine(wait.Text)}",
        Step.Repeat repeat => $"Repeat {Rounds(repeat.Rounds)}:",
        Step.Ladder ladder => $"Ladder from {Term(ladder.Start)} by {Scope.Shown(ladder.Factor)} to {Term(ladder.End)} {ladder.Unit}. After each rung: {Words.OneLine(ladder.Verdict)}",
        Step.Power power => $"Drives {(power.DrivesOn ? "on" : "off")}: {Words.OneLine(power.Text)}",
        Step.Set set => $"Note a fact of the machine ({set.Fact}): {Words.OneLine(set.Ask)}",
        _ => throw new UnreachableException(),
    };

    private static string Move(MovePlan plan)
    {
        var axis = plan.Axis is null ? "all axes" : plan.Axis.Fixed is { } name ? MachineWords.Of(MachineWords.Axes, name) : "{axis}";
        return plan.Kind switch
        {
            MoveKind.Home => "home " + axis,
            MoveKind.WatchedHome => "home all axes, watched",
            MoveKind.By => $"{axis} by {Term(plan.Amount!)} mm, at most {Term(plan.Feed)} mm/min",
            MoveKind.To => $"{axis} to {Term(plan.Amount!)} mm, at most {Term(plan.Feed)} mm/min",
            _ => $"{axis} to {Term(plan.Amount!)} of its travel, at most {Term(plan.Feed)} mm/min",
        };
    }

    private static string Term(Term term) => term switch
    {
        { Number: { } number } => Scope.Shown(number),
        { Fraction: 1 } => $"'{term.Name}'",
        _ => $"{Scope.Shown(term.Fraction)} times '{term.Name}'",
    };

    private static string Rounds(Rounds rounds) => rounds switch
    {
        Procedures.Rounds.Count count => string.Create(CultureInfo.InvariantCulture, $"{count.Times} times"),
        Procedures.Rounds.OverAxes over => "for " + string.Join(", ", over.Axes),
        Procedures.Rounds.OverPlaces over => "at " + string.Join(", ", over.Places),
        Procedures.Rounds.OverForces over => "with " + string.Join(", ", over.Forces.Select(Scope.Shown)) + " N",
        Procedures.Rounds.OverHeights over => "at heights " + string.Join(", ", over.Heights.Select(Scope.Shown)) + " mm",
        _ => throw new UnreachableException(),
    };

    private static string Grid(Grid grid) => grid switch
    {
        Procedures.Grid.AlongAxis => "ten positions along the axis, placed for this machine",
        Procedures.Grid.Phases phases => string.Create(CultureInfo.InvariantCulture, $"{phases.Count} equal parts of one turn or period, the first again last"),
        Procedures.Grid.Places places => string.Create(CultureInfo.InvariantCulture, $"{places.Fractions.Length} places, {places.Pairs} pairs of approaches each"),
        Procedures.Grid.Distances distances => string.Create(CultureInfo.InvariantCulture, $"{distances.Ways.Length} distances, {distances.Repeats} times"),
        Procedures.Grid.Angles angles => "angles " + string.Join(", ", angles.Degrees.Select(Scope.Shown)) + " degrees",
        Procedures.Grid.Points points => string.Create(CultureInfo.InvariantCulture, $"{points.Columns} by {points.Rows} points over the bed"),
        Procedures.Grid.Circle circle => "diameters at " + string.Join(", ", circle.Degrees.Select(Scope.Shown)) + " degrees",
        Procedures.Grid.Objects objects => string.Create(CultureInfo.InvariantCulture, $"{string.Join(", ", objects.Things.Select(thing => thing.Name))}, {objects.Trials} times"),
        _ => throw new UnreachableException(),
    };
}
