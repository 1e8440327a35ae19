using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Core.Upkeep;
using Commission.Workshop.Screens.Sheets;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Screens.Pages;

/// <summary>A row of the bench and where it comes from.</summary>
/// <param name="Name">Its name on the bench.</param>
/// <param name="Item">The item of the work graph.</param>
/// <param name="Kind">Kind of finding whose class limit holds; null where the row has no number.</param>
/// <param name="Axis">The axis; null for the whole machine.</param>
public sealed record BenchPlace(string Name, string Item, string? Kind, AxisName? Axis)
{
    /// <summary>Place whose limit of the class of work stands before there is a value; null where there is only one.</summary>
    public string? Place { get; init; }
}

/// <summary>The states of the fold, the findings behind them and the limits, as rows.</summary>
/// <param name="desk">The desk.</param>
public sealed class BenchRows(Desk desk)
{
    private const string Tram = "tram, 200 mm", Electrical = "electrical", UprightPlace = "XZ";

    private static readonly BenchPlace[] All =
    [
        new("power-up list", "electrical", null, null), new("homing, worst", "homing", "repeatability", null),
        new("lost motion X", "backlash", "backlash", AxisName.X), new("lost motion Y", "backlash", "backlash", AxisName.Y), new("lost motion Z", "backlash", "backlash", AxisName.Z),
        new("scale X", "axis-scale", "axis-scale", AxisName.X), new("scale Y", "axis-scale", "axis-scale", AxisName.Y), new("scale Z", "axis-scale", "axis-scale", AxisName.Z),
        new("squareness XY", "squareness", "squareness", null), new(Tram, "tram", "tram", null), new("bed map", "bed-map", "flatness", null),
        new("Z to bed", "z-square", "square-reversal", null) { Place = UprightPlace }, new("runout", "runout", "runout", null), new("test cut", "test-cut", null, null), new("false trips", "noise", "event-rate", null),
    ];

    private readonly MachineUpkeep _upkeep = new(desk.Fold, desk.Machine!, desk.Now, desk.Means.Journal.Limits);

    private ImmutableArray<(string Name, string Words)>? _leftOut;
    private PowerUpChecks? _powerUp;

    private readonly WorkLimits _limits = new(desk.Means.Journal.Limits, desk.Machine!.Class);

    /// <summary>The places that apply to the machine, in the order of the work.</summary>
    public ImmutableArray<BenchPlace> Places => [.. All.Where(place => State(place).Standing != Standing.NotApplicable)];

    /// <summary>The rows.</summary>
    public ImmutableArray<BenchRow> Rows => [.. Places.Select(Row)];

    /// <summary>How many are due, stale, suspect and never measured, in words; empty counts are left out.</summary>
    public string Counts => string.Join(", ", new[] { Standing.Due, Standing.Stale, Standing.Suspect, Standing.Never }
        .Select(standing => (Standing: standing, Count: Places.Count(place => State(place).Standing == standing)))
        .Where(pair => pair.Count > 0)
        .Select(pair => string.Create(CultureInfo.InvariantCulture, $"{pair.Count} {pair.Standing.ToString().ToLowerInvariant()}")));

    /// <summary>The state of a row.</summary>
    public ResultState State(BenchPlace place) => _upkeep.State(new ResultKey(desk.MachineName!, place.Item, place.Axis?.ToString()));

    /// <summary>The finding behind a row, of several places the worst; null where there is none.</summary>
    public FindingRecord? Finding(BenchPlace place) => Worst(State(place));

    /// <summary>A figure over the work area, as the results that it rests on stand.</summary>
    public WorkArea Judge(WorkArea area) => area.By(_upkeep);

    /// <summary>The rows whose finding still contains a reading that was left out later, or rests on a fact that was corrected, with a few words on it.</summary>
    public ImmutableArray<(string Name, string Words)> LeftOut => _leftOut ??= [.. Places.Select(place => (place.Name, Finding: Finding(place))).Where(pair => pair.Finding is not null)
        .Select(pair => (pair.Name, Left: desk.LeftOutSince(pair.Finding!.Made).ToList())).Where(pair => pair.Left.Count > 0)
        .Select(pair => (pair.Name, LeftOutText.Short([.. pair.Left.Select(left => left.Entry)])))
        .Concat(Places.Select(place => (place.Name, Finding: Finding(place))).Where(pair => pair.Finding is not null).Select(pair => (pair.Name, Lost: RestingFacts.Of(desk.Ledger, pair.Finding!.Made)))
            .Where(pair => !pair.Lost.IsEmpty).Select(pair => (pair.Name, desk.Units.Told(pair.Lost[0].Short) + ".")))];

    /// <summary>
    /// What to do next: what is dangerous to leave, as a check of the power-up list that does not hold, then suspect, stale, outside, undecided, due, never measured; nothing whose foundations are missing
    /// and nothing whose procedure is not at hand.
    /// </summary>
    public NextWork? Next
    {
        get
        {
            var states = _upkeep.All;
            var open = NextWork.For(_upkeep).Concat(Judged(states)).Where(work => ProcedureOf(work) is not null);
            return open.OrderBy(work => Math.Min(Rank(work), Lifting(work) is { } state ? RankOf(state) : int.MaxValue)).FirstOrDefault();
        }
    }

    // A result that does not hold and cannot be measured yet lifts what it waits for to its own rank; null where none does.
    private ResultState? Lifting(NextWork work) => _upkeep.All.Where(state => state.Standing is Standing.Suspect or Standing.Stale or Standing.Due && RankOf(state) < Rank(work) && Down(state.Key) == work.State.Key)
        .OrderBy(RankOf).FirstOrDefault();

    // The last of a chain of results that wait for each other.
    private ResultKey? Down(ResultKey key)
    {
        var last = _upkeep.WaitsFor(key);
        while (last is not null && _upkeep.WaitsFor(last) is { } next)
            last = next;
        return last;
    }

    /// <summary>Whether it comes before a run that was left: suspect, or checks without which nothing moves over the link that is open.</summary>
    public bool IsUrgent(NextWork work) => work.State.Standing == Standing.Suspect || (work.Item.Id == Electrical && (IsOut(work) || work.State.Standing == Standing.Stale || desk.Link is { Now.Gate.Facts.MissingChecks.IsEmpty: false }));

    /// <summary>The procedure of a piece of work: the first of the item's that is at hand and applies; once the long list was through, the short one that holds what moves ask for.</summary>
    public Procedure? ProcedureOf(NextWork work) => (work is { Item.Id: Electrical, State.Standing: Standing.Suspect or Standing.Stale } && !work.State.Reasons.Any(reason => reason.Standing == Standing.Stale && !reason.Alone) ? work.Item.Procedures.Reverse() : work.Item.Procedures)
        .Select(id => desk.Means.Procedures.FirstOrDefault(procedure => procedure.Id == id))
        .FirstOrDefault(procedure => procedure is not null && Conditions.Hold(procedure.When, desk.Machine!, AxisOf(work), Setting(AxisOf(work))));

    /// <summary>The axis of a piece of work.</summary>
    public static AxisName? AxisOf(NextWork work) => MachineWords.Axis(work.State.Key.Axis);

    /// <summary>The checks of the power-up list that are open, while others of it are done; empty where it was never begun, or is complete.</summary>
    public ImmutableArray<string> OpenChecks => Checks.Passed > 0 && _upkeep.State(new ResultKey(desk.MachineName!, Electrical)).Usable ? Checks.Open : [];

    /// <summary>The reason in a sentence that begins with Because.</summary>
    /// <param name="work">The work.</param>
    /// <param name="room">How long it may be: what waits for it is counted where its names have no room.</param>
    public string Because(NextWork work, int room = int.MaxValue)
    {
        if (Lifting(work) is { } lifting)
            return $"Because: {WorkStates.Named(lifting.Key)} is {StandingWords.Of(lifting.Standing)} and waits for it.";
        var verdict = VerdictOf(work.State);
        var why = work.State.Standing switch
        {
            _ when IsOut(work) => $"{string.Join(", ", Checks.Out)} of the list {(Checks.Out.Length == 1 ? "does" : "do")} not hold",
            Standing.Never when work.State.Result is not null => work.Because,
            Standing.Never => work.Item.Id == Electrical ? "nothing may be powered or moved by this program before it" : Lower(work.Skipping),
            Standing.Fresh when verdict == Verdict.Outside => "it lies outside its limit",
            Standing.Fresh when verdict == Verdict.Undecided => "it may lie on either side of its limit",
            Standing.Fresh => "its finding says: find the fault",
            Standing.Suspect => "suspect" + (Since(work.State) ?? ": " + work.Because),
            Standing.Stale when work.Verifies => Lower(work.Because),
            Standing.Stale => "stale" + (Since(work.State) ?? ": " + work.Because),
            _ => work.Because,
        };
        var waiting = Waiting(work);
        var whole = "Because: " + why + (waiting.Count == 0 ? "." : $"; {string.Join(" and ", waiting.Take(2))} {(waiting.Count == 1 ? "waits" : "wait")} for it.");
        return whole.Length <= room || waiting.Count == 0 ? whole : string.Create(CultureInfo.InvariantCulture, $"Because: {why}; {waiting.Count} {(waiting.Count == 1 ? "waits" : "wait")} for it.");
    }

    // Which change it was, and of which day; what it asks for stands whole on the finding.
    private string? Since(ResultState state) => state.Reasons is [{ Entry: { } entry }, ..] && desk.Ledger.Changes.FirstOrDefault(change => change.Told.Sequence == entry) is { } change
        ? $" since {(change.Told.Body.Change == "crash" ? "the crash" : $"\"{change.Told.Body.Change.Replace('-', ' ')}\"")} of {change.Told.At.ToString("d MMM", CultureInfo.InvariantCulture)}" : null;

    private RunSetting Setting(AxisName? axis) => new()
    {
        Machine = desk.Machine!, Axis = axis, Owned = [.. desk.Ledger.Kit.Select(instrument => instrument.Kind)],
        Link = false,
    };

    // What holds but is outside or undecided is work too, though the fold calls it fresh.
    private IEnumerable<NextWork> Judged(ImmutableArray<ResultState> states) => states.Where(state => state.Standing == Standing.Fresh)
        .Where(state => VerdictOf(state) is Verdict.Outside or Verdict.Undecided || IsFault(Worst(state)) || (state.Key.Item == Electrical && !Checks.Out.IsEmpty))
        .Select(state => (State: state, Item: WorkGraph.All.First(item => item.Id == state.Key.Item)))
        .Select(pair => new NextWork(pair.State, pair.Item, pair.Item.Procedures[0], ""));

    private static int RankOf(ResultState state) => state.Standing switch { Standing.Suspect => 1, Standing.Stale => 2, _ => 5 };

    private int Rank(NextWork work) => work.State.Standing switch
    {
        Standing.Never or Standing.Stale or Standing.Suspect when work.Item.Id == Electrical => 0,
        _ when IsOut(work) => 0,
        Standing.Suspect or Standing.Stale => RankOf(work.State),
        Standing.Fresh => VerdictOf(work.State) == Verdict.Outside || IsFault(Worst(work.State)) ? 3 : 4,
        Standing.Due => RankOf(work.State),
        _ => 6,
    };

    // Whatever the shorter list found: the earth wire that was found loose is loose.
    private bool IsOut(NextWork work) => work.Item.Id == Electrical && !Checks.Out.IsEmpty;

    private List<string> Waiting(NextWork work) => [.. Places.Where(place => WorkGraph.All.First(item => item.Id == place.Item).Needs.Any(need => need.UsesValue && need.Item == work.Item.Id)
        && (work.State.Key.Axis is null || place.Axis is null || place.Axis.ToString() == work.State.Key.Axis) && !State(place).Usable).Select(place => place.Name)];

    private BenchRow Row(BenchPlace place)
    {
        var state = State(place);
        if (place.Item == Electrical)
            return PowerUp(state);
        var stuff = StuffOf(state.Standing);
        var row = new BenchRow(place.Name == Tram ? desk.Units.Told(Tram) : place.Name, stuff) { Again = Again(state, desk.Now), WaitsFor = WaitsFor(place), Age = state.MeasuredAt is { } at ? StateTag.Age(desk.Now - at) : "" };
        if (Finding(place) is not { } record)
            return Empty(row, place, stuff);
        var made = record.Made.Body;
        var factor = FactorOf(place, made.Finding.Headline.Unit);
        var headline = Signs.Told(made.Finding.Headline);
        var standing = LimitOf(made);
        var pair = headline.Value is { } value ? ValueFormat.Pair(value / factor.Factor, headline.ExpandedUncertainty / factor.Factor, Signed(place, headline.Name)) : ((string, string?)?)null;
        return row with
        {
            Value = pair?.Item1 ?? "none",
            Uncertainty = pair?.Item2 ?? "no U",
            Unit = factor.Symbol,
            Limit = standing?.Value is { } limit ? Limit(limit, factor) : "",
            Gauge = FindingSheet.GaugeOf(made.Finding, standing, state.Standing == Standing.Never ? BarStuff.Never : stuff),
            Verdict = stuff is BarStuff.Stale or BarStuff.Suspect ? "" : IsFault(record) && standing?.Verdict is Verdict.Within ? Word(Verdict.Undecided) : Word(standing?.Verdict ?? Verdict.None),
            Tag = state.Standing == Standing.Never ? headline.Value is null ? "[  ] none" : "[  ] no U" : StateTag.Of(stuff),
        };
    }

    private StandingLimit? LimitOf(EntryBody.FindingMade made) => StandingLimit.Of(made.Finding, made.Options, made.Place, _limits);

    private Verdict VerdictOf(ResultState state) => Worst(state) is { } worst ? VerdictOf(worst.Made.Body) : Verdict.None;

    // Against the limit that stands now.
    private Verdict VerdictOf(EntryBody.FindingMade made) => made.Finding.Parameters.IsDefaultOrEmpty ? Verdict.None : LimitOf(made)?.Verdict ?? made.Finding.Verdict;

    // A value that its own finding does not believe is within nothing.
    private static bool IsFault(FindingRecord? finding) => finding?.Made.Body.Finding.Advice.Action == AdviceAction.FindTheFault;

    // What holds in one plane says nothing for the other.
    private FindingRecord? Worst(ResultState state) => state.OfPlaces.Append(state.Result ?? 0).Select(sequence => desk.Ledger.Findings.GetValueOrDefault(sequence)).OfType<FindingRecord>()
        .OrderByDescending(finding => VerdictOf(finding.Made.Body) switch { Verdict.Outside => 3, Verdict.Undecided => 2, Verdict.Within => 1, _ => 0 })
        .ThenByDescending(finding => finding.Made.Body.Finding.HeadlineIfAny()?.Value is { } value && LimitOf(finding.Made.Body)?.Value is > 0 and var limit ? Math.Abs(value) / limit : 0)
        .ThenByDescending(finding => finding.Sequence).FirstOrDefault();

    // An empty strip shows what a limit looks like before there is a value.
    private BenchRow Empty(BenchRow row, BenchPlace place, BarStuff stuff)
    {
        var done = stuff == BarStuff.Never ? "." : "done";
        if (place.Kind is null || ClassLimits.For(place.Kind, desk.Machine!.Class, desk.Means.Journal.Limits, place.Place) is not { } limit)
            return row with { Value = done };
        var factor = FactorOf(place, limit.Unit);
        return row with
        {
            Value = done,
            Limit = Limit(limit.Value, factor),
            Unit = factor.Symbol,
            Gauge = new Gauge(limit.Value, Signed(place, Signs.Told(CharacteristicKinds.Find(place.Kind)!)), null, 0, Verdict.None, stuff),
        };
    }

    private BenchRow PowerUp(ResultState state)
    {
        var (checks, of) = (Checks, Checks.Count);
        return new BenchRow("power-up list", StuffOf(state.Standing))
        {
            Value = of == 0 ? state.Result is null ? "." : "done" : string.Create(CultureInfo.InvariantCulture, $"{checks.Passed}/{of}"), Uncertainty = "", Limit = of == 0 ? "" : of.ToString(CultureInfo.InvariantCulture),
            // The shorter list of a machine at work lets it move; the whole list is not fresh by it.
            Tag = checks.Passed > 0 && checks.Passed < of && (state.Standing is Standing.Fresh or Standing.Due || state.Standing == Standing.Never) ? "[  ] in part" : StateTag.Of(StuffOf(state.Standing)),
            Verdict = !checks.Out.IsEmpty ? "OUT" : checks.Passed == of && of > 0 ? "in" : "", Age = state.MeasuredAt is { } at ? StateTag.Age(desk.Now - at) : "", Again = Again(state, desk.Now),
        };
    }

    // The list counts as its run does: the same checks, those that apply to this machine.
    private PowerUpChecks Checks => _powerUp ??= PowerUpChecks.Of(
        desk.Ledger, desk.MachineName!,
        desk.Means.Procedures.FirstOrDefault(procedure => procedure.Id == "first-power-up") is { } list && ProcedureRun.Start(list, Setting(null)) is Outcome<ProcedureRun>.Good { Value: var run } ? run.Checks : []);

    /// <summary>What a bar is made of in a state.</summary>
    public static BarStuff StuffOf(Standing standing) => standing switch
    {
        Standing.Fresh => BarStuff.Fresh,
        Standing.Due => BarStuff.Due,
        Standing.Stale => BarStuff.Stale,
        Standing.Suspect => BarStuff.Suspect,
        _ => BarStuff.Never,
    };

    private static string Word(Verdict verdict) => verdict switch { Verdict.Within => "in", Verdict.Undecided => "?", Verdict.Outside => "OUT", _ => "" };

    private static double? OverMm(BenchPlace place) => place.Kind is null ? null : CharacteristicKinds.Find(place.Kind)?.ShownOverMm;

    private static bool Signed(BenchPlace place, string parameter) => Signs.IsSigned(parameter, place.Kind);

    private Unit FactorOf(BenchPlace place, string unit) => unit == "rad" && OverMm(place) is { } over ? desk.Units.Length with { Canonical = "rad", Factor = desk.Units.Length.Factor / over } : desk.Units.Of(unit);

    private static string Limit(double value, Unit unit) => (value / unit.Factor).ToString(unit.Symbol switch { "ppm" => "0", "mm" => "F3", "in" => "F4", _ => "F2" }, CultureInfo.InvariantCulture);

    // The day, in another year the month: without its year it would be read as one of this.
    private static string Again(ResultState state, DateTimeOffset now) => state.Standing switch
    {
        Standing.Stale or Standing.Suspect => "now",
        Standing.Fresh or Standing.Due => state.DueAt is { } due ? due.ToString(due.Year == now.Year ? "d MMM" : "MMM yyyy", CultureInfo.InvariantCulture) : "",
        _ => "",
    };

    // The row says which axis it is of.
    private string WaitsFor(BenchPlace place) => _upkeep.WaitsFor(State(place).Key) is { } other ? WorkStates.Named(place.Axis is null ? other : other with { Axis = null }) : "";

    private static string Lower(string text) => Words.Small(text.TrimEnd('.'));
}
