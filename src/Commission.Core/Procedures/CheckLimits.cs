using System.Collections.Immutable;
using System.Diagnostics;

namespace Commission.Core.Procedures;

/// <summary>Limits of checks: in words, and whether a number keeps them.</summary>
public static class CheckLimits
{
    /// <summary>The limits in words; <c>any answer</c> where there is none.</summary>
    /// <param name="check">The check.</param>
    /// <param name="values">Gives named values; a name that it does not know, or null, stands as it is written.</param>
    public static string Words(Step.Check check, Func<Term, double?>? values = null) => check.Answer switch
    {
        CheckAnswer.YesNo => "yes",
        CheckAnswer.Rectangles => "four numbers for each rectangle, or none",
        CheckAnswer.Word { Passes.IsEmpty: false } word => string.Join(" or ", word.Passes),
        CheckAnswer.Number number when check.Limits.Length > 0 => string.Join(" and ", check.Limits.Select(limit => Words(limit, number.Unit == "1" ? "" : number.Unit, values))),
        _ => "any answer",
    };

    /// <summary>Whether a number keeps all limits.</summary>
    /// <param name="limits">The limits.</param>
    /// <param name="value">The number, in the unit of the limits.</param>
    /// <param name="values">Gives named values; null where one is not known, and then a limit that needs it is not kept.</param>
    public static bool Keeps(ImmutableArray<Limit> limits, double value, Func<Term, double?> values) =>
        limits.All(limit => Keeps(limit, value, values));

    private static bool Keeps(Limit limit, double value, Func<Term, double?> values) => limit switch
    {
        Limit.AtMost most => values(most.Most) is { } number && value <= number,
        Limit.AtLeast least => values(least.Least) is { } number && value >= number,
        Limit.Between between => value >= between.Low && value <= between.High,
        Limit.Near near => values(new Term(null, near.To)) is { } number && Math.Abs(value - number) <= near.Within * (1 + 1e-9),
        Limit.Relative relative => values(new Term(null, relative.To)) is { } number && Math.Abs(value - number) <= relative.Within * Math.Abs(number),
        _ => throw new UnreachableException(),
    };

    private static string Words(Limit limit, string unit, Func<Term, double?>? values) => limit switch
    {
        Limit.AtMost most => "at most " + Words(most.Most, unit, values),
        Limit.AtLeast least => "at least " + Words(least.Least, unit, values),
        Limit.Between between => $"from {Scope.Shown(between.Low)} to {Scope.Shown(between.High)} {unit}".TrimEnd(),
        Limit.Near near => $"within {Scope.Shown(near.Within)} {unit} of {(near.IsReading ? "the first reading" : "what was typed before")}",
        Limit.Relative relative => $"within {Scope.Shown(relative.Within * 100)} % of {Words(new Term(null, relative.To), unit, values)}",
        _ => throw new UnreachableException(),
    };

    private static string Words(Term term, string unit, Func<Term, double?>? values) => term switch
    {
        { Number: { } number } => $"{Scope.Shown(number)} {unit}".TrimEnd(),
        _ when values?.Invoke(term) is { } known => $"{Scope.Shown(known)} {unit}".TrimEnd(),
        { Fraction: 1 } => $"'{term.Name}'",
        _ => $"{Scope.Shown(term.Fraction)} times '{term.Name}'",
    };
}
