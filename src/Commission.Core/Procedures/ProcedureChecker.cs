using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Procedures.Aids;
using Commission.Core.Readings;

namespace Commission.Core.Procedures;

/// <summary>What a procedure may refer to outside its own file.</summary>
/// <param name="Procedures">Ids of all procedures: the shipped ones and those checked together.</param>
/// <param name="Kinds">The kinds of characteristic.</param>
/// <param name="Changes">The words of change.</param>
public sealed record ProcedureSurroundings(ImmutableHashSet<string> Procedures, ImmutableArray<CharacteristicKind> Kinds, ImmutableArray<string> Changes);

/// <summary>Checks what the form of the file cannot: that every reference finds its target, and that evaluations get the columns they read.</summary>
public static class ProcedureChecker
{
    /// <summary>Every problem of a procedure; none where it may be run.</summary>
    public static ImmutableArray<Problem> Check(Procedure procedure, ProcedureSurroundings surroundings)
    {
        var checking = new Checking(procedure, surroundings);
        return [.. checking.OutsideSteps(), .. checking.StepsIn(procedure.Steps, Columns.None)];
    }

    // Columns that rounds round a step put into its readings.
    private sealed record Columns(ImmutableArray<string> Names)
    {
        public static Columns None { get; } = new([]);

        public Columns And(string? name) => name is null ? this : new Columns(Names.Add(name));
    }

    private sealed class Checking(Procedure procedure, ProcedureSurroundings surroundings)
    {
        private readonly Dictionary<string, Step> earlier = new(StringComparer.Ordinal);
        private readonly Dictionary<string, List<string>> groups = new(StringComparer.Ordinal);

        public IEnumerable<Problem> OutsideSteps()
        {
            foreach (var need in procedure.Needs.Where(need => !surroundings.Procedures.Contains(need.Procedure)))
                yield return Problem(need.At, $"'needs' names the procedure '{PlainText.Of(need.Procedure)}', which there is not", "Use one of the ids of 'procedure list'" + Spelling.DidYouMean(need.Procedure, surroundings.Procedures.Order(StringComparer.Ordinal)));
            if (RunItems.Of(procedure, Machines.AxisName.X, term => term.Number).Length >= RunItems.Most)
                yield return Problem((1, 1), "with all its rounds this procedure has 5000 steps or more", "Repeat less, or split it");
        }

        public IEnumerable<Problem> StepsIn(ImmutableArray<Step> steps, Columns outer)
        {
            foreach (var step in steps)
            {
                foreach (var problem in References(step).Concat(OwnProblems(step, outer))) yield return problem;
                if (!earlier.TryAdd(step.Name, step))
                    yield return At(step, $"the name '{step.Name}' is given twice", "Give each step its own name");
                foreach (var problem in StepsIn(step.Inner, Inside(step, outer))) yield return problem;
            }
        }

        private static Columns Inside(Step step, Columns outer) => step switch
        {
            Step.Repeat { Rounds: Rounds.OverForces } => outer.And("force_n"),
            Step.Repeat { Rounds: Rounds.OverHeights } => outer.And("height_mm"),
            Step.Ladder ladder => outer.And(ladder.Column),
            _ => outer,
        };

        // A ladder's own rung may be named inside it: it is entered before its inner steps are checked.
        private IEnumerable<Problem> References(Step step)
        {
            foreach (var name in step.Texts.SelectMany(Placeholders.In).Distinct().Where(name => !Placeholders.Known.Contains(name) && !earlier.ContainsKey(name)))
                yield return At(step, $"the text names '{{{PlainText.Of(name)}}}', which no earlier step gives", "Use one of: " + string.Join(", ", Placeholders.Known) + ", or the name of an earlier step" + Spelling.DidYouMean(name, Placeholders.Known.Concat(earlier.Keys)));
            foreach (var name in TermsOf(step).Select(term => term.Name).OfType<string>().Where(name => !IsNumber(name)))
                yield return At(step, $"'{PlainText.Of(name)}' is no number of an earlier step", "Name a check with 'answer: number', a ladder or an evaluation that stands before" + Spelling.DidYouMean(name, earlier.Keys));
        }

        private IEnumerable<Problem> NoGroup(Step.Check check) => check.Limits.OfType<Limit.Near>().Where(near => near.IsReading && !groups.ContainsKey(near.To))
            .Select(near => At(check, $"'firstOf' names '{PlainText.Of(near.To)}', which is no group of readings before it", "Name the 'group' of an earlier read step" + Spelling.DidYouMean(near.To, groups.Keys)));

        private bool IsNumber(string name) => name is "rung" or "height" or "force"
            || (earlier.TryGetValue(name, out var step) && step is Step.Check { Answer: CheckAnswer.Number } or Step.Ladder or Step.Evaluate or Step.Change or Step.Set);

        private static IEnumerable<Term> TermsOf(Step step) => step switch
        {
            Step.Check check => check.Limits.Select(limit => limit switch
            {
                Limit.AtMost most => most.Most,
                Limit.AtLeast least => least.Least,
                Limit.Relative relative => new Term(null, relative.To),
                Limit.Near { IsReading: false } near => new Term(null, near.To),
                _ => new Term(0, null),
            }),
            Step.MoveMachine move => move.Moves.SelectMany(plan => new[] { plan.Amount, plan.Feed }).OfType<Term>(),
            Step.Ladder ladder => [ladder.Start, ladder.End],
            Step.Read { Grid: Grid.Phases { Period: { } period } } => [period],
            Step.Evaluate evaluate => evaluate.Row.Values.Select(name => new Term(null, name)),
            _ => [],
        };

        private IEnumerable<Problem> OwnProblems(Step step, Columns outer)
        {
            switch (step)
            {
                case Step.Read read:
                    if (!groups.TryGetValue(read.Group, out var columns)) groups[read.Group] = columns = [];
                    columns.AddRange([.. GridPlan.GivenColumns(read.Grid), .. read.Given.Keys, .. outer.Names, read.Column]);
                    return [];
                case Step.Check check:
                    return NoGroup(check);
                case Step.Evaluate evaluate:
                    return Evaluation(evaluate);
                case Step.Instruct { Data: { } data } instruct:
                    return DataProblems(instruct, data);
                case Step.Change change:
                    return Changing(change);
                default:
                    return [];
            }
        }

        private IEnumerable<Problem> Changing(Step.Change change)
        {
            if (change.Of is { } named && (!earlier.TryGetValue(named, out var of) || of is not Step.Evaluate))
                yield return At(change, $"'of' names '{PlainText.Of(named)}', which is no earlier evaluate step", "Name the evaluate step whose advice is carried out" + Spelling.DidYouMean(named, earlier.Keys));
            if (!surroundings.Changes.Contains(change.EnteredAs))
                yield return At(change, $"'as' is '{PlainText.Of(change.EnteredAs)}', which is no word of change", "Use one of: " + string.Join(", ", surroundings.Changes) + Spelling.DidYouMean(change.EnteredAs, surroundings.Changes));
            if (change.Data is { } data)
                foreach (var problem in DataProblems(change, data)) yield return problem;
        }

        private IEnumerable<Problem> DataProblems(Step step, StepData data)
        {
            if (DataKinds.Find(data.Kind) is not { } kind)
            {
                var ids = DataKinds.All.Select(one => one.Id).ToArray();
                yield return At(step, $"'{PlainText.Of(data.Kind)}' is no kind of data", "Use one of: " + string.Join(", ", ids) + Spelling.DidYouMean(data.Kind, ids));
                yield break;
            }

            var names = kind.Parameters.Select(parameter => parameter.Name).ToArray();
            foreach (var name in data.With.Keys.Where(name => !names.Contains(name)))
                yield return At(step, $"'{kind.Id}' has no parameter '{PlainText.Of(name)}'", "Use one of: " + string.Join(", ", names) + Spelling.DidYouMean(name, names));
            foreach (var name in data.With.Values.Where(given => !YamlFields.TryNumber(given, out _) && !earlier.ContainsKey(given)))
                yield return At(step, $"'{PlainText.Of(name)}' is neither a number nor an earlier step", "Write a number, or the name of a check that stands before" + Spelling.DidYouMean(name, earlier.Keys));
        }

        private IEnumerable<Problem> Evaluation(Step.Evaluate evaluate)
        {
            if (evaluate.Groups.IsEmpty == evaluate.Row.IsEmpty)
                yield return At(evaluate, "'evaluate' needs either 'readings' or 'row'", "Name the groups of readings in 'readings', or the columns of one row in 'row'");
            foreach (var group in evaluate.Groups.Where(group => !groups.ContainsKey(group)))
                yield return At(evaluate, $"there are no readings '{PlainText.Of(group)}' before this step", "Use the 'group' or the name of an earlier read step" + Spelling.DidYouMean(group, groups.Keys));
            if (surroundings.Kinds.FirstOrDefault(kind => kind.Id == evaluate.Kind) is not { } kind)
            {
                var ids = surroundings.Kinds.Select(one => one.Id).ToArray();
                yield return At(evaluate, $"'{PlainText.Of(evaluate.Kind)}' is no kind of characteristic", "Use one of: " + string.Join(", ", ids) + Spelling.DidYouMean(evaluate.Kind, ids));
                yield break;
            }

            var present = evaluate.Row.IsEmpty ? evaluate.Groups.SelectMany(group => groups.GetValueOrDefault(group, [])).ToHashSet() : [.. evaluate.Row.Keys];
            foreach (var missing in kind.Columns.Where(column => column.Required && !present.Contains(column.Name)))
                yield return At(evaluate, $"'{kind.Id}' reads the column '{missing.Name}', and these readings do not have it", Remedy(missing));
            foreach (var problem in OptionProblems(evaluate, kind)) yield return problem;
        }

        private static string Remedy(ColumnSpec missing) =>
            $"Use a grid that gives it, 'column: {missing.Name}' for the reading, or 'given:' for what is the same in all rows";

        private IEnumerable<Problem> OptionProblems(Step.Evaluate evaluate, CharacteristicKind kind)
        {
            foreach (var option in evaluate.Options.Keys.Where(name => kind.Options.All(known => known.Name != name)))
                yield return At(evaluate, $"'{kind.Id}' has no option '{PlainText.Of(option)}'", kind.Options.IsEmpty ? "Remove it" : "Use one of: " + string.Join(", ", kind.Options.Select(known => known.Name)) + Spelling.DidYouMean(option, kind.Options.Select(known => known.Name)));
            foreach (var required in kind.Options.Where(known => known.Required && !evaluate.Options.ContainsKey(known.Name)))
                yield return At(evaluate, $"'{kind.Id}' needs the option '{required.Name}'", $"Add it under 'options': {required.Meaning}");
        }

        private Problem At(Step step, string what, string remedy) => Problem(step.At, what, remedy);

        private Problem Problem((long Line, long Column) at, string what, string remedy) =>
            new(what, remedy) { File = procedure.File, Line = at.Line, Column = at.Column };
    }
}
