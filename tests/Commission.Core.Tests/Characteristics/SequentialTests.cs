namespace Commission.Core.Tests.Characteristics;

public sealed class SequentialTests
{
    private static Spread Known(double u) => new([new UncertaintyPart("scatter", u) { RepeatingHelps = true }]);

    [Fact]
    public void Looking_at_the_readings_while_they_come_in_takes_the_wider_limit()
    {
        Assert.Equal(Verdict.Within, Judgement.Of(0, Known(1), 2.0, 10).Verdict);
        Assert.Equal(Verdict.Undecided, Judgement.Of(0, Known(1), 2.0, 10, sequential: true).Verdict);
        Assert.True(Judgement.Of(2.3, Known(1), null, 10).Significant);
        Assert.False(Judgement.Of(2.3, Known(1), null, 10, sequential: true).Significant);
    }

    [Fact]
    public void Peeking_after_every_reading_alarms_often_at_1_96_and_about_as_seldom_as_promised_at_2_6()
    {
        // Own simulation outside this program: |z| after each of readings 3 to 15; 18 % at 1.96, about 4 % at 2.6.
        var random = new Random(20261125);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        const int runs = 4000;
        var (plain, wide) = (0, 0);
        for (var run = 0; run < runs; run++)
        {
            var (sum, first, second) = (0.0, false, false);
            for (var n = 1; n <= 15; n++)
            {
                sum += Normal();
                if (n < 3) continue;
                first |= Math.Abs(sum) / Math.Sqrt(n) > 1.96;
                second |= Judgement.Of(sum / n, Known(1 / Math.Sqrt(n)), null, n, sequential: true).Significant == true;
            }

            plain += first ? 1 : 0;
            wide += second ? 1 : 0;
        }

        Assert.InRange(plain / (double)runs, 0.15, 0.21);
        Assert.InRange(wide / (double)runs, 0.025, 0.05);
    }

    [Fact]
    public void An_offset_between_scale_and_measuring_line_is_a_line_of_the_budget()
    {
        // Own arithmetic: Abbe a times 0.1 mrad, rectangular, over the length: 100 mm over 120 mm are 48 ppm.
        const string rows = "commanded_mm,measured_mm,direction\n20,20.01,+\n20,19.99,-\n80,80.01,+\n80,79.99,-\n140,140.01,+\n140,139.99,-";
        var plain = Fit.Of("axis-scale", rows, Fit.With(0.03));
        var offset = Fit.Of("axis-scale", rows, Fit.With(0.03, null, ("abbe-mm", 100)));

        Assert.Contains(offset.Budget, line => line.Source.StartsWith("tilt over the distance", StringComparison.Ordinal) && !line.RepeatingHelps);
        Assert.Equal(100 * 1e-4 / (Math.Sqrt(3) * 120), Math.Sqrt(Math.Pow(offset.U("scaleError"), 2) - Math.Pow(plain.U("scaleError"), 2)), 1e-9);
    }

    [Fact]
    public void A_budget_that_repeats_cannot_lower_says_so()
    {
        const string rows = "commanded_mm,measured_mm,direction\n20,20.001,+\n20,19.999,-\n80,80.001,+\n80,79.999,-\n140,140.001,+\n140,139.999,-";
        Assert.Contains(Fit.Of("axis-scale", rows, Fit.With(0.03)).Remarks, remark => remark.Contains("more readings will not help", StringComparison.Ordinal));
        Assert.DoesNotContain(Fit.Of("axis-scale", rows, Fit.With(0.0001)).Remarks, remark => remark.Contains("more readings will not help", StringComparison.Ordinal));
    }
}
