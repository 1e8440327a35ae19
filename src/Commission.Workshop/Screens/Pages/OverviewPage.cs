using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Motion;
using Commission.Core.Plans;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Core.Upkeep;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Sheets;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The route card of a procedure, with its hazards.</summary>
public sealed class OverviewPage(Desk desk, Procedure procedure, AxisName? axis) : Page(desk)
{
    private const int MostHazards = 4;
    private const string Electrical = "electrical";

    // Opening acts on the machine: it stands among the hazards, so that S answers it too.
    private static readonly Danger Opening = new("S opens the known port: the controller may restart, outputs may switch, drives may let go.", "Spindle unplugged? No job running? Z supported?");

    // Ports are looked for once for a card.
    private readonly Lazy<ControllerAddress?> _known = new(() => desk.Link?.Known);
    private bool _waiting, _alone;
    private TakenPlan? _plan;

    /// <summary>Letter of the place it was opened from: Esc goes back there. W is the list of the work.</summary>
    public char From { get; init; } = 'W';

    /// <summary>Whether a new run begins even where one was left.</summary>
    public bool Anew { get; init; }

    // The known port, where this procedure moves the machine, its hazards leave room for one more, and no link is open.
    private ControllerAddress? Opens => !_alone && procedure.Hazards.Length < MostHazards && Moving && Desk.Link is { IsOpen: false } ? _known.Value : null;

    private bool Moving => procedure.AllSteps.Any(step => step is Step.MoveMachine) || (procedure.ForOneAxis && procedure.AllSteps.OfType<Step.Read>().Any());

    /// <inheritdoc/>
    public override KeyScene Scene => _waiting ? base.Scene with { Places = "" } : base.Scene;

    /// <inheritdoc/>
    public override string Called => procedure.Title;

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
    [
        Desk.Units.Told(procedure.Purpose), .. Lines().Where(line => line.Item1 is not "For").Select(line => $"{line.Item1}: {line.Item2.Replace("   ", ", ", StringComparison.Ordinal).Replace("  ", ", ", StringComparison.Ordinal).Replace("\n", ", ", StringComparison.Ordinal)}"),
        .. procedure.Evaluation.Select(Desk.Units.Told),
    ];

    /// <inheritdoc/>
    public override string? Subject => procedure.Id;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => OverviewSheet.Of(new OverviewView
    {
        Path = $"{Desk.MachineName} / work / {Named(procedure, axis)}", Right = Desk.Today, Live = Desk.Live,
        Lines = [.. Lines()],
        Hazards = [.. Dangers, .. Opens is null ? (ReadOnlySpan<Danger>)[] : [Opening]],
    }, height) with
    { Keys = [.. OverviewSheet.Keys.Select(key => key.Action == "start" && Left is not null ? key with { Word = "go on" } : key.Action == "away" ? key with { Word = Back } : key)] } is var sheet && Desk.WhyNotWritten is { } why ? sheet with { Next = "Nothing can be begun here: this program only reads. Esc goes back.", Because = $"Because: {why}." } : sheet;

    // What good data look like, which D tells over the sheet.
    /// <inheritdoc/>
    public override IEnumerable<Line> Notes(int room, int rows) =>
        SideNotes.Part("WHAT GOOD DATA LOOK LIKE", procedure.GoodData.Select(Desk.Units.Told), room).Concat(SideNotes.Part("USUAL SLIPS", procedure.Slips.Select(Desk.Units.Told), room)).Concat(SideNotes.Part("WHAT IS MADE OF IT", procedure.Evaluation.Select(Desk.Units.Told), room));

    /// <summary>The card in few columns, beside the list of the work. Hazards stand there all of them or not at all: the card itself leaves none out.</summary>
    public IEnumerable<Line> Card(int room, int rows)
    {
        var card = SideNotes.Margins("ROUTE CARD", Lines().Where(line => line.Item1 is not "Route").Select(line => (line.Item1, line.Item2.Replace("   ", "\n", StringComparison.Ordinal))), room).ToList();
        var hazards = HazardBlock.Lines(Dangers, room).ToList();
        return card.Count + hazards.Count <= rows ? [.. card, .. hazards, Line.Blank, .. Notes(room, rows)] : [.. card, .. Dangers.IsEmpty ? [] : SideNotes.Part("HAZARDS", [$"{Dangers.Length}, read on the card before anything begins."], room)];
    }

    private ImmutableArray<Danger> Dangers => [.. procedure.Hazards.Select(hazard => new Danger(Desk.Units.Told(hazard.What), Desk.Units.Told(hazard.Do)))];

    private string Back => From switch { 'B' => "bench", 'C' => "controller", 'F' => "findings", 'K' => "kit", _ => "list" };

    private void Plans()
    {
        if (Said(PlanPage.Of(Desk, procedure, axis, Taken)) is { } plans)
            Desk.Cover(plans);
    }

    /// <summary>Shows the card of a procedure with a plan that was taken for its next run.</summary>
    public static void Taking(Desk desk, Procedure procedure, AxisName? axis, TakenPlan plan)
    {
        var card = new OverviewPage(desk, procedure, axis) { From = 'F' };
        desk.Show(card);
        card.Taken(plan);
    }

    private void Taken(TakenPlan plan)
    {
        (_plan, Desk.Preferred) = (plan, plan.Instrument ?? Desk.Preferred);
        Desk.Say("The plan is taken; nothing has begun. S begins it once the hazards are done.");
    }

    private IEnumerable<(string, string)> Lines()
    {
        yield return ("Route", Route());
        if (Left is { } left)
            yield return ("Left", $"{WorkStates.Words(left)}{(left.Readings.Count > 0 ? string.Create(CultureInfo.InvariantCulture, $", {left.Readings.Count} reading{(left.Readings.Count == 1 ? "" : "s")} on disk") : "")}. S goes on with it.");
        yield return ("For", Desk.Units.Told(procedure.Purpose.Split(". ")[0].TrimEnd('.') + "."));
        yield return ("Takes", Desk.Units.Told(string.Create(CultureInfo.InvariantCulture, $"{Minutes:0} min. {Moves()}").TrimEnd()));
        if (Instrument() is { } instrument)
            yield return ("With", instrument);
        else if (procedure.Instruments.FirstOrDefault() is { } need)
            yield return ("With", $"for {need.For}: {string.Join(" or ", need.Kinds.Select(kind => InstrumentCatalogue.Called(kind)))}, {Missing(need)}{(KitChoice.IsWithoutU(procedure) ? ". Without one the result will have no U; K names one" : "")}");
        if (_plan is { } plan)
            yield return ("Plan", plan.Words);
        else if (Gives() is { Length: > 0 } gives)
            yield return ("Gives", gives);
        if (Needs() is { Length: > 0 } needs)
            yield return ("Needs", needs);
        if (Waits is { } waits)
            yield return ("Waits", $"for {waits}: no result of it holds. S begins all the same.");
        if (IsBeforePowerUp)
            yield return ("First", "the power-up list: it is not through. What you move by hand is yours.");
        if (procedure.Abort.FirstOrDefault() is { } abort)
            yield return ("Ends", Desk.Units.Told("early: " + Words.Small(abort)));
    }

    // What the readings tell that will be taken, not those of a plan that was not taken.
    private string Gives()
    {
        if (Question is not { } question || !Planner.PlannedKinds.Contains(question.Kind) || CharacteristicKinds.Find(question.Kind) is not { Parameters: [var headline, ..] })
            return "";
        var unit = Desk.Units.Of(headline.Unit);
        var told = Foretold()?.Predicted.FirstOrDefault();
        var limit = question.Limit is { } most ? string.Create(CultureInfo.InvariantCulture, $" Limit {(most / unit.Factor).ToString(unit.Symbol == "in" ? "0.####" : "0.###", CultureInfo.InvariantCulture)} {unit.Symbol}") : "";
        if (told is not { ExpandedUncertainty: var u })
            return limit.Length == 0 ? "" : $"{limit.TrimStart()}. P plan";
        var gives = $"U about {ValueFormat.Pair(u / unit.Factor, u / unit.Factor, signed: false).Uncertainty} {unit.Symbol}.";
        return limit.Length == 0 ? gives + " P plan" : $"{gives}{limit}: {Within((question.Limit!.Value - (FindingSheet.GuardShare * u)) / unit.Factor, told.Name)}. P plan";
    }

    private PlanQuestion? Question => PlanPage.Question(Desk, procedure, axis) is not Outcome<PlanQuestion>.Good { Value: var question } ? null
        : Left is { Started.Body.Instrument: { } named } ? question with { Instrument = Desk.Ledger.Instrument(named), Hand = Desk.Hand(named)?.Body.Study } : question;

    private PlanWay? Foretold() => Question is { } question ? Planner.Foretold(question, Cells(ofFirst: true)) : null;

    // Up to where the whole bar of the verdict would lie between the walls; never rounded up.
    private string Within(double most, string parameter)
    {
        if (most <= 0)
            return "\"within\" cannot be said with that";
        var kind = procedure.AllSteps.OfType<Step.Evaluate>().First().Kind;
        var digit = Math.Pow(10, Math.Floor(Math.Log10(most)) - 1);
        var shown = (Math.Floor(most / digit) * digit).ToString("0.#####", CultureInfo.InvariantCulture);
        return $"\"within\" up to {(Signs.IsSigned(parameter == "reversal" ? Signs.LostMotion : parameter, kind) ? "+/-" : "")}{shown}";
    }

    // The steps by name, each once, as a route card has them.
    private string Route() => string.Join("  ", Gathered(procedure.AllSteps.Where(IsOfTheAxis).Select(step => step.Name?.Split('/')[0]).OfType<string>().Distinct()).Prepend("read this")
        .Select((name, i) => string.Create(CultureInfo.InvariantCulture, $"{i + 1} {name}")));

    // What is for another axis is not on the way of this one.
    private bool IsOfTheAxis(Step step) => axis is not { } one || step.When.All(condition => condition.Fact != "axis" || condition.Words.Contains(one.ToString()));

    // Checks that are named by their numbers say nothing one by one: those in a row are told by the first and how many follow.
    private static IEnumerable<string> Gathered(IEnumerable<string> names)
    {
        var row = new List<string>();
        foreach (var name in names.Append(null))
        {
            if (name is { Length: > 2 } && name[0] == 'p' && char.IsAsciiDigit(name[1]) && char.IsAsciiDigit(name[2]))
            {
                row.Add(name.Split('-')[0].ToUpperInvariant());
                continue;
            }

            if (row.Count > 0)
                yield return row.Count == 1 ? row[0] : string.Create(CultureInfo.InvariantCulture, $"{row[0]} and {row.Count - 1} more");
            row.Clear();
            if (name is not null)
                yield return name.Replace('-', ' ');
        }
    }

    // What its steps or its readings ask of the machine. Where they ask for nothing the owner may still run it: the hazards say so.
    private string Moves()
    {
        var along = axis is { } named ? $" along {named}" : "";
        if (procedure.AllSteps.Any(step => step is Step.MoveMachine))
            return $"Machine moves: yes,{(along.Length > 0 ? along + "," : "")} each move with its own confirmation.";
        var cells = Cells();
        return cells.IsEmpty ? "This program commands no move in it."
            : cells.All(cell => cell.GoTo.IsEmpty) ? string.Create(CultureInfo.InvariantCulture, $"{cells.Length} readings.")
            : string.Create(CultureInfo.InvariantCulture, $"Machine moves: yes, {cells.Length} times{along}, at most {Math.Min(ProcedureRun.MeasuringFeedMmMin, axis is { } moves && FoundSpeeds.Of(Desk.Ledger, Desk.MachineName!).TryGetValue(moves, out var most) ? most : double.MaxValue):0} mm/min.");
    }

    // The plan of a run that is gone on with; null where it reads the procedure's own places.
    private string? KeptPlan => Left?.Started.Body.Options.GetValueOrDefault(ProcedureSession.PlanOption);

    /// <summary>Minutes of what will be done: with the plan that was taken, with that of a run which is gone on with, or the procedure's own.</summary>
    public double Minutes => _plan?.Minutes ?? (KeptPlan is null ? null : Foretold()?.Minutes) ?? procedure.Minutes;

    private RunRecord? Left => Anew ? null : WorkStates.Left(Desk, procedure, axis);

    // The readings that will be taken, in their order: of the plan that was taken, that of a run which is gone on with, or the procedure's own. None where it cannot be said before it begins.
    private ImmutableArray<PlanCell> Cells(bool ofFirst = false)
    {
        if (_plan?.Cells is { IsDefaultOrEmpty: false } taken)
            return taken;
        if (KeptPlan is { } kept)
            return PlanCellText.Read(kept).Match(cells => cells, _ => []);
        return OwnReadings.Of(Desk, procedure, axis, ofFirst);
    }

    // What is there and too short is not called missing.
    private string Missing(InstrumentNeed need) => need.WayMm is { } way && Desk.Ledger.Kit.Any(known => need.Kinds.Contains(known.Kind) && !need.IsServedBy(known))
        ? Desk.Units.Told(string.Create(CultureInfo.InvariantCulture, $"none in the kit gives way by {way:0.##} mm")) : Desk.Ledger.Kit.Any(known => need.Kinds.Contains(known.Kind)) && KitChoice.LongestMm(procedure, Desk.Machine!) is { } longest
        ? Desk.Units.Told(string.Create(CultureInfo.InvariantCulture, $"none in the kit is {Math.Ceiling(longest):0} mm long")) : "not in the kit yet";

    private string? Instrument()
    {
        if (Desk.InstrumentFor(procedure) is not { } chosen)
            return null;
        var limit = chosen.LimitMm is { } mm ? "limit of error " + Desk.Units.Limit(mm) : "limit of error not known";
        var study = Desk.Hand(chosen.Name)?.Body.Study;
        var hand = study is null ? "no hand study yet" : string.Create(CultureInfo.InvariantCulture, $"your hand {Desk.Units.Digits(study.StandardDeviationMm)} {Desk.Units.Length.Symbol}, {study.DegreesOfFreedom:0} repeats");
        return $"{chosen.Name} ({limit}; {hand})";
    }

    // What is known to be fresh is not asked again: the states of what it rests on stand in their own tags.
    private string Needs()
    {
        var upkeep = new MachineUpkeep(Desk.Fold, Desk.Machine!, Desk.Now, Desk.Means.Journal.Limits);
        var tags = procedure.Needs.Select(need => (Need: need, Item: WorkGraph.Find(need.Procedure))).Where(pair => pair.Item is not null)
            .Select(pair => (pair.Need, State: upkeep.State(new ResultKey(pair.Item!.Scope == WorkScope.Hand ? "" : Desk.MachineName!, pair.Item.Id, pair.Item.Scope == WorkScope.Axis ? (axis ?? AxisName.X).ToString() : null))))
            .Where(pair => pair.State.Standing != Standing.NotApplicable)
            .Select(pair => $"{Named(pair.Need.Procedure, pair.State.Key.Axis is null ? null : axis)} {StateTag.Of(BenchRows.StuffOf(pair.State.Standing))}{(pair.State.MeasuredAt is { } at ? " " + StateTag.Age(Desk.Now - at) : "")}").ToList();
        return string.Join('\n', (string[])[.. tags.Chunk(2).Select(two => string.Join("   ", two)), .. BornStale(upkeep) ? (ReadOnlySpan<string>)["A new result is stale at once while one of these is."] : []]);
    }

    // What the list of the work says of it, in the same words.
    private string? Waits => new WorkStates(Desk).WaitsFor(procedure, axis);

    // Over the link the gate asks for it; without one nothing but these words does.
    private bool IsBeforePowerUp => Moving && WorkGraph.Find(procedure.Id) is { Id: not Electrical } && Desk.Link is not { IsOpen: true }
        && new MachineUpkeep(Desk.Fold, Desk.Machine!, Desk.Now, Desk.Means.Journal.Limits).State(new ResultKey(Desk.MachineName!, Electrical)).Standing == Standing.Never;

    // What rests on a value that does not hold is found stale; not so what verifies a setting, and waits for nothing that the same setting broke.
    private bool BornStale(MachineUpkeep upkeep) => WorkGraph.Find(procedure.Id) is { Scope: not WorkScope.Hand } item
        && upkeep.State(new ResultKey(Desk.MachineName!, item.Id, item.Scope == WorkScope.Axis ? axis?.ToString() : null)) is var own
        && item.Needs.Where(need => need.UsesValue).Select(need => WorkGraph.All.First(other => other.Id == need.Item)).SelectMany(upkeep.Keys)
            .Where(key => key.Axis is null || own.Key.Axis is null || key.Axis == own.Key.Axis).Select(upkeep.State)
            .Any(state => state.Standing is Standing.Stale or Standing.Suspect && (own.Verifies is null || state.StaleSince != own.Verifies));

    /// <inheritdoc/>
    public override void FollowNext() => Desk.Say("Enter does nothing here. S means: hazards read, what they ask is done.");

    /// <inheritdoc/>
    public override void Away()
    {
        _waiting = false;
        if (From == 'W')
            Desk.Show(new WorkListPage(Desk));
        else
            Desk.GoTo(From);
    }

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        if (action == "details")
            Desk.Cover(new WordsPage(Desk, "what good data look like", [.. procedure.GoodData.Concat(procedure.Slips.Select(slip => "Slip: " + slip)).Select(Desk.Units.Told)]));
        else if (action == "plan")
            Plans();
        else if (action != "start")
            FollowNext();
        else if (Left is { } left)
            Desk.Show(new ResumePage(Desk, left));
        else if (_waiting)
            Desk.Say("The port is being opened. Esc does not wait for it.");
        else if (Opens is { } address)
            Open(address);
        else if (IsOfAHand && !Desk.OperatorTold)
            Desk.AskOperator(() => Start());
        else
            Start();
    }

    // What a hand study finds is that of one hand.
    private bool IsOfAHand => procedure.AllSteps.OfType<Step.Evaluate>().Any(evaluate => CharacteristicKinds.Find(evaluate.Kind) is { IsHandStudy: true });

    private void Open(ControllerAddress address)
    {
        _waiting = true;
        Desk.Link!.Open(address, Arrived);
        Desk.Say("The port is being opened; then the run begins.");
    }

    private void Arrived(bool open)
    {
        if (!_waiting)
            return;
        _waiting = false;
        if (!open)
            _alone = Desk.Link is { IsOpen: false };
        else if (Desk.Link?.Now?.Gate.State is not TrustState.Stopped && Start() is { } run)
            run.TrustFirst();
    }

    private RunPage? Start()
    {
        if (Said(Desk.Means.Begin(procedure, axis, Desk.Machine!, _plan?.Cells ?? [])) is { } session)
        {
            if (session.Run.Needs is Need.HazardsFirst)
                Said(session.Happen(new RunEvent.HazardsRead()));
            Desk.Refresh();
            Desk.Start(session);
            return Desk.Running;
        }

        return null;
    }

    /// <summary>Name of a procedure with its axis, short.</summary>
    public static string Named(Procedure procedure, AxisName? axis) => Named(procedure.Id, axis);

    /// <summary>Name of what a procedure finds, with its axis, short.</summary>
    public static string Named(string procedure, AxisName? axis) => ResultName.Of(procedure) + (axis is { } named ? " " + named : "");
}
