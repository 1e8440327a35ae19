using System.Collections.Immutable;

namespace Commission.Core.Instruments;

/// <summary>What is taken for a hand that made no study.</summary>
public static class UsualHand
{
    private const double Other = 0.02;

    private static readonly ImmutableDictionary<InstrumentKind, double> Scatters = new Dictionary<InstrumentKind, double>
    {
        [InstrumentKind.CaliperDigital] = 0.02, [InstrumentKind.CaliperVernier] = 0.03, [InstrumentKind.Indicator] = 0.01, [InstrumentKind.Tape] = 0.2,
        [InstrumentKind.Rule] = 0.15, [InstrumentKind.LengthStandard] = 0.01, [InstrumentKind.Square] = 0.01,
    }.ToImmutableDictionary();

    /// <summary>Scatter of one reading that is usual with a kind of instrument, mm (common practice, no source).</summary>
    /// <param name="kind">Kind of instrument.</param>
    public static double ScatterMm(InstrumentKind kind) => Scatters.GetValueOrDefault(kind, Other);
}
