using System.Text.Json;
using Commission.Core.Reports;

namespace Commission.Core.Tests.Reports;

public sealed class FindingJsonTests
{
    private static readonly Finding Sample = new()
    {
        Kind = "axis-scale",
        Method = "axis-scale/1",
        Rows = 3,
        Used = 2,
        Parameters = [new FittedParameter { Name = "scaleError", Unit = "1", Value = 0.1, DegreesOfFreedom = double.PositiveInfinity, WhyNoUncertainty = "no instrument named" }],
        Verdict = Verdict.Undecided,
        Advice = new Advice { Action = AdviceAction.MeasureMore, Because = "too few readings" },
    };

    [Fact]
    public void Numbers_carry_17_significant_digits()
    {
        var text = JsonText.Of(writer => FindingJson.Write(writer, Sample));
        Assert.Contains("\"value\":0.10000000000000001,", text, StringComparison.Ordinal);
    }

    [Fact]
    public void What_cannot_be_given_is_null_with_its_reason()
    {
        using var json = JsonDocument.Parse(JsonText.Of(writer => FindingJson.Write(writer, Sample)));
        var parameter = json.RootElement.GetProperty("parameters")[0];
        Assert.Equal(JsonValueKind.Null, parameter.GetProperty("expandedUncertainty").ValueKind);
        Assert.Equal(JsonValueKind.Null, parameter.GetProperty("degreesOfFreedom").ValueKind);
        Assert.Equal("no instrument named", parameter.GetProperty("whyNoUncertainty").GetString());
    }

    [Fact]
    public void Degrees_of_freedom_without_end_are_null_and_the_remark_says_why()
    {
        var known = Sample.Parameters[0] with { WhyNoUncertainty = null, ExpandedUncertainty = 0.01 };
        using var json = JsonDocument.Parse(JsonText.Of(writer => FindingJson.Write(writer, Sample with { Parameters = [known] })));
        Assert.Equal(JsonValueKind.Null, json.RootElement.GetProperty("parameters")[0].GetProperty("degreesOfFreedom").ValueKind);
        Assert.Contains("known beforehand", json.RootElement.GetProperty("remarks")[0].GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Members_stand_in_the_order_of_the_contract()
    {
        using var json = JsonDocument.Parse(JsonText.Of(writer => FindingJson.Write(writer, Sample)));
        Assert.Equal(
            ["format", "kind", "method", "rows", "used", "parameters", "covariance", "residualStandardDeviation", "residuals", "budget", "suspects", "remarks", "verdict", "advice", "limit", "limitOver_mm"],
            json.RootElement.EnumerateObject().Select(p => p.Name));
        Assert.Equal("measure-more", json.RootElement.GetProperty("advice").GetProperty("action").GetString());
    }

    [Fact]
    public void A_number_that_is_not_finite_is_refused()
    {
        Assert.Throws<ArgumentException>(() => JsonText.Of(writer => writer.Number(double.NaN)));
    }
}
