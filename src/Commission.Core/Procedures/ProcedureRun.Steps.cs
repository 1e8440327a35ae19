using static System.FormattableString;

namespace Commission.Core.Procedures;

/// <content>Its steps as this machine and axis have them, and what becomes of a ladder with the ends that are told for it.</content>
public sealed partial record ProcedureRun
{
    /// <summary>How many steps are for this machine and axis, as they are known now.</summary>
    public int StepCount => Items.Count(Applies);

    /// <summary>Those steps, in their order.</summary>
    public IEnumerable<RunItem> Way => Items.Where(Applies);

    /// <summary>Which of them asks, from 1; the last one at the end.</summary>
    public int StepNumber => Math.Min(Items.Take(Math.Max(Position, 0)).Count(Applies) + 1, StepCount);

    /// <summary>Whether a step of it moves the machine over a link by itself, readings apart.</summary>
    public bool HasMoves => Items.Any(item => item.Step is Step.MoveMachine && Applies(item));

    /// <summary>Whether it brings the machine to places in its travel: over a link the position must be trusted for that.</summary>
    public bool GoesToPlaces => Items.Any(item => Applies(item) && item.Step switch
    {
        Step.Read read => GridPlan.Cells(read, item.Scope, Machine, Setting).Match(cells => cells.Any(cell => !cell.GoTo.IsEmpty), _ => false),
        Step.MoveMachine move => move.Moves.Any(plan => plan.Kind is MoveKind.To or MoveKind.ToFraction or MoveKind.Home),
        _ => false,
    });

    /// <summary>From which place on, an index of the step's cells, readings have a zero of their own, because the set-up was disturbed; null where all share one.</summary>
    public int? OwnZeroFrom => Disturbances == 0 || Current is not { } item ? null
        : Readings.FirstOrDefault(reading => reading.Stands && reading.Step == item.Name && reading.Zero == ZeroWord)?.CellIndex ?? NextCell;

    private string ZeroWord => (Disturbances + 1).ToString(System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>Why a ladder would have no rung: its end lies before its start.</summary>
    /// <param name="given">The answer to the step that asks for one of the two.</param>
    /// <returns>A clause; null where the ladder has rungs, and where the other of the two is not known yet.</returns>
    public string? NoRung(RunEvent.NumberGiven given)
    {
        if (Current is not { Step: Step.Check check, Scope: var scope } || !CheckLimits.Keeps(check.Limits, given.Value, term => Number(term, scope))) return null;
        foreach (var ladder in Procedure.AllSteps.OfType<Step.Ladder>().Where(ladder => check.Name is { } name && (ladder.Start.Name == name || ladder.End.Name == name)))
        {
            double? Of(Term term) => term.Name == check.Name ? given.Value * term.Fraction : Number(term, scope);
            if (Of(ladder.Start) is { } start && Of(ladder.End) is { } end && (ladder.Factor > 1 ? end < start : end > start))
                return Invariant($"the ladder would begin at {start:0.###} {ladder.Unit} and end at {end:0.###} {ladder.Unit}: not one rung lies between");
        }

        return null;
    }
}
