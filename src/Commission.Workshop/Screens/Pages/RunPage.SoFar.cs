using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Plans;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <content>What can be said while a plan is incomplete: never value, verdict or the expected reading.</content>
public sealed partial class RunPage
{
    // Own simulation: |z| > 1.96 tried after each of readings 3 to 15 raises 18 false alarms in 100 in place of 5.
    private const string LookingEarly = "looking early: 18 % false alarms";

    private const int SourcesShown = 4;

    private const double OnePercent = 0.01;

    private (ImmutableArray<PlanCell> Cells, PlanWay? Way)? _foretold;

    private HandStudy? Study => Desk.Hand(Session.Run.Setting.Instrument?.Name)?.Body.Study;

    // What the readings of this run will tell when all are taken; reckoned once for its cells.
    private PlanWay? Foretold
    {
        get
        {
            var cells = Session.Run.Cells;
            if (_foretold is not { } known || known.Cells != cells)
                _foretold = known = (cells, PlanPage.Question(Desk, Session.Run.Procedure, Session.Run.Setting.Axis) is Outcome<PlanQuestion>.Good { Value: var question } ? Planner.Foretold(question with { Instrument = Session.Run.Setting.Instrument, Hand = Study }, cells) : null);
            return known.Way;
        }
    }

    private ImmutableArray<(string, double)> BudgetToCome => Foretold is { Budget: { IsEmpty: false } budget } ? [.. budget.Take(SourcesShown).Select(line => (FindingReasons.Source(line.Source), line.Share))] : [];

    // Minutes of the procedure, or with the plan that was taken, shared out over its readings and its other steps alike.
    private int? MinutesLeft
    {
        get
        {
            var run = Session.Run;
            if (run.Cells.IsDefaultOrEmpty)
                return null;
            var reads = run.Items.Count(item => item.Step is Step.Read && run.Applies(item));
            double steps = run.StepCount - reads, all = steps + (reads * run.Cells.Length);
            var before = run.Items.Take(run.Position).Where(run.Applies).Sum(item => item.Step is Step.Read ? run.Cells.Length : 1);
            return (int)Math.Ceiling(((run.Setting.Plan.IsEmpty ? null : Foretold?.Minutes) ?? run.Procedure.Minutes) * (all - before - Math.Min(run.NextCell, run.Cells.Length)) / all);
        }
    }

    /// <summary>How far it is, for who comes back to it: which reading of how many, and the minutes left. Empty where nothing is read now.</summary>
    public string HowFar => MinutesLeft is { } minutes && Session.Run.NextCell < Session.Run.Cells.Length
        ? string.Create(CultureInfo.InvariantCulture, $"reading {Session.Run.NextCell + 1} of {Session.Run.Cells.Length}, {minutes} min left") : "";

    // Readings that speak against "within 1 %" themselves; the scatter is told without them.
    private static ImmutableArray<TakenReading> Against(ImmutableArray<TakenReading> standing, RunningLine? line)
    {
        var points = standing.Where(reading => reading.Excluded is null).Select(Point).OfType<LinePoint>().ToArray();
        if (line is null || points.Length == 0)
            return [];
        var most = OnePercent * (points.Max(point => point.At) - points.Min(point => point.At));
        return [.. standing.Where(reading => reading.Excluded is null && Point(reading) is { } point && Math.Abs(line.Off(point)) > most)];
    }

    // Of as many rows as the line has numbers and one more, each fits as badly as the others: none is blamed.
    private static string? Unsettled(ImmutableArray<TakenReading> standing, RunningLine? line) => Against(standing, line) is not { IsEmpty: false } against ? null
        : standing.Count(reading => reading.Excluded is null && Point(reading) is not null) <= line!.Taken + 1 ? "one of the rows does not fit the others; the next readings tell which"
        : $"row{(against.Length == 1 ? "" : "s")} {string.Join(", ", against.Take(4).Select(reading => (reading.CellIndex + 1).ToString(CultureInfo.InvariantCulture)))} {(against.Length == 1 ? "does" : "do")} not fit the others: read again, or E leaves out";

    private const string TooFew = "too few readings to tell";

    // What the line was drawn from does not scatter about it.
    private static double? Scatter(ImmutableArray<TakenReading> standing, RunningLine? line)
    {
        if (line is null)
            return null;
        var offs = standing.Except(Against(standing, line)).Where(reading => reading.Excluded is null).Select(Point).OfType<LinePoint>().Select(line.Off).ToList();
        return offs.Count > line.Taken ? Math.Sqrt(offs.Sum(off => off * off) / (offs.Count - line.Taken)) : null;
    }

    // The evaluation keeps both zeros apart; who reads on is told from where.
    private string? OwnZero => Session.Run.OwnZeroFrom is { } from ? string.Create(CultureInfo.InvariantCulture, $"own zero from reading {from + 1} on: the set-up was not the same any more") : null;

    private ImmutableArray<string> SoFar(ImmutableArray<TakenReading> standing, RunningLine? line, int of) =>
        [.. Known(standing, line, of), .. OwnZero is { } own ? (ReadOnlySpan<string>)[own] : []];

    private ImmutableArray<string> Known(ImmutableArray<TakenReading> standing, RunningLine? line, int of)
    {
        if (Session.Run.Current?.Step is Step.Read { Group: var group } && IsBlind(group))
            return ["taken: hidden until the study ends, so that nobody reads towards it"];
        if (line is null)
            return [string.Create(CultureInfo.InvariantCulture, $"value and verdict after reading {of}")];
        var scatter = Scatter(standing, line);
        var hand = Study is not { } study || scatter is null ? "" : string.Create(CultureInfo.InvariantCulture, $", {(IsLike(scatter.Value, study) ? "like " : "")}your hand study: {study.StandardDeviationMm:F3} mm");
        return
        [
            Unsettled(standing, line) ?? (Math.Abs(line.Slope - 1) < OnePercent ? "it moves as commanded within 1 %: the right axis, the right lead" : "it does not move as commanded within 1 %: axis, lead, direction?"),
            scatter is null ? "scatter of a reading: " + TooFew : string.Create(CultureInfo.InvariantCulture, $"scatter of a reading {scatter:F3} mm{hand}"),
            string.Create(CultureInfo.InvariantCulture, $"value and verdict after reading {of}: {LookingEarly}"),
        ];
    }

    // Within a factor of two either way a handful of readings cannot tell two scatters apart.
    private static bool IsLike(double scatter, HandStudy study) => scatter > study.StandardDeviationMm / 2 && scatter < 2 * study.StandardDeviationMm;

    private IEnumerable<string> SoFarWide(ImmutableArray<TakenReading> standing, RunningLine? line, int of)
    {
        if (OwnZero is { } own)
            yield return own;
        if (line is not null)
        {
            var scatter = Scatter(standing, line);
            if (Unsettled(standing, line) is { } unsettled)
                yield return unsettled;
            else
                yield return Math.Abs(line.Slope - 1) < OnePercent ? "moves as commanded within 1 %" : "does not move as commanded within 1 %";
            yield return !Against(standing, line).IsEmpty ? "axis and lead: when that is settled" : Math.Abs(line.Slope - 1) < OnePercent ? "right axis, right lead" : "right axis, right lead, right way round?";
            var text = scatter is null ? "scatter      " + TooFew : Units.Told(string.Create(CultureInfo.InvariantCulture, $"scatter      {scatter:F3} mm"));
            yield return scatter is not null && Study is { } study ? text.PadRight(33) + Units.Told(string.Create(CultureInfo.InvariantCulture, $"your hand: {study.StandardDeviationMm:F3} mm")) : text;
        }

        if (Foretold is { Predicted: [{ ExpandedUncertainty: var u, Unit: var name }, ..] } && Units.Of(name) is var unit)
            yield return string.Create(CultureInfo.InvariantCulture, $"expected U after reading {of,-8}{ValueFormat.Pair(u / unit.Factor, u / unit.Factor, signed: false).Uncertainty} {unit.Symbol}");
    }

    private static IEnumerable<string> BelowSoFar(int count, int of)
    {
        yield return string.Create(CultureInfo.InvariantCulture, $"Value and verdict after reading {of}: {LookingEarly} for 5.");
        yield return count == 0 ? "What is typed is on disk before it is shown here." : string.Create(CultureInfo.InvariantCulture, $"All {count} are on disk. Closing now loses nothing but the zero of the instrument.");
    }

    private WordsPage RawSoFar() => new(Desk, $"readings of {Called}", Session.Run.Readings.IsEmpty ? ["No reading was taken yet."]
        : [.. Session.Run.Readings.Where(reading => Desk.Ledger.Readings.ContainsKey(reading.Sequence)).Select(reading => IsHidden(reading) ? Unseen(reading) : FindingPage.Text(Desk.Ledger.Readings[reading.Sequence], Units))]);

    private static string Unseen(TakenReading reading) => string.Create(CultureInfo.InvariantCulture, $"{reading.CellIndex + 1} {reading.Cell.Place}: hidden until the study ends{(reading.Stands ? "" : ", to be read again")}");

    private WordsPage NumbersSoFar()
    {
        if (Session.Run.Current is not { } item)
            return new WordsPage(Desk, "numbers so far", ["Nothing is read now."]);
        var (lines, standing, line) = Table(item.Name);
        return new WordsPage(Desk, "numbers so far",
        [
            .. SoFarWide(standing, line, lines.Length), .. BudgetToCome.Select(part => string.Create(CultureInfo.InvariantCulture, $"U will come from {part.Item1}: {part.Item2 * 100:0} %")),
            .. lines.Where(one => one.OffLineUm is not null).Select(one => string.Create(CultureInfo.InvariantCulture, $"reading {one.Number}, {one.Place}: {Units.Deviation(one.OffLineUm!.Value / 1000)} off the line")), .. BelowSoFar(standing.Length, lines.Length),
        ]);
    }

    // One far reading would hide all the others: it is drawn at the edge, and said.
    private const double MostTimesMedian = 6, LeastRangeUm = 50;

    private static double RangeUm(ImmutableArray<TakenReading> standing, RunningLine line) =>
        standing.Where(reading => reading.Excluded is null).Select(Point).OfType<LinePoint>().Select(point => Math.Abs(line.Off(point)) * 1000).ToArray() is { Length: > 0 } offs
            ? Math.Max(LeastRangeUm, MostTimesMedian * Core.Fits.SampleStatistics.MedianOf(offs)) : LeastRangeUm;

    private static string Beyond(ImmutableArray<TakenReading> standing, RunningLine? line)
    {
        if (line is null)
            return "";
        var most = RangeUm(standing, line);
        var rows = standing.Where(reading => reading.Excluded is null && Point(reading) is { } point && Math.Abs(line.Off(point)) * 1000 > most).Select(reading => (reading.CellIndex + 1).ToString(CultureInfo.InvariantCulture)).ToArray();
        return rows.Length == 0 ? "" : $"{string.Join(", ", rows)} beyond";
    }

    private Figure? Distances(ImmutableArray<TakenReading> standing, RunningLine? line)
    {
        if (line is null)
            return null;
        var most = RangeUm(standing, line);
        ImmutableArray<FigurePoint> Side(bool increasing) => [.. standing.Where(reading => reading.Excluded is null).Select(Point).OfType<LinePoint>()
            .Where(point => point.Increasing == increasing).Select(point => new FigurePoint(point.At, Math.Clamp(line.Off(point) * 1000, -most, most)))];
        return FigureUnits.In(new Figure
        {
            Title = "distance from the line", Horizontal = "commanded, mm", Vertical = "off the line, um", Summary = "Distances of the readings from their line.",
            Layers = [new FigureLayer.Points("came in +", FigureMark.Increasing, Side(true)), new FigureLayer.Points("came in -", FigureMark.Decreasing, Side(false))],
        }, Units);
    }
}
