namespace Commission.Core.Procedures;

/// <summary>What is odd about a number that answers a step: asked about before it is kept.</summary>
/// <param name="Reason">What is odd, a clause.</param>
/// <param name="Meant">What it may have meant, in the unit asked for; null where nothing is near.</param>
public sealed record AnswerDoubt(string Reason, double? Meant)
{
    /// <summary>The doubt about a number: its sign first, then what is known besides; null where there is none.</summary>
    /// <param name="run">The run as it asks for the number.</param>
    /// <param name="shown">The number as typed, fit to be shown.</param>
    /// <param name="given">The answer.</param>
    public static AnswerDoubt? About(ProcedureRun run, string shown, RunEvent.NumberGiven given) =>
        SignWatch.About(run, given.Value) is { } sign ? new($"{shown}: {sign.Reason}", sign.Suggestion)
        : run.NoRung(given) is { } none ? new(none, null)
        : run.Clash(given) is { } clash ? new(clash.Reason, run.Settling(clash)) : null;
}
