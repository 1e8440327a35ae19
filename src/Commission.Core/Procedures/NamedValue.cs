using Commission.Core.Characteristics;

namespace Commission.Core.Procedures;

/// <summary>What a named step left behind for later steps.</summary>
/// <param name="Number">The number; null where it was a word or a text.</param>
/// <param name="Unit">Its unit; null where there is none.</param>
/// <param name="Text">The answer as it was given.</param>
/// <param name="Finding">The finding, where the step was an evaluation.</param>
public sealed record NamedValue(double? Number, string? Unit, string Text, Finding? Finding = null);
