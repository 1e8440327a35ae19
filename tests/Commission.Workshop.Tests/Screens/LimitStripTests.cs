using Commission.Core.Characteristics;
using Commission.Tests;
using Commission.Workshop.Screens;
using CsCheck;

namespace Commission.Workshop.Tests.Screens;

public class LimitStripTests
{
    // Rows of the wireframes S03 (narrow) and S23 (wide); g is t(0.95) u, about U times 0.83 at k = 1.97.
    [Theory]
    [InlineData(0.030, false, 0.0110, 0.0077, Verdict.Within, BarStuff.Due, "[<--o-->   |   ")]
    [InlineData(0.080, false, 0.0435, 0.0070, Verdict.Within, BarStuff.Fresh, "[    <o>   |   ")]
    [InlineData(0.080, false, 0.0631, 0.0070, Verdict.Within, BarStuff.Fresh, "[       <o>|   ")]
    [InlineData(0.080, false, 0.0040, 0.0038, Verdict.Within, BarStuff.Fresh, "[<o>       |   ")]
    [InlineData(500.0, true, 160.0, 250.0, Verdict.Within, BarStuff.Due, "  |   <--o->|  ")]
    [InlineData(500.0, true, -70.0, 250.0, Verdict.Within, BarStuff.Due, "  | <-o-->  |  ")]
    [InlineData(0.50, true, 0.24, 0.29, Verdict.Undecided, BarStuff.Fresh, "  |    <=o==|> ")]
    [InlineData(0.050, false, 0.021, 0.020, Verdict.None, BarStuff.Suspect, "[<!!!o!!!> |   ")]
    [InlineData(0.150, false, 0.092, 0.0325, Verdict.None, BarStuff.Stale, "[   <xxox> |   ")]
    [InlineData(0.050, false, 0.0310, 0.0050, Verdict.Within, BarStuff.Fresh, "[     <o>  |   ")]
    [InlineData(0.40, false, 0.23, 0.19, Verdict.Undecided, BarStuff.Fresh, "[<====o====|>  ")]
    [InlineData(500, true, null, 0, Verdict.None, BarStuff.Never, "  |         |  ")]
    [InlineData(0.030, false, null, 0, Verdict.None, BarStuff.Never, "[          |   ")]
    [InlineData(500.0, true, 1230.0, 240.0, Verdict.Outside, BarStuff.Fresh, "  |         |>>")]
    [InlineData(500.0, true, -1230.0, 240.0, Verdict.Outside, BarStuff.Fresh, "<<|         |  ")]
    // Beside a wall the value is not lost in it.
    [InlineData(1.00, true, -1.03, 0.11, Verdict.Undecided, BarStuff.Fresh, " <|o>       |  ")]
    [InlineData(1.00, true, 1.03, 0.11, Verdict.Undecided, BarStuff.Fresh, "  |       <o|> ")]
    // A bar too short to show what it is made of between its ends shows it by them.
    [InlineData(0.080, false, 0.0435, 0.0070, Verdict.Within, BarStuff.Stale, "[    xox   |   ")]
    [InlineData(0.080, false, 0.0435, 0.0070, Verdict.Within, BarStuff.Suspect, "[    !o!   |   ")]
    [InlineData(0.080, false, 0.0435, 0.0070, Verdict.Within, BarStuff.Due, "[    -o-   |   ")]
    [InlineData(500.0, true, 1230.0, 240.0, Verdict.Outside, BarStuff.Stale, "  |         |x>")]
    [InlineData(500.0, true, -1230.0, 240.0, Verdict.Outside, BarStuff.Suspect, "<!|         |  ")]
    public void The_strip_is_the_one_of_the_bench(double limit, bool twoSided, double? value, double guard, Verdict verdict, BarStuff stuff, string strip) =>
        Assert.Equal(strip, LimitStrip.Draw(new(limit, twoSided, value, guard, verdict, stuff)));

    [Theory]
    [InlineData(0.080, false, 0.0435, 0.0070, Verdict.Within, "[          <==o=>        |   ")]
    [InlineData(0.080, false, 0.0631, 0.0070, Verdict.Within, "[                 <=o=>  |   ")]
    [InlineData(500.0, true, 160.0, 250.0, Verdict.Within, "    |       <====o====> |    ")]
    [InlineData(0.50, true, 0.24, 0.29, Verdict.Undecided, "    |        <=====o====|>   ")]
    public void The_wide_strip_is_the_one_of_the_wide_bench(double limit, bool twoSided, double value, double guard, Verdict verdict, string strip) =>
        Assert.Equal(strip, LimitStrip.Draw(new(limit, twoSided, value, guard, verdict, BarStuff.Fresh), LimitStrip.Wide));

    [Fact]
    public void The_picture_never_contradicts_the_verdict() =>
        Gen.Select(Gen.Double[-3, 3], Gen.Double[0.001, 1.5], Gen.Bool, Gen.Int[0, 2].Select(i => i switch { 0 => 15, 1 => 29, _ => 67 })).SampleFixed(
            (value, guard, twoSided, cells) =>
            {
                value = twoSided ? value : Math.Abs(value);
                // Decision rule with guard band: the whole interval inside, outside, or neither.
                var (low, high) = (value - guard, value + guard);
                var verdict = high < 1 && (low > -1 || !twoSided) ? Verdict.Within
                    : low > 1 || (twoSided && high < -1) ? Verdict.Outside : Verdict.Undecided;
                var strip = LimitStrip.Draw(new(1, twoSided, value, guard, verdict, BarStuff.Fresh), cells);
                var right = strip.LastIndexOf('|');
                var left = twoSided ? strip.IndexOf('|') : 0;
                var inside = strip[(left + 1)..right].Trim().Length > 0;
                var beyond = strip[..left].Trim().Length > 0 || strip[(right + 1)..].Trim().Length > 0;
                Assert.Equal(cells, strip.Length);
                Assert.Equal((verdict != Verdict.Outside, verdict != Verdict.Within), (inside, beyond));
            });

    [Fact]
    public void Zero_limits_and_value_stand_below_their_marks_and_do_not_run_into_each_other()
    {
        // The strips are those of the interaction design's S14 and S15.
        Assert.Equal("0     0.050       0.127", LimitStrip.Numbers("[       |        <==o==>", "0.050", "0.127"));
        Assert.Equal(" -0.50 0 +0.50", LimitStrip.Numbers("   |   :   | <o=>", "0.50", "+0.93"));
        Assert.Equal("0                     0.050", LimitStrip.Numbers("[                     o |", "0.050", "0.047"));
    }
}
