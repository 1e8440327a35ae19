using System.Collections.Immutable;
using Commission.Core.Fits;

namespace Commission.Core.Characteristics;

/// <summary>Published cases of plain least squares, sample statistics and analysis of variance.</summary>
internal static class ColumnsCases
{
    private const string Linear = "NIST/ITL Statistical Reference Datasets, Linear Least Squares Regression";
    private const string Univariate = "NIST/ITL Statistical Reference Datasets, Univariate Summary Statistics";
    private const string Variance = "NIST/ITL Statistical Reference Datasets, Analysis of Variance";

    // Digits: what double precision leaves of the certified values, a digit less for univariate and variance sets.
    private static readonly ImmutableArray<(string Set, string Response, string? Predictors, int Degree, bool Constant, double Digits)> Sets =
    [
        ("norris", "y", "x", 0, true, 12.5),
        ("pontius", "y", null, 2, true, 12.5),
        ("noint1", "y", "x", 0, false, 13),
        ("longley", "y", "x1,x2,x3,x4,x5,x6", 0, true, 12.5),
        ("wampler1", "y", null, 5, true, 13),
        ("wampler2", "y", null, 5, true, 12.5),
        ("wampler3", "y", null, 5, true, 13),
        ("wampler4", "y", null, 5, true, 13),
        ("filip", "y", null, 10, true, 12.5),
    ];

    private static readonly ImmutableArray<(string Set, double Mean, double Deviation, double Autocorrelation)> Samples =
    [
        ("pidigits", 14, 13.8, 13.8), ("lottery", 14, 13.8, 13.8), ("lew", 14, 13.8, 13.8), ("michelso", 14, 12.4, 12.4),
        ("numacc1", 14, 14, 14), ("numacc2", 14, 14, 14), ("numacc3", 14, 8.5, 8.5),
    ];

    private static readonly ImmutableArray<(string Set, double Digits)> Analyses = [("sirstv", 12.1), ("smls01", 13.5), ("smls02", 13.5), ("smls04", 9.4), ("smls05", 9.2)];

    public static ImmutableArray<PublishedCase> All { get; } = [.. Sets.SelectMany(Certified), .. Thermometer(), .. Linewidth(), .. LoadCell(), .. Samples.SelectMany(Described), .. Analyses.SelectMany(Analysed)];

    private static IEnumerable<PublishedCase> Certified((string Set, string Response, string? Predictors, int Degree, bool Constant, double Digits) set)
    {
        var path = "strd_linear/" + set.Set;
        var fit = new Lazy<Finding>(() => Fit(path, set.Response, set.Predictors, set.Degree, set.Constant));
        var count = set.Predictors?.Split(',').Length ?? set.Degree;
        for (var k = set.Constant ? 0 : 1; k <= count; k++)
        {
            var (index, name) = (set.Constant ? k : k - 1, $"B{k}");
            yield return new(Linear, $"{set.Set}, {name}", PublishedSets.Printed(path, "certified", "estimates", name, "value"), set.Digits, () => fit.Value.Parameters[index].Value!.Value);

            // Exact data have standard deviation 0, of which no digits can be counted.
            if (set.Set is not ("wampler1" or "wampler2"))
                yield return new(Linear, $"{set.Set}, standard deviation of {name}", PublishedSets.Printed(path, "certified", "estimates", name, "standard_deviation"), set.Digits, () => fit.Value.Parameters[index].StandardUncertainty!.Value);
        }

        if (set.Set is not ("wampler1" or "wampler2"))
            yield return new(Linear, $"{set.Set}, residual standard deviation", PublishedSets.Printed(path, "certified", "residual_standard_deviation"), set.Digits, () => fit.Value.ResidualStandardDeviation!.Value);
    }

    private static IEnumerable<PublishedCase> Thermometer()
    {
        const string source = "JCGM 100:2008, Guide to the expression of uncertainty in measurement, H.3, table H.6";
        var fit = new Lazy<Finding>(() =>
        {
            var raw = PublishedSets.Table("gum/h3_thermometer");
            var shifted = raw with { Rows = [.. raw.Rows.Select(row => row with { Numbers = row.Numbers.SetItem("reading_degC", row["reading_degC"] - 20) })] };
            return Fit(shifted, "observed_correction_degC", "reading_degC", 0, true);
        });
        yield return new(source, "thermometer, intercept at 20 degrees C", "-0.1712", 4.5, () => fit.Value.Parameters[0].Value!.Value);
        yield return new(source, "thermometer, its standard uncertainty", "0.0029", 2.1, () => fit.Value.Parameters[0].StandardUncertainty!.Value);
        yield return new(source, "thermometer, slope", "0.00218", 2.9, () => fit.Value.Parameters[1].Value!.Value);
        yield return new(source, "thermometer, its standard uncertainty", "0.00067", 2.5, () => fit.Value.Parameters[1].StandardUncertainty!.Value);
        yield return new(source, "thermometer, correlation", "-0.930", 3.3, () => fit.Value.Covariance[0][1] / Math.Sqrt(fit.Value.Covariance[0][0] * fit.Value.Covariance[1][1]));
        yield return new(source, "thermometer, residual standard deviation", "0.0035", 3, () => fit.Value.ResidualStandardDeviation!.Value);
    }

    private static IEnumerable<PublishedCase> Linewidth()
    {
        const string source = "NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.6.7.3, linewidth calibration";
        var fit = new Lazy<Finding>(() => Fit("ehandbook/linewidth_calibration", "y_measured_um", "x_reference_um", 0, true));
        yield return new(source, "intercept", "0.2357623", 7, () => fit.Value.Parameters[0].Value!.Value);
        yield return new(source, "standard deviation of the intercept", "0.02430034", 6.5, () => fit.Value.Parameters[0].StandardUncertainty!.Value);
        yield return new(source, "slope", "0.9870377", 7, () => fit.Value.Parameters[1].Value!.Value);
        yield return new(source, "standard deviation of the slope", "0.00344058", 6.5, () => fit.Value.Parameters[1].StandardUncertainty!.Value);
        yield return new(source, "covariance of intercept and slope", "-7.649453e-05", 6.9, () => fit.Value.Covariance[0][1]);
        yield return new(source, "residual standard deviation", "0.06203", 4.2, () => fit.Value.ResidualStandardDeviation!.Value);
    }

    private static IEnumerable<PublishedCase> LoadCell()
    {
        const string source = "NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.6.5, load cell of 33 points (coefficients as remembered, data read)";
        var fit = new Lazy<Finding>(() => Fit(PublishedSets.Table("ehandbook/load_cell"), "reading", null, 2, true, "load_psi"));
        yield return new(source, "constant", "-0.183980E-04", 5.3, () => fit.Value.Parameters[0].Value!.Value);
        yield return new(source, "linear coefficient", "0.100102", 5.2, () => fit.Value.Parameters[1].Value!.Value);
        yield return new(source, "quadratic coefficient", "0.703186E-05", 5.8, () => fit.Value.Parameters[2].Value!.Value);
    }

    private static IEnumerable<PublishedCase> Described((string Set, double Mean, double Deviation, double Autocorrelation) sample)
    {
        var path = "strd_univariate/" + sample.Set;
        var found = new Lazy<SampleStatistics>(() => SampleStatistics.Of([.. PublishedSets.Table(path).Rows.Select(row => row["y"])]));
        yield return new(Univariate, $"{sample.Set}, mean", PublishedSets.Printed(path, "certified", "mean"), sample.Mean, () => found.Value.Mean);
        yield return new(Univariate, $"{sample.Set}, standard deviation", PublishedSets.Printed(path, "certified", "standard_deviation"), sample.Deviation, () => found.Value.StandardDeviation!.Value);
        yield return new(Univariate, $"{sample.Set}, autocorrelation", PublishedSets.Printed(path, "certified", "autocorrelation_lag1"), sample.Autocorrelation, () => found.Value.Autocorrelation!.Value);
    }

    private static IEnumerable<PublishedCase> Analysed((string Set, double Digits) set)
    {
        var path = "strd_anova/" + set.Set;
        var found = new Lazy<OneWayAnalysis>(() => OneWayAnalysis.Of([.. PublishedSets.Table(path).Rows.GroupBy(row => row["group"], row => row["y"]).Select(group => group.ToArray())]));
        yield return new(Variance, $"{set.Set}, F", PublishedSets.Printed(path, "certified", "between", "f"), set.Digits, () => found.Value.F);
        yield return new(Variance, $"{set.Set}, residual standard deviation", PublishedSets.Printed(path, "certified", "residual_standard_deviation"), set.Digits, () => found.Value.ResidualStandardDeviation);
        yield return new(Variance, $"{set.Set}, R squared", PublishedSets.Printed(path, "certified", "r_squared"), set.Digits, () => found.Value.RSquared);
    }

    private static Finding Fit(string path, string response, string? predictors, int degree, bool constant) => Fit(PublishedSets.Table(path), response, predictors, degree, constant);

    private static Finding Fit(Readings.ReadingTable table, string response, string? predictors, int degree, bool constant, string power = "x")
    {
        var words = ImmutableDictionary<string, string>.Empty.Add("response", response).Add(predictors is null ? "polynomial" : "predictors", predictors ?? power);
        return new ColumnsKind().Evaluate(table, new FitOptions
        {
            Words = constant ? words : words.Add("no-constant", "yes"),
            Numbers = degree == 0 ? ImmutableDictionary<string, double>.Empty : ImmutableDictionary<string, double>.Empty.Add("degree", degree),
        }).Require();
    }
}
