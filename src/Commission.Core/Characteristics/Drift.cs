using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>How a result moves over months: level, trend, alarms, and the day of the next check.</summary>
public sealed class Drift : CharacteristicKind
{
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
        new("change", ColumnContent.Word, "what was changed before this result: instrument, crash, tightened, or anything else for a new epoch") { Required = false },
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
        new("extraScatter", "1", "scatter beyond the results' own uncertainties") { IsSize = true },
        new("nextCheckDay", "d", "day by which to check again") { IsSize = true },
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
        var instrument = options.Number("instrument-sd");
        var analysis = DriftAnalysis.Of(
            [.. rows.Select(row => new DriftResult(row["day"], row["value"], row["uncertainty"], row.Words.GetValueOrDefault("change"), instrument ?? 1000 * row["uncertainty"], row.Number))],
            options.Number("variance-per-day"),
            options.Tolerance?.Value,
            options.Tolerance?.In(unit, options.TravelMm) is Outcome<double>.Good { Value: var limit } ? limit : null);
        var run = analysis.Run;
        draft.Remarks.AddRange(run.Remarks);
        draft.Add("level", unit, run.Filter.Level, [new UncertaintyPart("results so far", Math.Sqrt(run.Filter.Variance)) { RepeatingHelps = true }]);
        AddTrend(draft, analysis.Trend, unit, run.InstrumentChanged);
        var next = analysis.Next?.Day;
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
            // Where no unit was told the results are plain numbers.
            Vertical = finding.Headline.Unit == "1" ? "result, a plain number" : "result, " + finding.Headline.Unit,
            Layers =
            [
                new FigureLayer.Points("results", FigureMark.Dot, [.. rows.Select(r => new FigurePoint(r["day"], r["value"], 2 * r["uncertainty"]))]),
                .. rows.Where(r => r.Words.ContainsKey("change")).Select(r => (FigureLayer)new FigureLayer.Event(r.Words["change"], r["day"])),
            ],
            Summary = string.Create(CultureInfo.InvariantCulture, $"{rows.Length} results; the level is {finding.Headline.Value:G4}{(finding.Headline.Unit == "1" ? "" : " " + finding.Headline.Unit)} now."),
        };
    }

    private static void AddTrend(FindingDraft draft, Trend? trend, string unit, bool instrumentChanged)
    {
        var perDay = unit + "/d";
        if (trend is null)
        {
            var why = instrumentChanged ? "the instrument was changed within this epoch" : "a trend needs five results of one epoch over three spacings";
            draft.AddBare("slope", perDay, null, why);
            draft.AddBare("extraScatter", unit, null, why);
            return;
        }
        draft.Add("slope", perDay, trend.Slope, [new UncertaintyPart("scatter about the trend", trend.SlopeUncertainty, trend.Freedom) { RepeatingHelps = true }]);
        draft.AddBare("extraScatter", unit, trend.Extra, "an estimate by moments, without an interval");
        draft.Remarks.Add(trend.Significant ? "The results show a trend." : "The results show no trend beyond their scatter.");
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
