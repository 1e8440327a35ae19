using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;

namespace Commission.Core.Upkeep;

/// <summary>How the results of one machine stand at an instant.</summary>
/// <param name="fold">The fold of the journal.</param>
/// <param name="machine">The machine.</param>
/// <param name="at">The instant; only age depends on it.</param>
/// <param name="classes">Limits by class of work; null for those carried in the program.</param>
public sealed class MachineUpkeep(UpkeepFold fold, Machine machine, DateTimeOffset at, AcceptanceClasses? classes = null)
{
    private static readonly ImmutableArray<string> Axes = ["X", "Y", "Z"];

    private readonly WorkLimits limits = new(classes ?? AcceptanceClasses.Shipped, machine.Class);

    private readonly Dictionary<ResultKey, ResultState> known = [];

    /// <summary>All states in the order of work: each item once, or once for each axis.</summary>
    public ImmutableArray<ResultState> All => [.. WorkGraph.All.SelectMany(Keys).Select(State)];

    /// <summary>The state of one result.</summary>
    public ResultState State(ResultKey key)
    {
        if (!known.TryGetValue(key, out var state))
            known[key] = state = Judge(key, WorkGraph.All.First(item => item.Id == key.Item));
        return state;
    }

    /// <summary>How a finding stands by itself, though a newer one may have taken its place; null where it is no result in the order of work, or was withdrawn.</summary>
    /// <param name="finding">Sequence of the finding.</param>
    public ResultState? Of(long finding)
    {
        foreach (var key in fold.Results.Keys.Where(key => key.Machine == machine.Name || key.Machine.Length == 0))
        {
            if (fold.Counting(key).FirstOrDefault(result => result.Sequence == finding) is { } found && WorkGraph.All.First(item => item.Id == key.Item) is var item && Applies(item))
                return Judge(key, item, [found]);
        }

        return null;
    }

    /// <summary>What a result waits for: the first of what its value rests on that holds no value now; null where nothing stands in its way.</summary>
    /// <param name="key">The key of the result.</param>
    public ResultKey? WaitsFor(ResultKey key) => WorkGraph.All.First(item => item.Id == key.Item).Needs.Where(need => need.UsesValue)
        .SelectMany(need => Keys(WorkGraph.All.First(other => other.Id == need.Item)))
        .FirstOrDefault(other => (other.Axis is null || key.Axis is null || other.Axis == key.Axis) && !State(other).Usable);

    /// <summary>The keys of an item on this machine.</summary>
    public IEnumerable<ResultKey> Keys(WorkItem item) => item.Scope switch
    {
        WorkScope.Hand => [new ResultKey("", item.Id)],
        WorkScope.Axis => Axes.Select(axis => new ResultKey(machine.Name, item.Id, axis)),
        _ => [new ResultKey(machine.Name, item.Id)],
    };

    private ResultState Judge(ResultKey key, WorkItem item)
    {
        if (!Applies(item))
            return new ResultState { Key = key, Standing = Standing.NotApplicable };
        var last = Latest(key, item);
        return last.Count == 0 ? new ResultState { Key = key, Standing = Standing.Never } : Judge(key, item, last);
    }

    // The newest counts; what it rests on, or what was changed since, counts for that of every place.
    private ResultState Judge(ResultKey key, WorkItem item, List<KeptResult> latest)
    {
        var result = latest[^1];
        if (result.NoResult is { } why)
            return new ResultState { Key = key, Standing = Standing.Never, Reasons = [new(Standing.Never, $"what was measured gives no result: {why}", result.Sequence)], Result = result.Sequence, MeasuredAt = result.MeasuredAt };
        latest = latest.FindAll(one => one.NoResult is null);
        var (dueAt, dueBecause) = Due(key, item, result);
        var reasons = latest.SelectMany(one => Marks(key, one).Concat(Upstream(key, item, one))).Distinct().ToList();
        if (result.Skipped is { } skipped)
            reasons.Add(new(Standing.Due, skipped.Words, skipped.Sequence));
        if (result.Adopted)
            reasons.Add(new(Standing.Due, "adopted, not measured", result.Sequence));
        else if (at >= dueAt)
            reasons.Add(new(Standing.Due, dueBecause, null));
        var ordered = reasons.OrderByDescending(reason => reason.Standing).ThenBy(reason => reason.Entry).ToImmutableArray();
        return new ResultState
        {
            Key = key, Standing = ordered.IsEmpty ? Standing.Fresh : ordered[0].Standing, Reasons = ordered,
            Result = result.Sequence, OfPlaces = [.. latest.Select(one => one.Sequence)], MeasuredAt = result.MeasuredAt, DueAt = dueAt,
        };
    }

    // What is found by its procedures alone stands by all they leave: numbers of several places, and one end of a run for all axes.
    // An item of the whole machine stands by what was found on any axis.
    private List<KeptResult> Latest(ResultKey key, WorkItem item) => [.. Series(key, item).GroupBy(series => series.Place)
        .SelectMany(place => OfAxes(item, [.. place])).OfType<KeptResult>().OrderByDescending(result => result.NoResult is not null).ThenBy(result => result.Sequence)];

    // What was found on one axis says nothing of another one: each has its newest number.
    private IEnumerable<KeptResult?> OfAxes(WorkItem item, List<ResultKey> place)
    {
        var axes = item.Scope == WorkScope.Machine && !item.Findings.IsEmpty ? place.FindAll(series => series.Axis is not null && fold.Counting(series).Any(result => result.Number is not null)) : [];
        return axes.Count > 1 ? axes.Select(series => Newest(item, [.. fold.Counting(series)])) : [Newest(item, [.. place.SelectMany(fold.Counting)])];
    }

    // What gives no result takes the place of none. Where numbers are found the end of a run that found none, as when a bed was surfaced, is no newer number.
    private static KeptResult? Newest(WorkItem item, List<KeptResult> results)
    {
        var given = results.FindAll(result => result.NoResult is null);
        var numbers = item.Findings.IsEmpty || item.Scope == WorkScope.Hand ? [] : given.FindAll(result => result.Number is not null);
        return (numbers.Count > 0 ? numbers : given.Count > 0 ? given : results).MaxBy(result => result.Sequence);
    }

    private IEnumerable<ResultKey> Series(ResultKey key, WorkItem item)
    {
        if (item.Scope == WorkScope.Axis && !item.Findings.IsEmpty)
            return [key];
        return fold.Results.Keys.Where(other => other.Machine == key.Machine && other.Item == key.Item
            && (other.Place == key.Place || (item.Findings.IsEmpty && key.Place is null)) && (other.Axis is null || key.Axis is null || other.Axis == key.Axis));
    }

    // The day that the trend names where there is one, and never later than the item's own.
    private (DateTimeOffset At, string Because) Due(ResultKey key, WorkItem item, KeptResult result)
    {
        var sooner = DriveOf(key) is { } drive ? item.Sooner.FirstOrDefault(one => one.Drive == drive) : null;
        var days = sooner?.Days ?? item.DueAfterDays;
        var own = result.MeasuredAt.AddDays(days);
        var named = Series(key, item).Select(series => TrendOfResults.NextCheck(fold, series, limits)).Where(next => next is not null).OrderBy(next => next!.Value.At).FirstOrDefault();
        return named is { } trend && trend.At < own
            ? (trend.At, string.Create(CultureInfo.InvariantCulture, $"due since {trend.At:d MMM yyyy}: {trend.Because}"))
            : (own, string.Create(CultureInfo.InvariantCulture, $"measured {(int)(at - result.MeasuredAt).TotalDays} days ago; due after {days} days{(sooner is null ? "" : $", because {sooner.Because}")}"));
    }

    private DriveKind? DriveOf(ResultKey key) => MachineWords.Axis(key.Axis) is { } axis ? machine[axis].Drive : null;

    private bool Applies(WorkItem item) => item.When switch
    {
        WorkCondition.Switches => AxesOf.Any(axis => axis.Switches != Switches.None),
        WorkCondition.MotorPair => AxesOf.Any(axis => axis.Motors is null or 2) && AxesOf.Any(axis => axis.Switches != Switches.None),
        WorkCondition.NoSwitches => AxesOf.All(axis => axis.Switches == Switches.None),
        _ => true,
    };

    private IEnumerable<AxisDescription> AxesOf => [machine.X, machine.Y, machine.Z];

    private IEnumerable<StandingReason> Marks(ResultKey key, KeptResult result) => fold.Events
        .Where(happened => happened.Sequence > result.Sequence && !fold.Withdrawn.Contains(happened.Sequence))
        .Where(happened => key.Machine.Length == 0 || happened.Machine == key.Machine)
        .Where(happened => happened.Axis is null || key.Axis is null || happened.Axis == key.Axis)
        .Where(happened => !WithinItsUncertainty(happened, result))
        .Select(happened => (Happened: happened, Row: StaleTable.Find(happened.Change)))
        .Where(pair => pair.Row is { } row && (row.Items.Contains(key.Item) || BeginsAnew(key, row)))
        .Select(pair => new StandingReason(
            pair.Row!.Effect == ChangeEffect.Suspect ? Standing.Suspect : Standing.Stale,
            $"{ChangeWord.TitleOf(pair.Row.Change)}: {(BeginsAnew(key, pair.Row) ? "make the checks before motion again" : pair.Row.Todo)}",
            pair.Happened.Sequence)
        { Verifies = pair.Row.VerifiedBy == key.Item, Alone = BeginsAnew(key, pair.Row) });

    // The machine's checks count by epoch: a change that begins one asks for them anew, and touches nothing that was measured.
    private static bool BeginsAnew(ResultKey key, StaleRow row) => key.Item == StaleTable.Checks && !row.Items.Contains(key.Item) && StaleTable.AsksForChecks(row.Change);

    // A number that was changed by less than is known about the result changes nothing that is known.
    private static bool WithinItsUncertainty(KeptEvent happened, KeptResult result)
    {
        if (happened.Relative is not { } relative || result.Expanded is not { } expanded)
            return false;
        var change = happened.Change == "steps-changed" && result.Value is { } value && Math.Abs(value) > 1 ? relative * value : relative;
        return Math.Abs(change) < expanded;
    }

    private IEnumerable<StandingReason> Upstream(ResultKey key, WorkItem item, KeptResult result)
    {
        foreach (var need in item.Needs.Where(need => need.UsesValue))
        {
            var upstream = WorkGraph.All.First(other => other.Id == need.Item);
            foreach (var other in Keys(upstream).Where(other => other.Axis is null || key.Axis is null || other.Axis == key.Axis))
            {
                var state = State(other);
                if (state.Standing is Standing.Stale or Standing.Suspect && state.Reasons.FirstOrDefault(reason => !reason.Alone) is { Standing: Standing.Stale or Standing.Suspect } touched && !VerifiedSince(state, key, result))
                    yield return new(Standing.Stale, $"{Named(upstream, other)} is {(state.Standing == Standing.Stale ? "stale" : "suspect")}", touched.Entry);
                else if (Moved(other, result) is { } moved)
                    yield return new(Standing.Stale, $"{Named(upstream, other)} was measured anew and differs by more than its uncertainty", moved);
            }
        }
    }

    // What was measured to verify a setting does not rest on what that setting alone made stale.
    private bool VerifiedSince(ResultState upstream, ResultKey key, KeptResult result) => upstream.StaleSince is { } entry && entry < result.Sequence
        && fold.Events.Any(happened => happened.Sequence == entry && StaleTable.Find(happened.Change)?.VerifiedBy == key.Item && (happened.Axis is null || key.Axis is null || happened.Axis == key.Axis));

    // The upstream result that held when this one was made, against the one that holds now: a rougher look does not move what a finer one found.
    private long? Moved(ResultKey upstream, KeptResult result)
    {
        var results = fold.Counting(upstream).Where(kept => kept.NoResult is null).ToList();
        var then = results.FindLast(kept => kept.Sequence < result.Sequence);
        return then is { Value: { } old, Expanded: { } expanded } && results[^1] is { Value: { } now } last && last.Sequence > result.Sequence
            && Math.Abs(now - old) > double.Hypot(expanded, last.Expanded ?? 0)
                ? last.Sequence
                : null;
    }

    private static string Named(WorkItem item, ResultKey key) => key.Axis is null ? item.Title : $"{item.Title} of {key.Axis}";
}
