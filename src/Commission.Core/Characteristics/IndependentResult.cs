namespace Commission.Core.Characteristics;

/// <summary>An earlier result for the same quantity, for agreement between instruments.</summary>
/// <param name="Value">Its value, in the unit of the headline.</param>
/// <param name="StandardUncertainty">Its combined standard uncertainty, positive.</param>
/// <param name="Instrument">Name of the instrument it stands on.</param>
public sealed record IndependentResult(double Value, double StandardUncertainty, string Instrument);
