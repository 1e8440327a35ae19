using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Readings;
using Xunit;

namespace Commission.Core.Tests.Characteristics;

/// <summary>Rounding is not noise (M 0.3): readings that agree by their last digit tell nothing about the digits that were not read.</summary>
public sealed class ScatterTests
{
    // Three distances read to whole millimetres: one degree of freedom, and residuals of at most 0.01 mm.
    private const string ToMillimetres = "commanded_mm,measured_mm\n20.02,20\n60,60\n100,100";

    // Slope over 20, 60, 100 with r / sqrt 12 for each reading (own derivation): 0.2887 / sqrt(3200).
    private const double OfRounding = 0.2887 / 56.57;

    [Fact]
    public void Readings_rounded_to_a_millimetre_never_count_as_better_than_their_rounding()
    {
        var unknown = Fit.Of("axis-scale", ToMillimetres, Fit.With());
        var fine = Fit.Of("axis-scale", ToMillimetres, With(0.01));
        var rule = Fit.Of("axis-scale", ToMillimetres, With(1));

        Assert.All(new[] { unknown, fine, rule }, finding => Assert.InRange(finding.U("scaleError"), 0.99 * OfRounding, 1.01 * OfRounding));
    }

    [Fact]
    public void Readings_that_scatter_by_more_than_half_the_last_digit_keep_their_own_scatter()
    {
        const string scattered = "commanded_mm,measured_mm\n20,23\n60,56\n100,103";
        var plain = Fit.Of("axis-scale", scattered, Fit.With());

        // Residuals 7/3, -14/3, 7/3 (own derivation): s = 5.715 mm with one degree of freedom.
        Assert.InRange(plain.U("scaleError"), 0.99 * 5.715 / 56.57, 1.01 * 5.715 / 56.57);
    }

    private static FitOptions With(double resolutionMm) => new() { Instrument = Fit.Caliper with { LimitMm = 1e-9, ResolutionMm = resolutionMm } };

    [Theory]
    [InlineData("20.01", 20.01, 0.01)]
    [InlineData("20,01", 20.01, 0.01)]
    [InlineData("20.0 mm", 20.0, 0.1)]
    [InlineData("0.788", 20.0152, 0.0254)]
    [InlineData("3 1/8", 79.375, 3.175)]
    public void The_last_digit_typed_is_told_in_millimetres_whatever_unit_was_typed(string typed, double held, double digit)
    {
        var row = new ReadingRow
        {
            Number = 1, Numbers = ImmutableDictionary<string, double>.Empty.Add("reading_mm", held), Words = ImmutableDictionary<string, string>.Empty,
            Typed = ImmutableDictionary<string, string>.Empty.Add("reading_mm", typed),
        };
        Assert.Equal(digit, Scatter.LastDigit(new ReadingTable { Source = "t", Columns = ["reading_mm"], Rows = [row] }, "reading_mm")!.Value, 9);
    }
}
