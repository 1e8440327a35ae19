using System.Collections.Immutable;

namespace Commission.Core.Fits;

/// <summary>A combination of unknowns that the readings leave open: adding it changes no reading.</summary>
/// <param name="Parts">The unknowns that take part, by column name, with their coefficients; the largest effect is 1.</param>
public sealed record NullDirection(ImmutableArray<(string Column, double Coefficient)> Parts)
{
    /// <summary>Whether an unknown takes part.</summary>
    public bool Involves(string column) => Parts.Any(part => part.Column == column);

    /// <summary>The direction in words, a clause without a full stop.</summary>
    public string InWords => Parts.Length == 1
        ? $"nothing in the readings depends on {Parts[0].Column}"
        : $"the readings cannot tell {Named()} apart";

    private string Named()
    {
        var names = Parts.Select(part => part.Column).ToArray();
        return string.Join(", ", names[..^1]) + " and " + names[^1];
    }
}
