namespace Commission.Core.Tests.Characteristics;

public sealed class DriftTests
{
    [Fact]
    public void The_worked_level_filter_is_reproduced()
    {
        // Metrology 18.10 j (regression), its month read as a day.
        var filter = new LevelFilter(0.0004);
        (double T, double Y, double U)[] results = [(0, .100, .05), (1, .130, .05), (2.5, .090, .03), (4, .180, .05)];
        double[] nu = [.40825, -.48974, 1.34096], gain = [.53704, .68339, .32706], level = [.116111, .098267, .124999], sd = [.036641, .0248, .028595];
        filter.Take(results[0].Y, results[0].U, 0);
        for (var i = 1; i < 4; i++)
        {
            Assert.Equal(nu[i - 1], filter.Take(results[i].Y, results[i].U, results[i].T - results[i - 1].T)!.Value, 4);
            Assert.Equal((gain[i - 1], level[i - 1], sd[i - 1]), (filter.Gain, filter.Level, Math.Sqrt(filter.Variance)), Close);
        }
    }

    [Fact]
    public void The_worked_trend_is_reproduced()
    {
        // Metrology 18.10 k (regression).
        var trend = Trend.Of([(0, .10, .02), (1, .16, .02), (2, .11, .03), (4, .21, .02), (6, .18, .03), (9, .33, .02)])!;

        Assert.Equal(.022986, trend.PlainSlope, 6);
        Assert.Equal(.002754, trend.PlainUncertainty, 6);
        Assert.Equal(10.0618, trend.Heterogeneity, 4);
        Assert.Equal(.028294, trend.Extra, 6);
        Assert.Equal(.022585, trend.Slope, 6);
        Assert.Equal(.004994, trend.SlopeUncertainty, 6);
    }

    [Fact]
    public void With_equal_spacing_the_filter_is_the_published_exponential_average()
    {
        // NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4: lambda 0.3, start 50, twenty values and their averages to two decimals.
        double[] data = [52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
        double[] published = [50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99];
        // Steady gain 0.3 needs q / u^2 = 0.09 / 0.7, and a start at the steady variance K u^2.
        var filter = new LevelFilter(0.09 / 0.7);
        filter.Take(50, Math.Sqrt(0.3), 0);
        for (var i = 0; i < data.Length; i++)
        {
            filter.Take(data[i], 1, 1);
            Assert.Equal(0.3, filter.Gain, 12);
            Assert.InRange(filter.Level, published[i] - 0.005001, published[i] + 0.005001);
        }
    }

    [Fact]
    public void Cumulative_sums_raise_an_alarm_as_seldom_and_as_soon_as_published()
    {
        // D. C. Montgomery, Introduction to Statistical Quality Control, table 9.3: k 1/2, h 5, run length 465 without and 10.4 with a shift of 1.
        var random = new Random(20261125);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        double Length(double shift, int runs)
        {
            var total = 0;
            for (var run = 0; run < runs; run++)
            {
                var sums = new CumulativeSums();
                do
                    total++;
                while (!sums.Alarms(Normal() + shift, total));
            }
            return (double)total / runs;
        }

        Assert.InRange(Length(1, 4000), 10.0, 10.8);
        Assert.InRange(Length(0, 2000), 425, 505);
    }

    // J. M. Lucas, M. S. Saccucci, Technometrics 32(1) 1990, after D. C. Montgomery, Introduction to Statistical Quality Control, table 9.11
    // (shared/reference/control_charts): lambda, L, shift, run length.
    [Theory]
    [InlineData(0.4, 3.054, 1, 14.3)]
    [InlineData(0.2, 2.962, 0.5, 41.8)]
    [InlineData(0.1, 2.814, 1, 10.3)]
    [InlineData(0.2, 2.962, 0, 500)]
    public void The_level_filter_leaves_its_limits_as_seldom_and_as_soon_as_published(double lambda, double factor, double shift, double published)
    {
        const int runs = 1000;
        var random = new Random(20261126);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        var limit = factor * Math.Sqrt(lambda / (2 - lambda));
        var lengths = Enumerable.Range(0, runs).Select(_ =>
        {
            var filter = new LevelFilter(lambda * lambda / (1 - lambda));
            filter.Take(0, Math.Sqrt(lambda), 0);
            var length = 0.0;
            do
            {
                filter.Take(Normal() + shift, 1, 1);
                length++;
            }
            while (Math.Abs(filter.Level) <= limit);
            return length;
        }).ToList();
        var mean = lengths.Average();
        var bound = 4 * Math.Sqrt(lengths.Sum(length => (length - mean) * (length - mean)) / runs / runs);
        Assert.InRange(mean, published - bound - 0.05, published + bound + 0.05);
    }

    [Fact]
    public void The_next_check_comes_before_the_limit_can_be_reached()
    {
        // Metrology 11: z .10, u .05, slope .02 u .01, q .0004, T .5, all by the month: 8.5 months.
        Assert.Equal(8.5, DriftAnalysis.TimeToLimit(0.10, 0.0025, (0.02, 0.01), 0.0004, 0.5), 0.05);
        Assert.True(double.IsPositiveInfinity(DriftAnalysis.TimeToLimit(0, 0.01, (0, 0), 0, 1)));
    }

    [Fact]
    public void A_shock_is_told_with_its_day_and_a_new_baseline_forgets_the_old_one()
    {
        const string header = "day,value,uncertainty,change\n";
        var shocked = Fit.Of("drift", header + "0,100,20,\n30,110,20,\n60,95,20,\n90,400,20,\n", new FitOptions());
        var renewed = Fit.Of("drift", header + "0,100,20,\n30,110,20,\n60,400,20,nut replaced\n90,410,20,\n", new FitOptions());

        Assert.Contains(shocked.Remarks, r => r.StartsWith("Alarm at day 90", StringComparison.Ordinal));
        Assert.Equal(AdviceAction.MeasureMore, shocked.Advice.Action);
        Assert.DoesNotContain(renewed.Remarks, r => r.StartsWith("Alarm", StringComparison.Ordinal));
        Assert.InRange(renewed.Value("level"), 400, 410);
    }

    [Fact]
    public void A_changed_instrument_shifts_readings_and_not_the_level()
    {
        var finding = Fit.Of("drift", "day,value,uncertainty,change\n0,100,5,\n30,102,5,\n60,98,5,\n90,150,5,instrument dropped\n120,151,5,\n", new FitOptions());

        Assert.InRange(finding.Value("level"), 95, 106);
        Assert.DoesNotContain(finding.Remarks, r => r.StartsWith("Alarm", StringComparison.Ordinal));
    }

    private static readonly EqualityComparer<(double, double, double)> Close = EqualityComparer<(double, double, double)>.Create(
        (a, b) => Math.Abs(a.Item1 - b.Item1) < 1e-5 && Math.Abs(a.Item2 - b.Item2) < 1e-6 && Math.Abs(a.Item3 - b.Item3) < 1e-6, _ => 0);
}
