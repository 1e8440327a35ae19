using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;

namespace Commission.Core.Plans;

/// <summary>Plans for the spindle's tilt: a sweep over equal angles, and the slope of the board along both axes (own derivation).</summary>
internal sealed class SweepPlan : PlanKind
{
    private const string Sweeping = "sweep";
    private const double UsualRadiusMm = 100;
    private const double PoolStepDeg = 15;

    public override string Id => "tram";

    public override string UsualInstrument => "indicator-10";

    public override Outcome<PlanDesign> Design(PlanQuestion question, PlanTool tool)
    {
        var radius = question.Numbers.GetValueOrDefault("radius-mm", UsualRadiusMm);
        if (!(radius > 0)) return new Problem("the radius of the sweep is not positive", "Give --radius-mm, the distance from the spindle to the indicator's tip");
        PlanReading[] lines = [.. new[] { "alongX", "alongY" }.SelectMany(line => new[] { -1, 1, 1, -1 }.Select(side => Line(line, side * radius)))];
        ImmutableArray<PlanReading> Sweep(int angles, int times) =>
        [
            .. Enumerable.Range(0, times).SelectMany(round =>
            {
                var turn = Enumerable.Range(0, angles).Select(k => Angle(360.0 * k / angles, radius));
                return round % 2 == 0 ? turn : turn.Reverse();
            }),
            .. lines,
        ];
        return new PlanDesign
        {
            Model = Model(tool),
            Templates =
            [
                .. from way in new[] { (4, 2), (8, 1), (6, 2), (8, 2), (12, 2), (12, 4) }
                   select new PlanTemplate(Name(way.Item1, way.Item2), Sweep(way.Item1, way.Item2)),
            ],
            Usual = Name(8, 1),
            Reads = cell => cell.Words.GetValueOrDefault("line") is { } line and not Sweeping ? Line(line, cell.Given.GetValueOrDefault("position_mm")) with { Cell = cell } : Angle(cell.Given["angle_deg"], radius) with { Cell = cell },
            Pool = [.. Enumerable.Range(0, (int)(360 / PoolStepDeg)).Select(k => Angle(k * PoolStepDeg, radius))],
            Minutes = readings => 7 + (0.5 * readings.Count),
            Naive =
            [
                Planner.Once(question, "usual practice: four points of the board, once; the board's own slope goes into the spindle", ("tilt", "rad"), 4, 9,
                    tool.ScatterMm / (Math.Sqrt(2) * radius), tool.LimitMm / (Math.Sqrt(3) * radius)),
            ],
            Assumed = question.Numbers.ContainsKey("radius-mm") ? [] : ["The radius of the sweep was not told: reckoned with 100 mm. Twice the radius halves the uncertainty."],
        };
    }

    private static string Name(int angles, int times) =>
        string.Create(CultureInfo.InvariantCulture, $"{PlanTemplate.Times($"{angles} equal angles", times)}, and the slope of the board along X and Y");

    private static PlanReading Angle(double degrees, double radius)
    {
        var (sine, cosine) = Math.SinCos(degrees * Math.PI / 180);
        var cell = new PlanCell
        {
            Place = string.Create(CultureInfo.InvariantCulture, $"{degrees:0.###} degrees"),
            Given = ImmutableSortedDictionary<string, double>.Empty.Add("angle_deg", degrees),
            Words = ImmutableSortedDictionary<string, string>.Empty.Add("line", Sweeping),
        };

        // The instrument's error acts on the swing; at worst the whole swing is the tilt along X.
        return new PlanReading(cell, [radius * cosine, radius * sine, 1, 0, 0, 0, 0], cosine);
    }

    private static PlanReading Line(string line, double position)
    {
        var cell = new PlanCell
        {
            Place = string.Create(CultureInfo.InvariantCulture, $"{(line == "alongX" ? "X" : "Y")} {position:+0.###;-0.###} mm from the middle, arm locked"),
            Given = ImmutableSortedDictionary<string, double>.Empty.Add("angle_deg", 0).Add("position_mm", position),
            Words = ImmutableSortedDictionary<string, string>.Empty.Add("line", line),
        };
        return new PlanReading(cell, line == "alongX" ? [0, 0, 0, position, 1, 0, 0] : [0, 0, 0, 0, 0, position, 1], 0);
    }

    private static PlanModel Model(PlanTool tool) => new()
    {
        Columns = ["tilt towards X", "tilt towards Y", "mean of the sweep", "slope along X", "zero of the line along X", "slope along Y", "zero of the line along Y"],
        Targets = [new("tilt", "rad", [1, 0, 0, -1, 0, 0, 0]), new("tiltX", "rad", [1, 0, 0, -1, 0, 0, 0]), new("tiltY", "rad", [0, 1, 0, 0, 0, -1, 0])],
        ScatterMm = tool.ScatterMm, HandFreedom = tool.Freedom, ResolutionMm = tool.Instrument.ResolutionMm, LimitMm = tool.LimitMm,
    };
}
