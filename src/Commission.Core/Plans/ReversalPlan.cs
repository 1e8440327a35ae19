using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Instruments;
using Commission.Core.Machines;

namespace Commission.Core.Plans;

/// <summary>Plans for lost motion: pairs from both sides at three places, because screws wear in the middle and belts sag (common practice, no source).</summary>
internal sealed class ReversalPlan : PlanKind
{
    private static readonly double[] Fractions = [0.1, 0.5, 0.9];

    public override string Id => "backlash";

    public override bool OfAxis => true;

    public override string UsualInstrument => "indicator-10";

    public override Outcome<PlanDesign> Design(PlanQuestion question, PlanTool tool)
    {
        var axis = question.Axis ?? AxisName.X;
        var (from, free) = AxisPlan.Reach(question.Machine.Travel(axis), question.EndMarginMm);
        if (free <= 0) return new Problem($"the travel of {axis} leaves no room to come in from both sides", "Give the travel that is really free");
        double[] places = [.. Fractions.Select(fraction => question.Commandable(axis, from + (free * fraction)))];
        ImmutableArray<PlanReading> Pairs(int[] at, int pairs) =>
            [.. from place in at from pair in Enumerable.Range(0, pairs) from second in new[] { false, true } select Reading(question, tool.Instrument, axis, places, place, (pair % 2 == 0) != second)];
        return new PlanDesign
        {
            Model = Model(tool, [0, 1, 2]),
            Templates =
            [
                .. new[] { 2, 3, 5, 10, 20 }.Select(pairs => new PlanTemplate(Name(pairs), Pairs([0, 1, 2], pairs))),
            ],
            Usual = Name(5),
            Reads = cell => Reading(question, tool.Instrument, axis, places, Nearest(places, cell.Given.GetValueOrDefault("place_mm")), cell.Approach == Approach.Increasing) with { Cell = cell },
            Minutes = readings => 5 + (readings.Count / 3.0),
            Naive = [Planner.Once(question, "usual practice: one pair at one place", ("reversal", "mm"), 2, 5, Math.Sqrt(2) * tool.ScatterMm, tool.LimitMm / Math.Sqrt(3))],
            Others = tool.LimitMm > 0.008
                ? [new PlanOther("a lever indicator", Owns(question) ? null : "a lever indicator of 0.01 mm", 0, InstrumentCatalogue.Find("indicator-1")!, 0.005)]
                : [],
        };
    }

    private static int Nearest(double[] places, double mm) => Array.IndexOf(places, places.MinBy(place => Math.Abs(place - mm)));

    private static bool Owns(PlanQuestion question) => question.Owned.Any(mine => mine.Kind == InstrumentKind.Indicator && mine.LimitMm <= 0.008);

    private static string Name(int pairs) => string.Create(CultureInfo.InvariantCulture, $"three places, {pairs} pairs from both sides at each");

    private static PlanReading Reading(PlanQuestion question, Instrument instrument, AxisName axis, double[] places, int at, bool increasing)
    {
        var row = new double[2 * places.Length];
        row[(2 * at) + (increasing ? 0 : 1)] = 1;
        var cell = PlanPoints.OnAxis(question, axis, string.Create(CultureInfo.InvariantCulture, $"{axis} {places[at]:0.###} mm"), "place_mm", places[at], increasing, DialWay.Of(instrument).BeyondMm);

        // Zeroed on one side, the instrument's error acts on what it reads on the other.
        return new PlanReading(cell, [.. row], increasing ? 0 : 1);
    }

    private static PlanModel Model(PlanTool tool, int[] places) => new()
    {
        Columns = [.. places.SelectMany(place => new[] { $"place {place + 1} from below", $"place {place + 1} from above" })],
        Targets =
        [
            new("reversal", "mm", [.. places.SelectMany(_ => new[] { 1.0 / places.Length, -1.0 / places.Length })]),
        ],
        ScatterMm = tool.ScatterMm, HandFreedom = tool.Freedom, LimitMm = tool.LimitMm,

        // All repeats of one side at one place share its rounding.
        ResolutionMm = tool.Instrument.ResolutionMm,
    };
}
