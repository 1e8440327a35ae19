namespace Commission.Core.Suspects;

/// <summary>Every check for mistakes, in one order, for every kind (our own catalogue of slips). A kind only says what its readings are.</summary>
internal static class SeriesChecks
{
    // Usual scatter of one reading, mm, where nothing better is known: wide enough for a caliper in a hurry.
    private const double UsualScatter = 0.05;

    /// <summary>What looks like a mistake: the series as a whole first, then single readings, each row once, then the order in time.</summary>
    public static IReadOnlyList<Doubt> Look(Series series)
    {
        var doubts = new List<Doubt>();
        void Rows(IEnumerable<Doubt> more) => doubts.AddRange([.. more.ExceptBy([.. doubts.Select(d => d.Row)], d => d.Row)]);
        doubts.AddRange(Whole(series));
        if (series.Commanded is { } commanded)
            Rows(FirstLook.Confirmed(series, [.. SlipDetector.InSet(series.Readings, commanded, series.Column, series.Resolution ?? 0, series.Study?.StandardDeviationMm ?? 0)]));
        // A study of the hand tells the scatter from outside, so that several slips are seen at once; without it they are told apart one by one.
        Rows(HiddenSlips.Judges(series.Design, series.Study)
            ? HiddenSlips.Against(series.Readings, series.Design, series.Values, series.Study, series.Column)
            : Outliers.In(series));
        if (series.Reversal is { } reversal)
            doubts.AddRange(Patterns.SteppedBack(series.Readings, series.Residuals, reversal, series.Scatter));
        if (series.InTime)
            doubts.AddRange(TimePattern.Doubts(series.Readings, series.Design, series.Residuals));
        return doubts;
    }

    private static IEnumerable<Doubt> Whole(Series series)
    {
        var (readings, residuals) = (series.Readings, series.Residuals);
        double[] read = [.. readings.Used.Select(row => row[series.Column])];
        var lengths = series.Lengths;
        if (series.Commanded is { } commanded)
        {
            lengths ??= [.. readings.Used.Select(row => new AxisPoint(row[commanded], row[series.Column], row.Sign()))];
            foreach (var doubt in Patterns.Copied(readings, commanded, series.Column).Concat(Patterns.Shifted([.. lengths.Select(p => p.Commanded)], read)))
                yield return doubt;
        }

        foreach (var doubt in lengths is null ? [] : SeriesDetector.LookAt(lengths, Math.Max(series.Study?.StandardDeviationMm ?? 0, UsualScatter)))
            yield return doubt;
        foreach (var doubt in series.MayAgree ? [] : Patterns.TooGood(residuals, series.Unknowns, series.Resolution))
            yield return doubt;
        foreach (var doubt in series.OneSided ? Patterns.TwoHeaps(residuals) : [])
            yield return doubt;
        foreach (var doubt in Patterns.Bottomed(readings, series.Column, [.. read.Zip(residuals, (value, left) => value - left)], series.Scatter))
            yield return doubt;
    }
}
