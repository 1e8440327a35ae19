using System.Collections.Immutable;

namespace Commission.Core.Fits;

/// <summary>What one pseudo-observation adds to the uncertainty of the estimates.</summary>
/// <param name="Source">Where the knowledge comes from, in words, as the caller gave it.</param>
/// <param name="Shared">Whether the same draw stands in other results too (an instrument's scale) or would be drawn afresh.</param>
/// <param name="Effects">Change of each estimate for one standard uncertainty of the pseudo-observation, signed, by column.</param>
public sealed record PriorPart(string Source, bool Shared, ImmutableArray<double> Effects);
