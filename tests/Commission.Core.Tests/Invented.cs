using Commission.Core.Instruments;

namespace Commission.Tests;

/// <summary>Instruments that nobody sells.</summary>
internal static class Invented
{
    /// <summary>A caliper of 150 mm that may err by 0.03 mm.</summary>
    public static Instrument Caliper { get; } = new("caliper 150", InstrumentKind.CaliperDigital, 0.03, 0.01, 150, "invented");
}
