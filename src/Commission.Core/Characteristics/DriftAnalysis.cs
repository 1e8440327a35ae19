namespace Commission.Core.Characteristics;

/// <summary>Why the next check stands on its day.</summary>
internal enum NextCheckBound
{
    /// <summary>Drift could reach the limit; eight tenths of the time until then.</summary>
    Limit,

    /// <summary>At most twice the interval before.</summary>
    Interval,

    /// <summary>Not before a week has passed.</summary>
    Week,

    /// <summary>Never later than a year.</summary>
    Year,
}

/// <summary>The day of the next check and why.</summary>
/// <param name="Day">The day, counted as those of the results.</param>
/// <param name="Bound">What set it.</param>
/// <param name="ReachDays">Days from the last result until the limit could be reached; infinite where it is not.</param>
internal sealed record NextCheck(double Day, NextCheckBound Bound, double ReachDays)
{
    /// <summary>Share of the time to the limit after which is looked again (common practice, our choice).</summary>
    public const double Share = 0.8;

    /// <summary>Days after the last result that drift and limit alone would leave: a week at least, a year at most.</summary>
    public double DriftDays => Math.Clamp(Share * ReachDays, 7, 365);
}

/// <summary>How a series of results moves: the filter's pass over it, the trend of the present baseline and the next check.</summary>
/// <param name="Run">The pass of the filter.</param>
/// <param name="Trend">The trend of the present baseline; null where none may be claimed.</param>
/// <param name="ProcessVariance">Variance the level gains in a day.</param>
/// <param name="Next">The next check; null without a limit.</param>
internal sealed record DriftAnalysis(FilterRun Run, Trend? Trend, double ProcessVariance, NextCheck? Next)
{
    private const double DaysOfMonth = 30.4375;
    private const int ResultsForVariance = 6;

    /// <summary>Follows results in order of time; at least one.</summary>
    /// <param name="results">The results.</param>
    /// <param name="processVariance">Variance the level gains in a day; null to find it.</param>
    /// <param name="tolerance">The tolerance as the guess of that variance takes it; null where there is none.</param>
    /// <param name="limit">The limit in the unit of the values; null where there is none.</param>
    internal static DriftAnalysis Of(IReadOnlyList<DriftResult> results, double? processVariance, double? tolerance, double? limit)
    {
        var q = processVariance ?? Variance(results, tolerance);
        var run = FilterRun.Over(results, q);
        var epoch = results.Skip(run.EpochStart).Select(result => (result.Day, result.Value, result.Uncertainty)).ToArray();
        var trend = run.InstrumentChanged ? null : Trend.Of(epoch);
        var next = limit is { } reached ? Check(results, run, trend, q, reached) : null;
        return new DriftAnalysis(run, trend, q, next);
    }

    /// <summary>Smallest t with |level + slope t| + 2 sqrt(variance + (t u)^2 + q t) at the limit; infinite where that is beyond a hundred thousand days.</summary>
    internal static double TimeToLimit(double level, double variance, (double Slope, double Uncertainty) trend, double q, double limit)
    {
        double Reach(double t) => Math.Abs(level + trend.Slope * t) + 2 * Spread(variance, trend.Uncertainty, q, t);
        if (Reach(0) >= limit)
            return 0;
        var (low, high) = (0.0, 1.0);
        while (Reach(high) < limit)
        {
            (low, high) = (high, high * 1.3);
            if (high > 1e5)
                return double.PositiveInfinity;
        }

        for (var i = 0; i < 60; i++)
            (low, high) = Reach((low + high) / 2) < limit ? ((low + high) / 2, high) : (low, (low + high) / 2);
        return high;
    }

    /// <summary>Level and half width of its forecast, so many days after the last result.</summary>
    internal (double Level, double HalfWidth) Forecast(double days) => (
        Run.Filter.Level + (Trend?.Slope ?? 0) * days,
        2 * Spread(Run.Filter.Variance, Trend?.SlopeUncertainty ?? 0, ProcessVariance, days));

    private static double Spread(double variance, double slope, double q, double days) => Math.Sqrt(variance + days * days * slope * slope + q * days);

    /// <summary>Grid maximum of the likelihood from six results on; before, a twentieth of the tolerance in a month.</summary>
    private static double Variance(IReadOnlyList<DriftResult> results, double? tolerance)
    {
        if (results.Count < ResultsForVariance)
            return tolerance is { } t ? Math.Pow(t / 20, 2) / DaysOfMonth : 0;
        var typical = results.Select(result => result.Uncertainty).Order().ElementAt(results.Count / 2);
        var spacing = Math.Max((results[^1].Day - results[0].Day) / (results.Count - 1), 1e-9);
        double[] grid = [0, .. Enumerable.Range(0, 25).Select(i => typical * typical / spacing * Math.Pow(10, -4 + i * 0.25))];
        return grid.MaxBy(q => FilterRun.Over(results, q).Filter.LogLikelihood);
    }

    // Eight tenths of the time to the limit, twice the last interval at most, a week at least, a year at most.
    private static NextCheck Check(IReadOnlyList<DriftResult> results, FilterRun run, Trend? trend, double q, double limit)
    {
        var last = results[^1].Day;
        var reach = TimeToLimit(run.Filter.Level, run.Filter.Variance, trend is { } t ? (t.Slope, t.SlopeUncertainty) : (0, 0), q, limit);

        // Results of one sitting are no interval.
        var before = results.LastOrDefault(result => result.Day <= last - 1);
        var interval = before is null ? double.PositiveInfinity : 2 * (last - before.Day);
        var days = Math.Min(NextCheck.Share * reach, interval);
        var bound = days < 7 ? NextCheckBound.Week : days > 365 ? NextCheckBound.Year : interval <= NextCheck.Share * reach ? NextCheckBound.Interval : NextCheckBound.Limit;
        return new NextCheck(last + Math.Clamp(days, 7, 365), bound, reach);
    }
}
