using System.Collections.Immutable;
using Commission.Core.Quantities;

namespace Commission.Core.Characteristics;

/// <summary>Published cases behind the axis scale: coverage from the distribution the parts have.</summary>
internal static class AxisScaleCases
{
    private const string Caliper = "EA-4/02 M, Evaluation of the Uncertainty of Measurement in Calibration, Supplement 2, example S10 (from memory)";
    private const string EndGauge = "JCGM 100:2008, Guide to the expression of uncertainty in measurement, H.1";

    private const string GaugeBlock = "EA-4/02 M, Supplement 1, example S4 (from memory)";

    // Contributions of the budget of example S4, nm.
    private static readonly Spread Block = new(
    [
        new("reference", 15.0), new("drift", 17.3), new("difference", 5.37), new("comparator", 18.5), new("temperature difference", 16.6),
        new("expansion times temperature", 11.8), new("form", 3.87),
    ]);

    private const string Tables = "NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7";

    // Contributions of table H.1, nm, with their degrees of freedom.
    private static readonly Spread Gauge = new(
    [
        new("standard", 25, 18), new("comparison", 9.7, 25.6), new("expansion", 2.9, 50), new("temperature difference", 16.6, 2),
    ]);

    public static ImmutableArray<PublishedCase> All { get; } =
    [
        new(Tables, "t, 97.5 %, 9 degrees of freedom", "2.262", 4, () => StudentT.Quantile(.975, 9)),
        new(Tables, "t, 99.5 %, 16 degrees of freedom", "2.921", 4, () => StudentT.Quantile(.995, 16)),
        new(Tables, "chi-square, 95 %, 10 degrees of freedom", "18.307", 5, () => ChiSquare.Quantile(.95, 10)),
        new(Tables, "F, 95 %, 2 and 10 degrees of freedom", "4.103", 4, () => FisherF.Quantile(.95, 2, 10)),
        new(EndGauge, "combined standard uncertainty of the end gauge, nm", "32", 1.9, () => Gauge.Combined),
        new(EndGauge, "effective degrees of freedom of the end gauge", "16.7", 2.3, () => Gauge.DegreesOfFreedom),
        new(GaugeBlock, "combined standard uncertainty of the gauge block, nm", "36.4", 3, () => Block.Combined),
        new(GaugeBlock, "expanded uncertainty of the gauge block, k = 2, nm", "73", 2.4, () => 2 * Block.Combined),
        new(Caliper, "coverage factor of the vernier caliper, 95 %", "1.83", 2.6, () => Coverage.TwoSided(.95, 0, 1, 25, 50) / Math.Sqrt(((25.0 * 25) + (50 * 50)) / 3)),
        new(Caliper, "expanded uncertainty of the vernier caliper, mm", "0.06", 1.9, () => Coverage.TwoSided(.95, 0, 1, 25, 50, .8, 3.45) / 1000),
        new(EndGauge, "t for 99 % and 16 degrees of freedom", "2.92", 3, () => StudentT.Quantile(.995, 16)),
        new(EndGauge, "expanded uncertainty of the end gauge, 99 %, nm", "93", 2.2, () => Coverage.TwoSided(.99, 32, 16)),
    ];
}
