using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Plans;
using Commission.Core.Quantities;

namespace Commission.Core.Procedures;

/// <summary>A procedure being carried out: a value with one transition. Every event is answered; one that does not fit is noted, never lost and never fatal.
/// The same events give the same run, so a run is taken up again by replaying its entries.</summary>
public sealed partial record ProcedureRun
{
    private const int HazardsNotRead = -1;

    private ProcedureRun()
    {
    }

    /// <summary>The procedure.</summary>
    public required Procedure Procedure { get; init; }

    /// <summary>What was fixed at the start.</summary>
    public required RunSetting Setting { get; init; }

    /// <summary>The machine as it is known now; steps may have set facts.</summary>
    public required Machine Machine { get; init; }

    /// <summary>The steps with all rounds written out.</summary>
    public required ImmutableArray<RunItem> Items { get; init; }

    /// <summary>Index of the step that asks; -1 while the hazards are not read, the number of items at the end.</summary>
    public int Position { get; private init; } = HazardsNotRead;

    /// <summary>The cells of the step, where it takes readings; empty otherwise.</summary>
    public ImmutableArray<PlanCell> Cells { get; private init; } = [];

    /// <summary>All readings on the medium, in their order.</summary>
    public ImmutableArray<TakenReading> Readings { get; private init; } = [];

    /// <summary>What named steps left behind, by name of the step in the run.</summary>
    public ImmutableSortedDictionary<string, NamedValue> Values { get; private init; } =
        ImmutableSortedDictionary.Create<string, NamedValue>(StringComparer.Ordinal);

    /// <summary>The question about a reading; null where none is open.</summary>
    public Need.SlipQuestion? OpenQuestion { get; private init; }

    /// <summary>What was found by the check that is out; null where none is out.</summary>
    public string? CheckFound { get; private init; }

    /// <summary>How the run ended; null while it goes on.</summary>
    public string? How { get; private init; }

    /// <summary>Why it ended before its end.</summary>
    public string? WhyEnded { get; private init; }

    /// <summary>What became of the last event where it did not fit; null where it did.</summary>
    public string? Note { get; private init; }

    // Moves of a cell that were made over the link: they belong to the cell, a second reading of it needs none.
    private (int Cell, int Done) Moves { get; init; } = (-1, 0);

    // How often the set-up was disturbed.
    private int Disturbances { get; init; }

    // Ladders that ended before their last rung.
    private ImmutableHashSet<string> EndedLadders { get; init; } = [];

    // Readings of steps up to here were evaluated: they stand.
    private int Settled { get; init; } = HazardsNotRead;

    /// <summary>The step that asks; null before the hazards are read and at the end.</summary>
    public RunItem? Current => Position >= 0 && Position < Items.Length ? Items[Position] : null;

    /// <summary>Whether it has ended.</summary>
    public bool HasEnded => How is not null;

    /// <summary>What the plan takes for granted about the instrument, in words; null where it is known.</summary>
    public string? Assumption => Procedure.AllSteps.OfType<Step.Read>().Any(read => read.Grid is Grid.AlongAxis or Grid.Distances { Sheet: not null })
        ? Setting.Instrument switch
        {
            null => "No instrument is named. The positions suit a caliper of 150 mm whose limit of error is not known; the result then has no uncertainty. Add yours with 'instrument add' and name it.",
            { LimitMm: null } one => $"The limit of error of '{PlainText.Of(one.Name)}' is not known. The result tells the scatter of your hand, and no full uncertainty before the limit is found: compare the caliper once with a known length, or take the catalogue's value for its kind.",
            _ => null,
        }
        : null;

    /// <summary>Index of the cell to be read next; the number of cells where all are read.</summary>
    public int NextCell
    {
        get
        {
            var name = Current?.Name;
            var read = Readings.Where(reading => reading.Stands && reading.Step == name).Select(reading => reading.CellIndex).ToHashSet();
            return Enumerable.Range(0, Cells.Length).FirstOrDefault(cell => !read.Contains(cell), Cells.Length);
        }
    }

    /// <summary>The checks of the run that apply to the machine, in their order: one that is made at each axis counts once for each.</summary>
    public ImmutableArray<RunItem> Checks => [.. Items.Where(item => item.Step is Step.Check && Applies(item))];

    /// <summary>Starts a run.</summary>
    /// <returns>The run, or why it cannot start: the procedure does not apply, an axis is missing, a plan is not possible.</returns>
    public static Outcome<ProcedureRun> Start(Procedure procedure, RunSetting setting)
    {
        if (procedure.ForOneAxis && setting.Axis is null)
            return new Problem($"'{procedure.Id}' is carried out for one axis", "Name it with --axis X, Y or Z");
        var axis = procedure.ForOneAxis ? setting.Axis : null;
        if (!Conditions.Hold(procedure.When, setting.Machine, axis, setting))
            return new Problem($"'{procedure.Id}' does not apply to {setting.Machine.Name}: it is for " + DocumentText.Conditions(procedure.When), "Correct the description with 'machine edit' if it is wrong");
        var run = new ProcedureRun
        {
            Procedure = procedure,
            Setting = setting,
            Machine = setting.Machine,
            Items = RunItems.Of(procedure, axis, term => term.Number),
        };
        var problems = run.Items.Where(run.Applies)
            .Select(item => item.Step is Step.Read read ? GridPlan.Cells(read, item.Scope, run.Machine, setting) : null)
            .OfType<Outcome<ImmutableArray<PlanCell>>.Bad>()
            .SelectMany(bad => bad.Problems)
            .Distinct()
            .ToImmutableArray();
        return problems.IsEmpty ? run : new Outcome<ProcedureRun>.Bad(problems);
    }

    /// <summary>The run after an event.</summary>
    public ProcedureRun After(RunEvent happened)
    {
        var run = this with { Note = null };
        return (run, happened) switch
        {
            ({ HasEnded: true }, _) => run.Ignored(happened, "the run has ended"),
            (_, RunEvent.PositionLost) => run with { Moves = (-1, 0) },
            (_, RunEvent.Left left) => run with { How = left.How, WhyEnded = left.Reason, OpenQuestion = null },
            (_, RunEvent.LeftOut left) => run.LeavingOut(left),
            (_, RunEvent.TakenBack back) => run.TakingBack(back.Sequence),
            ({ OpenQuestion: { } question }, RunEvent.SlipAnswered answered) => run.Answered(question, answered),
            ({ OpenQuestion: not null }, _) => run.Ignored(happened, "a question about a reading is open"),
            (_, RunEvent.SlipFound found) => run.Questioned(found),
            (_, RunEvent.SetUpDisturbed) => run.Disturbed(),
            (_, RunEvent.PutBack back) => run.PuttingBack(back.Sequence),
            (_, RunEvent.ReadAgain again) => run.ReadingAgain(again.Sequence, "read again"),
            ({ Position: HazardsNotRead }, RunEvent.HazardsRead) => run.Advanced(),
            ({ CheckFound: not null }, RunEvent.CheckRepeated) => run with { CheckFound = null },
            ({ Current: { } item }, _) => run.At(item, happened),
            _ => run.Ignored(happened, "the hazards were not read"),
        };
    }

    /// <summary>The contradiction that an answer would bring into the machine's facts; null where it brings none.</summary>
    /// <param name="answer">The answer to the step that sets a fact.</param>
    public FactClash? Clash(RunEvent answer)
    {
        if (Current is not { Step: Step.Set set } item) return null;
        var axis = AxisOf(set, item);
        var known = FactClash.Among(Machine);
        // What a ratio is made of is asked one after the other: they are held together when the last of them is told.
        var whole = FactClash.RatioFacts.Contains(set.Fact) && !Items.Skip(Position + 1).Any(later => later.Step is Step.Set next && FactClash.RatioFacts.Contains(next.Fact) && AxisOf(next, later) == axis && Applies(later));
        return FactClash.Among(After(answer).Machine).FirstOrDefault(clash => clash.Suggestion is null ? !known.Contains(clash) : whole && clash.Axis == axis);
    }

    private static AxisName AxisOf(Step.Set set, RunItem item) => set.Axis?.Fixed ?? item.Scope.Axis ?? AxisName.X;

    /// <summary>The number that would settle a contradiction, where the step that asks sets just that fact; else null.</summary>
    public double? Settling(FactClash clash) => Current?.Step is Step.Set set && set.Fact == clash.Fact ? clash.Suggestion : null;

    private ProcedureRun At(RunItem item, RunEvent happened) => (item.Step, happened) switch
    {
        (Step.Check { MaySkip: true }, RunEvent.Skipped skipped) => Keeping(item.Name, new NamedValue(null, null, "skipped: " + skipped.Reason)) with { CheckFound = null },
        (Step.Check, _) when CheckFound is not null => Ignored(happened, "the check is out"),
        (Step.Instruct or Step.Confirm or Step.Power, RunEvent.Confirmed) => Advanced(),
        (Step.Wait, RunEvent.Waited) => Advanced(),
        (Step.MoveMachine, RunEvent.Moved) => Advanced(),
        (Step.Check check, RunEvent.Chosen chosen) => Checked(item, check, chosen.Word),
        (Step.Check { Answer: CheckAnswer.Number number } check, RunEvent.NumberGiven given) => Checked(item, check, number.Unit, given),
        (Step.Check { Answer: CheckAnswer.Line }, RunEvent.TextGiven given) => Keeping(item.Name, new NamedValue(null, null, given.Text)),
        (Step.Check { Answer: CheckAnswer.Rectangles }, RunEvent.TextGiven given) => Outlined(item, given.Text),
        (Step.Set set, RunEvent.Chosen chosen) => Knowing(item, set, chosen.Word),
        (Step.Set set, RunEvent.NumberGiven given) => Knowing(item, set, given.Value.ToString("R", System.Globalization.CultureInfo.InvariantCulture)),
        (Step.Ladder, RunEvent.Chosen chosen) => RungEnded(item, chosen.Word),
        (Step.Read read, RunEvent.ReadingTaken taken) => Taken(item, read, taken),
        (Step.Read, RunEvent.Moved) => CellMoved(),
        (Step.Evaluate, RunEvent.Evaluated evaluated) => Found(item, evaluated.Finding),
        (Step.Evaluate, RunEvent.NotEvaluated not) => Advanced() with { Settled = Position, Note = not.Why },
        (Step.Change, RunEvent.ChangeTold told) => Keeping(item.Name, new NamedValue(told.After, null, "changed")),
        (Step.Change, RunEvent.ChangeLeft) => Keeping(item.Name, new NamedValue(null, null, "left")),
        _ => Ignored(happened, $"step '{item.Name}' asks for something else"),
    };

    private ProcedureRun Ignored(RunEvent happened, string why) => this with { Note = $"{happened.GetType().Name} was not used: {why}" };

    private ProcedureRun Checked(RunItem item, Step.Check check, string word)
    {
        var options = ChoicesOf(check.Answer);
        if (!options.Any(option => option.Word == word)) return this with { Note = $"'{PlainText.Of(word)}' is none of the answers" };
        var passes = check.Answer is CheckAnswer.Word { Passes: var passing } ? passing.IsEmpty || passing.Contains(word) : word == "yes";
        return passes ? Keeping(item.Name, new NamedValue(null, null, word)) : this with { CheckFound = word };
    }

    private ProcedureRun Checked(RunItem item, Step.Check check, string unit, RunEvent.NumberGiven given)
    {
        if (!double.IsFinite(given.Value)) return this with { Note = "the number is not finite" };
        if (CheckLimits.Keeps(check.Limits, given.Value, term => Number(term, item.Scope) ?? FirstOf(term.Name)))
            return Keeping(item.Name, new NamedValue(given.Value, unit, PlainText.Of(given.Typed)));
        return this with { CheckFound = Shown($"{Scope.Shown(given.Value)} {unit}".TrimEnd()) };
    }

    /// <summary>The first reading of a group that stands, in its unit; null where there is none.</summary>
    /// <param name="group">Name of the group.</param>
    public double? FirstOf(string? group) => Readings.Where(reading => reading.Stands && reading.Group == group).MinBy(reading => (reading.Step == Readings[0].Step ? 0 : 1, reading.CellIndex))?.Value;

    // Typed in the machine's own unit, kept in millimetres.
    private ProcedureRun Outlined(RunItem item, string text) => Aids.KeepOut.Parse(text, Inches ? Inch.Mm : 1).Match(
        rectangles => Keeping(item.Name, new NamedValue(null, null, Aids.KeepOut.Text(rectangles))),
        problems => this with { Note = problems[0].What + ". " + problems[0].Remedy });

    private ProcedureRun Knowing(RunItem item, Step.Set set, string word)
    {
        var fact = MachineFacts.All[set.Fact];
        if (!fact.Words.IsEmpty && !fact.Words.Contains(word)) return this with { Note = $"'{PlainText.Of(word)}' is none of the answers" };
        var axis = AxisOf(set, item);
        double? number = fact.Words.IsEmpty && YamlFields.TryNumber(word, out var value) ? value : null;
        if (number < 0) return this with { Note = "a number above zero is wanted, or 0 where it is not known" };
        return (this with { Machine = fact.Set(Machine, axis, word) }).Keeping(item.Name, new NamedValue(number, fact.Unit, word));
    }

    private ProcedureRun RungEnded(RunItem item, string word)
    {
        var rung = item.Ladder!;
        return word switch
        {
            "yes" => Keeping(rung.Ladder, new NamedValue(rung.Value, ((Step.Ladder)item.Step).Unit, Scope.Shown(rung.Value))),
            "no" => (this with { EndedLadders = EndedLadders.Add(rung.Ladder) }).Advanced(),
            _ => this with { Note = $"'{PlainText.Of(word)}' is none of the answers" },
        };
    }

    private ProcedureRun Found(RunItem item, Finding finding) =>
        (this with { Settled = Position }).Keeping(item.Name, new NamedValue(finding.Headline.Value, finding.Headline.Unit, finding.Verdict.ToString(), finding));

    private ProcedureRun Keeping(string name, NamedValue value)
    {
        var run = this with { Values = Values.SetItem(name, value) };
        return run.WithLaddersWrittenOut().Advanced();
    }

    // A ladder may start at a value found by an earlier step: it gets its rungs when the value is known. What lies behind keeps its place.
    private ProcedureRun WithLaddersWrittenOut()
    {
        if (!Procedure.AllSteps.Any(step => step is Step.Ladder { Start.Name: not null } or Step.Ladder { End.Name: not null })) return this;
        var items = RunItems.Of(Procedure, Procedure.ForOneAxis ? Setting.Axis : null, term => Number(term, new Scope()));
        var same = items.Take(Position + 1).Select(item => item.Name).SequenceEqual(Items.Take(Position + 1).Select(item => item.Name));
        return same ? this with { Items = items } : this;
    }

    private ProcedureRun Advanced()
    {
        var position = Position + 1;
        while (position < Items.Length && !Asks(Items[position])) position++;
        var run = this with { Position = position, Cells = [], Moves = (-1, 0), CheckFound = null };
        return position < Items.Length ? run.Entered() : run with { How = "completed" };
    }

    private ProcedureRun Entered()
    {
        if (Current is not { Step: Step.Read read } item) return this;
        return GridPlan.Cells(read, item.Scope, Machine, Setting, term => Number(term, item.Scope)).Match(
            cells => Complete(this with { Cells = cells }),
            problems => this with { How = "aborted", WhyEnded = string.Join(" ", problems.Select(problem => problem.ToString())) });
    }

    private static ProcedureRun Complete(ProcedureRun run) => run.NextCell == run.Cells.Length ? run.Advanced() : run;

    private bool Asks(RunItem item) => Applies(item) && item.Step switch
    {
        Step.Change { Of: { } of } => Value(of, item.Scope)?.Finding is { Advice.Action: AdviceAction.Change },
        _ => true,
    };

    /// <summary>Whether a step is for this machine and axis, as they are known now, and of a rung that is tried.</summary>
    public bool Applies(RunItem item) =>
        (item.Ladder is null || !EndedLadders.Contains(item.Ladder.Ladder)) && Conditions.Hold(item.When, Machine, item.Scope.Axis, Setting);

    private NamedValue? Value(string name, Scope scope)
    {
        for (var path = scope.Path; ; path = Shorter(path))
        {
            if (Values.TryGetValue(path + name, out var value)) return value;
            if (path.Length == 0) break;
        }

        return Values.LastOrDefault(pair => pair.Key.EndsWith("/" + name, StringComparison.Ordinal)).Value;
    }

    private static string Shorter(string path)
    {
        var end = path.TrimEnd('/').LastIndexOf('/');
        return end < 0 ? "" : path[..(end + 1)];
    }

    private double? Number(Term term, Scope scope) => term switch
    {
        { Number: { } number } => number,
        { Name: { } name } when scope.Values.TryGetValue(name, out var rung) => rung * term.Fraction,
        { Name: { } name } => Value(name, scope)?.Number * term.Fraction,
        _ => null,
    };
}
