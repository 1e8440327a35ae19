using Commission.Core;
using Commission.Core.Plans;
using Commission.Practice.Draws;
using Commission.Practice.Machines;

namespace Commission.Proof.Efficiency;

/// <summary>The places that the shipped planner asks for against random places of the same cost, by own arithmetic.</summary>
internal static class PlacesCheck
{
    private const double PlateRangeMm = 140;

    public static void Into(ProofTable table, ulong seed, int designs)
    {
        Compare(table, seed, designs, "axis-scale", "ten places of the planner", Scale, RandomScale, ScaleVariance);
        Compare(table, seed, designs, "squareness", "distances of the planner", Distances, RandomDistances, SquarenessVariance);
        Compare(table, seed, designs, "tram", "sweep and lines of the planner", Tram, RandomTram, TiltVariance);
        Compare(table, seed, designs, "plate", "plate of the planner", PlateRows, RandomPlate, PlateScore);
    }

    /// <summary>Readings that the planner needs for a wanted U, and how many evenly spaced ones reach the same.</summary>
    public static void Readings(ProofTable table)
    {
        foreach (var wanted in new[] { 350e-6, 300e-6 })
        {
            if (Planner.For(Question("axis-scale") with { Wanted = wanted }) is not Outcome<PlanAnswer>.Good { Value: var plan } || plan.Way.Reaches != true)
                continue;
            double[][] rows = [.. plan.Rows.Select(ScaleRow)];
            var (low, high) = (rows.Min(row => row[1]), rows.Max(row => row[1]));
            var needed = Enumerable.Range(4, 200).First(count => Information.Variance(Even(count, low, high), [0, 1, 0]) <= Information.Variance(rows, [0, 1, 0]));
            table.Row(string.Create(CultureInfo.InvariantCulture, $"axis-scale to U {wanted * 1e6:F0} ppm: readings of the planner, evenly spaced"),
                rows.Length.ToString(CultureInfo.InvariantCulture), needed.ToString(CultureInfo.InvariantCulture));
        }
    }

    private static void Compare(
        ProofTable table, ulong seed, int designs, string kind, string words, Func<PlanAnswer, List<double[]>> planned,
        Func<DrawSource, PlanAnswer, List<double[]>> random, Func<List<double[]>, double> score)
    {
        if (Planner.For(Question(kind)) is not Outcome<PlanAnswer>.Good { Value: var plan })
        {
            table.Ask($"{kind}: the planner has a plan", "none", false);
            return;
        }

        var source = new DrawSource(seed).For("places").For(kind);
        var best = double.PositiveInfinity;
        for (var i = 0; i < designs; i++)
            best = Math.Min(best, score(random(source, plan)));
        var ratio = Math.Sqrt(score(planned(plan)) / best);
        table.Row(string.Create(CultureInfo.InvariantCulture, $"{kind}, {words}: u / best of {designs} random"),
            ratio.ToString("F3", CultureInfo.InvariantCulture), plan.Rows.Length.ToString(CultureInfo.InvariantCulture));
        table.Ask(string.Create(CultureInfo.InvariantCulture, $"{kind}: u of the planner's places within 2 % of the best of {designs} random designs of the same cost"),
            ratio.ToString("F3", CultureInfo.InvariantCulture), ratio <= 1.02);
    }

    private static PlanQuestion Question(string kind) => new() { Kind = kind, Machine = HeronMachine.Description, Axis = AxisName.X };

    // Unknowns: zero, scale, reversal.
    private static double[] ScaleRow(PlanCell cell) =>
        [1, cell.Given["commanded_mm"], cell.Words.GetValueOrDefault("direction", "+") == "-" ? -0.5 : 0.5];

    private static List<double[]> Scale(PlanAnswer plan) => [.. plan.Rows.Select(ScaleRow)];

    private static double ScaleVariance(List<double[]> rows) => Information.Variance(rows, [0, 1, 0]);

    // The same demands: as many from each side, one place in five in the middle third, so that a bent scale would show.
    private static List<double[]> RandomScale(DrawSource source, PlanAnswer plan)
    {
        var places = plan.Rows.Select(row => row.Given["commanded_mm"]).ToArray();
        var (low, span) = (places.Min(), places.Max() - places.Min());
        return [.. places.Select((_, i) => new[] { 1, i % 5 == 0 ? low + (span * source.NextUniform(1 / 3.0, 2 / 3.0)) : low + (span * source.NextUnit()), i % 2 == 0 ? 0.5 : -0.5 })];
    }

    private static List<double[]> Even(int count, double low, double high) =>
        [.. Enumerable.Range(0, count).Select(i => new[] { 1, low + ((high - low) * i / (count - 1)), i % 2 == 0 ? 0.5 : -0.5 })];

    // Unknowns: squareness, scale of X, scale of Y: the equation of strain rosettes.
    private static double[] DistanceRow(double x1, double y1, double x2, double y2)
    {
        var (dx, dy) = (x2 - x1, y2 - y1);
        var length = Math.Sqrt((dx * dx) + (dy * dy));
        return length == 0 ? [0, 0, 0] : [dx * dy / length, dx * dx / length, dy * dy / length];
    }

    private static List<double[]> Distances(PlanAnswer plan) =>
        [.. plan.Rows.Select(row => DistanceRow(row.Given["x1_mm"], row.Given["y1_mm"], row.Given["x2_mm"], row.Given["y2_mm"]))];

    // Scales are known to a percent beforehand, as the planner holds them where only diagonals are read; unit variance is that of one reading, 0.2 mm.
    private static double SquarenessVariance(List<double[]> rows) => Information.Variance(rows, [1, 0, 0], [0, 400, 400]);

    // As many marks and readings, hence as many minutes, anywhere in the rectangle that the plan's own marks span.
    private static List<double[]> RandomDistances(DrawSource source, PlanAnswer plan)
    {
        var points = plan.Rows.SelectMany(row => new[] { (X: row.Given["x1_mm"], Y: row.Given["y1_mm"]), (X: row.Given["x2_mm"], Y: row.Given["y2_mm"]) }).Distinct().ToArray();
        var (lowX, highX, lowY, highY) = (points.Min(p => p.X), points.Max(p => p.X), points.Min(p => p.Y), points.Max(p => p.Y));
        var marks = points.Select(_ => (X: source.NextUniform(lowX, highX), Y: source.NextUniform(lowY, highY))).ToArray();
        return [.. plan.Rows.Select(_ =>
        {
            var (a, b) = Two(source, marks.Length);
            return DistanceRow(marks[a].X, marks[a].Y, marks[b].X, marks[b].Y);
        })];
    }

    // Unknowns: tilt X, tilt Y, sweep's zero, slope and zero along X, slope and zero along Y.
    private static double[] TramRow(string line, double angle, double position) => line switch
    {
        "alongX" => [0, 0, 0, position, 1, 0, 0],
        "alongY" => [0, 0, 0, 0, 0, position, 1],
        _ => [100 * Math.Cos(angle), 100 * Math.Sin(angle), 1, 0, 0, 0, 0],
    };

    private static List<double[]> Tram(PlanAnswer plan) => [.. plan.Rows.Select(row => TramRow(
        row.Words.GetValueOrDefault("line", "sweep"), row.Given["angle_deg"] * Math.PI / 180, row.Given.GetValueOrDefault("position_mm")))];

    private static List<double[]> RandomTram(DrawSource source, PlanAnswer plan) => [.. plan.Rows.Select(row =>
        TramRow(row.Words.GetValueOrDefault("line", "sweep"), source.NextUniform(0, 2 * Math.PI), source.NextUniform(-100, 100)))];

    private static double TiltVariance(List<double[]> rows) =>
        Information.Variance(rows, [1, 0, 0, -1, 0, 0, 0]) + Information.Variance(rows, [0, 1, 0, 0, 0, -1, 0]);

    // Unknowns: squareness, both scales, both reversals, hole, caliper, inside jaws, then two offsets for each of eight marks and its hole.
    private const int PlateUnknowns = 8 + (3 * 8);
    private const double HandMm = 0.02;

    private static readonly double[] _plateKnowledge =
    [
        0, 0, 0, 0, 0, 0, Weight(0.03 / (Math.Sqrt(3) * PlateRangeMm)), Weight(0.0125),
        .. Enumerable.Range(0, 8).SelectMany(_ => new[] { Weight(0.015), Weight(0.015), Weight(0.010) }),
    ];

    private static double Weight(double deviation) => HandMm * HandMm / (deviation * deviation);

    private sealed record DrilledMark(double X, double Y, int FromX, int FromY);

    private static double[] PlateRow(DrilledMark[] marks, int i, int j, int edge)
    {
        var (a, b) = (marks[i], marks[j]);
        var (dx, dy) = (b.X - a.X, b.Y - a.Y);
        var length = Math.Sqrt((dx * dx) + (dy * dy));
        var (nx, ny) = (dx / length, dy / length);
        var row = new double[PlateUnknowns];
        double[] first =
        [
            dx * dy / length, dx * nx, dy * ny, nx * (b.FromX - a.FromX) / 2.0, ny * (b.FromY - a.FromY) / 2.0, edge, length + (8 * edge), edge > 0 ? 1 : 0,
        ];
        first.CopyTo(row, 0);
        (row[8 + (3 * i)], row[9 + (3 * i)], row[10 + (3 * i)]) = (-nx, -ny, edge / 2.0);
        (row[8 + (3 * j)], row[9 + (3 * j)], row[10 + (3 * j)]) = (nx, ny, edge / 2.0);
        return row;
    }

    private static List<double[]> PlateRows(PlanAnswer plan)
    {
        DrilledMark Of(PlanCell cell, string end) => new(cell.Given[$"x{end}_mm"], cell.Given[$"y{end}_mm"], Sign(cell, end, 0), Sign(cell, end, 1));
        var marks = plan.Rows.SelectMany(row => new[] { Of(row, "1"), Of(row, "2") }).Distinct().ToArray();
        return [.. plan.Rows.Select(row => PlateRow(marks, Array.IndexOf(marks, Of(row, "1")), Array.IndexOf(marks, Of(row, "2")), row.Words["edges"] == "outer" ? 1 : -1))];
    }

    private static int Sign(PlanCell cell, string end, int place) => cell.Words["approach" + end][place] == '-' ? -1 : 1;

    // Eight marks anywhere on the sheet of the plan, twelve pairs that the caliper reaches, each outside and inside.
    private static List<double[]> RandomPlate(DrawSource source, PlanAnswer plan)
    {
        DrilledMark[] marks = [.. Enumerable.Range(0, 8).Select(_ => new DrilledMark(source.NextUniform(9, 188), source.NextUniform(8, 142), source.NextSign(), source.NextSign()))];
        var rows = new List<double[]>();
        while (rows.Count < plan.Rows.Length)
        {
            var (a, b) = Two(source, 8);
            var apart = Math.Sqrt(Math.Pow(marks[a].X - marks[b].X, 2) + Math.Pow(marks[a].Y - marks[b].Y, 2));
            if (apart is > 20 and < PlateRangeMm)
                rows.AddRange([PlateRow(marks, a, b, 1), PlateRow(marks, a, b, -1)]);
            else if (source.NextChance(0.05))
                marks[a] = marks[a] with { X = source.NextUniform(9, 188), Y = source.NextUniform(8, 142) };
        }

        return rows;
    }

    // Worst of u / T over both scales (500 ppm), squareness (0.5 mrad) and both reversals (0.08 mm): our own measure of a design.
    private static double PlateScore(List<double[]> rows)
    {
        double[] limits = [0.5e-3, 500e-6, 500e-6, 0.08, 0.08];
        return limits.Select((limit, i) =>
        {
            var unit = new double[PlateUnknowns];
            unit[i] = 1;
            return Information.Variance(rows, unit, _plateKnowledge) * HandMm * HandMm / (limit * limit);
        }).Max();
    }

    private static (int A, int B) Two(DrawSource source, int count)
    {
        var a = source.NextIndex(count);
        return (a, (a + 1 + source.NextIndex(count - 1)) % count);
    }
}
