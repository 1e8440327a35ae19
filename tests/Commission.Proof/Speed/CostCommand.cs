using System.Collections.Immutable;
using System.Diagnostics;
using Commission.Core.Plans;
using Commission.Core.Readings;
using Commission.Practice.Draws;
using Commission.Proof.Honesty;

namespace Commission.Proof.Speed;

/// <summary><c>cost [--short]</c>: what a fit of 1000 rows, the minimum zone of 100 points and a plan cost, warm. Run by hand on a quiet machine; no test asks it.</summary>
internal static class CostCommand
{
    private const int Rows = 1000;
    private const int WarmUps = 40;
    private const double MostFitMs = 50;
    private const double MostZoneMs = 1000;
    private const double MostPlanMs = 1000;

    /// <summary>Prints the table.</summary>
    /// <returns>0; 1 where something costs more than it may.</returns>
    public static int Run(bool isShort)
    {
        var repeats = isShort ? 3 : 15;
        var table = new ProofTable("Cost, warm: median of repeats", string.Create(CultureInfo.InvariantCulture, $"  {Rows} rows, {repeats} repeats"), "what", "ms", "ms for half the rows");
        foreach (var test in HonestyCases.All.Where(test => test.Kind != "plate"))
            Fit(table, test, repeats);
        Zone(table, repeats);
        foreach (var kind in Planner.PlannedKinds)
            Plan(table, kind, repeats);
        return table.Show();
    }

    private static void Fit(ProofTable table, HonestyCase test, int repeats)
    {
        var kind = CharacteristicKinds.Find(test.Kind)!;
        double Of(int rows)
        {
            var many = test with { Cells = [.. Enumerable.Range(0, rows).Select(i => test.Cells[i % test.Cells.Length])] };
            var (_, readings, options) = many.Draw(new DrawSource(1).For(test.Kind, rows));
            return Median(repeats, () => kind.Evaluate(readings, options).Require());
        }

        Told(table, $"fit {test.Kind}", Of(Rows), Of(Rows / 2), MostFitMs);
    }

    private static void Zone(ProofTable table, int repeats)
    {
        var kind = CharacteristicKinds.Find("flatness")!;
        var source = new DrawSource(1).For("zone");
        var readings = new ReadingTable
        {
            Source = "cost", Columns = ["x_mm", "y_mm", "z_mm"],
            Rows = [.. Enumerable.Range(0, 100).Select(i => new ReadingRow
            {
                Number = i + 1,
                Numbers = ImmutableDictionary<string, double>.Empty.Add("x_mm", 40 * (i % 10)).Add("y_mm", 40 * (i / 10)).Add("z_mm", Math.Round(0.1 * source.NextNormal(), 3)),
                Words = ImmutableDictionary<string, string>.Empty,
            })],
        };
        Told(table, "minimum zone of 100 points", Median(repeats, () => kind.Evaluate(readings, new FitOptions()).Require()), null, MostZoneMs);
    }

    private static void Plan(ProofTable table, string kind, int repeats)
    {
        var heron = new Machine { Name = "Heron", TravelMm = [420, 580, 90], X = new AxisDescription { TravelPerTurnMm = 5, StepsPerMm = 320 } };
        var unit = CharacteristicKinds.Find(kind)!.Parameters[0].Unit;
        var question = new PlanQuestion { Kind = kind, Machine = heron, Wanted = unit == "mm" ? 0.01 : 200e-6 };
        Told(table, $"plan {kind}", Median(repeats, () => Planner.For(question).Require()), null, MostPlanMs);
    }

    private static void Told(ProofTable table, string what, double milliseconds, double? half, double atMost)
    {
        var shown = milliseconds.ToString("F1", CultureInfo.InvariantCulture);
        table.Row(what, shown, half?.ToString("F1", CultureInfo.InvariantCulture) ?? "");
        table.Ask(string.Create(CultureInfo.InvariantCulture, $"{what}: at most {atMost:0} ms"), shown + " ms", milliseconds <= atMost);
    }

    private static double Median(int count, Action work)
    {
        // Warm means compiled for good: the runtime does that after some tens of calls.
        for (var i = 0; i < WarmUps; i++)
            work();
        var times = new double[count];
        for (var i = 0; i < count; i++)
        {
            var start = Stopwatch.GetTimestamp();
            work();
            times[i] = Stopwatch.GetElapsedTime(start).TotalMilliseconds;
        }

        Array.Sort(times);
        return times[count / 2];
    }
}
