using Commission.Core.Quantities;
using Commission.Core.Tests.Support;

namespace Commission.Core.Tests.Published;

public sealed class CoverageTests
{
    // 30-digit quadrature (mpmath) of the convolution, half widths at 95 %, as (degrees of freedom; s; a1, a2).
    [Theory]
    [InlineData(double.PositiveInfinity, 1, 0, 0, 1.959963984540)]
    [InlineData(9, 1, 0, 0, 2.262157162798)]
    [InlineData(4, 1, 2, 0, 3.449236691173)]
    [InlineData(9, 1, 1, 0, 2.507973159419)]
    [InlineData(9, 1, 5, 0, 5.450327986791)]
    [InlineData(1, 1, 1, 0, 12.732266255843)]
    [InlineData(2, 1, 3, 1, 5.284846051369)]
    [InlineData(9, .1, 3, 1.5, 3.558117329121)]
    [InlineData(4, .05, 10, 3, 10.551530774954)]
    [InlineData(30, 2, 1, 1, 4.38063032345)]
    [InlineData(double.PositiveInfinity, 1, 2, 0, 2.902345857721)]
    [InlineData(double.PositiveInfinity, 1, 1, 1, 2.518955064483)]
    [InlineData(double.PositiveInfinity, .2, 3, 3, 4.673350083858)]
    [InlineData(1.5, 1, .3, .1, 6.023311601942)]
    [InlineData(100, 1, .001, 0, 1.983971839844)]
    [InlineData(7, 1, 1000, 1, 950.0000000014)]
    [InlineData(1, 1, 20, 20, 33.865354906954)]
    [InlineData(50, 1, 1.7320508075688772, 1.7320508075688772, 3.371440820817)]
    [InlineData(3, 1, 4, 4, 6.910910172351)]
    [InlineData(5, 1, 2, 0, 3.29985300708281)]
    [InlineData(9, .01, .03, 0, .0381770645101351)]
    [InlineData(21, 1, 1.7320508075688772, 0, 2.7888773854589)]
    [InlineData(4, 1, .5, 0, 2.82521866217934)]
    [InlineData(14, 1, 5, 0, 5.40850782138607)]
    [InlineData(5, 1, 0, 0, 2.570581835636)]
    public void Half_widths_are_those_of_the_convolution(double v, double s, double a1, double a2, double expected)
    {
        var computed = Coverage.TwoSided(.95, s, v, a1, a2);
        Assert.True(ReferenceData.Digits(computed, expected) >= 11, $"{computed:R} {expected:R}");
    }

    // EA-4/02 M:1999, Supplement 2, example S10, vernier caliper (from memory, recomputed): two rectangular parts rule, k = 1.83.
    [Fact]
    public void The_vernier_caliper_has_a_trapezoidal_coverage_factor()
    {
        double resolution = 25, mechanical = 50;
        var u = Math.Sqrt(((resolution * resolution) + (mechanical * mechanical)) / 3);
        Assert.Equal(1.83, Coverage.TwoSided(.95, 0, 1, resolution, mechanical) / u, 2);

        // Closed form of the trapezoid in the same example.
        const double beta = 1.0 / 3;
        var exact = (1 - Math.Sqrt(.05 * (1 - (beta * beta)))) / Math.Sqrt((1 + (beta * beta)) / 6);
        Assert.Equal(exact, Coverage.TwoSided(.95, 0, 1, resolution, mechanical) / u, 12);

        // All four contributions of its table, in micrometres: U = 0.06 mm.
        var all = Coverage.TwoSided(.95, 0, 1, resolution, mechanical, .8, 1.725 * 2);
        Assert.Equal(.06, all / 1000, 2);
    }

    // JCGM 100:2008, H.1, end gauge: u = 32 nm with 16 degrees of freedom, k = 2.92 for 99 %, U = 93 nm.
    [Fact]
    public void The_end_gauge_has_its_expanded_uncertainty()
    {
        Assert.Equal(2.92, StudentT.Quantile(.995, 16), 2);
        Assert.Equal(93, Coverage.TwoSided(.99, 32, 16), 0);
    }

    [Fact]
    public void Around_one_and_two_degrees_of_freedom_the_half_width_has_no_jump()
    {
        foreach (var v in (double[])[1, 2])
        {
            var here = Coverage.TwoSided(.95, 1, v, 3, 1);
            Assert.Equal(here, Coverage.TwoSided(.95, 1, v + 1e-5, 3, 1), 3);
            Assert.Equal(here, Coverage.TwoSided(.95, 1, v - 1e-5, 3, 1), 3);
        }
    }

    [Fact]
    public void A_one_sided_half_width_is_a_two_sided_one_of_smaller_probability() =>
        Assert.Equal(Coverage.TwoSided(.9, .01, 7, .03, .01), Coverage.OneSided(.95, .01, 7, .03, .01), 14);

    [Fact]
    public void Without_any_part_there_is_no_width() => Assert.Equal(0, Coverage.TwoSided(.95, 0, 5));
}
