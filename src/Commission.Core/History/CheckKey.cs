namespace Commission.Core.History;

/// <summary>
/// Under which checks, and skips of checks, follow each other: only what has the same key makes one good, or takes its place. A number of
/// the power-up list means the same in whatever procedure it is made; every other check belongs to its procedure, axis and step.
/// </summary>
/// <param name="Check">Id of the check.</param>
/// <param name="Procedure">Id of the procedure; null for a number of the list, and outside runs.</param>
/// <param name="Axis">The axis; null where it concerns none.</param>
/// <param name="Step">Path of the step in the run; empty for a number of the list.</param>
public sealed record CheckKey(string Check, string? Procedure, string? Axis, string Step)
{
    private const int LetterOfList = 3;

    /// <summary>The key of a check.</summary>
    /// <param name="check">Id of the check.</param>
    /// <param name="step">Path of its step in the run.</param>
    /// <param name="procedure">Id of the run's procedure; null outside runs.</param>
    /// <param name="axis">Axis of the run; null where it has none.</param>
    public static CheckKey Of(string check, string step, string? procedure, string? axis) =>
        IsOfList(check) ? new(check, null, axis ?? AxisOf(step), "") : new(check, procedure, axis, step);

    /// <summary>The check in words, for example <c>back-at-mark of speed-under-load X</c>.</summary>
    public string Words => $"{Check}{(Procedure is null ? "" : " of " + Procedure)}{(Axis is null ? "" : " " + Axis)}{Round}";

    // Within a repeat the path tells which round.
    private string Round => Step.LastIndexOf('/') is > 0 and var end ? $" ({Step[..end]})" : "";

    // P05, P05a.
    private static bool IsOfList(string check) => check.Length is LetterOfList or LetterOfList + 1 && check[0] == 'P' && char.IsAsciiDigit(check[1]) && char.IsAsciiDigit(check[2])
        && (check.Length == LetterOfList || char.IsAsciiLetterLower(check[LetterOfList]));

    // The list checks some numbers once for each axis, in steps that are named after it.
    private static string? AxisOf(string step) => step.Length > 2 && step[^2] == '-' && step[^1] is >= 'x' and <= 'z' ? char.ToUpperInvariant(step[^1]).ToString() : null;
}
