using System.Collections.Immutable;
using Commission.Core.Quantities;

namespace Commission.Core.Characteristics;

/// <summary>Published cases behind the axis scale: coverage from the distribution the parts have.</summary>
internal static class AxisScaleCases
{
    private const string Caliper = "EA-4/02 M, Evaluation of the Uncertainty of Measurement in Calibration, Supplement 2, example S10 (from memory)";
    private const string EndGauge = "JCGM 100:2008, Guide to the expression of uncertainty in measurement, H.1";

    public static ImmutableArray<PublishedCase> All { get; } =
    [
        new(Caliper, "coverage factor of the vernier caliper, 95 %", "1.83", 2.6, () => Coverage.TwoSided(.95, 0, 1, 25, 50) / Math.Sqrt(((25.0 * 25) + (50 * 50)) / 3)),
        new(Caliper, "expanded uncertainty of the vernier caliper, mm", "0.06", 1.9, () => Coverage.TwoSided(.95, 0, 1, 25, 50, .8, 3.45) / 1000),
        new(EndGauge, "t for 99 % and 16 degrees of freedom", "2.92", 3, () => StudentT.Quantile(.995, 16)),
        new(EndGauge, "expanded uncertainty of the end gauge, 99 %, nm", "93", 2.2, () => Coverage.TwoSided(.99, 32, 16)),
    ];
}
