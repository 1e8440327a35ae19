using System.Collections.Immutable;

namespace Commission.Core.Plans;

/// <summary>What becomes of many machines like this one.</summary>
/// <param name="Of">What they have in common, in words.</param>
/// <param name="Draws">How many were reckoned with.</param>
/// <param name="Fates">What becomes of them, one line for each thing that can be done.</param>
public sealed record PlanProspect(string Of, int Draws, ImmutableArray<PlanFate> Fates);

/// <summary>What one thing that can be done makes of them.</summary>
/// <param name="Done">What is done, in words.</param>
/// <param name="Worse">Share that is worse than before, 0 to 1; null where nothing is done.</param>
/// <param name="TypicalError">Root mean square of the error that is left, in the unit of the headline.</param>
public sealed record PlanFate(string Done, double? Worse, double TypicalError);
