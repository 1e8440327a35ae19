using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Quantities;

namespace Commission.Core.Plans;

/// <summary>
/// Plans readings before any is taken: good designs first, each with its exact covariance; then readings added where they gain
/// most; the instrument's own error is a state among the unknowns, so that the plan finds by itself where repeating stops paying.
/// </summary>
public static class Planner
{
    // Below this gain a minute a longer plan is not worth it.
    private const double LeastGainPerMinute = 0.02;
    private const int MostAdded = 12;

    private static readonly ImmutableArray<PlanKind> Kinds =
        [new ScalePlan(), new ReversalPlan(), new DistancePlan(), new PlatePlan(), new SweepPlan(), new TurnPlan(), new RepeatPlan()];

    /// <summary>Ids of the kinds that can be planned.</summary>
    public static ImmutableArray<string> PlannedKinds { get; } = [.. Kinds.Select(kind => kind.Id)];

    /// <summary>The plan for a question.</summary>
    /// <returns>The plan; a problem where the kind has none or nothing can be reached.</returns>
    public static Outcome<PlanAnswer> For(PlanQuestion question)
    {
        if (Kinds.FirstOrDefault(kind => kind.Id == question.Kind) is not { } kind)
            return new Problem($"there is no plan for '{question.Kind}'", "Name one of: " + string.Join(", ", PlannedKinds));
        var tool = PlanTool.Of(question, kind.UsualInstrument);
        return kind.Design(question, tool).Then(design => Answer(kind, question, tool, design));
    }

    /// <summary>What given readings would tell, before they are taken.</summary>
    /// <param name="question">The question.</param>
    /// <param name="cells">Where is read, in order.</param>
    /// <returns>The way; null where the kind cannot foretell readings that it did not plan itself.</returns>
    public static PlanWay? Foretold(PlanQuestion question, IReadOnlyList<PlanCell> cells)
    {
        if (cells.Count == 0 || Kinds.FirstOrDefault(known => known.Id == question.Kind) is not { } kind)
            return null;
        return kind.Design(question, PlanTool.Of(question, kind.UsualInstrument)) is Outcome<PlanDesign>.Good { Value: { Reads: { } reads } design }
            ? Evaluate(question, design, "as it is read", [.. cells.Select(reads)])?.Way
            : null;
    }

    /// <summary>What becomes of many axes like this one: as they are, after usual practice, and after a way with its rule.</summary>
    /// <param name="question">The question.</param>
    /// <param name="answer">The answer to it.</param>
    /// <returns>What becomes of them; null for kinds whose result sets nothing.</returns>
    public static PlanProspect? Prospect(PlanQuestion question, PlanAnswer answer) =>
        Kinds.FirstOrDefault(known => known.Id == question.Kind)?.Prospect(question, answer);

    /// <summary>What the usual plan of a kind would tell; null where it has none here.</summary>
    internal static PlanWay? Usual(PlanQuestion question)
    {
        var kind = Kinds.First(known => known.Id == question.Kind);
        return kind.Design(question, PlanTool.Of(question, kind.UsualInstrument)) is Outcome<PlanDesign>.Good { Value: var design }
            && design.Templates.FirstOrDefault(template => template.Name == design.Usual) is { } usual
            ? Evaluate(question, design, usual.Name, usual.Readings)?.Way
            : null;
    }

    private static Outcome<PlanAnswer> Answer(PlanKind kind, PlanQuestion question, PlanTool tool, PlanDesign design)
    {
        var candidates = Candidates(question, design);
        if (candidates.Count == 0)
            return new Problem("what can be reached does not tell the result at all", "Move what stands in the way, or look at another part of the travel");
        var chosen = Choose(candidates, question, design);
        var others = Others(kind, question, design).OrderByDescending(way => way.Reaches == true).ThenBy(way => way.Minutes).ToImmutableArray();
        return new PlanAnswer
        {
            Kind = kind.Id,
            Axis = kind.OfAxis ? (question.Axis ?? Machines.AxisName.X).ToString() : null,
            Rows = [.. chosen.Readings.Select(reading => reading.Cell)],
            Way = chosen.Way,
            Limit = question.Limit,
            Wanted = question.Goal,
            Because = PlanWords.Because(question, design, chosen, Floor(question, design, chosen.Readings), others),
            Assumed = [.. tool.Assumed, .. design.Assumed],
            Naive = design.Naive,
            Alternatives = [.. candidates.Where(other => other != chosen).Select(other => other.Way).Concat(others)],
        };
    }

    /// <summary>A set of readings with its price.</summary>
    internal sealed record Candidate(PlanWay Way, ImmutableArray<PlanReading> Readings);

    private static List<Candidate> Candidates(PlanQuestion question, PlanDesign design)
    {
        var found = new List<Candidate>();
        foreach (var template in design.Templates)
            if (Evaluate(question, design, template.Name, Filled(question, design, template)) is { } candidate) found.Add(candidate);
        if (question.Goal is { } goal && design.ByCount is null && TopUp(question, design, found, goal) is { } added) found.Add(added);
        return found;
    }

    private static Candidate? Evaluate(PlanQuestion question, PlanDesign design, string name, ImmutableArray<PlanReading> readings)
    {
        var spreads = design.ByCount is null ? design.Model.Foretell(readings) : null;
        var predicted = design.ByCount is { } byCount ? byCount(readings.Length)
            : spreads is { } foretold ? [.. foretold.Zip(design.Model.Targets, (spread, target) => Told(question, target, spread))]
            : ImmutableArray<PlannedParameter>.Empty;
        return predicted.IsEmpty ? null : new Candidate(
            new PlanWay
            {
                Name = name,
                Readings = readings.Length,
                Minutes = Math.Max(1, Math.Ceiling(design.Minutes(readings)) + question.AroundMinutes),
                Predicted = predicted,
                Reaches = question.Reached(predicted[0].ExpandedUncertainty),
                Cells = [.. readings.Select(reading => reading.Cell)],
                Budget = spreads is { IsEmpty: false } parts ? parts[0].Budget : [],
            },
            readings);
    }

    /// <summary>A way that plans nothing: a few readings, taken once.</summary>
    /// <param name="question">The question.</param>
    /// <param name="name">In words.</param>
    /// <param name="parameter">Name and unit of what it finds.</param>
    /// <param name="readings">Number of readings.</param>
    /// <param name="minutes">Minutes it takes.</param>
    /// <param name="scatter">Standard uncertainty that the scatter of the readings makes, in that unit.</param>
    /// <param name="limit">Standard uncertainty that the limit of error of the instrument makes.</param>
    internal static PlanWay Once(PlanQuestion question, string name, (string Name, string Unit) parameter, int readings, double minutes, double scatter, double limit)
    {
        var told = Told(question, new PlanTarget(parameter.Name, parameter.Unit, []), new Spread(
        [
            new UncertaintyPart("scatter of the readings", scatter) { RepeatingHelps = true },
            new UncertaintyPart("limit of error of the instrument", limit) { Rectangular = true, Shared = true },
        ]));
        return new PlanWay { Name = name, Readings = readings, Minutes = minutes, Predicted = [told], Reaches = question.Reached(told.ExpandedUncertainty) };
    }

    /// <summary>What a spread means for a parameter at the coverage asked for.</summary>
    internal static PlannedParameter Told(PlanQuestion question, PlanTarget target, Spread spread)
    {
        var u = spread.Combined;
        var expanded = question.CoverageFactor is { } k ? k * u : spread.HalfWidth(question.Coverage);
        return new PlannedParameter(target.Name, target.Unit, u, spread.Fresh, spread.Shared, expanded / u, expanded);
    }

    // What cannot be reached falls away; as many readings from elsewhere fill the gap, chosen by their gain and exchanged in pairs.
    private static ImmutableArray<PlanReading> Filled(PlanQuestion question, PlanDesign design, PlanTemplate template)
    {
        var reached = template.Readings.Where(reading => Reachable(question, reading)).ToImmutableArray();
        var missing = template.Readings.Length - reached.Length;
        if (missing == 0) return reached;
        var pool = design.Pool.Where(reading => Reachable(question, reading) && !reached.Any(old => Same(old, reading))).ToArray();
        var covariance = design.Model.Covariance(reached) ?? Wide(design.Model);
        var (chosen, _) = Search(design, pool).Add(covariance, missing);
        return design.Order([.. reached, .. chosen.Select(at => pool[at])]);
    }

    private static Candidate? TopUp(PlanQuestion question, PlanDesign design, List<Candidate> templates, double goal)
    {
        var cheapest = templates.Where(candidate => candidate.Way.Reaches == true).OrderBy(candidate => candidate.Way.Minutes).FirstOrDefault();
        var start = templates.Where(candidate => candidate.Way.Reaches != true && (cheapest is null || candidate.Way.Minutes < cheapest.Way.Minutes))
            .MinBy(candidate => candidate.Way.Expanded);
        if (start is null || !(Floor(question, design, start.Readings) < goal)) return null;
        var pool = design.Pool.Where(reading => Reachable(question, reading) && (reading.Repeatable || !start.Readings.Any(old => Same(old, reading)))).ToArray();
        if (pool.Length == 0 || design.Model.Covariance(start.Readings) is not { } covariance) return null;
        for (var count = 2; count <= MostAdded; count += 2)
        {
            var (chosen, _) = Search(design, pool).Add(covariance, count);
            var readings = design.Order([.. start.Readings, .. chosen.Select(at => pool[at])]);
            var candidate = Evaluate(question, design, string.Create(CultureInfo.InvariantCulture, $"{start.Way.Name}, and {count} readings more where they tell most"), readings);
            if (candidate is null || (cheapest is not null && candidate.Way.Minutes >= cheapest.Way.Minutes)) return null;
            if (candidate.Way.Reaches == true) return candidate;
        }

        return null;
    }

    private static PlanSearch Search(PlanDesign design, IReadOnlyList<PlanReading> pool) => new(
        pool, design.Model.ScatterMm * design.Model.ScatterMm, [([.. design.Model.Targets[0].Coefficients, 0.0], 1.0)]);

    private static double[,] Wide(PlanModel model)
    {
        const double nothingKnown = 100;
        var n = model.Columns.Length + 1;
        var covariance = new double[n, n];
        for (var i = 0; i < n - 1; i++) covariance[i, i] = nothingKnown;
        return covariance;
    }

    private static Candidate Choose(List<Candidate> candidates, PlanQuestion question, PlanDesign design)
    {
        if (question.Goal is null) return candidates.FirstOrDefault(candidate => candidate.Way.Name == design.Usual) ?? candidates[0];
        if (candidates.Where(candidate => candidate.Way.Reaches == true).OrderBy(candidate => candidate.Way.Minutes).FirstOrDefault() is { } enough) return enough;

        // Nothing reaches: the longest plan whose last minutes still gained something.
        var ordered = candidates.OrderBy(candidate => candidate.Way.Minutes).ToArray();
        var best = ordered[0];
        foreach (var next in ordered.Skip(1))
        {
            var minutes = Math.Max(1, next.Way.Minutes - best.Way.Minutes);
            if (1 - (next.Way.Expanded / best.Way.Expanded) >= LeastGainPerMinute * minutes) best = next;
        }

        return best;
    }

    /// <summary>U that would be left if the scatter were averaged away: no number of repeats gets below it. Infinite where nothing is known.</summary>
    private static double Floor(PlanQuestion question, PlanDesign design, ImmutableArray<PlanReading> readings)
    {
        if (design.ByCount is not null) return 0;
        if (design.Model.Averaged.Foretell(readings) is not { } spreads) return double.PositiveInfinity;
        return question.CoverageFactor is { } k ? k * spreads[0].Combined : spreads[0].HalfWidth(question.Coverage);
    }

    private static IEnumerable<PlanWay> Others(PlanKind kind, PlanQuestion question, PlanDesign design)
    {
        foreach (var other in design.Others)
        {
            var asked = question with
            {
                Instrument = other.Instrument,
                Hand = new Instruments.HandStudy("planned", other.Instrument.Name, other.ScatterMm, question.Hand?.DegreesOfFreedom ?? 0),
            };
            var tool = PlanTool.Of(asked, kind.UsualInstrument);
            if (kind.Design(asked, tool) is not Outcome<PlanDesign>.Good { Value: var with }) continue;
            var candidates = Candidates(asked, with);
            if (candidates.Count == 0) continue;
            var best = Choose(candidates, asked, with);
            yield return best.Way with { Name = $"{other.Name}: {best.Way.Name}", Minutes = best.Way.Minutes + other.Minutes, Needs = other.Needs, Instrument = other.Instrument.Name, Checks = other.Checks };
        }
    }

    private static bool Reachable(PlanQuestion question, PlanReading reading) => reading.Cell.Places().All(point => question.Reaches([.. point]));

    private static bool Same(PlanReading a, PlanReading b) => a.Row.AsSpan().SequenceEqual(b.Row.AsSpan());
}
