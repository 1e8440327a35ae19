using System.Collections.Immutable;
using Commission.Core.Readings;

namespace Commission.Core.Tests.Characteristics;

/// <summary>Rounding is not noise (own simulation): readings that agree by their last digit tell nothing about the digits that were not read.</summary>
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

    // Own mathematics: a length at any place between two digits, read a few times with scatter and rounded. Before the degrees of freedom
    // were kept, two readings that agreed by chance claimed to know their scatter exactly, and U held the truth in 88 % (0.7 to 1 digit).
    [Theory]
    [InlineData(2, 0.3)]
    [InlineData(2, 0.7)]
    [InlineData(2, 1)]
    [InlineData(3, 0.7)]
    [InlineData(5, 0.3)]
    [InlineData(10, 0.5)]
    public void Rounded_repeats_keep_their_coverage(int repeats, double digits)
    {
        const int runs = 500;
        var random = new Random(20261125);
        var held = 0;
        for (var run = 0; run < runs; run++)
        {
            var truth = random.NextDouble();
            var model = new LinearModel("length");
            for (var i = 0; i < repeats; i++)
                model.Add([1], Math.Round(truth + (digits * Normal(random))), 0);
            var fit = model.Solve(new FitOptions(), [], resolution: 1).Require();
            held += Math.Abs(fit.Value(1) - truth) <= new Spread(fit.Parts(1)!).HalfWidth(0.95) ? 1 : 0;
        }

        Assert.InRange(held, 0.94 * runs, runs);
    }

    [Fact]
    public void A_study_of_the_hand_is_pooled_where_it_agrees_and_left_out_in_words_where_it_does_not()
    {
        // Own arithmetic: (4 x 0.02^2 + 14 x 0.03^2) / 18 = 0.0280872^2, eighteen degrees of freedom.
        var remarks = new List<string>();
        var pooled = Scatter.Of(0.02, 4, new FitOptions { Hand = new("operator", "caliper", 0.03, 14) }, remarks)!;
        Assert.Equal(0.0280872, pooled.StandardDeviation, 1e-7);
        Assert.Equal(18, pooled.DegreesOfFreedom);
        Assert.Contains("pooled with the operator's study", Assert.Single(remarks), StringComparison.Ordinal);

        // 0.2 against 0.03 mm: F = 44, far beyond its 99 % limits.
        var apart = Scatter.Of(0.2, 4, new FitOptions { Hand = new("operator", "caliper", 0.03, 14) }, remarks)!;
        Assert.Equal((0.2, 4.0), (apart.StandardDeviation, apart.DegreesOfFreedom));
        Assert.Contains("were not pooled", remarks[^1], StringComparison.Ordinal);
    }

    private static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    [Fact]
    public void Repeats_and_studies_report_no_less_scatter_than_their_last_digit_shows()
    {
        // 0.01 mm over the square root of 12; one of five readings differs by less than that in root mean square once there are many.
        const string nearly = "reading_mm\n20.01\n20.01\n20.01\n20.01\n20.01\n20.01\n20.01\n20.01\n20.01\n20.01\n20.01\n20.01\n20.01\n20.02";
        Assert.Equal(0.01 / Math.Sqrt(12), Fit.Of("repeatability", nearly, Fit.With()).Value("standardDeviation"), 9);
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
