using System.Collections.Immutable;
using Commission.Core.Readings;
using Commission.Core.Tests.Support;

namespace Commission.Core.Tests.Characteristics;

public sealed class ColumnsKindTests
{
    private static FitOptions Asked(string words, double? degree = null) => new()
    {
        Words = words.Split(';').Select(pair => pair.Split('=')).ToImmutableDictionary(pair => pair[0], pair => pair[1]),
        Numbers = degree is { } d ? ImmutableDictionary<string, double>.Empty.Add("degree", d) : ImmutableDictionary<string, double>.Empty,
    };

    private static Finding Fit(ReadingTable table, string words, double? degree = null) => new ColumnsKind().Evaluate(table, Asked(words, degree)).Require();

    // JCGM 100:2008, H.3, table H.6: calibration of a thermometer. Published -0.1712 (u 0.0029), 0.00218 (u 0.00067), r -0.930, s 0.0035.
    [Fact]
    public void The_thermometer_of_the_guide_is_reproduced()
    {
        var raw = Some.Published("gum/h3_thermometer.csv");
        var table = Some.Table("t,b", [.. raw.Rows.Select(row => new[] { row["reading_degC"] - 20, row["observed_correction_degC"] })]);
        var finding = Fit(table, "response=b;predictors=t");
        var json = ReferenceData.Json("gum/h3_thermometer.json");
        foreach (var (name, value) in (ReadOnlySpan<(string, double)>)
        [
            ("y1", finding.Parameters[0].Value!.Value), ("y2", finding.Parameters[1].Value!.Value), ("s", finding.ResidualStandardDeviation!.Value),
            ("s_y1", finding.Parameters[0].StandardUncertainty!.Value), ("s_y2", finding.Parameters[1].StandardUncertainty!.Value),
            ("r", finding.Covariance[0][1] / Math.Sqrt(finding.Covariance[0][0] * finding.Covariance[1][1])),
        ])
        {
            Assert.True(ReferenceData.Digits(value, json.Number("exact_recomputed", name)) > 11, name);
        }

        Assert.Equal(-.1712, finding.Parameters[0].Value!.Value, 4);
        Assert.Equal(.0029, finding.Parameters[0].StandardUncertainty!.Value, 4);
        Assert.Equal(.00218, finding.Parameters[1].Value!.Value, 5);
        Assert.Equal(.00067, finding.Parameters[1].StandardUncertainty!.Value, 5);
        Assert.Equal(9, finding.Parameters[0].DegreesOfFreedom);
    }

    // NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.6.7.3: linewidth calibration, 40 readings.
    [Fact]
    public void The_linewidth_calibration_is_reproduced()
    {
        var finding = Fit(Some.Published("ehandbook/linewidth_calibration.csv"), "response=y_measured_um;predictors=x_reference_um");
        var json = ReferenceData.Json("ehandbook/linewidth_calibration.json");
        Assert.Equal(.2357623, finding.Parameters[0].Value!.Value, 7);
        Assert.Equal(.02430034, finding.Parameters[0].StandardUncertainty!.Value, 8);
        Assert.Equal(.9870377, finding.Parameters[1].Value!.Value, 7);
        Assert.Equal(.00344058, finding.Parameters[1].StandardUncertainty!.Value, 8);
        Assert.Equal(.06203, finding.ResidualStandardDeviation!.Value, 5);
        Assert.True(ReferenceData.Digits(finding.Covariance[0][1], json.Number("exact_recomputed", "cov_ab")) > 12);
        Assert.Equal("x_reference_um", finding.Parameters[1].Name);
        Assert.Equal(38, finding.Parameters[1].DegreesOfFreedom);
        Assert.Null(finding.Parameters[1].WhyNoUncertainty);
    }

    [Theory]
    [InlineData("norris", "response=y;predictors=x", null, 12.5)]
    [InlineData("pontius", "response=y;polynomial=x", 2.0, 12.5)]
    [InlineData("noint1", "response=y;predictors=x;no-constant=yes", null, 13)]
    [InlineData("longley", "response=y;predictors=x1,x2,x3,x4,x5,x6", null, 12.5)]
    [InlineData("wampler4", "response=y;polynomial=x", 5.0, 13)]
    public void Certified_sets_come_through_the_kind(string set, string words, double? degree, double digits)
    {
        var finding = Fit(Some.Published($"strd_linear/{set}.csv"), words, degree);
        var json = ReferenceData.Json($"strd_linear/{set}.json");
        foreach (var (parameter, name) in finding.Parameters.Zip(json.GetProperty("certified").GetProperty("estimates").EnumerateObject().Select(p => p.Name)))
        {
            Assert.True(ReferenceData.Digits(parameter.Value!.Value, json.Number("certified", "estimates", name, "value")) >= digits, name);
            Assert.True(ReferenceData.Digits(parameter.StandardUncertainty!.Value, json.Number("certified", "estimates", name, "standard_deviation")) >= digits, name);
        }

        Assert.True(ReferenceData.Digits(finding.ResidualStandardDeviation!.Value, json.Number("certified", "residual_standard_deviation")) >= digits);
    }

    [Fact]
    public void A_polynomial_names_its_powers()
    {
        var finding = Fit(Some.Published("strd_linear/pontius.csv"), "response=y;polynomial=x", 2);
        Assert.Equal(["constant", "x", "x^2"], finding.Parameters.Select(p => p.Name));
    }

    [Fact]
    public void A_weight_of_two_moves_the_estimate_as_two_rows_do()
    {
        var once = Some.Table("y,x,w", [1, 0, 1], [2.2, 1, 2], [2.9, 2, 1], [4.3, 3, 1]);
        var twice = Some.Table("y,x", [1, 0], [2.2, 1], [2.2, 1], [2.9, 2], [4.3, 3]);
        var (a, b) = (Fit(once, "response=y;predictors=x;weights=w"), Fit(twice, "response=y;predictors=x"));
        for (var j = 0; j < 2; j++) Assert.Equal(b.Parameters[j].Value!.Value, a.Parameters[j].Value!.Value, 13);
    }

    [Fact]
    public void As_many_parameters_as_rows_gives_values_and_says_why_there_is_no_uncertainty()
    {
        var finding = Fit(Some.Table("y,x", [1, 0], [3, 1]), "response=y;predictors=x");
        Assert.Equal(2, finding.Parameters[1].Value!.Value, 13);
        Assert.Null(finding.Parameters[1].StandardUncertainty);
        Assert.Equal("as many parameters as rows", finding.Parameters[1].WhyNoUncertainty);
        Assert.Null(finding.ResidualStandardDeviation);
    }

    [Theory]
    [InlineData("response=y;predictors=z", "there is no column z")]
    [InlineData("response=y", "the columns that explain the response are not clear")]
    [InlineData("response=y;predictors=y", "y cannot explain itself")]
    [InlineData("response=y;polynomial=x", "the degree of the polynomial is missing or not a whole number from 1 to 20")]
    [InlineData("response=y;predictors=x,x", "a predictor is named twice")]
    [InlineData("response=y;predictors=x,c", "the readings cannot tell constant and c apart")]
    public void What_cannot_be_fitted_is_said(string words, string what)
    {
        var table = Some.Table("y,x,c", [1, 0, 7], [3, 1, 7], [4, 2, 7], [9, 3, 7]);
        var bad = Assert.IsType<Outcome<Finding>.Bad>(new ColumnsKind().Evaluate(table, Asked(words)));
        Assert.Equal(what, Assert.Single(bad.Problems).What);
    }

    [Fact]
    public void An_empty_cell_and_a_weight_of_zero_name_their_rows()
    {
        var table = Some.Table("y,x,w", [1, 0, 1], [3, double.NaN, 1], [4, 2, 0], [9, 3, 1]);
        var bad = Assert.IsType<Outcome<Finding>.Bad>(new ColumnsKind().Evaluate(table, Asked("response=y;predictors=x;weights=w")));
        Assert.Equal([(3L, "x"), (4L, "w")], bad.Problems.Select(p => (p.Line!.Value, p.Field!)));
    }
}
