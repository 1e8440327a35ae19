using System.Collections.Immutable;

namespace Commission.Core.Upkeep;

/// <summary>A result in a trend.</summary>
/// <param name="Sequence">Sequence of the finding.</param>
/// <param name="At">Instant of its last reading.</param>
/// <param name="Value">The value, in the unit of the trend.</param>
/// <param name="Expanded">Expanded uncertainty; null where there is none.</param>
/// <param name="CoverageFactor">Its coverage factor; null where there is none.</param>
/// <param name="Fresh">Fresh standard uncertainty, with which it enters the filter.</param>
/// <param name="Instrument">Name of the instrument; null where none was named.</param>
/// <param name="Level">Filtered level after it; null where it could not enter.</param>
/// <param name="Alarm">Whether it does not follow from the ones before.</param>
/// <param name="Epoch">Number of its baseline, from 1.</param>
public sealed record TrendPoint(
    long Sequence, DateTimeOffset At, double Value, double? Expanded, double? CoverageFactor, double? Fresh, string? Instrument, double? Level, bool Alarm, int Epoch);

/// <summary>A change written on a trend.</summary>
/// <param name="Sequence">Sequence of its entry.</param>
/// <param name="At">When it was entered.</param>
/// <param name="Word">Its word; <c>instrument-replaced</c> where the results name another instrument.</param>
/// <param name="Title">The change in words.</param>
/// <param name="BeginsBaseline">Whether a new baseline begins with it; else it was only tested.</param>
public sealed record TrendEvent(long Sequence, DateTimeOffset At, string Word, string Title, bool BeginsBaseline);

/// <summary>The level at an instant to come, with its bounds.</summary>
/// <param name="At">The instant.</param>
/// <param name="Level">The level expected.</param>
/// <param name="HalfWidth">Half the width of its bounds: two standard uncertainties.</param>
public readonly record struct TrendForecast(DateTimeOffset At, double Level, double HalfWidth);

/// <summary>How fast the present baseline drifts.</summary>
/// <param name="PerMonth">Change in a month of 30.4375 days, in the unit of the trend.</param>
/// <param name="Expanded">Its expanded uncertainty.</param>
/// <param name="CoverageFactor">Its coverage factor.</param>
/// <param name="Results">Number of results.</param>
/// <param name="Extra">Scatter beyond the results' own uncertainties, a standard deviation.</param>
/// <param name="Significant">Whether it differs from zero at 95 %.</param>
public sealed record TrendSlope(double PerMonth, double Expanded, double CoverageFactor, int Results, double Extra, bool Significant);

/// <summary>A series of results as it is shown: in a report, on a screen, as text. Plain values; nothing of a screen in it.</summary>
public sealed record TrendView
{
    /// <summary>The machine.</summary>
    public required string Machine { get; init; }

    /// <summary>Id of the work item that finds it.</summary>
    public required string Item { get; init; }

    /// <summary>What is followed, in words, for example <c>lost motion Y</c>.</summary>
    public required string Title { get; init; }

    /// <summary>Canonical unit of all values.</summary>
    public required string Unit { get; init; }

    /// <summary>The results that count, in order of time.</summary>
    public required ImmutableArray<TrendPoint> Points { get; init; }

    /// <summary>The changes that bear on them, in order of time.</summary>
    public required ImmutableArray<TrendEvent> Events { get; init; }

    /// <summary>The limit, positive, in the unit of the trend; null where there is none.</summary>
    public double? Limit { get; init; }

    /// <summary>The limit as typed, or the class of work that sets it; null where there is none.</summary>
    public string? LimitTyped { get; init; }

    /// <summary>The class of work whose limit stands because the results had none; null where they had one, or there is none.</summary>
    public string? LimitOfClass { get; init; }

    /// <summary>Whether the quantity has a sign that says something.</summary>
    public bool IsSigned { get; init; }

    /// <summary>Level from the last result on; empty where there is none.</summary>
    public ImmutableArray<TrendForecast> Forecast { get; init; } = [];

    /// <summary>The drift of the present baseline; null where none may be claimed, with the reason in <see cref="WhyNoSlope"/>.</summary>
    public TrendSlope? Slope { get; init; }

    /// <summary>Why no drift is given; null where one is.</summary>
    public string? WhyNoSlope { get; init; }

    /// <summary>The first day on which the limit could be passed, by the bounds of the drift; null without a limit, or where it is farther away than twenty years.</summary>
    public DateTimeOffset? EarliestReach { get; init; }

    /// <summary>When to look again; null where no limit was given.</summary>
    public DateTimeOffset? NextCheck { get; init; }

    /// <summary>When it would be without the bound by the last gap; null where that gap does not decide.</summary>
    public DateTimeOffset? NextElse { get; init; }

    /// <summary>Why then.</summary>
    public required string NextBecause { get; init; }

    /// <summary>Whether anything changed since the last adjustment, in a sentence.</summary>
    public required string Changed { get; init; }

    /// <summary>What the tested changes did, and the alarms, each a sentence.</summary>
    public ImmutableArray<string> Remarks { get; init; } = [];

    /// <summary>The state that took the last result away, in a word; null where it counts.</summary>
    public string? Lost { get; init; }

    /// <summary>Whether the whole interval of the last result lies beyond the limit.</summary>
    public bool IsBeyond => Limit is { } limit && Math.Abs(Points[^1].Value) - (Points[^1].Expanded ?? 0) > limit;

    /// <summary>
    /// The trend as its last result stands now: one that is stale or suspect foretells nothing and waits for no day; any other is looked at again
    /// no later than bench and reports say.
    /// </summary>
    /// <param name="upkeep">How the results of the machine stand.</param>
    public TrendView By(MachineUpkeep upkeep)
    {
        if (upkeep.Of(Points[^1].Sequence) is not { } state)
            return this;
        if (state.Standing is not (Standing.Stale or Standing.Suspect))
            return state is { DueAt: { } due, MeasuredAt: { } measured } && (NextCheck is null || due < NextCheck) ? this with { NextCheck = due, NextElse = null, Forecast = [.. Forecast.Where(ahead => ahead.At <= due)], NextBecause = $"never later than {Longest((due - measured).TotalDays)}" } : this;
        var word = state.Standing == Standing.Stale ? "stale" : "suspect";
        return this with { Lost = word, NextCheck = null, NextElse = null, Forecast = [], NextBecause = $"the last result is {word}: {state.Reasons[0].Because}" };
    }

    private static string Longest(double days) => Math.Round(days) switch
    {
        365 => "a year",
        182 => "half a year",
        var other => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{other:0} days"),
    };
}
