using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.History;

namespace Commission.Core.Upkeep;

/// <summary>
/// Makes a trend out of the fold: the results of one key through the level filter, with the changes that bear on it by the stale table
/// (our choice). A change of instrument is an offset with a prior of its own; a crash, a tightened bolt and the temperature are
/// tested; every other change begins a new baseline.
/// </summary>
public static class TrendOfResults
{
    private const double DaysOfMonth = 30.4375;
    private const int ForecastSteps = 8;

    // A limit farther away than twenty years is none that a day can be named for.
    private const double FarthestDays = 20 * 365.25;
    private static readonly ImmutableArray<string> OnlyTested = ["crash", "bolt-tightened", "temperature-changed"];

    /// <summary>The trend of a key; null where there is no result with a number.</summary>
    /// <param name="fold">The fold of the journal.</param>
    /// <param name="key">The key.</param>
    /// <param name="limits">Limits of the machine's class of work, for results that were given none of their own; null where no class shall stand in.</param>
    public static TrendView? Of(UpkeepFold fold, ResultKey key, WorkLimits? limits = null)
    {
        var kept = Usable(fold, key);
        if (kept.Count == 0)
            return null;
        var events = Events(fold, key, kept);
        return new Series(key, kept, events, LimitOf(key, kept[^1].Number!, limits)).View();
    }

    /// <summary>The day to look again, where a trend exists: two results of the present baseline and a limit.</summary>
    internal static (DateTimeOffset At, string Because)? NextCheck(UpkeepFold fold, ResultKey key, WorkLimits limits)
    {
        var kept = Usable(fold, key);
        if (kept.Count < 2 || LimitOf(key, kept[^1].Number!, limits) is not { Value: not null } limit)
            return null;
        var view = new Series(key, kept, Events(fold, key, kept), limit).View();
        return view.NextCheck is { } at && view.Points.Count(point => point.Epoch == view.Points[^1].Epoch) > 1 ? (at, view.NextBecause) : null;
    }

    // A limit that somebody gave stands; without one, or with one of a class, that of the machine's class now.
    private static (double? Value, string? Typed, bool IsClass) LimitOf(ResultKey key, KeptNumber last, WorkLimits? limits)
    {
        var given = last is { Limit: { } value, LimitTyped: { } typed } ? new Tolerance(value, last.Unit, typed) : null;
        var standing = limits is null ? given : limits.Standing(given, last.Kind, key.Place);
        return standing is { } limit && limit.Unit == last.Unit ? (limit.Value, limit.Typed, given is null) : (null, null, false);
    }

    // One quantity in one unit: of the kinds that find it, the one that found the last result, and those that give the same headline.
    private static List<KeptResult> Usable(UpkeepFold fold, ResultKey key)
    {
        var all = fold.Counting(key).Where(result => result is { Number: not null, Adopted: false } && Fresh(result) > 0).OrderBy(result => result.MeasuredAt).ThenBy(result => result.Sequence).ToList();
        return all.Count == 0 ? all : all.FindAll(result => result.Number!.Unit == all[^1].Number!.Unit && result.Number.Parameter == all[^1].Number!.Parameter);
    }

    private static double? Fresh(KeptResult result) => result.Number!.Fresh ?? result.Expanded / (result.Number.CoverageFactor ?? 2);

    private static List<KeptEvent> Events(UpkeepFold fold, ResultKey key, List<KeptResult> kept) => [.. fold.Events
        .Where(happened => !fold.Withdrawn.Contains(happened.Sequence) && happened.Sequence > kept[0].Sequence)
        .Where(happened => happened.Machine == key.Machine || key.Machine.Length == 0)
        .Where(happened => happened.Axis is null || key.Axis is null || happened.Axis == key.Axis)
        .Where(happened => StaleTable.Find(happened.Change)?.Items.Contains(key.Item) == true || happened.Change == "instrument-dropped")];

    /// <summary>One series on its way to a view.</summary>
    private sealed class Series
    {
        private readonly ResultKey key;
        private readonly List<KeptResult> kept;
        private readonly List<TrendEvent> events;
        private readonly double sign;
        private readonly (double? Value, string? Typed, bool IsClass) limit;
        private readonly DriftAnalysis analysis;

        internal Series(ResultKey key, List<KeptResult> kept, List<KeptEvent> happened, (double? Value, string? Typed, bool IsClass) limit)
        {
            (this.key, this.kept, this.limit) = (key, kept, limit);

            // What people call lost motion is the reversal value with its sign turned.
            sign = Signs.Of(Last.Parameter);
            events = [.. happened.Select(Told)];
            analysis = DriftAnalysis.Of([.. kept.Select(Result)], null, limit.Value, limit.Value);
        }

        private KeptNumber Last => kept[^1].Number!;

        private DateTimeOffset Start => kept[0].MeasuredAt;

        internal TrendView View()
        {
            var epochs = Epochs();
            var next = analysis.Next;
            return new TrendView
            {
                Machine = key.Machine,
                Item = key.Item,
                Title = Title,
                Unit = Last.Unit,
                Points = [.. kept.Select((result, at) => new TrendPoint(
                    result.Sequence, result.MeasuredAt, sign * result.Value!.Value, result.Expanded, result.Number!.CoverageFactor, Fresh(result), result.Number.Instrument,
                    sign * analysis.Run.Levels[at].Level, analysis.Run.Alarms.Contains(at), epochs[at]))],
                Events = [.. events.OrderBy(change => change.At)],
                IsSigned = sign > 0 && Signs.IsSigned(Last.Parameter, Last.Kind),
                Limit = limit.Value,
                LimitTyped = limit.Typed,
                LimitOfClass = limit.IsClass ? limit.Typed : null,
                Forecast = next is null ? [] : [.. Enumerable.Range(0, ForecastSteps + 1).Select(step => Forecast(step * (next.Day - Day(kept[^1])) / ForecastSteps))],
                Slope = Slope(),
                WhyNoSlope = WhyNoSlope(),
                NextCheck = next is null ? null : Start.AddDays(next.Day),
                NextElse = next is { Bound: NextCheckBound.Interval } ? kept[^1].MeasuredAt.AddDays(next.DriftDays) : null,
                EarliestReach = next is { ReachDays: <= FarthestDays } ? kept[^1].MeasuredAt.AddDays(next.ReachDays) : null,
                NextBecause = Because(next),
                Changed = Changed(epochs),
                Remarks = [.. Remarks()],
            };
        }

        private string Title => ResultName.Of(sign < 0 ? "backlash" : key.Item, key.Axis, key.Place);

        private static TrendEvent Told(KeptEvent happened) => new(
            happened.Sequence, happened.At, happened.Change, ChangeWord.TitleOf(happened.Change),
            !OnlyTested.Contains(happened.Change) && !happened.Change.StartsWith("instrument", StringComparison.Ordinal));

        private double Day(KeptResult result) => (result.MeasuredAt - Start).TotalDays;

        private DriftResult Result(KeptResult result, int at)
        {
            var change = at == 0 ? null : Before(kept[at - 1], result);
            return new DriftResult(Day(result), result.Value!.Value, Fresh(result)!.Value, change, Prior(at), at + 1);
        }

        // A new baseline counts for more than a change of instrument, and that for more than a shock.
        private string? Before(KeptResult before, KeptResult result)
        {
            var between = events.FindAll(change => change.Sequence > before.Sequence && change.Sequence < result.Sequence);
            if (between.FindLast(change => change.BeginsBaseline) is { } begins)
                return begins.Title;
            if (before.Number!.Instrument != result.Number!.Instrument || between.Exists(change => change.Word.StartsWith("instrument", StringComparison.Ordinal)))
                return "instrument changed";
            return between.LastOrDefault()?.Word;
        }

        // The offset between two instruments is known as well as both are; back at the first one there is none.
        private double Prior(int at)
        {
            if (at == 0 || kept[at].Number!.Instrument == BaselineInstrument(at))
                return 0;
            var (old, changed) = (kept[at - 1].Number!.Shared, kept[at].Number!.Shared);
            return old is { } one && changed is { } other ? Math.Sqrt(one * one + other * other) : 1000 * Fresh(kept[at])!.Value;
        }

        private string? BaselineInstrument(int at)
        {
            for (var i = at; i > 0; i--)
            {
                if (events.Exists(change => change.BeginsBaseline && change.Sequence > kept[i - 1].Sequence && change.Sequence < kept[i].Sequence))
                    return kept[i].Number!.Instrument;
            }

            return kept[0].Number!.Instrument;
        }

        private int[] Epochs()
        {
            var epoch = 1;
            return [.. kept.Select((result, at) => at > 0 && events.Exists(change => change.BeginsBaseline && change.Sequence > kept[at - 1].Sequence && change.Sequence < result.Sequence) ? ++epoch : epoch)];
        }

        private TrendForecast Forecast(double days)
        {
            var (level, half) = analysis.Forecast(days);
            return new TrendForecast(kept[^1].MeasuredAt.AddDays(days), sign * level, half);
        }

        private TrendSlope? Slope()
        {
            if (analysis.Trend is not { } trend)
                return null;
            var factor = Quantities.StudentT.Quantile(0.975, trend.Freedom);
            return new TrendSlope(sign * trend.Slope * DaysOfMonth, factor * trend.SlopeUncertainty * DaysOfMonth, factor, kept.Count - analysis.Run.EpochStart, trend.Extra, trend.Significant);
        }

        private string? WhyNoSlope() => analysis.Trend is not null ? null
            : analysis.Run.InstrumentChanged ? "the instrument was changed within this epoch"
            : "a drift needs five results of one epoch over three spacings";

        private string Because(NextCheck? next) => next switch
        {
            null => "without a limit no day can be named",
            { ReachDays: 0 } => "the limit may be passed already",
            { Bound: NextCheckBound.Limit } => string.Create(CultureInfo.InvariantCulture, $"drift could reach the limit by {Start.AddDays(Day(kept[^1]) + next.ReachDays):d MMM yyyy}"),
            { Bound: NextCheckBound.Interval } => string.Create(CultureInfo.InvariantCulture, $"at most twice the last gap of {(next.Day - Day(kept[^1])) / 2:0} days"),
            { Bound: NextCheckBound.Week } => "a week is the least",
            _ => "never later than a year",
        };

        private string Changed(int[] epochs)
        {
            var begins = events.FindLast(change => change.BeginsBaseline && change.Sequence < kept[^1].Sequence);
            var since = begins is null ? string.Create(CultureInfo.InvariantCulture, $"the first result of {Start:d MMM yyyy}") : string.Create(CultureInfo.InvariantCulture, $"\"{begins.Title}\" of {begins.At:d MMM yyyy}");
            var first = kept[Array.IndexOf(epochs, epochs[^1])];
            if (first == kept[^1])
                return $"One result since {since}: whether anything changed cannot be said yet.";
            if (analysis.Run.Alarmed)
                return $"Something changed since {since}: the last result does not follow from the ones before it.";
            if (analysis.Trend is { Significant: true })
                return $"It drifts since {since}, beyond the scatter of the results.";
            var moved = Math.Abs(kept[^1].Value!.Value - first.Value!.Value);
            var sure = 2 * Math.Sqrt(Math.Pow(Fresh(first)!.Value, 2) + Math.Pow(Fresh(kept[^1])!.Value, 2));
            return analysis.Trend is null && !analysis.Run.InstrumentChanged && moved > sure
                ? $"It changed since {since}: the last result differs from the first by more than their fresh uncertainties."
                : $"No change since {since} beyond the scatter of the results.";
        }

        // A result that was foretold within two of its own standard deviations lies on the line; those after it are named with it.
        private string Step(int at)
        {
            var nu = analysis.Run.Innovations[at];
            if (Math.Abs(nu) > 2)
                return string.Create(CultureInfo.InvariantCulture, $"a step is seen, {kept[at].MeasuredAt:d MMM} lies {sign * nu:+0.0;-0.0} of its standard deviations off the line");
            var one = string.Create(CultureInfo.InvariantCulture, $"{kept[at].MeasuredAt:d MMM}");
            return at + 1 < kept.Count && Before(kept[at], kept[at + 1]) is null && Math.Abs(analysis.Run.Innovations[at + 1]) <= 2
                ? string.Create(CultureInfo.InvariantCulture, $"no step: {one} and {kept[at + 1].MeasuredAt:d MMM} lie on the line within their own spread")
                : $"no step: {one} lies on the line within its own spread";
        }

        private IEnumerable<string> Remarks()
        {
            for (var at = 1; at < kept.Count; at++)
            {
                var change = Before(kept[at - 1], kept[at]);
                if (change is not null && OnlyTested.Contains(change))
                    yield return $"{ChangeWord.Find(change)!.Title}: {Step(at)}";
                else if (change == "instrument changed")
                    yield return string.Create(CultureInfo.InvariantCulture, $"Another instrument from {kept[at].MeasuredAt:d MMM yyyy} on: its offset is estimated, the epoch goes on.");
                if (analysis.Run.Alarms.Contains(at))
                    yield return string.Create(CultureInfo.InvariantCulture, $"Alarm on {kept[at].MeasuredAt:d MMM yyyy}: this result does not follow from the ones before it. What happened then?");
            }
        }
    }
}
