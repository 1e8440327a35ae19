using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;

namespace Commission.Core.Plans;

/// <summary>Plans for runout: equal angles of the spindle at one height, at two where the tip is asked about.</summary>
internal sealed class TurnPlan : PlanKind
{
    private static readonly double[] Heights = [5, 35];

    public override string Id => "runout";

    public override string UsualInstrument => "indicator-1";

    public override Outcome<PlanDesign> Design(PlanQuestion question, PlanTool tool)
    {
        double? tip = question.Numbers.TryGetValue("tip-mm", out var z) ? z : null;
        var heights = tip is null ? 1 : 2;
        ImmutableArray<PlanReading> Turns(int angles, int times) =>
        [
            .. from height in Enumerable.Range(0, heights)
               from round in Enumerable.Range(0, times)
               from k in Enumerable.Range(0, angles)
               select Reading(360.0 * (round % 2 == 0 ? k : angles - 1 - k) / angles, height, heights),
        ];
        return new PlanDesign
        {
            Model = Model(tool, heights, tip),
            Templates = [.. new[] { (4, 2), (8, 1), (8, 2), (12, 2), (12, 4) }.Select(way => new PlanTemplate(Name(way.Item1, way.Item2, heights), Turns(way.Item1, way.Item2)))],
            Usual = Name(8, 1, heights),
            Pool = [.. from height in Enumerable.Range(0, heights) from k in Enumerable.Range(0, 24) select Reading(15.0 * k, height, heights)],
            Minutes = readings => 4 + (0.4 * readings.Count),
            Naive = [Planner.Once(question, "usual practice: highest less lowest of one turn, noise counted as runout", ("tir", "mm"), 2, 4, Math.Sqrt(2) * tool.ScatterMm, tool.LimitMm / Math.Sqrt(3))],
        };
    }

    private static string Name(int angles, int times, int heights) => string.Create(CultureInfo.InvariantCulture,
        $"{PlanTemplate.Times($"{angles} equal angles", times)} at {(heights == 1 ? "one height" : "each of two heights")}");

    private static PlanReading Reading(double degrees, int height, int heights)
    {
        var (sine, cosine) = Math.SinCos(degrees * Math.PI / 180);
        var row = new double[3 * heights];
        (row[3 * height], row[(3 * height) + 1], row[(3 * height) + 2]) = (1, cosine, sine);
        var cell = new PlanCell
        {
            Place = string.Create(CultureInfo.InvariantCulture, $"{degrees:0.###} degrees, {Heights[height]:0.###} mm from the collet"),
            Given = ImmutableSortedDictionary<string, double>.Empty.Add("angle_deg", degrees).Add("height_mm", Heights[height]),
        };

        // At worst the whole swing is the runout, and the instrument's error acts on all of it.
        return new PlanReading(cell, [.. row], cosine);
    }

    private static PlanModel Model(PlanTool tool, int heights, double? tip)
    {
        double[] at = new double[3 * heights], along = new double[3 * heights];
        at[1] = 2;
        if (tip is { } z)
        {
            var slope = (z - Heights[0]) / (Heights[1] - Heights[0]);
            (along[1], along[4]) = (2 * (1 - slope), 2 * slope);
        }

        var own = new PlanTarget(string.Create(CultureInfo.InvariantCulture, $"tir[{Heights[0]:0.######}]"), "mm", [.. at]);
        return new PlanModel
        {
            Columns = [.. Enumerable.Range(0, heights).SelectMany(h => new[] { "mean", "cosine", "sine" }.Select(part => FormattableString.Invariant($"{part} at height {Heights[h]}")))],
            Targets = tip is null ? [own] : [new PlanTarget("tirAtTip", "mm", [.. along]), own],
            ScatterMm = tool.ScatterMm, HandFreedom = tool.Freedom, ResolutionMm = tool.Instrument.ResolutionMm, LimitMm = tool.LimitMm,
        };
    }
}
