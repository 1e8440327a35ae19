using System.Globalization;

namespace Commission.Core.Characteristics;

/// <summary>A result in a series.</summary>
/// <param name="Day">Day, counted from any day.</param>
/// <param name="Value">The result.</param>
/// <param name="Uncertainty">Its fresh standard uncertainty, positive.</param>
/// <param name="Change">What was changed before it; null where nothing.</param>
/// <param name="InstrumentPrior">Standard uncertainty of the offset that a changed instrument brings; 0 where it is the first one again.</param>
/// <param name="Number">Its number, for remarks.</param>
internal sealed record DriftResult(double Day, double Value, double Uncertainty, string? Change, double InstrumentPrior, int Number);

/// <summary>A pass of the level filter over results with changes between them.</summary>
internal sealed class FilterRun(LevelFilter filter)
{
    private readonly CumulativeSums sums = new();
    private (int Index, string Word)? tested;

    public LevelFilter Filter => filter;

    public List<string> Remarks { get; } = [];

    public List<double> Innovations { get; } = [];

    /// <summary>Level and its standard uncertainty after each result.</summary>
    public List<(double Level, double Uncertainty)> Levels { get; } = [];

    /// <summary>Indices of the results that set off an alarm.</summary>
    public List<int> Alarms { get; } = [];

    public int EpochStart { get; private set; }

    public bool InstrumentChanged { get; private set; }

    /// <summary>Whether the last result set off an alarm.</summary>
    public bool Alarmed { get; private set; }

    /// <summary>Follows results in order of time.</summary>
    public static FilterRun Over(IReadOnlyList<DriftResult> results, double q)
    {
        var run = new FilterRun(new LevelFilter(q));
        for (var i = 0; i < results.Count; i++)
        {
            if (results[i].Change is { } change && i > 0)
                run.Change(change, i, results[i].Number, results[i].InstrumentPrior);
            run.Take(results[i], i == 0 ? 0 : results[i].Day - results[i - 1].Day, i);
        }

        return run;
    }

    // A change of instrument brings an offset, a shock is tested, anything else begins a new baseline.
    private void Change(string word, int index, int number, double instrument)
    {
        if (word.StartsWith("instrument", StringComparison.OrdinalIgnoreCase))
        {
            filter.Offset(instrument);
            InstrumentChanged = true;
            Remarks.Add("The instrument was changed: its offset is estimated, the epoch goes on.");
        }
        else if (IsTested(word))
        {
            tested = (index, word);
        }
        else
        {
            filter.Restart();
            sums.Restart(number);
            (EpochStart, InstrumentChanged) = (index, false);
            Remarks.Add($"A new epoch begins with: {word}.");
        }
    }

    private static bool IsTested(string word) => word.StartsWith("crash", StringComparison.OrdinalIgnoreCase)
        || word.StartsWith("temperature", StringComparison.OrdinalIgnoreCase) || word.Contains("tighten", StringComparison.OrdinalIgnoreCase);

    private void Take(DriftResult result, double days, int index)
    {
        var innovation = filter.Take(result.Value, result.Uncertainty, days);
        Innovations.Add(innovation ?? 0);
        Levels.Add((filter.Level, Math.Sqrt(filter.Variance)));
        Alarmed = false;
        if (innovation is not { } nu)
            return;
        if (tested is { } test && test.Index == index)
        {
            Remarks.Add(string.Create(CultureInfo.InvariantCulture,
                $"After \"{test.Word}\" the result moved by {nu:+0.0;-0.0} standard deviations: {(Math.Abs(nu) > 2 ? "it changed something" : "no change is seen")}."));
        }

        var summed = sums.Alarms(nu, result.Number);
        Alarmed = Math.Abs(nu) > 3 || summed;
        if (Alarmed)
            Alarms.Add(index);
        if (Math.Abs(nu) > 3)
            Remarks.Add(string.Create(CultureInfo.InvariantCulture, $"Alarm at day {result.Day:0.##}: this result lies {nu:+0.0;-0.0} standard deviations from what was expected."));
        if (summed)
            Remarks.Add(string.Create(CultureInfo.InvariantCulture, $"Alarm at day {result.Day:0.##}: the results have moved together since row {sums.Since}."));
    }
}
