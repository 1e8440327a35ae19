using Commission.Core.Fits;
using Commission.Core.Tests.Support;

namespace Commission.Core.Tests.Published;

// NIST/ITL Statistical Reference Datasets: univariate summary statistics and analysis of variance, in shared/reference. The digits that a
// reader of doubles can reach at best are those of the table in its README; one digit less is demanded against the certified values.
public sealed class StrdSampleTests
{
    [Theory]
    [InlineData("pidigits", 13.8)]
    [InlineData("lottery", 13.8)]
    [InlineData("lew", 13.8)]
    [InlineData("michelso", 12.4)]
    [InlineData("numacc1", 14)]
    [InlineData("numacc2", 14)]
    [InlineData("numacc3", 8.5)]
    public void Univariate_sets_keep_their_digits(string set, double digits)
    {
        var json = ReferenceData.Json($"strd_univariate/{set}.json");
        var found = SampleStatistics.Of(ReferenceData.Column($"strd_univariate/{set}.csv", "y"));
        foreach (var (name, value) in (ReadOnlySpan<(string, double)>)
            [("mean", found.Mean), ("standard_deviation", found.StandardDeviation!.Value), ("autocorrelation_lag1", found.Autocorrelation!.Value)])
        {
            Assert.True(ReferenceData.Digits(value, json.Number("certified", name)) >= digits, $"{name} {value:R}");
            Assert.True(ReferenceData.Digits(value, json.Number("exact_on_inputs_rounded_to_binary64", name)) >= 14.5, $"exact {name} {value:R}");
        }
    }

    [Theory]
    [InlineData("sirstv", 12.1)]
    [InlineData("smls01", 14)]
    [InlineData("smls02", 14)]
    [InlineData("smls03", 14)]
    [InlineData("smls04", 9.4)]
    [InlineData("smls05", 9.2)]
    [InlineData("smls06", 9.2)]
    public void Analysis_of_variance_sets_keep_their_digits(string set, double digits)
    {
        var json = ReferenceData.Json($"strd_anova/{set}.json");
        var groups = ReferenceData.Csv($"strd_anova/{set}.csv").GroupBy(row => row["group"], row => ReferenceData.Number(row["y"])).Select(group => group.ToArray());
        var found = OneWayAnalysis.Of([.. groups]);
        Assert.True(ReferenceData.Digits(found.F, json.Number("certified", "between", "f")) >= digits, $"F {found.F:R}");
        Assert.True(ReferenceData.Digits(found.ResidualStandardDeviation, json.Number("certified", "residual_standard_deviation")) >= digits);
        Assert.True(ReferenceData.Digits(found.RSquared, json.Number("certified", "r_squared")) >= digits);
        Assert.True(ReferenceData.Digits(found.F, json.Number("exact_on_inputs_rounded_to_binary64", "f")) >= 14.5, $"exact F {found.F:R}");
    }
}
