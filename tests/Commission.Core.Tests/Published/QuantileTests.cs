using Commission.Core.Quantities;
using Commission.Core.Tests.Support;

namespace Commission.Core.Tests.Published;

// Tables of the NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7, and 30-digit recomputations (mpmath), in shared/reference/quantiles.
public sealed class QuantileTests
{
    [Fact]
    public void Student_quantiles_keep_twelve_digits() => Each("student_t", StudentT.Quantile, StudentT.Distribution, decimals: 13);

    [Fact]
    public void Chi_square_quantiles_keep_twelve_digits() => Each("chi_square", ChiSquare.Quantile, ChiSquare.Distribution, decimals: 12);

    private static void Each(string name, Func<double, double, double> quantile, Func<double, double, double> distribution, int decimals)
    {
        foreach (var row in ReferenceData.Csv($"quantiles/{name}.csv"))
        {
            double v = ReferenceData.Number(row["df"]), p = ReferenceData.Number(row["p"]), expected = ReferenceData.Number(row["quantile_computed"]);
            Twelve(quantile(p, v), expected, $"{name}({p}; {v})");
            Assert.Equal(p, distribution(expected, v), decimals);
        }
    }

    [Fact]
    public void F_quantiles_keep_twelve_digits()
    {
        foreach (var row in ReferenceData.Csv("quantiles/f.csv"))
        {
            double n = ReferenceData.Number(row["df1"]), d = ReferenceData.Number(row["df2"]), p = ReferenceData.Number(row["p"]);
            var expected = ReferenceData.Number(row["quantile_computed"]);
            Twelve(FisherF.Quantile(p, n, d), expected, $"F({p}; {n}, {d})");
            Assert.Equal(p, FisherF.Distribution(expected, n, d), 12);
        }
    }

    [Fact]
    public void Normal_quantiles_keep_twelve_digits()
    {
        foreach (var row in ReferenceData.Csv("quantiles/normal.csv"))
        {
            double p = ReferenceData.Number(row["p"]), expected = ReferenceData.Number(row["quantile_computed"]);
            if (expected == 0) Assert.Equal(0, StandardNormal.Quantile(p), 15);
            else Twelve(StandardNormal.Quantile(p), expected, $"z({p})");
        }
    }

    // Degrees of freedom that are not whole, and far tails: computed with mpmath 1.3.0, 40 digits (betainc and gammainc, regularised,
    // 200 bisections) on the doubles given.
    [Theory]
    [InlineData(.975, 1.5, 6.01666310442792825)]
    [InlineData(.975, .7, 36.6114150315886501)]
    [InlineData(.995, 2.3, 8.00374526687108831)]
    [InlineData(.6, 7.25, .262822759426779817)]
    [InlineData(.95, 41.8, 1.68213386388744267)]
    [InlineData(.975, 151.3, 1.97576727813721734)]
    [InlineData(.9999995, 3.7, 62.2907730162198139)]
    [InlineData(.025, 12.5, -2.16918594271254108)]
    [InlineData(.975, 1234.5, 1.96188748333134522)]
    [InlineData(.975, 99999.5, 1.95998770765322624)]
    [InlineData(.975, 2e6, 1.95996517067637463)]
    public void Student_quantiles_with_any_degrees_of_freedom(double p, double v, double expected) =>
        Twelve(StudentT.Quantile(p, v), expected, "t");

    [Theory]
    [InlineData(.05, .5, 8.43715084052598397e-6)]
    [InlineData(.975, 2.7, 8.7806650277400797)]
    [InlineData(.025, 14.3, 5.8174033417098968)]
    [InlineData(.95, 151.3, 181.004024848054468)]
    [InlineData(.5, 1234.5, 1233.83339737471465)]
    [InlineData(1e-6, 3.3, .000587253047582076186)]
    public void Chi_square_quantiles_with_any_degrees_of_freedom(double p, double v, double expected) =>
        Twelve(ChiSquare.Quantile(p, v), expected, "chi2");

    [Theory]
    [InlineData(.95, 1.5, 7.3, 4.97238202525351187)]
    [InlineData(.995, 14, 2.2, 130.707909474221042)]
    [InlineData(.99, 3.7, 151.3, 3.56360308975010299)]
    [InlineData(.005, 9, 14, .164238651929747525)]
    [InlineData(.99, 1, 1, 4052.18069547682192)]
    [InlineData(.975, 250.5, 333.3, 1.25899082515933103)]
    public void F_quantiles_with_any_degrees_of_freedom(double p, double n, double d, double expected) =>
        Twelve(FisherF.Quantile(p, n, d), expected, "F");

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(double.NaN)]
    public void A_probability_that_is_none_is_refused(double p) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => StudentT.Quantile(p, 5));

    private static void Twelve(double computed, double expected, string what) =>
        Assert.True(ReferenceData.Digits(computed, expected) >= 12, $"{what}: {computed:R} {expected:R}");
}
