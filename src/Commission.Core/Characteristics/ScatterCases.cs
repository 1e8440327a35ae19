using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Fits;
using Commission.Core.Readings;
using Commission.Core.Suspects;

namespace Commission.Core.Characteristics;

/// <summary>Outside cases of the kinds that look at scatter and at its change over time.</summary>
internal static class ScatterCases
{
    private const string Limits = "Grubbs' critical values, two-sided 5 %: ISO 5725-2 table 5, ASTM E178";
    private const string Manual = "AIAG, Measurement Systems Analysis, 4th edition (2010), III-B, table of the analysis of variance (as remembered; data read)";
    private const string Voltage = "JCGM 100:2008, H.5, table H.9: ten days of five readings, rebuilt from the printed means and standard deviations (as remembered)";
    private const string Average = "NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4, exponentially weighted moving average";

    /// <summary>Limits for outliers among repeats.</summary>
    public static ImmutableArray<PublishedCase> Repeats { get; } =
    [
        .. new (int Count, string Published)[] { (3, "1.155"), (4, "1.481"), (5, "1.715"), (6, "1.887"), (8, "2.126"), (10, "2.290"), (12, "2.412"), (15, "2.549"), (20, "2.709"), (30, "2.908") }
            .Select(limit => new PublishedCase(Limits, $"limit for {limit.Count} repeats", limit.Published, 3.1, () => Outliers.GrubbsLimit(limit.Count))),
    ];

    /// <summary>Repeatability within objects.</summary>
    public static ImmutableArray<PublishedCase> Studies { get; } =
    [
        new(Manual, "mean square of the equipment, 60 degrees of freedom", "0.04598", 4.2, () => Math.Pow(Study(Parts()), 2)),
        new(Voltage, "pooled standard deviation within the days, microvolt", "85", 2.5, () => Study(Days())),
        new(Voltage, "F of the days", "2.25", 2.2, () => OneWayAnalysis.Of([.. Days().GroupBy(r => r.Object, r => r.Reading).Select(g => g.ToArray())]).F),
    ];

    /// <summary>The level filter at a steady gain of 0.3 is the published average.</summary>
    public static ImmutableArray<PublishedCase> Levels { get; } =
    [
        .. new[] { "50.60", "49.52", "50.56", "50.18", "50.16", "49.21", "49.75", "49.85", "50.26", "50.33", "50.11", "49.36", "49.52", "50.05", "49.38", "49.92", "50.73", "51.23", "51.94", "51.99" }
            .Select((published, i) => new PublishedCase(Average, $"average {i + 1}", published, 3.9, () => Levelled(i + 1))),
    ];

    private static double Study(IEnumerable<(string Object, double Reading)> readings) => new GaugeStudy().Evaluate(new ReadingTable
    {
        Source = "published",
        Columns = ["object", "trial", "reading_mm"],
        Rows = [.. readings.Select((r, i) => new ReadingRow
        {
            Number = i + 1,
            Numbers = ImmutableDictionary<string, double>.Empty.Add("reading_mm", r.Reading),
            Words = ImmutableDictionary<string, string>.Empty.Add("object", r.Object),
        })],
    }, new FitOptions()).Require().Headline.Value!.Value;

    private static IEnumerable<(string Object, double Reading)> Parts() => PublishedSets.Table("gauge_rr/gauge_rr_10x3x3", words: ["appraiser"]).Rows
        .Select(row => (row.Words["appraiser"] + row["part"].ToString(CultureInfo.InvariantCulture), row["y"]));

    // Five values with mean 0 and standard deviation 1 carry the printed mean and standard deviation of a day.
    private static IEnumerable<(string Object, double Reading)> Days() => PublishedSets.Table("gum/h5_voltage_anova").Rows.SelectMany(row =>
        Enumerable.Range(-2, 5).Select(k => (row["day"].ToString(CultureInfo.InvariantCulture), row["daily_mean_minus_10V_microvolt"] + k / Math.Sqrt(2.5) * row["within_day_sd_microvolt"])));

    private static double Levelled(int count)
    {
        // Gain 0.3 is steady where q / u^2 = 0.3^2 / 0.7, from a start with variance 0.3 u^2.
        var filter = new LevelFilter(0.09 / 0.7);
        filter.Take(50, Math.Sqrt(0.3), 0);
        foreach (var row in PublishedSets.Table("ehandbook/ewma").Rows.Take(count)) filter.Take(row["x"], 1, 1);
        return filter.Level;
    }
}
