using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;

namespace Commission.Workshop.Requests;

/// <summary>Computes the published cases carried in the program.</summary>
public static class Prove
{
    /// <summary>A case with what came out.</summary>
    /// <param name="Kind">Id of the kind that computes it.</param>
    /// <param name="Case">The published case.</param>
    /// <param name="Computed">The value computed.</param>
    /// <param name="Digits">Significant digits that agree: minus the logarithm of the relative difference, at most 16.</param>
    /// <param name="Holds">Whether enough digits agree.</param>
    public sealed record Result(string Kind, PublishedCase Case, double Computed, double Digits, bool Holds);

    /// <summary>All cases of all kinds.</summary>
    public static ImmutableArray<Result> Run() =>
    [
        .. from kind in CharacteristicKinds.All
           from published in kind.PublishedCases
           select Of(kind.Id, published),
    ];

    private static Result Of(string kind, PublishedCase published)
    {
        var computed = published.Compute();
        var digits = Digits(computed, published.Published);
        return new Result(kind, published, computed, digits, digits >= published.LeastDigits);
    }

    /// <summary>Digits that agree with a number as printed.</summary>
    public static double Digits(double computed, string printed)
    {
        var expected = double.Parse(printed, NumberStyles.Float, CultureInfo.InvariantCulture);
        if (computed == expected)
            return 16;
        if (!double.IsFinite(computed) || expected == 0)
            return 0;
        return Math.Clamp(-Math.Log10(Math.Abs(computed - expected) / Math.Abs(expected)), 0, 16);
    }
}
