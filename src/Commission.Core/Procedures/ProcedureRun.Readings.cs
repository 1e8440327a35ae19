using System.Collections.Immutable;

namespace Commission.Core.Procedures;

/// <content>What becomes of readings.</content>
public sealed partial record ProcedureRun
{
    /// <summary>Column that tells readings of different zeros apart; kinds that have it can go on after a set-up was disturbed.</summary>
    public const string ZeroColumn = "zero";

    /// <summary>Whether the readings under way may go on with a zero of their own after the set-up was disturbed.</summary>
    public bool MayHaveOwnZero => Current is { Step: Step.Read read } && Procedure.AllSteps.OfType<Step.Evaluate>().Where(evaluate => evaluate.Groups.Contains(read.Group))
        .All(evaluate => Characteristics.CharacteristicKinds.Find(evaluate.Kind)?.Columns.Any(column => column.Name == ZeroColumn) == true);

    /// <summary>Whether a reading shows what an earlier one at its place did that was read again: then it is no slip, however odd it is. What was taken back by a step back was not looked at a second time for that.</summary>
    /// <param name="reading">The reading.</param>
    /// <param name="within">How far the two may lie apart, in the unit of the readings.</param>
    public bool ReadsTheSame(TakenReading reading, double within) =>
        Readings.Any(one => !one.Stands && one.Superseded != TakenReading.TakenBack && one.Step == reading.Step && one.CellIndex == reading.CellIndex && Math.Abs(one.Value - reading.Value) <= within);

    /// <summary>Whether readings of a group are taken blind: they study the hand, and who sees what was read before reads towards it.</summary>
    /// <param name="group">Name of the group.</param>
    public bool IsBlind(string group) => Procedure.IsBlind(group);

    private ProcedureRun Disturbed() => MayHaveOwnZero
        ? this with { Disturbances = Disturbances + 1 }
        : this with { Note = "these readings belong to one set-up: read all of them again" };

    private ProcedureRun Taken(RunItem item, Step.Read read, RunEvent.ReadingTaken taken)
    {
        var cell = NextCell;
        if (!double.IsFinite(taken.Value)) return this with { Note = "the reading is not a finite number" };
        var place = taken.Given is { } given ? Cells[cell] with { Given = given } : Cells[cell];
        if (Disturbances > 0) place = place with { Words = place.Words.SetItem(ZeroColumn, ZeroWord) };
        if (taken.CommandedMm is { } commanded)
        {
            var column = place.Given.ContainsKey("commanded_mm") ? "commanded_mm" : "place_mm";
            if (place.Given.ContainsKey(column)) place = place with { Given = place.Given.SetItem(column, commanded) };
        }

        var reading = new TakenReading
        {
            Sequence = taken.Sequence, Recorded = Readings.Length + 1, Step = item.Name, Group = read.Group, Column = read.Column,
            CellIndex = cell, Cell = place, Typed = taken.Typed, Value = taken.Value,
        };
        return Complete(this with { Readings = Readings.Add(reading) });
    }

    private ProcedureRun CellMoved()
    {
        var cell = NextCell;
        var done = Moves.Cell == cell ? Moves.Done : 0;
        return this with { Moves = (cell, Math.Min(done + 1, Cells[cell].GoTo.Length)) };
    }

    private ProcedureRun Questioned(RunEvent.SlipFound found)
    {
        var reading = Standing(found.Sequence);
        if (reading is null) return this with { Note = "the reading in question does not count any more" };
        return this with { OpenQuestion = new Need.SlipQuestion(reading, found.Reason, found.Suggestion) { Step = reading.Step, OtherZero = found.OtherZero, Earlier = found.Earlier is { } earlier ? Standing(earlier) : null } };
    }

    private ProcedureRun Answered(Need.SlipQuestion question, RunEvent.SlipAnswered answered)
    {
        var run = this with { OpenQuestion = null };
        switch (answered)
        {
            case { Answer: SlipAnswer.ReadAgain }:
                return run.ReadingAgain(question.Reading.Sequence, "read again: " + question.Reason, question);
            case { Answer: SlipAnswer.EarlierAgain } when question.Earlier is { } earlier:
                return run.ReadingAgain(earlier.Sequence, "read again: " + question.Reason, question);
            case { Answer: SlipAnswer.AsSuggested, CorrectedSequence: { } sequence } when (answered.Corrected ?? question.Suggestion) is { } value:
                var corrected = question.Reading with
                {
                    Sequence = sequence,
                    Recorded = Readings.Length + 1,
                    Typed = AsTyped(value),
                    Value = value,
                    IsSuggested = true,
                };
                return run.Replaced(question.Reading.Sequence, reading => reading with { Superseded = "corrected: " + question.Reason }) is var after
                    ? after with { Readings = after.Readings.Add(corrected) }
                    : run;
            case { Answer: SlipAnswer.Keep }:
                return run.Replaced(question.Reading.Sequence, reading => reading with { KeptThoughQuestioned = true });
            default:
                return this with { Note = "there is no value to correct it to" };
        }
    }

    // A question that was open is closed with the reading that raised it.
    private ProcedureRun TakingBack(long sequence) => ReadingAgain(sequence, TakenReading.TakenBack) is { Note: null } run ? run with { OpenQuestion = null } : ReadingAgain(sequence, TakenReading.TakenBack);

    private ProcedureRun ReadingAgain(long sequence, string why, Need.SlipQuestion? asked = null)
    {
        if (Standing(sequence) is not { } reading) return this with { Note = "there is no such reading" };
        var index = Items.Select(item => item.Name).ToImmutableArray().IndexOf(reading.Step);
        if (index <= Settled) return this with { Note = "the reading was evaluated: start the procedure anew for a new result" };
        var run = Replaced(sequence, old => old with { Superseded = why, Asked = asked });
        return index == Position ? run : (run with { Position = index, Moves = (-1, 0) }).Entered();
    }

    private ProcedureRun LeavingOut(RunEvent.LeftOut left)
    {
        if (Standing(left.Sequence) is not { } reading) return this with { Note = "there is no such reading" };
        var asked = OpenQuestion is { } open && open.Reading.Sequence == reading.Sequence ? open : null;
        var run = Replaced(left.Sequence, old => old with { Excluded = left.Reason, Asked = asked });
        return asked is null ? run : run with { OpenQuestion = null };
    }

    private ProcedureRun PuttingBack(long sequence)
    {
        if (Readings.FirstOrDefault(reading => reading.Sequence == sequence) is not { } back || back is { Superseded: null, Excluded: null })
            return this with { Note = "there is nothing to put back" };
        if (Items.Select(item => item.Name).ToImmutableArray().IndexOf(back.Step) <= Settled) return this with { Note = "the reading was evaluated: start the procedure anew for a new result" };
        if (Readings.Any(other => other.Stands && other.Sequence != sequence && other.Step == back.Step && other.CellIndex == back.CellIndex))
            return this with { Note = "its place was read again since: take that reading back first" };
        // What was in question is in question again: nothing counts by going back that did not count before.
        var restored = back with { Superseded = null, Excluded = null, Asked = null };
        var run = Replaced(sequence, _ => restored) with { OpenQuestion = back.Asked is not { } asked ? null : asked.Earlier?.Sequence == sequence ? asked with { Earlier = restored } : asked with { Reading = restored } };
        return run.Current is { Step: Step.Read } item && item.Name == back.Step ? Complete(run) : run;
    }

    private ProcedureRun Replaced(long sequence, Func<TakenReading, TakenReading> change) =>
        this with { Readings = [.. Readings.Select(reading => reading.Sequence == sequence ? change(reading) : reading)] };

    private TakenReading? Standing(long sequence) => Readings.FirstOrDefault(reading => reading.Sequence == sequence && reading.Stands);
}
