using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>How a result moves over months: level, trend, alarms, and the day of the next check (M 11).</summary>
public sealed class Drift : CharacteristicKind
{
    private const double DaysOfMonth = 30.4375;

    /// <inheritdoc/>
    public override string Id => "drift";

    /// <inheritdoc/>
    public override string Title => "drift";

    /// <inheritdoc/>
    public override string Method => "drift/1";

    /// <inheritdoc/>
    public override ImmutableArray<ColumnSpec> Columns =>
    [
        new("day", ColumnContent.Number, "day of the result, counted from any day"),
        new("value", ColumnContent.Number, "the result, in the unit of the tolerance or of --unit"),
        new("uncertainty", ColumnContent.Number, "its fresh standard uncertainty"),
        new("change", ColumnContent.Word, "what was changed before this result: instrument, crash, tightened, or anything else for a new baseline") { Required = false },
    ];

    /// <inheritdoc/>
    public override ImmutableArray<OptionSpec> Options =>
    [
        new("unit", false, "canonical unit of the values: mm, rad or 1"),
        new("variance-per-day", true, "variance the level gains in a day; found from six results on where not told"),
        new("instrument-sd", true, "standard uncertainty of the offset that a change of instrument brings"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters =>
    [
        new("level", "1", "level at the last result, in the unit of the values"),
        new("slope", "1", "change in a day"),
        new("extraScatter", "1", "scatter beyond the results' own uncertainties"),
        new("nextCheckDay", "d", "day by which to check again"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<PublishedCase> PublishedCases => ScatterCases.Levels;

    /// <inheritdoc/>
    public override Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options)
    {
        var rows = readings.Used.OrderBy(row => row["day"]).ToArray();
        if (rows.Length == 0 || rows.Any(row => !(row["uncertainty"] > 0)))
            return new Problem("a result has no positive uncertainty", "Give every result its fresh standard uncertainty");
        var unit = options.Words.GetValueOrDefault("unit") ?? options.Tolerance?.Unit ?? "1";
        var draft = new FindingDraft(this, readings, options) { NeedsInstrument = false };
        var q = options.Numbers.TryGetValue("variance-per-day", out var told) ? told : ProcessVariance(rows, options);
        var run = Follow(rows, q, options);
        draft.Remarks.AddRange(run.Remarks);
        draft.Add("level", unit, run.Filter.Level, [new UncertaintyPart("results so far", Math.Sqrt(run.Filter.Variance)) { RepeatingHelps = true }]);
        var epoch = rows[run.EpochStart..].Select(row => (row["day"], row["value"], row["uncertainty"])).ToArray();
        var trend = run.InstrumentChanged ? null : Trend.Of(epoch);
        AddTrend(draft, trend, unit, run.InstrumentChanged);
        var next = NextCheck(rows, run.Filter, trend, q, options, unit);
        if (next is { } day)
            draft.AddBare("nextCheckDay", "d", day, "it is a date, set so that the limit is not reached before it");
        else
            draft.AddBare("nextCheckDay", "d", null, "without a tolerance no day can be named");
        return draft.Close(null, judgement => Advise(judgement, run.Alarmed, next), residuals: [.. run.Innovations], scatter: null);
    }

    /// <inheritdoc/>
    public override Figure? Picture(Finding finding, ReadingTable readings)
    {
        var rows = readings.Used.OrderBy(row => row["day"]).ToArray();
        return new Figure
        {
            Title = "Trend",
            Horizontal = "day",
            Vertical = finding.Headline.Unit,
            Layers =
            [
                new FigureLayer.Points("results", FigureMark.Dot, [.. rows.Select(r => new FigurePoint(r["day"], r["value"], 2 * r["uncertainty"]))]),
                .. rows.Where(r => r.Words.ContainsKey("change")).Select(r => (FigureLayer)new FigureLayer.Event(r.Words["change"], r["day"])),
            ],
            Summary = string.Create(CultureInfo.InvariantCulture, $"{rows.Length} results; the level is {finding.Headline.Value:G4} {finding.Headline.Unit} now."),
        };
    }

    /// <summary>Grid maximum of the likelihood from six results on; before, a twentieth of the tolerance in a month.</summary>
    private static double ProcessVariance(ReadingRow[] rows, FitOptions options)
    {
        var guess = options.Tolerance is { } t ? Math.Pow(t.Value / 20, 2) / DaysOfMonth : 0;
        if (rows.Length < 6)
            return guess;
        var typical = rows.Select(row => row["uncertainty"]).Order().ElementAt(rows.Length / 2);
        var spacing = Math.Max((rows[^1]["day"] - rows[0]["day"]) / (rows.Length - 1), 1e-9);
        double[] grid = [0, .. Enumerable.Range(0, 25).Select(i => typical * typical / spacing * Math.Pow(10, -4 + i * 0.25))];
        return grid.MaxBy(q => Follow(rows, q, options).Filter.LogLikelihood);
    }

    private static FilterRun Follow(ReadingRow[] rows, double q, FitOptions options)
    {
        var run = new FilterRun(new LevelFilter(q));
        for (var i = 0; i < rows.Length; i++)
        {
            if (rows[i].Words.TryGetValue("change", out var change) && i > 0)
                run.Change(change, i, options.Numbers.TryGetValue("instrument-sd", out var sd) ? sd : 1000 * rows[i]["uncertainty"]);
            run.Take(rows[i], i == 0 ? 0 : rows[i]["day"] - rows[i - 1]["day"], i);
        }
        return run;
    }

    private static void AddTrend(FindingDraft draft, Trend? trend, string unit, bool instrumentChanged)
    {
        var perDay = unit + "/d";
        if (trend is null)
        {
            var why = instrumentChanged ? "the instrument was changed within this baseline" : "a trend needs five results of one baseline over three spacings";
            draft.AddBare("slope", perDay, null, why);
            draft.AddBare("extraScatter", unit, null, why);
            return;
        }
        draft.Add("slope", perDay, trend.Slope, [new UncertaintyPart("scatter about the trend", trend.SlopeUncertainty, trend.Freedom) { RepeatingHelps = true }]);
        draft.AddBare("extraScatter", unit, trend.Extra, "an estimate by moments, without an interval");
        draft.Remarks.Add(trend.Significant ? "The results show a trend." : "The results show no trend beyond their scatter.");
    }

    /// <summary>Smallest t with |z + slope t| + 2 sqrt(P + (t u)^2 + q t) at the limit; eight tenths of it, a week at least, a year at most, twice the last interval at most.</summary>
    private static double? NextCheck(ReadingRow[] rows, LevelFilter filter, Trend? trend, double q, FitOptions options, string unit)
    {
        if (options.Tolerance?.In(unit, options.TravelMm) is not Outcome<double>.Good { Value: var limit })
            return null;
        var last = rows[^1]["day"];
        var interval = rows.Length > 1 ? Math.Max(2 * (last - rows[^2]["day"]), 7) : 365;
        return last + Math.Clamp(Math.Min(0.8 * TimeToLimit(filter, trend, q, limit), interval), 7, 365);
    }

    private static double TimeToLimit(LevelFilter filter, Trend? trend, double q, double limit) =>
        TimeToLimit(filter.Level, filter.Variance, trend is { } t ? (t.Slope, t.SlopeUncertainty) : (0, 0), q, limit);

    /// <summary>The same for plain numbers; infinite where the limit is not reached in a hundred thousand days.</summary>
    internal static double TimeToLimit(double level, double variance, (double Slope, double Uncertainty) trend, double q, double limit)
    {
        double Reach(double t) => Math.Abs(level + trend.Slope * t) + 2 * Math.Sqrt(variance + t * t * trend.Uncertainty * trend.Uncertainty + q * t);
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

    private static Advice Advise(Judgement judgement, bool alarmed, double? next)
    {
        var check = next is { } day ? string.Create(CultureInfo.InvariantCulture, $"Check again by day {day:0}.") : "Give a tolerance, so that the next check can be dated.";
        if (alarmed)
        {
            return new Advice
            {
                Action = AdviceAction.MeasureMore,
                Because = "The last results do not follow from the ones before them.",
                Next = "Ask what was changed or happened at that time, measure once more, then act.",
            };
        }
        var usual = judgement.Usual("The level", new Advice
        {
            Action = AdviceAction.Change,
            Because = "The level has left the limit, its uncertainty counted.",
            Next = "Run the full procedure for this characteristic and act on its advice.",
        });
        return usual.Action == AdviceAction.Leave ? usual with { Next = check } : usual;
    }
}

/// <summary>A pass of the level filter over results with changes between them.</summary>
internal sealed class FilterRun(LevelFilter filter)
{
    private readonly CumulativeSums sums = new();
    private (int Index, string Word)? tested;

    public LevelFilter Filter => filter;

    public List<string> Remarks { get; } = [];

    public List<double> Innovations { get; } = [];

    public int EpochStart { get; private set; }

    public bool InstrumentChanged { get; private set; }

    /// <summary>Whether one of the last two results set off an alarm.</summary>
    public bool Alarmed { get; private set; }

    /// <summary>A change of instrument brings an offset, a shock is tested, anything else begins a new baseline.</summary>
    public void Change(string word, int index, double instrument)
    {
        if (word.StartsWith("instrument", StringComparison.OrdinalIgnoreCase))
        {
            filter.Offset(instrument);
            InstrumentChanged = true;
            Remarks.Add("The instrument was changed: its offset is estimated, the baseline goes on.");
        }
        else if (word.StartsWith("crash", StringComparison.OrdinalIgnoreCase) || word.Contains("tighten", StringComparison.OrdinalIgnoreCase))
        {
            tested = (index, word);
        }
        else
        {
            filter.Restart();
            (EpochStart, InstrumentChanged) = (index, false);
            Remarks.Add($"A new baseline begins with: {word}.");
        }
    }

    public void Take(ReadingRow row, double days, int index)
    {
        var innovation = filter.Take(row["value"], row["uncertainty"], days);
        Innovations.Add(innovation ?? 0);
        Alarmed = false;
        if (innovation is not { } nu)
            return;
        if (tested is { } test && test.Index == index)
        {
            Remarks.Add(string.Create(CultureInfo.InvariantCulture,
                $"After \"{test.Word}\" the result moved by {nu:+0.0;-0.0} standard deviations: {(Math.Abs(nu) > 2 ? "it changed something" : "no change is seen")}."));
        }
        var summed = sums.Alarms(nu, row.Number);
        Alarmed = Math.Abs(nu) > 3 || summed;
        if (Math.Abs(nu) > 3)
            Remarks.Add(string.Create(CultureInfo.InvariantCulture, $"Alarm at day {row["day"]:0.##}: this result lies {nu:+0.0;-0.0} standard deviations from what was expected."));
        if (summed)
            Remarks.Add(string.Create(CultureInfo.InvariantCulture, $"Alarm at day {row["day"]:0.##}: the results have moved together since row {sums.Since}."));
    }
}
