using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.History;

namespace Commission.Core.Upkeep;

/// <summary>A result as the fold keeps it.</summary>
/// <param name="Sequence">Sequence of the finding, or of the end of a run that gives no number.</param>
/// <param name="MeasuredAt">Instant of the last reading behind it.</param>
/// <param name="Value">Headline value; null where it has none.</param>
/// <param name="Expanded">Expanded uncertainty of the value; null where it has none.</param>
public sealed record KeptResult(long Sequence, DateTimeOffset MeasuredAt, double? Value, double? Expanded)
{
    /// <summary>Method of a value that was taken from a card or a file when a store was begun anew.</summary>
    public const string AdoptedMethod = "adopted/1";

    /// <summary>Whether it was adopted and not measured: due from the beginning.</summary>
    public bool Adopted { get; init; }

    /// <summary>Why it is no result, though something was measured: no value, or no U; null where it is one.</summary>
    public string? NoResult { get; init; }

    /// <summary>A check that its run passed over; null where it made all. Only a result that is no number says nothing but that checks were made: it is due from the beginning.</summary>
    public KeptSkip? Skipped { get; init; }

    /// <summary>What a trend needs besides; null where the result is no number.</summary>
    public KeptNumber? Number { get; init; }
}

/// <summary>A check that a run passed over, and did not make good.</summary>
/// <param name="Sequence">Sequence of the skip.</param>
/// <param name="Words">Which check, and why, as a clause.</param>
public sealed record KeptSkip(long Sequence, string Words)
{
    /// <summary>A skip in words.</summary>
    public static KeptSkip Of(long sequence, CheckKey key, string reason) => new(sequence, $"the check {key.Words} was skipped: {reason}");
}

/// <summary>A number in a series of results.</summary>
/// <param name="Kind">Id of the kind of finding.</param>
/// <param name="Parameter">Name of the headline.</param>
/// <param name="Unit">Its canonical unit.</param>
/// <param name="Fresh">Fresh standard uncertainty: it decides on change; null where not known.</param>
/// <param name="Shared">Shared standard uncertainty; null where not known.</param>
/// <param name="CoverageFactor">Coverage factor of the expanded uncertainty; null where there is none.</param>
/// <param name="Instrument">Name of the instrument; null where none was named.</param>
/// <param name="Limit">The limit in the unit of the value; null where there is none.</param>
/// <param name="LimitTyped">The limit as typed; null where there is none.</param>
public sealed record KeptNumber(
    string Kind, string Parameter, string Unit, double? Fresh, double? Shared, double? CoverageFactor, string? Instrument, double? Limit, string? LimitTyped)
{
    /// <summary>The number of a finding; null where its headline has no value.</summary>
    internal static KeptNumber? Of(EntryBody.FindingMade made)
    {
        if (made.Finding.HeadlineIfAny() is not { Value: not null } headline)
            return null;
        var limit = ToleranceText.LimitOf(made.Finding, made.Options);
        return new KeptNumber(
            made.Finding.Kind, headline.Name, headline.Unit, headline.FreshUncertainty, headline.SharedUncertainty, headline.CoverageFactor,
            made.Instrument ?? made.Options.Instrument?.Name, limit, limit is null ? null : made.Options.Tolerance?.Typed);
    }
}

/// <summary>An event that may make results stale.</summary>
/// <param name="Sequence">Sequence of its entry.</param>
/// <param name="Machine">The machine; null where it concerns none in particular.</param>
/// <param name="Axis">The axis; null for all.</param>
/// <param name="Change">Word of change.</param>
/// <param name="Relative">Relative change of the number that was written; null where it is no number, and then it always counts.</param>
public sealed record KeptEvent(long Sequence, string? Machine, string? Axis, string Change, double? Relative)
{
    /// <summary>When it was entered.</summary>
    public DateTimeOffset At { get; init; }

    /// <summary>What happened, in the owner's words; empty where they gave none.</summary>
    public string Text { get; init; } = "";
}

/// <summary>
/// What the states of all results are read from: a fold over the journal that only collects. How a result stands at an instant is
/// asked of it afterwards, so that the fold from nothing and the fold from a prefix and the rest cannot differ.
/// </summary>
public sealed record UpkeepFold
{
    private UpkeepFold()
    {
    }

    /// <summary>The fold of no entries.</summary>
    public static UpkeepFold Empty { get; } = new();

    /// <summary>Results by key in order, withdrawn ones too.</summary>
    public ImmutableDictionary<ResultKey, ImmutableList<KeptResult>> Results { get; private init; } = ImmutableDictionary<ResultKey, ImmutableList<KeptResult>>.Empty;

    /// <summary>Events in order, withdrawn ones too.</summary>
    public ImmutableList<KeptEvent> Events { get; private init; } = [];

    /// <summary>Sequences of entries that were withdrawn.</summary>
    public ImmutableHashSet<long> Withdrawn { get; private init; } = [];

    /// <summary>Latest description of each machine.</summary>
    public ImmutableDictionary<string, Machines.Machine> Machines { get; private init; } = ImmutableDictionary<string, Machines.Machine>.Empty;

    private ImmutableDictionary<long, OpenRun> Runs { get; init; } = ImmutableDictionary<long, OpenRun>.Empty;

    /// <summary>The fold of a chain.</summary>
    public static UpkeepFold From(IEnumerable<JournalEntry> entries) => entries.Aggregate(Empty, (fold, entry) => fold.After(entry));

    /// <summary>A fold out of what an index kept: results that count and events that stand.</summary>
    /// <param name="results">Results by key, in order.</param>
    /// <param name="events">Events in order.</param>
    /// <param name="present">Descriptions of machines, and all entries of the runs that are open, in order.</param>
    public static UpkeepFold Of(IEnumerable<(ResultKey Key, KeptResult Result)> results, IEnumerable<KeptEvent> events, IEnumerable<JournalEntry> present)
    {
        var open = From(present);
        return new UpkeepFold
        {
            Results = results.GroupBy(one => one.Key).ToImmutableDictionary(group => group.Key, group => group.Select(one => one.Result).ToImmutableList()),
            Events = [.. events], Machines = open.Machines, Runs = open.Runs,
        };
    }

    /// <summary>The result that a finding leaves; null where its characteristic is not in the order of work.</summary>
    /// <param name="entry">The entry of the finding.</param>
    /// <param name="made">The finding.</param>
    /// <param name="measuredAt">Instant of the last reading behind it.</param>
    /// <param name="procedure">The procedure it came from; null where it came from a file.</param>
    public static (ResultKey Key, KeptResult Result)? Kept(JournalEntry entry, EntryBody.FindingMade made, DateTimeOffset measuredAt, string? procedure)
    {
        // A rough check that uses the arithmetic of another kind is its own item: a rule does not renew what a caliper found.
        var own = procedure is null ? null : WorkGraph.All.FirstOrDefault(item => item.Findings.IsEmpty && item.Procedures.Contains(procedure));
        if ((own ?? WorkGraph.Holding(made.Characteristic, made.Place)) is not { } item)
            return null;
        var headline = made.Finding.HeadlineIfAny();
        return (Key(made.Machine, item, made.Axis, made.Place), new KeptResult(entry.Sequence, measuredAt, headline?.Value, headline?.ExpandedUncertainty)
        {
            Adopted = made.Finding.Method == KeptResult.AdoptedMethod, Number = KeptNumber.Of(made),
            NoResult = made.Finding.Method == KeptResult.AdoptedMethod ? null : made.Finding.WhyNoResult(),
        });
    }

    /// <summary>The result that a hand study leaves.</summary>
    public static (ResultKey Key, KeptResult Result) Kept(JournalEntry entry, EntryBody.StudyMade made) =>
        (new ResultKey("", "gauge-study"), new KeptResult(entry.Sequence, entry.At, made.Study.StandardDeviationMm, null));

    /// <summary>The result that the end of a run leaves where no finding did, as with the switches; null where its procedure is not in the order of work.</summary>
    /// <param name="entry">The entry that completes the run.</param>
    /// <param name="run">Machine, procedure and axis of the run.</param>
    /// <param name="lastReading">Instant of its last reading; null where it had none.</param>
    /// <param name="skipped">A check it passed over; null where it made all.</param>
    public static (ResultKey Key, KeptResult Result)? Kept(JournalEntry entry, (string? Machine, string Procedure, string? Axis) run, DateTimeOffset? lastReading, KeptSkip? skipped) =>
        WorkGraph.Find(run.Procedure) is { } item
            ? (Key(run.Machine, item, run.Axis, null), new KeptResult(entry.Sequence, lastReading ?? entry.At, null, null) { Skipped = skipped })
            : null;

    /// <summary>The event that an entry is; null where it is none.</summary>
    public static KeptEvent? Happened(JournalEntry entry) => entry.Body switch
    {
        EntryBody.ChangeTold body => new KeptEvent(entry.Sequence, body.Machine, body.Axis, body.Change, null) { At = entry.At, Text = body.Text },
        EntryBody.SettingWritten body when !body.IsIntended() && StaleTable.ChangeOf(body.Name) is { } change => new KeptEvent(
            entry.Sequence, body.Machine, body.Axis, change, Relative(body, change))
        { At = entry.At },
        _ => null,
    };

    // An offset has no size of its own: only whether it changed at all can be said.
    private static double? Relative(EntryBody.SettingWritten body, string change) => (change, body.Before, body.ReadBack ?? body.After) switch
    {
        ("microsteps-changed", _, _) => null,
        (_, { } before, var after) when before.Equals(after) => 0,
        ("home-offset-changed", _, _) or (_, null or 0, _) => null,
        (_, { } before, var after) => (after / before) - 1,
    };

    /// <summary>The fold after one more entry.</summary>
    public UpkeepFold After(JournalEntry entry) => entry.Body switch
    {
        EntryBody.MachineDescribed body => this with { Machines = Machines.SetItem(body.Description.Name, body.Description) },
        EntryBody.RunStarted body => this with { Runs = Runs.SetItem(entry.Sequence, new OpenRun(body, null, false, [])) },
        EntryBody.ReadingTaken { Run: long run } when Runs.TryGetValue(run, out var open) => this with { Runs = Runs.SetItem(run, open with { LastReading = entry.At }) },
        EntryBody.Skipped { Run: long run, Check: { } check } body when Runs.TryGetValue(run, out var open) => WithSkips(run, open, open.KeyOf(check, body.Step), KeptSkip.Of(entry.Sequence, open.KeyOf(check, body.Step), body.Reason)),
        EntryBody.Checked { Run: long run, Passed: true } body when Runs.TryGetValue(run, out var open) && !open.Skips.IsEmpty => WithSkips(run, open, open.KeyOf(body.Check, body.Step), null),
        EntryBody.FindingMade body => WithFinding(entry, body),
        EntryBody.RunEnded { How: "completed", Run: long run } when Runs.TryGetValue(run, out var open) => WithRun(entry, open),
        EntryBody.StudyMade body => Add(Kept(entry, body)),
        EntryBody.ChangeTold or EntryBody.SettingWritten => Happened(entry) is { } happened ? this with { Events = Events.Add(happened) } : this,
        EntryBody.Withdrawn body => this with { Withdrawn = Withdrawn.Add(body.Finding) },
        _ => this,
    };

    /// <summary>Results of a key that count, in order.</summary>
    public IEnumerable<KeptResult> Counting(ResultKey key) =>
        Results.TryGetValue(key, out var kept) ? kept.Where(result => !Withdrawn.Contains(result.Sequence)) : [];

    private UpkeepFold WithFinding(JournalEntry entry, EntryBody.FindingMade made)
    {
        var run = made.Run is long number && Runs.TryGetValue(number, out var open) ? open : null;
        if (Kept(entry, made, run?.LastReading ?? entry.At, run?.Started.Procedure) is not { } kept)
            return this;
        var folded = Add(kept.Key, kept.Result);
        return run is null ? folded : folded with { Runs = folded.Runs.SetItem(made.Run!.Value, run with { Found = true }) };
    }

    // Procedures that give no number, such as the switches, leave their end behind as the result.
    private UpkeepFold WithRun(JournalEntry entry, OpenRun open)
    {
        var fold = this with { Runs = Runs.Remove(entry.Body.Run!.Value) };
        return !open.Found && Kept(entry, (open.Started.Machine, open.Started.Procedure, open.Started.Axis), open.LastReading, open.Skips.IsEmpty ? null : open.Skips[0].Skip) is { } kept ? fold.Add(kept.Key, kept.Result) : fold;
    }

    // A check that passed, under the same key, makes a skip in the same run good.
    private UpkeepFold WithSkips(long run, OpenRun open, CheckKey key, KeptSkip? skip)
    {
        var others = open.Skips.RemoveAll(other => other.Key == key);
        return this with { Runs = Runs.SetItem(run, open with { Skips = skip is null ? others : others.Add((key, skip)) }) };
    }

    private UpkeepFold Add((ResultKey Key, KeptResult Result) kept) => Add(kept.Key, kept.Result);

    private UpkeepFold Add(ResultKey key, KeptResult result) =>
        this with { Results = Results.SetItem(key, (Results.TryGetValue(key, out var kept) ? kept : []).Add(result)) };

    private static ResultKey Key(string? machine, WorkItem item, string? axis, string? place) => item.Scope switch
    {
        // What is found axis by axis for an item of the whole machine, as homing is, has a series for each.
        WorkScope.Hand => new("", item.Id),
        _ => new(machine ?? "", item.Id, axis, place),
    };

    private sealed record OpenRun(EntryBody.RunStarted Started, DateTimeOffset? LastReading, bool Found, ImmutableList<(CheckKey Key, KeptSkip Skip)> Skips)
    {
        public CheckKey KeyOf(string check, string step) => CheckKey.Of(check, step, Started.Procedure, Started.Axis);
    }
}
