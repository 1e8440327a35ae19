using Commission.Practice.Populations;

namespace Commission.Proof.Harm;

/// <summary>Table A: which strategies make machines worse, and what error they leave.</summary>
internal static class HarmTable
{
    public static IEnumerable<ProofTable> Make(Population population, ulong seed, int machines, int stressed)
    {
        var table = new ProofTable(
            "Table A: harm. Error at the worst corner of 400 x 500 mm before and after, on an invented population",
            string.Create(CultureInfo.InvariantCulture,
                $"  seed {seed}, {machines} machines for each strategy, the same machines; worse: by more than 5 % and 10 um"),
            "strategy", "rms mm", "p95 mm", "median mm", "made worse %", "p95 with wrong ratios", "scale ppm", "square mrad", "readings", "min");
        var rivals = new List<(double Rms, double P95, double Readings)>();
        var results = new List<(Strategy Strategy, Outcome[] All)>();
        foreach (var strategy in Strategies.All.Where(s => s.Kind is null || CharacteristicKinds.Find(s.Kind) is not null))
        {
            var all = HarmRun.Over(population, strategy, seed, machines);
            results.Add((strategy, all));
            Outcome[] right = [.. all.Where(outcome => outcome.RightNominal)];
            var (rms, p95) = (HarmRun.RootMeanSquare(right.Select(o => o.After)), HarmRun.Quantile(right.Select(o => o.After), 0.95));
            table.Row(strategy.Name, Three(rms), Three(p95), Three(HarmRun.Quantile(right.Select(o => o.After), 0.5)),
                One(100.0 * right.Count(o => o.Worse) / right.Length), Three(HarmRun.Quantile(all.Select(o => o.After), 0.95)),
                (1e6 * HarmRun.RootMeanSquare(right.Select(o => o.ScaleError))).ToString("F0", CultureInfo.InvariantCulture),
                Three(1e3 * HarmRun.RootMeanSquare(right.Select(o => o.Squareness))), One(all.Average(o => o.Readings)),
                One(all.Average(o => o.Minutes)));
            if (strategy.IsRival)
                rivals.Add((rms, p95, all.Average(o => o.Readings)));
            else if (strategy.Kind == "plate")
                AskPlate(table, right, all.Average(o => o.Readings), (rms, p95), rivals);
        }

        yield return table;
        yield return HarmByClass.Make(population, results);
        yield return Stress.Make(population, seed + 1, stressed);
    }

    // Goals as they were found attainable on this population before the program existed (machines with the right nominal ratio).
    private static void AskPlate(
        ProofTable table, Outcome[] right, double readings, (double Rms, double P95) left, List<(double Rms, double P95, double Readings)> rivals)
    {
        var (rms, p95) = left;
        table.AskShare("plate with joint rule: made worse, at most 1 %", right.Count(o => o.Worse), right.Length, 0.01);
        var slack = 1 + (3 / Math.Sqrt(2.0 * right.Length)); // three standard errors of a root mean square
        table.AskShare("plate with joint rule: p95 at most 0.35 mm, so at most 5 % left with more", right.Count(o => o.After > 0.35), right.Length, 0.05);
        table.Ask("plate with joint rule: rms at most 0.19 mm", Three(rms) + Beyond(rms > 0.19), rms <= 0.19 * slack);
        table.Ask("plate with joint rule: below every rival in rms and p95", string.Create(CultureInfo.InvariantCulture, $"best rival {rivals.Min(r => r.Rms):F3} and {rivals.Min(r => r.P95):F3}"),
            rivals.All(rival => rms < rival.Rms && p95 < rival.P95));
        var alike = rivals.Where(rival => rival.Readings >= readings).ToArray();
        table.Ask("plate with joint rule: among them rivals with no fewer readings", string.Create(CultureInfo.InvariantCulture,
            $"{readings:F1} against {string.Join(" and ", alike.Select(rival => rival.Readings.ToString("F1", CultureInfo.InvariantCulture)))}"), alike.Length >= 1);
    }

    private static string Beyond(bool beyond) => beyond ? ", which so few runs cannot tell from the goal" : "";

    private static string One(double value) => value.ToString("F1", CultureInfo.InvariantCulture);

    private static string Three(double value) => value.ToString("F3", CultureInfo.InvariantCulture);
}
