using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Plans;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Core.Upkeep;
using Commission.Workshop.Screens.Sheets;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Screens.Pages;

/// <summary>A plan that was taken into the work.</summary>
/// <param name="Words">What it is and what it costs.</param>
/// <param name="Cells">Where is read, in order.</param>
/// <param name="Minutes">Minutes it takes, setting up counted.</param>
/// <param name="Instrument">The instrument it is made for; null for the one that would be taken anyway.</param>
public sealed record TakenPlan(string Words, ImmutableArray<PlanCell> Cells, double Minutes, string? Instrument);

/// <summary>Ways to the same result, with uncertainty as the price; usual practice stands in the same table.</summary>
public sealed class PlanPage : Page
{
    // A way whose U is so many rulers long says nothing here.
    private const double MostRulers = 3;
    private const int Head = 1, Fate = 2, Remark = 2;

    private readonly Asked asked;
    private readonly ImmutableArray<PlanWay> ways;
    private readonly PlanProspect? prospect;
    private int chosen;

    private PlanPage(Desk desk, Asked asked)
        : base(desk)
    {
        this.asked = asked;
        ways = [asked.Answer.Way, .. asked.Answer.Alternatives];
        chosen = Math.Max(0, ways.ToList().FindIndex(way => way.Reaches == true));
        prospect = Planner.Prospect(asked.Question, asked.Answer);
    }

    /// <inheritdoc/>
    public override string Called => "plans";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
    [
        "The bar is U, expanded uncertainty at 95 %: shorter is better. A limit can be judged where U is at most half of it.",
        "Up and Down choose a plan, D shows its places in their order, Enter takes it: the work then reads these places. What it needs and is not in the kit comes first: K, then A.",
        "Worse than before means: further from the truth than if nothing had been set.",
    ];

    /// <summary>What a plan is asked for.</summary>
    private sealed record Asked(PlanQuestion Question, PlanAnswer Answer, string Named, Action<TakenPlan>? Take, string? WhyNot);

    /// <summary>The question of a procedure's evaluation with the kit; a problem where it gives no number.</summary>
    public static Outcome<PlanQuestion> Question(Desk desk, Procedure procedure, AxisName? axis)
    {
        var kit = desk.Ledger.Kit.ToImmutableArray();
        if (procedure.AllSteps.OfType<Step.Evaluate>().FirstOrDefault() is not { } evaluate)
            return new Problem("this procedure gives no number, so there is nothing to plan", "Carry it out as it stands");
        var instrument = desk.InstrumentFor(procedure);
        var study = desk.Hand(instrument?.Name)?.Body.Study;
        var question = new PlanQuestion
        {
            Kind = evaluate.Kind, Machine = desk.AsShown!, Axis = axis, Instrument = instrument, Hand = study, Owned = kit, Limit = ClassLimits.For(evaluate.Kind, desk.Machine!.Class, desk.Means.Journal.Limits)?.Value,
            EndMarginMm = GridPlan.Margin(desk.Link is { IsOpen: true }), LostMotionMm = LostMotion(desk, axis),
        };
        // What a procedure does besides its readings is done with every plan: minutes on its card and among its plans are the same ones.
        return Fixed(procedure) is null && Planner.Foretold(question, OwnReadings.Of(desk, procedure, axis, ofFirst: true)) is { Minutes: var own }
            ? question with { AroundMinutes = procedure.Minutes - own } : question;
    }

    /// <summary>The plan of a procedure's evaluation; a problem where none can be made.</summary>
    public static Outcome<PlanAnswer> For(Desk desk, Procedure procedure, AxisName? axis) => Question(desk, procedure, axis).Then(Planner.For);

    /// <summary>The page of a procedure's plans.</summary>
    /// <param name="desk">The desk.</param>
    /// <param name="procedure">The procedure.</param>
    /// <param name="axis">Its axis; null for none.</param>
    /// <param name="take">Takes a plan into the work; null where the run has its plan already.</param>
    public static Outcome<PlanPage> Of(Desk desk, Procedure procedure, AxisName? axis, Action<TakenPlan>? take) =>
        Question(desk, procedure, axis).Then(question => Planner.For(question).Then<PlanPage>(answer => new PlanPage(desk, new Asked(
            question, answer, OverviewPage.Named(procedure, axis), take,
            take is null ? "the run under way has its plan; another one is taken on the route card of the next" : Fixed(procedure)))));

    // A plan can be taken where its places lie along one axis and are read by one step.
    private static string? Fixed(Procedure procedure) => procedure.AllSteps.OfType<Step.Read>().ToList() is [var read] && GridPlan.TakesPlans(read.Grid) ? null
        : "this procedure reads the places it was made for; other plans are for readings of your own: M, Enter, fit a file";

    private static double? LostMotion(Desk desk, AxisName? axis) => axis is not { } named ? null
        : desk.Fold.Counting(new ResultKey(desk.MachineName!, "backlash", named.ToString())).LastOrDefault()?.Value is { } value ? Math.Abs(value) : null;

    private static string Mark(int way) => ((char)('A' + Math.Min(way, 25))).ToString();

    private Unit Unit => Desk.Units.Of(asked.Answer.Way.Predicted[0].Unit);

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var unit = Unit;
        var third = Third(unit);
        var limit = asked.Answer.Limit is { } given ? string.Create(CultureInfo.InvariantCulture, $"limit {given / unit.Factor:0.####} {unit.Symbol}") : "no limit";
        var lines = Lines(unit, third);
        var shown = Fitting(lines, SheetFrame.BodyRows(height) - Head - Remark - (prospect is null ? 0 : Fate + prospect.Fates.Length));
        var because = Because(width);
        return PlanSheet.Of(
            new PlanView
            {
                Path = $"{Desk.MachineName} / plans / {asked.Named}", Right = asked.Answer.Wanted is { } wanted ? $"{limit} . wanted U <= {Number(wanted, unit)}" : limit, Live = Desk.Live,
                Ways = [.. shown.Select(line => line.Line)], Chosen = shown.FindIndex(line => line.Way == chosen), Third = third, Unit = unit.Symbol,
                Fate = prospect is null ? "" : string.Create(CultureInfo.InvariantCulture, $"What becomes of {prospect.Of}, {Tool()} ({prospect.Draws / 1000} 000 rehearsals)"),
                Fates = prospect is null ? [] : [.. prospect.Fates.Select(fate => new FateLine(Desk.Units.Told(fate.Done), fate.Worse is { } worse ? (int)Math.Round(100 * worse) : null, string.Create(CultureInfo.InvariantCulture, $"{fate.TypicalError / unit.Factor:0} {unit.Symbol}")))],
                Remarks = [.. Remarks(unit), .. asked.Answer.Assumed.Select(text => "Assumed: " + Desk.Units.Told(text))],
                Step = (Next(width), because),
                Keys =
                [
                    new("Enter", asked.WhyNot is null ? "take " + Mark(chosen) : "away", "take"), new("Up, Down", "another plan", "choose"), new("D", "positions and order", "details"), new("K", "kit", "place"),
                    new("F2", "card", "card"), new("Esc", "away", "away") { Quiet = true }, new("PgUp, PgDn", "scroll", "scroll") { Quiet = true }, new("F1", "help", "help") { Quiet = true },
                ],
            },
            width);
    }

    private string Tool() => $"{(asked.Question.Instrument is not { Kind: var kind } ? "a usual caliper" : kind is InstrumentKind.CaliperDigital or InstrumentKind.CaliperVernier ? "this caliper" : "this instrument")}, {(asked.Question.Hand is null ? "a usual hand" : "your hand")}";

    private string Next(int width)
    {
        var way = ways[chosen];
        var (begin, end) = (string.Create(CultureInfo.InvariantCulture, $"Plan {Mark(chosen)}, {way.Minutes:0} min"), asked.WhyNot is not null ? ". Enter puts the plans away." : way is { Needs: not null, Checks: false } ? ". Not in the kit yet: K, then A." : ". Enter takes it into the work.");
        var with = way.Needs is { } needs ? ", with " + Desk.Units.Told(needs) : "";
        return begin.Length + with.Length + end.Length <= width - 9 ? begin + with + end : begin + end;
    }

    // One of usual practice, then the plans by their letters.
    private List<(PlanLine Line, int? Way)> Lines(Unit unit, double third)
    {
        var lines = new List<(PlanLine, int?)>();
        foreach (var (way, i) in asked.Answer.Naive.Select((way, i) => (way, i)))
            lines.Add((Line(way, way.Expanded / unit.Factor > MostRulers * third ? "x" : "", Desk.Units.Told(way.Name), unit, third), null));
        for (var i = 0; i < ways.Length; i++)
            lines.Add((Line(ways[i], Mark(i), Desk.Units.Told(Short(i)), unit, third), i));
        return [.. lines.OrderBy(line => line.Item1.Mark == "x")];
    }

    private static PlanLine Line(PlanWay way, string mark, string name, Unit unit, double third) => new(
        mark, name, way.Readings.ToString(CultureInfo.InvariantCulture), way.Minutes.ToString("0", CultureInfo.InvariantCulture), way.Expanded is { } u ? Number(u, unit) : "no U",
        way.Expanded / unit.Factor, mark == "x" || way.Expanded is null ? "cannot say anything here" : null);

    // What is the same as an earlier plan is said by its letter.
    private string Short(int at)
    {
        var way = ways[at];
        var own = way.Instrument is null ? way.Name : way.Name[(way.Name.IndexOf(": ", StringComparison.Ordinal) + 2)..];
        var with = way.Instrument is null ? "" : way.Name[..way.Name.IndexOf(": ", StringComparison.Ordinal)];
        var like = Enumerable.Range(0, at).Where(i => ways[i].Instrument is null && own.StartsWith(ways[i].Name, StringComparison.Ordinal)).OrderByDescending(i => ways[i].Name.Length).Select(i => (int?)i).FirstOrDefault();
        var design = like is { } same ? "as " + Mark(same) + own[ways[same].Name.Length..] : own;
        return with.Length == 0 ? design : way.Checks ? $"{design}, the instrument looked at once on a known length" : $"{with}, {design}";
    }

    // On a small sheet the longest plans with the same instrument leave first: what becomes of the machine stays in sight.
    private List<(PlanLine Line, int? Way)> Fitting(List<(PlanLine Line, int? Way)> lines, int room)
    {
        var shown = lines.ToList();
        while (shown.Sum(line => PlanSheet.Lines(line.Line)) > room)
        {
            var last = shown.FindLastIndex(line => line.Way is > 1 and { } way && way != chosen && ways[way].Instrument is null);
            last = last >= 0 ? last : shown.FindLastIndex(line => line.Way is > 0 and { } way && way != chosen);
            if (last < 0)
                break;
            shown.RemoveAt(last);
        }

        return shown;
    }

    // A round number at each third of the ruler, so that the first plan, what is like it and the first usual practice find room.
    private double Third(Unit unit)
    {
        var least = ways[0].Expanded ?? 0;
        var most = ways.Max(way => way.Expanded is { } u && u <= MostRulers * least ? u : 0) / unit.Factor;
        if (asked.Answer.Naive is [{ Expanded: { } usual }, ..] && usual / unit.Factor < MostRulers * most)
            most = Math.Max(most, usual / unit.Factor);
        var decade = Math.Pow(10, Math.Floor(Math.Log10(Math.Max(most, 1e-9) / 3)));
        return ((ReadOnlySpan<double>)[1, 2, 5, 10]).ToArray().First(step => 3 * step * decade >= most * (1 - 1e-9)) * decade;
    }

    private IEnumerable<string> Remarks(Unit unit)
    {
        var longer = ways.Select((way, i) => (way, i)).FirstOrDefault(pair => pair.i > 0 && pair.way.Instrument is null && pair.way.Minutes > ways[0].Minutes);
        if (longer.way is { Expanded: { } after } && ways[0] is { Expanded: { } before, Budget: [var first, ..] })
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{Mark(longer.i)} costs {longer.way.Minutes - ways[0].Minutes:0} minutes for {Number(Math.Max(before - after, 0), unit)} {unit.Symbol}: {first.Source} is {first.Share * 100:0} % of U (k={ways[0].Predicted[0].CoverageFactor:0.00}).");
        }
    }

    private string Because(int width)
    {
        if (asked.WhyNot is { } not)
            return Cut("Because: " + not + ".", width);
        if (ways[chosen] is { Reaches: var reaches, Expanded: { } u } && chosen > 0)
            return Cut($"Because: U {Number(u, Unit)} {Unit.Symbol}{(reaches == true ? ", enough to judge the limit." : asked.Answer.Wanted is null ? "." : ", which does not reach what is wanted.")}", width);
        return Cut(Desk.Units.Told("Because: " + Words.Small(asked.Answer.Because)), width);
    }

    // Whole clauses only; the whole of it stands with D.
    private static string Cut(string text, int width)
    {
        foreach (var end in (ReadOnlySpan<string>)[". ", "; ", ": the ", ": U ", ", "])
        {
            if (text.Length <= width - 9)
                break;
            text = text.IndexOf(end, "Because: ".Length, StringComparison.Ordinal) is var at and > 0 ? text[..at] + "." : text;
        }

        return text.Length <= width - 9 ? text : Wrap.To(text, width - 9).First();
    }

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways) => chosen = Math.Clamp(chosen + by, 0, ways.Length - 1);

    /// <inheritdoc/>
    public override void FollowNext()
    {
        var way = ways[chosen];
        if (asked is not { WhyNot: null, Take: { } take })
            Desk.Uncover();
        else if (way is { Needs: { } needs, Checks: false })
            Desk.Say($"Plan {Mark(chosen)} needs {needs}: put it into the kit first, K then A.");
        else
            Take(take, way);
    }

    private void Take(Action<TakenPlan> take, PlanWay way)
    {
        var unit = Unit;
        Desk.Uncover();
        take(new TakenPlan(
            string.Create(CultureInfo.InvariantCulture, $"{Mark(chosen)}: {way.Readings} readings, {way.Minutes:0} min, U about {Number(way.Expanded ?? 0, unit)} {unit.Symbol}. P another"), way.Cells, way.Minutes, way.Checks ? null : way.Instrument));
        if (way.Checks && asked.Question.Instrument is { } instrument)
        {
            Desk.Cover(KitPage.Check(Desk, instrument));
            Desk.Say("First the look at the instrument; then the route card again.");
        }
    }

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        if (action == "details")
            Desk.Cover(Order());
        else if (action == "place")
            Desk.GoTo('K');
        else
            FollowNext();
    }

    private WordsPage Order()
    {
        var way = ways[chosen];
        return new WordsPage(Desk, $"plan {Mark(chosen)}",
        [
            Desk.Units.Told($"{way.Name}. {way.Readings} readings.{(way.Needs is { } needs ? $" It needs {needs}." : "")}"), Desk.Units.Told(asked.Answer.Because),
            .. way.Budget.Select(line => string.Create(CultureInfo.InvariantCulture, $"U comes from {line.Source}: {line.Share * 100:0.#} %")),
            .. way.Cells.Select((cell, i) => string.Create(CultureInfo.InvariantCulture, $"{i + 1}  {Desk.Units.Told(cell.Place)}{PlaceName.Side(cell)}{(cell.GoTo.IsEmpty ? "" : ": go to " + string.Join(", then ", cell.GoTo.Select(to => $"{to.Axis} {Desk.Units.Digits(to.Mm)} {Desk.Units.Length.Symbol}")))}")),
        ]);
    }

    private static string Number(double value, Unit unit) => ValueFormat.Pair(value / unit.Factor, value / unit.Factor, signed: false).Uncertainty ?? "0";
}
