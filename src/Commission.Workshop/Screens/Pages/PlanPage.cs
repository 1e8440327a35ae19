using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Plans;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Ways to the same result, with uncertainty as the price; usual practice stands in the same table.</summary>
/// <param name="desk">The desk.</param>
/// <param name="answer">The plan.</param>
/// <param name="named">What it is for.</param>
public sealed class PlanPage(Desk desk, PlanAnswer answer, string named) : Page(desk)
{
    private const int BarColumn = 52;

    /// <inheritdoc/>
    public override string Called => "plans";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["The bar is U, expanded uncertainty at 95 %: shorter is better. A limit can be judged where U is at most half of it."];

    /// <summary>The plan of a procedure's evaluation with the kit; a problem where none can be made.</summary>
    public static Outcome<PlanAnswer> For(Desk desk, Procedure procedure, AxisName? axis)
    {
        var kit = desk.Ledger.Instruments.Values.Where(entry => !entry.Body.Retired).Select(entry => entry.Body.Description).ToImmutableArray();
        if (procedure.AllSteps.OfType<Step.Evaluate>().FirstOrDefault() is not { } evaluate)
            return new Problem("this procedure gives no number, so there is nothing to plan", "Carry it out as it stands");
        var instrument = desk.InstrumentFor(procedure);
        var study = instrument is null ? null : desk.Ledger.Studies.FindLast(entry => entry.Body.Study.Instrument == instrument.Name)?.Body.Study;
        return Planner.For(new PlanQuestion
        {
            Kind = evaluate.Kind, Machine = desk.Machine!, Axis = axis, Instrument = instrument, Hand = study, Owned = kit, Limit = ClassLimits.For(evaluate.Kind, desk.Machine!.Class, desk.Means.Journal.Limits)?.Value,
        });
    }

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        ImmutableArray<(string Mark, PlanWay Way)> ways =
        [
            .. answer.Naive.Select(way => ("x", way)), ("A", answer.Way),
            .. answer.Alternatives.Select((way, i) => (((char)('B' + Math.Min(i, 24))).ToString(), way)),
        ];
        var unit = Desk.Units.Of(answer.Way.Predicted.IsDefaultOrEmpty ? "mm" : answer.Way.Predicted[0].Unit);
        // Usual practice may be ten times as long: its bar ends with an arrow then, so that the others can be told apart.
        var most = 2 * answer.Alternatives.Append(answer.Way).Max(way => way.Expanded ?? 0);
        var head = " way                          readings  min       U   0 to " + Number(most, unit) + " " + unit.Symbol;
        var limit = answer.Limit is { } given ? string.Create(CultureInfo.InvariantCulture, $"limit {given / unit.Factor:0.###} {unit.Symbol}") : "no limit";
        return new Sheet
        {
            Path = $"{Desk.MachineName} / plans / {named}", Right = answer.Wanted is { } wanted ? $"{limit} . wanted U <= {Number(wanted, unit)}" : limit, Live = Desk.Live,
            Body =
            [
                new Line(head, [new(0, head.Length, Ink.Quiet)]),
                .. ways.SelectMany(pair => Rows(pair.Mark, pair.Way with { Name = Desk.Units.Told(pair.Way.Name), Needs = pair.Way.Needs is { } needs ? Desk.Units.Told(needs) : null }, unit, most, width)),
                Line.Blank,
                " x  usual practice, for comparison: not proposed.",
                .. answer.Assumed.SelectMany(text => Wrap.To("Assumed: " + Desk.Units.Told(text), 76)).Select(text => (Line)(" " + text)),
            ],
            Next = "Esc or Enter puts the plans away.", Because = Because(width),
            Keys = [new("Enter, Esc", "away", "away"), new("PgUp, PgDn", "scroll", "scroll"), new("F1", "help", "help"), new("F2", "card", "card")],
        };
    }

    /// <inheritdoc/>
    public override void FollowNext() => Desk.Uncover();

    private string Because(int width)
    {
        var text = Desk.Units.Told("Because: " + char.ToLowerInvariant(answer.Because[0]) + answer.Because[1..]);
        // Whole clauses only; the whole of it stands with the plan.
        return text.Length <= width - 9 ? text : Wrap.To(text.Split([". ", ": the ", "; "], StringSplitOptions.None) is [var first, ..] && first.Length < width - 9 && first.Length > 12 ? first.TrimEnd('.', ':') + "." : text, width - 9).First();
    }

    private static IEnumerable<Line> Rows(string mark, PlanWay way, Unit unit, double most, int width)
    {
        var names = Wrap.To(way.Name + (way.Needs is { } needs ? ", needs " + needs : ""), 28).ToList();
        foreach (var part in names.SkipLast(1).Select((part, i) => $" {(i == 0 ? mark : " ")} {part}"))
            yield return part;
        var u = way.Expanded is { } expanded ? Number(expanded, unit) : "no U";
        var bar = way.Expanded is { } length && most > 0 ? "|" + new string('=', (int)Math.Max(1, Math.Round(Math.Min(1, length / most) * (width - BarColumn - 4)))) + (length > most ? ">" : "") : "|";
        yield return string.Create(CultureInfo.InvariantCulture, $" {(names.Count == 1 ? mark : " ")} {names[^1],-29}{way.Readings,6}{way.Minutes,5:0}{u,8}   {bar}");
    }

    private static string Number(double value, Unit unit) => ValueFormat.Pair(value / unit.Factor, value / unit.Factor, signed: false).Uncertainty ?? "0";
}
