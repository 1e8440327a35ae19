using Commission.Core.Plans;

namespace Commission.Core.Procedures;

/// <summary>A reading on the medium, with what became of it.</summary>
public sealed record TakenReading
{
    /// <summary>Why a reading does not count that was taken back by going one step back.</summary>
    public const string TakenBack = "taken back";

    /// <summary>Sequence of its entry in the journal.</summary>
    public required long Sequence { get; init; }

    /// <summary>Count in the run, from 1.</summary>
    public required int Recorded { get; init; }

    /// <summary>Name of the step.</summary>
    public required string Step { get; init; }

    /// <summary>Name of the group.</summary>
    public required string Group { get; init; }

    /// <summary>Name of the quantity's column.</summary>
    public required string Column { get; init; }

    /// <summary>Index of the cell in the step's plan, from 0.</summary>
    public required int CellIndex { get; init; }

    /// <summary>The cell, with the position really commanded where the operator corrected it.</summary>
    public required PlanCell Cell { get; init; }

    /// <summary>What was typed.</summary>
    public required string Typed { get; init; }

    /// <summary>The value understood, mm or the unit of the column.</summary>
    public required double Value { get; init; }

    /// <summary>Why it does not count any more: replaced, taken back; null where it counts.</summary>
    public string? Superseded { get; init; }

    /// <summary>Why it is left out; null where it counts.</summary>
    public string? Excluded { get; init; }

    /// <summary>Whether a question about it was answered with: it is what it reads.</summary>
    public bool KeptThoughQuestioned { get; init; }

    /// <summary>Whether its value is one that the program suggested in a question and somebody took.</summary>
    public bool IsSuggested { get; init; }

    /// <summary>The question about it that was answered by reading it again or leaving it out; null where none was.</summary>
    public Need.SlipQuestion? Asked { get; init; }

    /// <summary>Word of the zero it belongs to; empty where the set-up was never disturbed before it.</summary>
    public string Zero => Cell.Words.GetValueOrDefault(ProcedureRun.ZeroColumn, "");

    /// <summary>Whether it is the reading of its cell.</summary>
    public bool Stands => Superseded is null;
}
