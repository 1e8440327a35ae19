using Commission.Core.Corrections;

namespace Commission.Core.Tests.Corrections;

public sealed class PlaneAdviceTests
{
    private static readonly string[] Names = ["squareness", "scaleErrorX", "scaleErrorY", "reversalX", "reversalY", "holeDiameter"];

    private static Finding Plate(double squareness, double scaleX, double reversalX) => new()
    {
        Kind = "plate", Method = "t", Rows = 24, Used = 24, Verdict = Verdict.None, Advice = new Advice { Action = AdviceAction.Leave, Because = "t" },
        Parameters = [.. Names.Select((name, k) => new FittedParameter
        {
            Name = name, Unit = "1", Value = k switch { 0 => squareness, 1 => scaleX, 3 => reversalX, 5 => 8, _ => 0 }, StandardUncertainty = k < 3 ? 1.7e-4 : 0.013,
        })],
        Covariance = [.. Enumerable.Range(0, 6).Select(i => Enumerable.Range(0, 6).Select(j => i == j ? Math.Pow(i < 3 ? 1.7e-4 : 0.013, 2) : 0).ToArray().Select(v => v)).Select(row => System.Collections.Immutable.ImmutableArray.CreateRange(row))],
    };

    [Fact]
    public void A_plate_with_large_errors_is_told_what_to_take_out_together_and_at_which_risk()
    {
        var finding = PlaneAdvice.Remarked(Plate(3e-3, 2e-3, -0.15), null);
        var remark = Assert.Single(finding.Remarks);
        Assert.Contains("squareness +", remark, StringComparison.Ordinal);
        Assert.Contains("lost motion X 0.1", remark, StringComparison.Ordinal);
        Assert.True(PlaneAdvice.Decide(finding, null)!.ProbabilityOfHarm <= 0.05);
    }

    [Fact]
    public void A_plate_that_shows_nothing_is_left_alone() =>
        Assert.Contains("no correction", Assert.Single(PlaneAdvice.Remarked(Plate(5e-5, 3e-5, -0.005), null).Remarks), StringComparison.Ordinal);

    [Fact]
    public void A_finding_without_all_five_errors_gets_no_remark()
    {
        var plate = Plate(3e-3, 0, 0);
        Assert.Empty(PlaneAdvice.Remarked(plate with { Parameters = plate.Parameters.RemoveAt(4) }, null).Remarks);
    }
}
