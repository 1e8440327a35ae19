namespace Commission.Core.Tests.Characteristics;

// Own arithmetic: the ratios of common mistakes.
public sealed class RatioDetectiveTests
{
    [Theory]
    [InlineData(2, DriveKind.Unknown, "microstep")]
    [InlineData(.25, DriveKind.Unknown, "microstep")]
    [InlineData(1.016, DriveKind.Screw, "5.08 mm and 5")]
    [InlineData(.98425, DriveKind.Screw, "5 mm and 5.08")]
    [InlineData(1.016, DriveKind.Belt, "2.032")]
    [InlineData(1.6, DriveKind.Screw, "8 mm and 5")]
    [InlineData(.625, DriveKind.Screw, "5 mm and 8")]
    [InlineData(1.27, DriveKind.Screw, "6.35 mm and 5")]
    [InlineData(1.25, DriveKind.Belt, "20 teeth and 16")]
    [InlineData(.8, DriveKind.Belt, "16 teeth and 20")]
    [InlineData(25.4, DriveKind.Unknown, "inch")]
    [InlineData(.03937, DriveKind.Unknown, "inch")]
    [InlineData(1.0472, DriveKind.Rack, "3.1416")]
    public void The_cheapest_explanation_comes_first(double ratio, DriveKind drive, string words) =>
        Assert.Contains(words, RatioDetective.Explain(ratio, new FitOptions { Drive = drive })[0].Words, StringComparison.Ordinal);

    [Fact]
    public void A_known_lead_leaves_out_what_cannot_be()
    {
        var causes = RatioDetective.Explain(1.6, new FitOptions { Drive = DriveKind.Screw, TravelPerTurnMm = 5 });
        Assert.Contains("8 mm", causes[0].Words, StringComparison.Ordinal);
        Assert.DoesNotContain(causes, cause => cause.Words.Contains("and 10 was", StringComparison.Ordinal));
    }

    [Fact]
    public void Two_mistakes_at_once_are_found_after_single_ones()
    {
        var causes = RatioDetective.Explain(2 * 1.016, new FitOptions { Drive = DriveKind.Screw, TravelPerTurnMm = 5 });
        Assert.Contains(", and ", causes[0].Words, StringComparison.Ordinal);
        Assert.Contains("5.08", causes[0].Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Explanations_lie_within_three_parts_in_a_thousand()
    {
        foreach (var cause in RatioDetective.Explain(1.2, new FitOptions())) Assert.InRange(cause.Factor / 1.2, 1 / 1.003, 1.0031);
        Assert.Empty(RatioDetective.Explain(1.0007, new FitOptions()));
    }
}
